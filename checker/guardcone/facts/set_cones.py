"""What the cones of one witness set say when they are put together, and how the set is named."""

from collections.abc import Callable
from functools import cache

from attrs import frozen

from guardcone.condition.kinds import TEXT
from guardcone.condition.vocabulary import Fact
from guardcone.facts.case import part_fact
from guardcone.firing.cones import KINETIC_SERIES, chart_cells
from guardcone.firing.tables import usual
from guardcone.plan.plan import Plan, plan_target, target_of_set
from guardcone.plan.witness import WitnessSet
from guardcone.span import Written
from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries, Numbering

__all__ = [
    "WitnessCone",
    "called",
    "called_facts",
    "cone_out_of_order",
    "cone_with_iron",
    "cones_of",
    "doubled_cone",
    "intended_target",
    "made_steps",
    "mixed_forms",
    "mixed_makers",
    "small_cones",
    "unknown_cone",
    "unmade_cone",
    "zero_slip",
]


# The tables that list the cones of a maker whose list is known (see rules/tables/sources.md).
_LISTS = {
    Numbering.ORTON: KINETIC_SERIES,
    Numbering.ORTON_OLDER: ("orton_old_beerman1956",),
    Numbering.SEGER: ("seger_a_large", "seger_a_small_lab", "seger_original_nominal"),
    Numbering.SK: ("sk_japan",),
}


@frozen(eq=False)
class WitnessCone:
    """One cone of a set, with the part it plays."""

    role: str
    cone: Written[Cone]
    witness: WitnessSet


def cones_of(witness: WitnessSet) -> list[WitnessCone]:
    """The cones of a set in the order of their parts: guide, target, guard, extras."""
    named = [("guide", witness.guide), ("target", witness.target), ("guard", witness.guard)]
    cones = [WitnessCone(role, cone, witness) for role, cone in named if cone is not None]
    return cones + [WitnessCone("extra", cone, witness) for cone in witness.extras]


def intended_target(witness: WitnessSet, plan: Plan) -> Cone | None:
    """The set's target; where neither it nor the plan says one, what its guide or guard mean."""
    said = target_of_set(witness, plan)
    if said:
        return said.value
    if witness.guide:
        return _numbered(witness.guide.value, witness.guide.value.number.hotter())
    if witness.guard:
        return _numbered(witness.guard.value, witness.guard.value.number.cooler())
    return None


def _numbered(cone: Cone, number: ConeNumber | None) -> Cone | None:
    return None if number is None else cone.numbered(number)


def mixed_makers(witness: WitnessSet) -> Written[bool] | bool:
    """Yes, pointing at the first cone that another maker numbered than the first of the set."""
    return _differs(witness, lambda series: series.numbering)


def mixed_forms(witness: WitnessSet) -> Written[bool] | bool:
    """Yes, pointing at the first cone of another form than the first of the set."""
    return _differs(witness, lambda series: series.form)


def _differs(witness: WitnessSet, read: Callable[[ConeSeries], object]) -> Written[bool] | bool:
    cones = [cone.cone for cone in cones_of(witness)]
    for cone in cones:
        if read(cone.value.series) is not read(cones[0].value.series):
            return Written(True, cone.span)
    return False


def small_cones(witness: WitnessSet) -> Written[bool] | bool:
    """Yes, pointing at the words that make them small, or at the first small cone."""
    for cone in cones_of(witness):
        if cone.cone.value.series.form is ConeForm.SMALL:
            whole = witness.series_written if witness.series.form is ConeForm.SMALL else None
            return Written(True, whole.span if whole else cone.cone.span)
    return False


def doubled_cone(witness: WitnessSet) -> Written[Cone] | None:
    """The first cone whose number stands in the set already."""
    seen: list[Cone] = []
    for cone in cones_of(witness):
        if any(cone.cone.value.same_number(other) for other in seen):
            return cone.cone
        seen.append(cone.cone.value)
    return None


def cone_out_of_order(witness: WitnessSet) -> Written[Cone] | None:
    """The first cone of the `order` line that is cooler than the one before it."""
    for before, after in zip(witness.order, witness.order[1:], strict=False):
        if before.value.comparable(after.value) and after.value < before.value:
            return after
    return None


def zero_slip(witness: WitnessSet, plan: Plan) -> Written[Cone] | None:
    """The guide, target or guard that fits the rest only with its leading zero added or taken away.

    The rest are the other two and the target of the plan.
    """
    cones = [one for one in (witness.target, witness.guide, witness.guard) if one is not None]
    wanted = plan_target(plan)
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
    return None


def _fits(number: ConeNumber, rest: list[Cone]) -> bool:
    return all(abs(number.steps_to(other.number)) <= usual("set_reach") for other in rest)


@cache
def _listed(table: str) -> frozenset[ConeNumber]:
    """The numbers that a table of cones.csv has a temperature for, a letter left out (6 for 6a)."""
    return frozenset(
        ConeNumber.read(cell.cone).without_letter for cell in chart_cells() if cell.series == table
    )


def _is_listed(cone: Cone, table: str) -> bool:
    return cone.number.without_letter in _listed(table)


def unknown_cone(witness: WitnessSet) -> Written[Cone] | None:
    """The first cone of a number that no published table of its maker has.

    Of Staffordshire cones no list is known well enough to say so.
    """
    for cone in cones_of(witness):
        tables = _LISTS.get(cone.cone.value.series.numbering)
        if tables and not any(_is_listed(cone.cone.value, table) for table in tables):
            return cone.cone
    return None


def unmade_cone(witness: WitnessSet) -> Written[Cone] | None:
    """The first cone of the current Orton chart that it lists in another form only."""
    for cone in cones_of(witness):
        own, series = cone.cone.value, cone.cone.value.series
        if series.numbering is not Numbering.ORTON or _is_listed(own, series.table):
            continue
        if any(_is_listed(own, table) for table in _LISTS[Numbering.ORTON]):
            return cone.cone
    return None


def cone_with_iron(witness: WitnessSet) -> Written[Cone] | None:
    """The first cone with iron in it of a number that is also made without: 010 to 1, and 3.

    Guide, target and guard only: an extra cone may tell when to begin reducing, and bends before.
    """
    for cone in cones_of(witness):
        if cone.role == "extra":
            continue
        own = cone.cone.value
        without = ConeSeries(ConeForm.LARGE, iron_free=True)
        if own.series.numbering is not Numbering.ORTON or own.series.iron_free:
            continue
        if own.number in _listed(without.table):
            return cone.cone
    return None


def made_steps(cooler: Written[Cone] | None, hotter: Written[Cone] | None) -> float | None:
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


def called(place: Written[str] | None) -> str:
    """A witness set in a sentence, by its name if it has one."""
    return f'the witness set "{place.value}"' if place else "one witness set"


def called_facts() -> tuple[Fact, ...]:
    """How a sentence names the set of a witness set or reading, whatever its place is called."""

    def first(place: Written[str] | None) -> str:
        return called(place)[0].upper() + called(place)[1:]

    return (
        part_fact(
            "the-set", TEXT, 'In a sentence: the witness set "x".', lambda w: called(w.place)
        ),
        part_fact(
            "this-set", TEXT, "The same at the head of a sentence.", lambda w: first(w.place)
        ),
    )
