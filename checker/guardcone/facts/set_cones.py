"""What the cones of one witness set say when they are put together; adds to the facts of sets."""

from collections.abc import Callable
from functools import cache, wraps
from typing import Any

from guardcone.condition.kinds import CONE, FLAG, NUMBER, TEXT, Type
from guardcone.condition.typed import without_place
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts.case import Of
from guardcone.facts.plan import PLAN, TARGET, is_reduced
from guardcone.facts.witness import WITNESS_SET, cones_of
from guardcone.firing.cones import KINETIC_SERIES
from guardcone.firing.tables import table, usual
from guardcone.plan.plan import Plan, Target, plan_target, target_of_set
from guardcone.plan.witness import WitnessSet
from guardcone.span import Written
from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries, Numbering

__all__: list[str] = []


_CONE_LINES = frozenset({"guide", "target", "guard", "series"})
# The tables that list the cones of a maker whose list is known (see rules/tables/sources.md).
_LISTS = {
    Numbering.ORTON: KINETIC_SERIES,
    Numbering.ORTON_OLDER: ("orton_old_beerman1956",),
    Numbering.SEGER: ("seger_a_large", "seger_a_small_lab", "seger_original_nominal"),
    Numbering.SK: ("sk_japan",),
}


Read = Callable[[Of[WitnessSet]], Any]


def _of_cones(kind: Type) -> Callable[[Read], Read]:
    """Lets rules ask a fact of all cones together; unreadable where one of their lines is."""

    def keep(read: Read) -> Read:
        @WITNESS_SET.fact(kind)
        @wraps(read)
        def get(of: Of[WitnessSet]) -> Any:
            return UNREADABLE if of.it.unreadable & _CONE_LINES else read(of)

        return get

    return keep


@WITNESS_SET.fact(CONE)
def _intended_target(of: Of[WitnessSet]) -> Any:
    """Its target; where it says none, the plan's, else what its guide or guard mean."""
    if "target" in of.it.unreadable:
        return UNREADABLE
    said = target_of_set(of.it, of.case.plan)
    if said:
        return said.value
    if of.it.guide:
        return _numbered(of.it.guide.value, of.it.guide.value.number.hotter())
    if of.it.guard:
        return _numbered(of.it.guard.value, of.it.guard.value.number.cooler())
    return None


def _numbered(cone: Cone, number: ConeNumber | None) -> Cone | None:
    return None if number is None else cone.numbered(number)


@_of_cones(NUMBER)
def _steps_to_guide(of: Of[WitnessSet]) -> float | None:
    """Steps from the guide up to the target, cones that are not made left out."""
    return _made_steps(of.it.guide, of.it.target)


@_of_cones(NUMBER)
def _steps_to_guard(of: Of[WitnessSet]) -> float | None:
    """Steps from the target up to the guard, cones that are not made left out."""
    return _made_steps(of.it.target, of.it.guard)


def _made_steps(cooler: Written[Cone] | None, hotter: Written[Cone] | None) -> float | None:
    """Steps from one cone up to another, numbers between them that are not made left out.

    There is no iron-free cone 2, so iron-free 1 and 3 are neighbours. None for cones of two makers.
    """
    if cooler is None or hotter is None or not cooler.value.comparable(hotter.value):
        return None
    steps = cooler.value.number.steps_to(hotter.value.number)
    series = cooler.value.series
    if not series.iron_free or hotter.value.series != series:
        return steps
    made = _listed(series.table)
    between = cooler.value.number.hotter()
    while between is not None and between < hotter.value.number:
        steps -= between not in made
        between = between.hotter()
    return steps


@_of_cones(FLAG)
def _mixed_makers(of: Of[WitnessSet]) -> Written[bool] | bool:
    """Yes if different makers numbered its cones."""
    return _differs(of.it, lambda series: series.numbering)


@_of_cones(FLAG)
def _mixed_forms(of: Of[WitnessSet]) -> Written[bool] | bool:
    """Yes if its cones are of different forms."""
    return _differs(of.it, lambda series: series.form)


def _differs(witness: WitnessSet, read: Callable[[ConeSeries], object]) -> Written[bool] | bool:
    """Yes, pointing at the first cone that differs from the first of the set."""
    cones = [cone.cone for cone in cones_of(witness)]
    for cone in cones:
        if read(cone.value.series) is not read(cones[0].value.series):
            return Written(True, cone.span)
    return False


@_of_cones(FLAG)
def _has_small_cones(of: Of[WitnessSet]) -> Written[bool] | bool:
    """Yes if some cone is small.

    Pointing at the words that make them small, or at the first small cone.
    """
    for cone in cones_of(of.it):
        if cone.cone.value.series.form is ConeForm.SMALL:
            whole = of.it.series_written if of.it.series.form is ConeForm.SMALL else None
            return Written(True, whole.span if whole else cone.cone.span)
    return False


@WITNESS_SET.of_part(CONE)
def _doubled_cone(witness: WitnessSet) -> Written[Cone] | None:
    """A cone that stands twice in the set."""
    seen: list[Cone] = []
    for cone in cones_of(witness):
        if any(cone.cone.value.same_number(other) for other in seen):
            return cone.cone
        seen.append(cone.cone.value)
    return None


