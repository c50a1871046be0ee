"""A small vocabulary and a small way to write plans, to test the rule engine by itself."""

from datetime import datetime
from typing import Any

from attrs import define, evolve, field

from guardcone.condition import kinds
from guardcone.condition.kinds import Type, many, one, words
from guardcone.condition.vocabulary import Fact, Subject, Vocabulary
from guardcone.span import Span, Written
from guardcone.values import (
    Angle,
    Cone,
    ConeNumber,
    Duration,
    Length,
    Quantity,
    Rate,
    Temperature,
    read_quantity,
)

STATES = ("damp", "leather-hard", "bone-dry", "dry", "bisque")


@define(eq=False)
class Part:
    """A part of a toy plan: its facts by name, and the place of its heading."""

    facts: dict[str, Any] = field(factory=dict)
    span: Span | None = None


@define(eq=False)
class ToyCase:
    """A toy plan: its parts by the name of their subject."""

    parts: dict[str, list[Part]] = field(factory=dict)


def _fact(name: str, type_: Type, doc: str) -> Fact:
    return Fact(name, type_, doc, lambda part: part.facts.get(name))


def _units(part: Part, _place: Span) -> list[Quantity]:
    values = [fact.value if isinstance(fact, Written) else fact for fact in part.facts.values()]
    return [value for value in values if isinstance(value, Quantity)]


def _subject(name: str, doc: str, *facts: Fact, single: bool = False) -> Subject:
    subject = Subject(
        name,
        doc,
        each=lambda case: case.parts.get(name, ()),
        place=lambda part: part.span,
        single=single,
        title=(lambda part: part.facts["name"].value) if name == "clay" else None,
    )
    subject.add(*facts)
    return subject


def with_facts(subject: Subject, *facts: Fact) -> Subject:
    """The same subject with these facts and no others."""
    changed = evolve(subject)
    changed.add(*facts)
    return changed


VOCABULARY = Vocabulary(
    (
        _subject("plan", "the whole plan", _fact("title", kinds.TEXT, "its name"), single=True),
        _subject(
            "kiln",
            "the kiln that is fired",
            _fact("rating", kinds.TEMPERATURE, "hottest temperature its maker allows"),
            _fact("starts", kinds.MOMENT, "when it is switched on"),
            _fact("ends", kinds.MOMENT, "when it is switched off"),
            _fact("vent-on-throughout", kinds.FLAG, "the vent runs from start to end"),
            single=True,
        ),
        _subject("target", "what is fired to", _fact("cone", kinds.CONE, "its cone"), single=True),
        _subject(
            "witness set",
            "the cones on one shelf",
            _fact("place", kinds.TEXT, "where it stands"),
            _fact("guide", kinds.CONE, "the cone that goes down first"),
            _fact("target", kinds.CONE, "the cone fired to"),
            _fact("guard", kinds.CONE, "the cone that must stay standing"),
            _fact("lean", kinds.ANGLE, "how far the cones lean"),
            _fact("cones", many("witness cone"), "its cones"),
        ),
        _subject(
            "witness cone",
            "one cone of a set",
            _fact("number", kinds.CONE, "which cone"),
            _fact("set", one("witness set"), "the set it stands in"),
        ),
        _subject(
            "clay",
            "a clay body",
            _fact("name", kinds.TEXT, "what it is called"),
            _fact("matures-from", kinds.CONE, "coolest cone of its range"),
            _fact("matures-to", kinds.CONE, "hottest cone of its range"),
        ),
        _subject(
            "ware",
            "pieces of one kind",
            _fact("name", kinds.TEXT, "what they are"),
            _fact("state", words(*STATES), "how dry they are"),
            _fact("wall", kinds.LENGTH, "thickness of the wall"),
            _fact("dry", kinds.FLAG, "nothing wet in it"),
            _fact("pieces", kinds.NUMBER, "how many"),
            _fact("clay", one("clay"), "what they are made of"),
        ),
        _subject(
            "segment",
            "one line of the schedule",
            _fact("rate", kinds.RATE, "how fast it climbs"),
            _fact("start", kinds.TEMPERATURE, "where it begins"),
            _fact("goal", kinds.TEMPERATURE, "where it ends"),
            _fact("lasts", kinds.DURATION, "how long it takes"),
        ),
    ),
    units=_units,
)

_QUANTITIES = {"wall": Length, "lean": Angle, "rate": Rate, "rating": Temperature}
_QUANTITIES |= {"start": Temperature, "goal": Temperature, "lasts": Duration}
_CONES = ("guide", "target", "guard", "matures-from", "matures-to", "cone")
_HEADINGS = {"plan": "plan", "kiln": "kiln", "target": "target", "witness": "witness set"}
# Under `load` and `schedule` each line is a part of its own.
_LINES = {"ware": "ware", "clay": "clay", "segment": "segment"}


def read_toy(text: str) -> ToyCase:
    """The toy plan that `text` spells: headings at the margin, `fact value, fact value` below."""
    case, part = ToyCase(), Part()
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        indent = len(line) - len(line.lstrip())
        word, _, rest = line.strip().partition(" ")
        if indent and word not in _LINES:
            _facts(part, line.strip(), number, indent)
            continue
        kind = _LINES.get(word) if indent else _HEADINGS.get(word)
        if kind is None:
            continue
        part = Part(span=Span(number, indent + 1, len(line) + 1))
        case.parts.setdefault(kind, []).append(part)
        first = {"witness set": "place", "plan": "title", "target": "cone"}.get(kind, "name")
        head, _, more = rest.partition(", ")
        if head:
            start = line.index(head, indent + len(word))
            value = _value(first, head)
            part.facts[first] = Written(value, Span(number, start + 1, start + len(head) + 1))
        if more:
            _facts(part, more, number, line.index(more, indent))
    _link(case)
    return case


def _facts(part: Part, text: str, number: int, column: int) -> None:
    for piece in text.split(", "):
        name, _, value = piece.partition(" ")
        span = Span(number, column + 1, column + len(piece) + 1)
        part.facts[name] = Written(_value(name, value), span)
        column += len(piece) + 2


def _value(name: str, text: str) -> Any:
    if name in _CONES:
        return Cone(ConeNumber.read(text.removeprefix("cone ")))
    if name in _QUANTITIES:
        return read_quantity(_QUANTITIES[name], text)
    if name in ("starts", "ends"):
        return datetime.fromisoformat(text)
    if name == "pieces":
        return float(text)
    return text == "yes" if name == "vent-on-throughout" else text.strip('"')


def _link(case: ToyCase) -> None:
    clays = {clay.facts["name"].value: clay for clay in case.parts.get("clay", ())}
    for ware in case.parts.get("ware", ()):
        if "of" in ware.facts:
            ware.facts["clay"] = clays.get(ware.facts.pop("of").value)
    for witness in case.parts.get("witness set", ()):
        cones = [
            Part({"number": witness.facts[name], "set": witness}, witness.facts[name].span)
            for name in ("guide", "target", "guard")
            if name in witness.facts
        ]
        witness.facts["cones"] = cones
        case.parts.setdefault("witness cone", []).extend(cones)


SOUND = """\
plan "toy"
kiln "Heron"
  rating 1280 C
  vent-on-throughout yes
target cone 9
witness "bottom shelf"
  guide 8
  target 9
  guard 10
load
  clay "Marsh buff", matures-from 8, matures-to 10
  ware "mugs", state bisque, wall 6 mm, pieces 24, of "Marsh buff"
schedule
  segment "first", rate 60 C/h, start 20 C, goal 95 C
"""
