"""From the statements of a section to its record: one reader for each section but safety."""

from collections.abc import Callable
from datetime import date, time
from typing import Any

from guardcone.language import Keyword, Part, Quoted, Section, Statement, TextFault
from guardcone.language.tokens import Amperes, ClockPosition, Count, Number, Volts
from guardcone.plan.facts_of_section import SectionFacts
from guardcone.plan.model import (
    Clay,
    Glaze,
    Kiln,
    Load,
    Position,
    Reading,
    Reduction,
    Schedule,
    Segment,
    Ware,
    WitnessSet,
)
from guardcone.plan.shared_parts import cone_of, keyword_of, maturity_of, series_of, when_of
from guardcone.span import Written
from guardcone.values import (
    Angle,
    Duration,
    Length,
    Mass,
    Power,
    Rate,
    Temperature,
    TemperatureDifference,
    Volume,
)

__all__ = [
    "read_kiln",
    "read_load",
    "read_plan_facts",
    "read_reading",
    "read_schedule",
    "read_witness",
]

Faults = list[TextFault]
Read = Callable[[SectionFacts, Statement], None]


def collect(section: Section, faults: Faults, readers: dict[str, Read]) -> SectionFacts:
    """Run the reader of each statement; those without one hold a single value of their name."""
    facts = SectionFacts(section, faults)
    for statement in section.statements:
        reader = readers.get(statement.rule)
        if reader:
            reader(facts, statement)
    return facts


def simple(kind: type[Any], name: str = "") -> Read:
    """A reader for a statement that is a word and one value of this kind."""

    def read(facts: SectionFacts, statement: Statement) -> None:
        facts.put_written(name or statement.rule, statement.part.value(kind))

    return read


def named(part: Part, name: str) -> Written[str] | None:
    """The keyword within the part of this name."""
    return keyword_of(part.part(name))


# -- plan -------------------------------------------------------------------------------------


def _starts(facts: SectionFacts, statement: Statement) -> None:
    day = when_of(statement.part.part("date"))
    if day is not None and isinstance(day.value, date):
        facts.put("starts_on", day, day.span, "starts")
    facts.put_written("starts_at", statement.part.value(time), "starts")


def _firing(facts: SectionFacts, statement: Statement) -> None:
    facts.put_written("firing", named(statement.part, "firing_kind"))


def read_plan_facts(section: Section, faults: Faults) -> SectionFacts:
    """The fields of the plan that its own section gives."""
    return collect(
        section,
        faults,
        {
            "by": simple(Quoted),
            "starts": _starts,
            "firing": _firing,
            "approved": simple(Quoted),
            "note": lambda facts, statement: facts.add("notes", statement.part.value(Quoted)),
        },
    )


# -- kiln -------------------------------------------------------------------------------------


