"""Which cone a plan, and each of its witness sets, aims at."""

from guardcone.plan.plan import Plan
from guardcone.plan.witness import WitnessSet
from guardcone.span import Written
from guardcone.values import Cone

__all__ = ["plan_target", "target_of_plan", "target_of_set"]


def plan_target(plan: Plan) -> Cone | None:
    """The cone of the plan's own target line."""
    return plan.target.cone.value if plan.target and plan.target.cone else None


def target_of_set(witness: WitnessSet, plan: Plan) -> Written[Cone] | None:
    """The set's own target; where it says none, the plan's number in the cones of the set.

    None where neither says one, and where another maker numbered the plan's.
    """
    if witness.target or plan.target is None or plan.target.cone is None:
        return witness.target
    cone, place = plan.target.cone.value, plan.target.cone.span
    if cone.series.numbering is not witness.series.numbering:
        return None
    return Written(Cone(cone.number, witness.series), place)


def target_of_plan(plan: Plan) -> Cone | None:
    """The target of its first witness set, else its own."""
    first = target_of_set(plan.witness_sets[0], plan) if plan.witness_sets else None
    return first.value if first else plan_target(plan)
