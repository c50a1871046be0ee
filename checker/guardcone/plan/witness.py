"""A witness set of a plan and its reading after the firing, and the lines they are read from."""

from collections.abc import Iterable
from itertools import pairwise
from typing import Any

from attrs import evolve, frozen

from guardcone.language import Keyword, Quoted, Section, Statement
from guardcone.language.tokens import ClockPosition
from guardcone.plan.section import (
    LARGE_CONES,
    Faults,
    Lines,
    SectionFacts,
    collect,
    cone_of,
    fields_of,
    named,
    series_of,
)
from guardcone.span import Span, Written
from guardcone.values import (
    Angle,
    Cone,
    ConeSeries,
    Length,
)

__all__ = ["Position", "Reading", "WitnessSet", "read_reading", "read_witness", "with_misread"]


@frozen(repr=False)
class WitnessSet:
    """One pack of cones: which, how they stand, and from where they are seen.

    `pad` holds dry, bone-dry, damp, fired; `pricking` pricked or not-pricked; `facing` one-way or
    different-ways; `setting_out` staggered or in-a-row; `upright` is set where no lean is given.
    `seen` is the spy hole by name, `unseen` is set where the plan says the set is not seen.
    """

    heading: Span
    place: Written[str] | None = None
    series: ConeSeries = LARGE_CONES
    series_written: Written[str] | None = None
    guide: Written[Cone] | None = None
    target: Written[Cone] | None = None
    guard: Written[Cone] | None = None
    extras: tuple[Written[Cone], ...] = ()
    order: tuple[Written[Cone], ...] = ()
    lean: Written[Angle] | None = None
    upright: Written[str] | None = None
    facing: Written[str] | None = None
    setting_out: Written[str] | None = None
    pricking: Written[str] | None = None
    pad: Written[str] | None = None
    pad_clay: Written[str] | None = None
    no_pad: Written[str] | None = None
    seen: Written[str] | None = None
    unseen: Written[str] | None = None
    width: Written[Length] | None = None
    element_gap: Written[Length] | None = None
    unreadable: frozenset[str] = frozenset()


def _cones(facts: SectionFacts, statement: Statement) -> list[Written[Cone] | None]:
    part = statement.part("goal") or statement
    return [cone_of(one, facts.fields["series"]) for one in part.parts("cone")]


def _cone(facts: SectionFacts, statement: Statement) -> None:
    for cone in _cones(facts, statement)[:1]:
        facts.put(facts.field, cone)


def _many_cones(facts: SectionFacts, statement: Statement) -> None:
    for cone in _cones(facts, statement):
        facts.add(facts.field, cone)


def _stance(facts: SectionFacts, statement: Statement) -> None:
    for lean in statement.parts("lean"):
        angle = lean.value(Angle)
        facts.put("lean", angle)
        if angle is None:
            facts.put("upright", lean.value(Keyword))
    for part in statement.parts("facing"):
        facts.put("facing", part.last(Keyword))
    facts.put_keywords(statement, "setting_out")


def _pad(facts: SectionFacts, statement: Statement) -> None:
    facts.put("no_pad", statement.word("no"), "pad")
    facts.put_keywords(statement, "pricking")
    facts.put("pad", named(facts, statement, "pad_state"))
    facts.put("pad_clay", statement.value(Quoted, "made_of"))


def _seen(facts: SectionFacts, statement: Statement) -> None:
    if statement.word("not"):
        facts.put("unseen", statement.value(Keyword), "seen", statement.span)
        return
    hole: Written[str] | None = statement.value(Quoted) or statement.word(
        "lower", "middle", "upper"
    )
    facts.put("seen", hole or Written("spy hole", statement.extent), span=statement.span)


_LINES: Lines = {
    "witness_series": (None, "series"),  # read before the others
    "witness_guide": (_cone, "guide"),
    "target": (_cone,),
    "witness_guard": (_cone, "guard"),
    "witness_extra": (_many_cones, "extras"),
    "witness_order": (_many_cones, "order"),
    "stance": (_stance, "lean", "upright", "facing", "setting_out"),
    "pad": (_pad, "pad", "pricking", "pad_clay", "no_pad"),
    "seen": (_seen, "seen", "unseen"),
    "width": (Length,),
    "element_gap": (Length,),
}


def read_witness(section: Section, faults: Faults) -> WitnessSet:
    """One witness set."""
    # The series comes first, wherever its line stands: the cones of the set are of it.
    lines = [one for one in section.statements if one.name == "witness_series"]
    series = next(filter(None, map(series_of, lines)), None)
    known: dict[str, Any] = {"series": series.value if series else LARGE_CONES}
    if series:
        known["series_written"] = Written(str(series.value), series.span)
    witness = WitnessSet(
        section.heading, section.name, **collect(section, faults, _LINES, **known).known
    )
    return _with_parts_by_order(witness)


def _with_parts_by_order(witness: WitnessSet) -> WitnessSet:
    """The set with the parts that its order leaves no doubt of: of 5, 6, 7 the guide is 5.

    So it is where three cones lie a step apart, none of which is said to be another part.
    """
    if len(witness.order) != 3:
        return witness
    coolest, middle, hottest = sorted(witness.order, key=lambda one: one.value.number.axis)
    parts = {"guide": coolest, "target": middle, "guard": hottest}
    said: list[Written[Cone]] = [getattr(witness, name) or cone for name, cone in parts.items()]
    alike = all(
        one.value.same_number(cone.value) for one, cone in zip(said, parts.values(), strict=True)
    )
    near = all(
        one.value.comparable(other.value) and 0 < one.value.number.steps_to(other.value.number) <= 1
        for one, other in pairwise(parts.values())
    )
    if not (alike and near) or witness.extras or witness.unreadable & parts.keys():
        return witness
    guide, target, guard = said
    return evolve(witness, guide=guide, target=target, guard=guard)


@frozen(repr=False)
class Position:
    """How one cone stands after the firing: a word, a clock position or an angle.

    `word` is down, standing, touching, melted or moved.
    """

    span: Span
    word: str | None
    clock: ClockPosition | None
    angle: Angle | None


@frozen(repr=False)
class Reading:
    """The cones of one witness set after the firing."""

    heading: Span
    place: Written[str] | None = None
    guide: Position | None = None
    target: Position | None = None
    guard: Position | None = None
    unreadable: frozenset[str] = frozenset()


def _position(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part("position")
    assert part is not None
    word, clock, angle = part.value(Keyword), part.value(ClockPosition), part.value(Angle)
    position = Position(
        part.span,
        word.value if word else None,
        clock.value if clock else None,
        angle.value if angle else None,
    )
    facts.put(facts.field, position, span=statement.span)


_POSITIONS: Lines = {f"read_{cone}": (_position, cone) for cone in ("guide", "target", "guard")}


def read_reading(section: Section, faults: Faults) -> Reading:
    """The reading of one witness set."""
    return Reading(section.heading, section.name, **collect(section, faults, _POSITIONS).known)


def with_misread(witness: WitnessSet, rules: Iterable[str]) -> WitnessSet:
    """A cone line that stands in another section may be this set's: not missing, only misplaced."""
    names = fields_of(rules, {**_LINES, **_POSITIONS})
    absent = {name for name in names if getattr(witness, name, "") is None}
    return evolve(witness, unreadable=witness.unreadable | absent)
