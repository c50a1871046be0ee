"""From the statements of the safety section to its record."""

from collections.abc import Mapping
from datetime import date, time

from guardcone.language import Keyword, Part, Quoted, Section, Statement, TextFault
from guardcone.language.tokens import Number
from guardcone.plan.collecting import Read, collect, named, simple
from guardcone.plan.facts_of_section import SectionFacts
from guardcone.plan.model import CutOff, Eyes, Inspection, Safety, Vent, Watch
from guardcone.plan.shared_parts import when_of
from guardcone.span import Span, Written
from guardcone.values import (
    Cone,
    ConeForm,
    ConeNumber,
    ConeSeries,
    Duration,
    Length,
    Temperature,
)

__all__ = ["read_safety"]


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
