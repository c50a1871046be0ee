"""The safety section of a plan, and the lines it is read from."""

from collections.abc import Mapping
from datetime import date, time

from attrs import frozen

from guardcone.language import Keyword, Part, Quoted, Section, Statement, TextFault
from guardcone.language.tokens import CalendarMonth, Number
from guardcone.plan.section import Read, SectionFacts, collect, named, simple, when_of
from guardcone.span import Span, Words, Written
from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries, Duration, Length, Temperature

__all__ = ["CutOff", "Eyes", "Inspection", "Safety", "Vent", "Watch", "read_safety"]


@frozen
class Vent:
    """The extraction: `switched` on, off or no; when; of what kind."""

    span: Span
    switched: Written[str] | None = None
    kind: Written[str] | None = None
    words: Written[str] | None = None
    throughout: Written[str] | None = None
    until: Written[Temperature] | None = None
    starts: Written[Temperature] | None = None
    during: Words = ()
    to_end: Written[str] | None = None


@frozen
class Eyes:
    """Eye protection: welding shade from `least` to `most`, or sunglasses, or words."""

    span: Span
    least: Written[float] | None = None
    most: Written[float] | None = None
    sunglasses: Written[str] | None = None
    words: Written[str] | None = None


@frozen
class Watch:
    """Somebody at the kiln: from a time, a temperature, `start` or `guide`, to a time or `end`."""

    span: Span
    who: Written[str] | None = None
    throughout: Written[str] | None = None
    nobody: Written[str] | None = None
    from_date: Written[date] | None = None
    from_time: Written[time] | None = None
    from_temperature: Written[Temperature] | None = None
    from_word: Written[str] | None = None
    to_date: Written[date] | None = None
    to_time: Written[time] | None = None
    to_end: Written[str] | None = None


@frozen
class CutOff:
    """What switches the kiln off if nobody does."""

    span: Span
    backup: Written[str] | None = None
    timer: Written[Duration] | None = None
    temperature: Written[Temperature] | None = None
    cone: Written[Cone] | None = None
    controller: Written[str] | None = None
    words: Written[str] | None = None


@frozen
class Inspection:
    """When the electrics, or the gas line, were last inspected, and by whom."""

    span: Span
    when: Written[date] | Written[CalendarMonth] | None = None
    by_electrician: Written[str] | None = None
    by_gas_fitter: Written[str] | None = None
    by: Written[str] | None = None


@frozen
class Safety:
    """What keeps people and the building safe, as far as the plan says it.

    Flags given by a word (`gloves`, `co_alarm`, ...) hold that word.
    """

    heading: Span
    vent: Vent | None = None
    clearance: Written[Length] | None = None
    eyes: Eyes | None = None
    hands: Written[str] | None = None
    watches: tuple[Watch, ...] = ()
    cut_off: CutOff | None = None
    electrics: Inspection | None = None
    gas_line: Inspection | None = None
    local_code: Written[str] | None = None
    co_alarm: Written[str] | None = None
    extinguisher: Written[str] | None = None
    emergency: Written[str] | None = None
    bystanders: Written[str] | None = None
    power_off: Written[str] | None = None
    gas_off: Written[str] | None = None
    dust: Written[str] | None = None
    flame_safety: Written[str] | None = None
    combustion_air: Written[str] | None = None
    unreadable: frozenset[str] = frozenset()


