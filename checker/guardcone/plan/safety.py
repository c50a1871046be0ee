"""The safety section of a plan, and the lines it is read from."""

from collections.abc import Mapping
from datetime import date, time
from typing import Any

from attrs import frozen

from guardcone.language import Keyword, Part, Quoted, Section, Statement, TextFault
from guardcone.language.tokens import CalendarMonth, Number
from guardcone.plan.section import Lines, SectionFacts, collect, last_word, named
from guardcone.span import Span, Words, Written
from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries, Duration, Length, Temperature

__all__ = ["CutOff", "Eyes", "Inspection", "Look", "Safety", "Vent", "Watch", "read_safety"]


@frozen(repr=False)
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


@frozen(repr=False)
class Eyes:
    """Eye protection: welding shade from `least` to `most`, or sunglasses, or words."""

    span: Span
    least: Written[float] | None = None
    most: Written[float] | None = None
    sunglasses: Written[str] | None = None
    words: Written[str] | None = None


@frozen(repr=False)
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


@frozen(repr=False)
class CutOff:
    """What switches the kiln off if nobody does."""

    span: Span
    backup: Written[str] | None = None
    timer: Written[Duration] | None = None
    temperature: Written[Temperature] | None = None
    cone: Written[Cone] | None = None
    controller: Written[str] | None = None
    words: Written[str] | None = None


@frozen(repr=False)
class Inspection:
    """When the electrics, or the gas line, were last inspected, and by whom."""

    span: Span
    when: Written[date] | Written[CalendarMonth] | None = None
    by_electrician: Written[str] | None = None
    by_gas_fitter: Written[str] | None = None
    by: Written[str] | None = None


@frozen(repr=False)
class Look:
    """Who looked at what is fitted, and when.

    Of what the studio's file says, `place` is where it stands there, and `lines` are those that
    this plan leans on.
    """

    span: Span
    on: Written[date] | Written[CalendarMonth] | None = None
    by: Written[str] | None = None
    place: str = ""
    lines: tuple[str, ...] = ()


@frozen(repr=False)
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
    looks: tuple[Look, ...] = ()
    unreadable: frozenset[str] = frozenset()


# Of several the one that carries the most away: a gas kiln has a flue and a hood over it.
_VENT_KINDS = ("hood", "flue", "downdraft", "window")


def _vent_kind(statement: Statement) -> Written[str] | None:
    said = list(statement.values(Keyword, "vent_kind"))
    return min(said, key=lambda one: _VENT_KINDS.index(one.value), default=None)


def _vent(facts: SectionFacts, statement: Statement) -> None:
    said: dict[str, Any] = {"during": ()}
    for when in statement.parts("vent_time"):
        first, heat = next(when.values(Keyword)), when.value(Temperature)
        if first.value == "throughout":
            said["throughout"] = first
        elif heat:
            said["until" if first.value == "until" else "starts"] = heat
        elif first.value == "from":
            said["throughout"] = Written(Keyword("throughout"), when.span)  # from start to end
        elif first.value in ("during", "firing", "cooling"):
            said["during"] += tuple(w for w in when.values(Keyword) if w.value != "during")
        else:
            said["to_end"] = when.last(Keyword)
    vent = Vent(
        statement.span,
        named(facts, statement, "switched"),
        _vent_kind(statement),
        statement.value(Quoted, "vent_words"),
        **said,
    )
    facts.put("vent", vent)


def _eyes(facts: SectionFacts, statement: Statement) -> None:
    least, most = statement.value(Number), statement.last(Number)
    eyes = Eyes(statement.span, least, most, statement.word("sunglasses"), statement.value(Quoted))
    facts.put("eyes", eyes)


def _hands(facts: SectionFacts, statement: Statement) -> None:
    facts.put("hands", statement.value(Quoted) or statement.last(Keyword))


def _watch(facts: SectionFacts, statement: Statement) -> None:
    """Each `from .. to ..` of a watch line is a watch of its own.

    A name before the time holds until the next name, one behind it for that time alone.
    """
    who: Written[str] | None = None
    nobody = statement.word("nobody")
    if nobody:
        facts.add("watches", Watch(statement.span, nobody=nobody))
    for shift in statement.parts("shift"):
        name, span = shift.value(Quoted), shift.part("span_of_time")
        assert span is not None
        first = name is not None and name.span < span.span
        facts.add("watches", _watch_time(statement, name or who, span))
        who = name if first else who


def _watch_time(statement: Statement, who: Written[str] | None, part: Part) -> Watch:
    throughout = part.word("throughout")
    if throughout:
        return Watch(statement.span, who, throughout)
    start, end = part.part("beginning"), part.part("ending")
    assert start is not None
    assert end is not None
    return Watch(
        statement.span,
        who,
        from_date=start.value(date, "date"),
        from_time=start.value(time),
        from_temperature=start.value(Temperature),
        from_word=start.word("start", "guide"),
        to_date=end.value(date, "date"),
        to_time=end.value(time),
        to_end=end.value(Keyword),
    )


def _cut_off(facts: SectionFacts, statement: Statement) -> None:
    own = SectionFacts(facts.section, facts.faults)
    for part in statement.parts("device"):
        words: dict[str, Written[Keyword]] = {word.value: word for word in part.values(Keyword)}
        if "backup" in words:
            own.fields.setdefault("backup", words["backup"])
        name, device = _device(part, words)
        own.put(name, device, span=part.span)
    facts.put("cut_off", CutOff(statement.span, **own.fields))


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


def _inspection(facts: SectionFacts, statement: Statement) -> None:
    """`electrics inspected ..` and `gas line inspected ..`."""
    by = statement.part("inspected_by") or Part("inspected_by", ())
    inspection = Inspection(
        statement.span,
        _when(statement),
        by.word("electrician"),
        by.word("gas-fitter"),
        by.value(Quoted),
    )
    facts.put(statement.name, inspection)


def _flag(facts: SectionFacts, statement: Statement) -> None:
    """`CO alarm fitted` and the like: a word, or `unsaid` where the line has none; or what is said.

    A `no` in the line means that there is none.
    """
    said = statement.value(Quoted)
    word = next((one for one in ("no", "fitted") if statement.word(one)), "unsaid")
    facts.put(statement.name, said or Written(word, statement.span))


def _looked(facts: SectionFacts, statement: Statement) -> None:
    facts.add("looks", Look(statement.span, _when(statement), statement.value(Quoted)))


def _when(statement: Statement) -> Written[date] | Written[CalendarMonth] | None:
    return statement.value(date, "date") or statement.value(CalendarMonth, "date")


_LINES: Lines = {
    "vent": (_vent,),
    "clearance": (Length,),
    "eyes": (_eyes,),
    "hands": (_hands,),
    "watch": (_watch, "watches"),
    "cut_off": (_cut_off,),
    "electrics": (_inspection,),
    "gas_line": (_inspection,),
    "local_code": (Quoted,),
    "co_alarm": (_flag,),
    "extinguisher": (last_word,),
    "emergency": (Quoted,),
    "bystanders": (last_word,),
    "power_off": (last_word,),
    "gas_off": (last_word,),
    "dust": (last_word,),
    "flame_safety": (_flag,),
    "combustion_air": (Quoted,),
    "looked": (_looked, "looks"),
}


def read_safety(section: Section, faults: list[TextFault]) -> Safety:
    """The safety section."""
    return Safety(section.heading, **collect(section, faults, _LINES).known)