@WITNESS_SET.of_part(CONE)
def _cone_out_of_order(witness: WitnessSet) -> Written[Cone] | None:
    """The first cone of the order line that is cooler than the one before it."""
    for before, after in zip(witness.order, witness.order[1:], strict=False):
        if before.value.comparable(after.value) and after.value < before.value:
            return after
    return None


@WITNESS_SET.of_part(CONE)
def _cone_not_in_order(witness: WitnessSet) -> Written[Cone] | None:
    """The first of guide, target and guard that the order line leaves out."""
    named = [cone.cone for cone in cones_of(witness) if cone.role != "extra"]
    in_order = [cone.value.number for cone in witness.order]
    lacking = (cone for cone in named if cone.value.number not in in_order)
    return next(lacking, None) if in_order else None


@_of_cones(CONE)
def _zero_slip(of: Of[WitnessSet]) -> Written[Cone] | None:
    """The cone that fits the rest only with its leading zero added or taken away.

    It is the guide, target or guard; the rest are the other two and the target of the plan.
    """
    cones = [one for one in (of.it.target, of.it.guide, of.it.guard) if one is not None]
    wanted = plan_target(of.case.plan)
    for cone in cones:
        rest = [other.value for other in cones if other is not cone]
        if not rest:
            return None
        rest += [wanted] if wanted is not None else []
        twin = cone.value.number.zero_twin
        if twin is None or not all(cone.value.comparable(other) for other in rest):
            continue
        if not _fits(cone.value.number, rest) and _fits(twin, rest):
            return cone
        # The target of the plan may have lost its zero with that of the set.
        if cone is of.it.target and len(cones) > 2 and _stands_between(twin, of.it):
            return cone
    return None


def _stands_between(number: ConeNumber, witness: WitnessSet) -> bool:
    """True for the number a step above the guide and a step below the guard."""
    around = (number.cooler(), number.hotter())
    return around == tuple(one and one.value.number for one in (witness.guide, witness.guard))


def _fits(number: ConeNumber, rest: list[Cone]) -> bool:
    return all(abs(number.steps_to(other.number)) <= usual("set_reach") for other in rest)


@WITNESS_SET.fact(CONE)
def _zero_mended(of: Of[WitnessSet]) -> Cone | None:
    """The cone that would fit there.

    The slipped cone with its zero put right; where the whole set slipped, the plan's target.
    """
    slipped = _zero_slip(of)
    if isinstance(slipped, Written):
        return _numbered(slipped.value, slipped.value.number.zero_twin)
    return plan_target(of.case.plan)


@cache
def _listed(series: str) -> frozenset[ConeNumber]:
    """The numbers that cones.csv has a temperature of a series for, without a letter (6 for 6a)."""
    named = {row["cone"] for row in table("cones") if row["series"] == series}
    return frozenset(ConeNumber.read(name).without_letter for name in named)


def _is_listed(cone: Cone, table: str) -> bool:
    return cone.number.without_letter in _listed(table)


@_of_cones(CONE)
def _unknown_cone(of: Of[WitnessSet]) -> Written[Cone] | None:
    """The first cone of a number that no table of its maker has.

    Of Staffordshire cones no list is known well enough to say so.
    """
    return next((cone.cone for cone in cones_of(of.it) if _is_unknown(cone.cone.value)), None)


def _is_unknown(cone: Cone) -> bool:
    tables = _LISTS.get(cone.series.numbering)
    return bool(tables) and not any(_is_listed(cone, table) for table in tables or ())


@TARGET.of_part(CONE, "unknown-cone")
def _unknown_target(target: Target) -> Written[Cone] | None:
    """Its cone, where no table of the maker has its number."""
    return target.cone if target.cone and _is_unknown(target.cone.value) else None


@_of_cones(CONE)
def _unmade_cone(of: Of[WitnessSet]) -> Written[Cone] | None:
    """The first cone that the current chart lists in another form only."""
    for cone in cones_of(of.it):
        own, series = cone.cone.value, cone.cone.value.series
        if series.numbering is not Numbering.ORTON or _is_listed(own, series.table):
            continue
        if any(_is_listed(own, table) for table in _LISTS[Numbering.ORTON]):
            return cone.cone
    return None


@_of_cones(CONE)
def _cone_with_iron(of: Of[WitnessSet]) -> Written[Cone] | None:
    """The first of guide, target and guard that has iron in it and is made without too.

    Those are 010 to 1, and 3. An extra cone may tell when to begin reducing, and bends before.
    """
    for cone in cones_of(of.it):
        if cone.role != "extra" and _has_iron(cone.cone.value):
            return cone.cone
    return None


def _has_iron(cone: Cone) -> bool:
    """True for one that is made without iron, too."""
    series = ConeSeries(ConeForm.LARGE, iron_free=True)
    ordinary = cone.series.numbering is Numbering.ORTON and not cone.series.iron_free
    return ordinary and cone.number in _listed(series.table)


@PLAN.fact(TEXT)
def _cones_to_take(of: Of[Plan]) -> Any:
    """What sort of cones a set for the target is made of."""
    target, reduced = plan_target(of.it), without_place(is_reduced(of))
    iron_free = target is not None and reduced is True and _has_iron(target)
    return "iron-free large cones" if iron_free else "large cones"
