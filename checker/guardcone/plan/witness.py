"""A witness set of a plan and its reading after the firing, and the lines they are read from."""

from attrs import frozen

from guardcone.language import Keyword, Quoted, Section, Statement
from guardcone.language.tokens import ClockPosition
from guardcone.plan.section import (
    LARGE_CONES,
    Faults,
    Read,
    SectionFacts,
    collect,
    collect_into,
    cone_of,
    named,
    series_of,
    simple,
)
from guardcone.span import Span, Written
from guardcone.values import (
    Angle,
    Cone,
    ConeSeries,
    Length,
)

__all__ = ["Position", "Reading", "WitnessSet", "read_reading", "read_witness"]


@frozen
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


def _witness_cone(name: str) -> Read:
    def read(facts: SectionFacts, statement: Statement) -> None:
        part = statement.part.part("goal") or statement.part
        facts.put_written(name, cone_of(part.part("cone"), facts.fields["series"]))

    return read


def _witness_cones(name: str) -> Read:
    def read(facts: SectionFacts, statement: Statement) -> None:
        for part in statement.part.parts("cone"):
            facts.add(name, cone_of(part, facts.fields["series"]))

    return read


def _stance(facts: SectionFacts, statement: Statement) -> None:
    for lean in statement.part.parts("lean"):
        angle = lean.value(Angle)
        facts.put_written("lean", angle)
        if angle is None:
            facts.put_written("upright", lean.value(Keyword))
    for part in statement.part.parts("facing"):
        *_, way = part.values(Keyword)
        facts.put_written("facing", way)
    facts.put_written("setting_out", named(facts, statement.part, "setting_out"))


def _pad(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    if part.has("no"):
        no = next(word for word in part.values(Keyword) if word.value == "no")
        facts.put_written("no_pad", no, "pad")
    facts.put_written("pricking", named(facts, part, "pricking"))
    facts.put_written("pad", named(facts, part, "pad_state"))
    clay = part.part("made_of")
    facts.put_written("pad_clay", clay.value(Quoted) if clay else None)


def _seen(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    if part.has("not"):
        facts.put("unseen", part.value(Keyword), statement.span, "seen")
        return
    words = [word for word in part.values(Keyword) if word.value in ("lower", "middle", "upper")]
    named_hole: Written[str] | None = part.value(Quoted) or (words[0] if words else None)
    hole = named_hole or Written("spy hole", part.span)
    facts.put("seen", hole, statement.span)


def read_witness(section: Section, faults: Faults) -> WitnessSet:
    """One witness set."""
    series = None
    for statement in section.statements:
        if statement.rule == "witness_series":
            series = series or series_of(statement.part.part("series_words"))
    readers: dict[str, Read] = {
        "witness_guide": _witness_cone("guide"),
        "target": _witness_cone("target"),
        "witness_guard": _witness_cone("guard"),
        "witness_extra": _witness_cones("extras"),
        "witness_order": _witness_cones("order"),
        "stance": _stance,
        "pad": _pad,
        "seen": _seen,
        "width": simple(Length),
        "element_gap": simple(Length),
    }
    # The series comes first, wherever its line stands: the cones of the set are of it.
    facts = SectionFacts(section, faults)
    facts.fields["series"] = series.value if series else WitnessSet(section.heading).series
    collect_into(facts, readers)
    if series:
        facts.fields["series_written"] = Written(str(series.value), series.span)
    unreadable = facts.unreadable | (
        {"series"} if "witness_series" in section.unreadable else frozenset()
    )
    return WitnessSet(section.heading, section.name, unreadable=unreadable, **facts.fields)


@frozen
class Position:
    """How one cone stands after the firing: a word, a clock position or an angle.

    `word` is down, standing, touching, melted or moved.
    """

    span: Span
    word: str | None
    clock: ClockPosition | None
    angle: Angle | None


@frozen
class Reading:
    """The cones of one witness set after the firing."""

    heading: Span
    place: Written[str] | None = None
    guide: Position | None = None
    target: Position | None = None
    guard: Position | None = None
    unreadable: frozenset[str] = frozenset()


def _position(name: str) -> Read:
    def read(facts: SectionFacts, statement: Statement) -> None:
        part = statement.part.part("position")
        assert part is not None
        word, clock, angle = part.value(Keyword), part.value(ClockPosition), part.value(Angle)
        position = Position(
            part.span,
            word.value if word else None,
            clock.value if clock else None,
            angle.value if angle else None,
        )
        facts.put(name, position, statement.span)

    return read


def read_reading(section: Section, faults: Faults) -> Reading:
    """The reading of one witness set."""
    facts = collect(
        section,
        faults,
        {
            "read_guide": _position("guide"),
            "read_target": _position("target"),
            "read_guard": _position("guard"),
        },
    )
    return Reading(section.heading, section.name, unreadable=facts.unreadable, **facts.fields)