def _kiln_build(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    for name in ("fuel", "loading", "setting"):
        facts.put_written(name, named(part, name))
    facts.put_written("volume", part.value(Volume))
    power = part.value(Power)
    volts, amperes = part.value(Volts), part.value(Amperes)
    if power is None and volts and amperes:
        watts = Power.of(volts.value * amperes.value / 1000, "kW")
        power = Written(watts, volts.span.to(amperes.span))
    facts.put_written("power", power)


def _rated(facts: SectionFacts, statement: Statement) -> None:
    facts.put_written("rated_cone", cone_of(statement.part.part("cone")), "rated")
    facts.put_written("rated_temperature", statement.part.value(Temperature), "rated")


def _cools(facts: SectionFacts, statement: Statement) -> None:
    start, end = statement.part.values(Temperature)
    facts.put_written("cools_from", start, "cools")
    facts.put_written("cools_to", end, "cools")
    facts.put_written("cools_in", statement.part.value(Duration), "cools")


def _thermocouple(facts: SectionFacts, statement: Statement) -> None:
    letters = [word for word in statement.part.values(Keyword) if len(word.value) == 1]
    facts.put_written("thermocouple", letters[0])
    facts.put_written("thermocouple_limits", named(statement.part, "tolerance_class"))


def _spread(facts: SectionFacts, statement: Statement) -> None:
    number = statement.part.value(Number)
    degrees = statement.part.value(Temperature)
    if number:
        facts.put_written("spread_cones", Written(float(number.value), number.span))
    elif degrees:
        unit = TemperatureDifference.unit_named(degrees.value.unit.plain)
        apart = TemperatureDifference.of(degrees.value.amount(), unit.plain)
        facts.put_written("spread_temperature", Written(apart, degrees.span))
    else:
        facts.put_written("spread_cones", Written(0.5, statement.part.span))


def read_kiln(section: Section, faults: Faults) -> Kiln:
    """The kiln of a kiln section."""
    facts = collect(
        section,
        faults,
        {
            "kiln_build": _kiln_build,
            "rated": _rated,
            "shelves": simple(Count),
            "cools": _cools,
            "thermocouple": _thermocouple,
            "altitude": simple(Length),
            "spread": _spread,
            "spy_hole": simple(Length),
            "room": simple(Temperature),
        },
    )
    return Kiln(section.heading, section.name, unreadable=facts.unreadable, **facts.fields)


# -- witness ----------------------------------------------------------------------------------


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
    facts.put_written("setting_out", named(statement.part, "setting_out"), "staggered")


def _pad(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    if part.has("no"):
        facts.put_written("no_pad", part.value(Keyword), "pad")
    facts.put_written("pricking", named(part, "pricking"))
    facts.put_written("pad", named(part, "pad_state"))
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
        "target_heading": _witness_cone("target"),
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
    for statement in section.statements:
        if statement.rule in readers:
            readers[statement.rule](facts, statement)
    if series:
        facts.fields["series_written"] = Written(str(series.value), series.span)
    unreadable = facts.unreadable | (
        {"series"} if "witness_series" in section.unreadable else frozenset()
    )
    return WitnessSet(section.heading, section.name, unreadable=unreadable, **facts.fields)


# -- load -------------------------------------------------------------------------------------


def _substances(part: Part) -> tuple[Written[str], ...]:
    found: list[Written[str]] = []
    for holder in (*part.parts("contains"), *part.parts("also_contains")):
        for substance in holder.parts("substance"):
            found += substance.values(Keyword)
    return tuple(found)


def _clay(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    name = part.value(Quoted)
    assert name is not None
    clay = Clay(
        name,
        statement.span,
        maturity_of(part.part("maturity")),
        named(part, "body"),
        _substances(part),
    )
    facts.add("clays", clay)


def _glaze(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    name = part.value(Quoted)
    assert name is not None
    glaze = Glaze(
        name,
        statement.span,
        maturity_of(part.part("maturity")),
        named(part, "flow"),
        named(part, "glaze_kind"),
        _substances(part),
    )
    facts.add("glazes", glaze)


def _ware(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    name = part.value(Quoted)
    assert name is not None
    own = SectionFacts(facts.section, facts.faults)
    for child in part.children:
        if isinstance(child, Part):
            _ware_part(own, child)
    facts.add("wares", Ware(name, statement.span, **own.fields))


def _ware_part(own: SectionFacts, part: Part) -> None:
    """One detail of a ware line."""
    if part.name == "pieces":
        own.put_written("count", part.value(Count), "number of pieces")
    elif part.name == "made_of":
        own.put_written("clay_name", part.value(Quoted), "of")
    elif part.name in ("glazed", "also_glazed"):
        glaze = part.value(Quoted)
        if glaze:
            own.add("glaze_names", glaze)
        else:
            own.put_written("unglazed", part.value(Keyword))
    elif part.name in ("state", "support"):
        *_, word = part.values(Keyword)
        own.put_written(part.name, word)
    elif part.name == "wall":
        own.put_written("wall", part.value(Length))
    elif part.name == "on_shelf":
        own.put_written("shelf", part.value(Quoted), "on")
    elif part.name == "form":
        own.add("form", part.value(Keyword))
    elif part.name == "foot":
        words = list(part.values(Keyword))
        own.put_written("foot", words[1] if len(words) > 1 else words[0])
        own.put_written("foot_clear", part.value(Length), "foot")
    elif part.name == "again":
        own.put_written("refired", part.value(Keyword))


def _shelf_wash(facts: SectionFacts, statement: Statement) -> None:
    *_, word = statement.part.values(Keyword)
    bare = statement.part.has("not") or word.value == "bare"
    state = Written("not-washed" if bare else "washed", word.span)
    facts.put_written("shelf_wash", state)


def read_load(section: Section, faults: Faults) -> Load:
    """The load; its names are not yet looked up."""
    facts = collect(
        section,
        faults,
        {
            "clay": _clay,
            "glaze": _glaze,
            "ware": _ware,
            "spacing": simple(Length),
            "element_gap": simple(Length),
            "shelf_wash": _shelf_wash,
            "stilts": lambda facts, statement: facts.put_written(
                "stilts", list(statement.part.values(Keyword))[-1]
            ),
            "mass": simple(Mass),
        },
    )
    return Load(section.heading, unreadable=facts.unreadable, **facts.fields)


# -- schedule ---------------------------------------------------------------------------------


def _segment(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    number = len(facts.fields.get("segments", ())) + 1
    to = part.part("destination") or part.part("hold_at")
    pace = part.part("pace") or part.part("cooling_pace") or part
    free = keyword_of(pace.part("free"))
    rate, duration = pace.value(Rate), pace.value(Duration)
    full = next((word for word in pace.values(Keyword) if word.value == "full-power"), None)
    word: Written[str] | None = free or full
    if word is None and rate is not None:
        word = Written("rate", rate.span)
    elif word is None and duration is not None:
        word = Written("duration", duration.span)
    facts.add(
        "segments",
        Segment(
            number,
            statement.rule,
            statement.span,
            word,
            rate,
            duration,
            to.value(Temperature) if to else None,
        ),
    )


def _reduce(facts: SectionFacts, statement: Statement) -> None:
    start = statement.part.value(Temperature)
    assert start is not None
    end = statement.part.part("reduce_to")
    facts.add(
        "reductions", Reduction(statement.span, start, end.value(Temperature) if end else None)
    )


def read_schedule(section: Section, faults: Faults) -> Schedule:
    """The schedule, its segments in the order written."""
    facts = collect(
        section,
        faults,
        {
            "begin": simple(Temperature, "begins"),
            "climb": _segment,
            "hold": _segment,
            "cool": _segment,
            "open": simple(Temperature, "opens"),
            "reduce": _reduce,
        },
    )
    return Schedule(section.heading, unreadable=facts.unreadable, **facts.fields)


# -- reading ----------------------------------------------------------------------------------


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