def _vent(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    throughout = until = starts = to_end = None
    during: list[Written[str]] = []
    for when in part.parts("vent_time"):
        first = next(when.values(Keyword))
        if first.value == "throughout":
            throughout = first
        elif first.value == "until" and when.value(Temperature):
            until = when.value(Temperature)
        elif first.value == "from" and when.value(Temperature):
            starts = when.value(Temperature)
        elif first.value == "from":
            throughout = Written(Keyword("throughout"), when.span)  # from start to end
        elif first.value in ("during", "firing", "cooling"):
            during += [word for word in when.values(Keyword) if word.value != "during"]
        else:
            *_, to_end = when.values(Keyword)
    vent = Vent(
        statement.span,
        named(facts, part, "switched"),
        named(facts, part, "vent_kind"),
        words.value(Quoted) if (words := part.part("vent_words")) else None,
        throughout,
        until,
        starts,
        tuple(during),
        to_end,
    )
    facts.put("vent", vent, statement.span)


def _eyes(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    shades = [Written(float(shade.value), shade.span) for shade in part.values(Number)]
    sunglasses = next((word for word in part.values(Keyword) if word.value == "sunglasses"), None)
    eyes = Eyes(
        statement.span,
        shades[0] if shades else None,
        shades[-1] if shades else None,
        sunglasses,
        part.value(Quoted),
    )
    facts.put("eyes", eyes, statement.span)


def _hands(facts: SectionFacts, statement: Statement) -> None:
    words = list(statement.part.values(Keyword))
    facts.put_written("hands", statement.part.value(Quoted) or words[-1])


def _watch(facts: SectionFacts, statement: Statement) -> None:
    """Each `from .. to ..` of a watch line is a watch of its own.

    A name before the time holds until the next name, one behind it for that time alone.
    """
    part = statement.part
    who: Written[str] | None = None
    nobody = next((word for word in part.values(Keyword) if word.value == "nobody"), None)
    if nobody:
        facts.add("watches", Watch(statement.span, nobody=nobody))
    for shift in part.parts("shift"):
        name, span = shift.value(Quoted), shift.part("span_of_time")
        assert span is not None
        first = name is not None and name.span < span.span
        facts.add("watches", _watch_time(statement, name or who, span))
        who = name if first else who


def _watch_time(statement: Statement, who: Written[str] | None, part: Part) -> Watch:
    throughout = next((word for word in part.values(Keyword) if word.value == "throughout"), None)
    if throughout:
        return Watch(statement.span, who, throughout)
    start, end = part.part("beginning"), part.part("ending")
    assert start is not None
    assert end is not None
    return Watch(
        statement.span,
        who,
        from_date=_day_of(start),
        from_time=start.value(time),
        from_temperature=start.value(Temperature),
        from_word=next((word for word in start.values(Keyword) if word.value != "from"), None),
        to_date=_day_of(end),
        to_time=end.value(time),
        to_end=end.value(Keyword),
    )


def _day_of(part: Part) -> Written[date] | None:
    """The day that stands before a time of a watch; a month alone is none."""
    day = when_of(part.part("date"))
    return day if day and isinstance(day.value, date) else None


def _cut_off(facts: SectionFacts, statement: Statement) -> None:
    found: dict[str, Written[object]] = {}
    places: dict[str, Span] = {}
    for part in statement.part.parts("device"):
        words: dict[str, Written[Keyword]] = {word.value: word for word in part.values(Keyword)}
        if "backup" in words:
            found.setdefault("backup", words["backup"])
        name, device = _device(part, words)
        if name in found:
            facts.fault_doubled(name, places[name], part.span)
            continue
        found[name], places[name] = device, part.span
    facts.put("cut_off", CutOff(statement.span, **found), statement.span)  # type: ignore[arg-type]


def _device(part: Part, words: Mapping[str, Written[Keyword]]) -> tuple[str, Written[object]]:
    """What switches the kiln off: the field of the record, and its value."""
    number = part.value(ConeNumber)
    if number:
        form = ConeForm.SMALL if "small" in words else ConeForm.LARGE
        return "cone", Written(Cone(number.value, ConeSeries(form)), number.span)
    devices: dict[str, Written[object] | None] = {
        "timer": part.value(Duration),
        "temperature": part.value(Temperature),
        "words": part.value(Quoted),
        "controller": words.get("controller"),
    }
    return next((name, device) for name, device in devices.items() if device)


def _inspection(name: str) -> Read:
    """A reader for `electrics inspected ..` and `gas line inspected ..`."""

    def read(facts: SectionFacts, statement: Statement) -> None:
        by = statement.part.part("inspected_by")
        trade = by.value(Keyword) if by else None
        if by and trade and trade.value == "by":
            trade = next((word for word in by.values(Keyword) if word.value != "by"), None)
        inspection = Inspection(
            statement.span,
            when_of(statement.part.part("date")),
            trade if trade and trade.value == "electrician" else None,
            trade if trade and trade.value == "gas-fitter" else None,
            by.value(Quoted) if by else None,
        )
        facts.put(name, inspection, statement.span)

    return read


def _flag(name: str) -> Read:
    """A reader for `CO alarm fitted` and the like; a `no` in the line means there is none."""

    def read(facts: SectionFacts, statement: Statement) -> None:
        part = statement.part
        word = "no" if part.has("no") else "fitted"
        facts.put_written(name, Written(word, statement.span))

    return read


def _said(name: str) -> Read:
    """A reader for a line that says something in quotes or by a fixed word."""

    def read(facts: SectionFacts, statement: Statement) -> None:
        *_, word = statement.part.values(str)
        facts.put_written(name, word)

    return read


def read_safety(section: Section, faults: list[TextFault]) -> Safety:
    """The safety section."""
    facts = collect(
        section,
        faults,
        {
            "vent": _vent,
            "clearance": simple(Length),
            "eyes": _eyes,
            "hands": _hands,
            "watch": _watch,
            "cut_off": _cut_off,
            "electrics": _inspection("electrics"),
            "gas_line": _inspection("gas_line"),
            "local_code": simple(Quoted),
            "co_alarm": _flag("co_alarm"),
            "extinguisher": _said("extinguisher"),
            "emergency": simple(Quoted),
            "bystanders": _said("bystanders"),
            "power_off": _said("power_off"),
            "gas_off": _said("gas_off"),
            "dust": _said("dust"),
            "flame_safety": _flag("flame_safety"),
            "combustion_air": simple(Quoted),
        },
    )
    return Safety(section.heading, unreadable=facts.unreadable, **facts.fields)
