"""What a studio's own file says in the words of plans: kilns, clays, glazes, and what is fitted.

Each description is read by the grammar of plans, under the heading or behind the name that it has
in a plan; a fault in it has its place in the studio's file.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from attrs import evolve, frozen

from guardcone.language import SourceText, TextFault, read_statements, split_lines
from guardcone.language.nearest import did_you_mean
from guardcone.plan import Described, Plan, read_plan
from guardcone.plan.load import Clay, Glaze
from guardcone.plan.room import FITTED, Room, done_on_the_day
from guardcone.plan.safety import Safety
from guardcone.rulebook.yaml_text import Entry, MapNode, TextNode
from guardcone.span import Span, Written

__all__ = ["DESCRIBED", "described_in", "rooms_in"]

T = TypeVar("T")

# What a studio may describe, by the key it stands under, and the word of a plan for one of them.
DESCRIBED = {"kilns": "kiln", "clays": "clay", "glazes": "glaze"}

# Faults that a plan with nothing else in it would have, and a description rightly has.
_EXPECTED = frozenset({"name-unused"})

# What holds for all kilns stands under this in place of a kiln's name.
_EVERY_KILN = "every kiln"

# Lines that a studio says of all kilns without a look at them, by the key that each stands under.
_OF_ALL: Mapping[str, Callable[[Written[str]], Safety]] = {
    "local authority": lambda said: Safety(said.span, local_code=said),
    "emergency": lambda said: Safety(said.span, emergency=said),
}


def described_in(root: MapNode) -> Described:
    """The kilns, clays and glazes that a plan may name and say no more."""
    return Described(
        _each(root, "kilns", lambda plan: plan.kiln),
        _each(root, "clays", _clay),
        _each(root, "glazes", _glaze),
    )


def rooms_in(root: MapNode, described: Described) -> tuple[Room, ...]:
    """What is fitted at which kiln, each as somebody found it on a day."""
    said = ((root.text(key), record) for key, record in _OF_ALL.items())
    of_all = (Room(record(Written(node.words, node.span))) for node, record in said if node)
    return (*_rooms(root, described), *of_all)


@frozen(repr=False)
class _Line:
    """A line of the plan made here, and where it comes from: a text of the studio's file.

    Column `column` of the line is character `start` (from 0) of the text; before it stand words
    that are put there, and that no fault of the studio's file is about.
    """

    text: str
    node: TextNode
    start: int = 0
    column: int = 1

    def place(self, span: Span) -> Span:
        """The place in the studio's file of a place in this line."""
        if span.start < self.column:
            return self.node.span
        first = span.start - self.column + self.start
        return self.node.place(first, first + max(span.end - span.start, 1))


def _clay(plan: Plan) -> Clay | None:
    return evolve(plan.load.clays[0], from_studio=True) if plan.load else None


def _glaze(plan: Plan) -> Glaze | None:
    return evolve(plan.load.glazes[0], from_studio=True) if plan.load else None


def _each(record: MapNode, key: str, thing_of: Callable[[Plan], T | None]) -> dict[str, T]:
    """The things described under a key by name; `thing_of` takes one out of the plan made here."""
    word, found = DESCRIBED[key], dict[str, T]()
    for entry in record.section(key):
        name = _name_in_plans(entry.key.text)
        if name is None:
            hint = "a plan writes it between double quotes, on one line"
            entry.key.fault(f"no plan can name a {word} so", hint)
        elif name in found:
            message = f"the {word} {name!r} stands here twice"
            entry.key.fault(message, "blanks make no other name")
        else:
            lines = _kiln_lines(entry) if key == "kilns" else _load_lines(word, entry)
            plan = _read(lines, "kiln" if key == "kilns" else "load") if lines else None
            thing = thing_of(plan) if plan else None
            if thing is not None:
                found[name] = thing
    return found


def _rooms(root: MapNode, described: Described) -> Iterator[Room]:
    """What is fitted, each text as somebody found it on a day."""
    kilns = {name.casefold(): name for name in described.kilns}
    for entry in root.section("room"):
        kiln = "" if entry.key.text == _EVERY_KILN else entry.key.text
        if kiln and kilns and kiln.casefold() not in kilns:
            near = did_you_mean(kiln, [_EVERY_KILN, *kilns.values()])
            entry.key.fault(f"the studio describes no kiln {kiln!r}", near or "add it under kilns")
        for node in entry.texts():
            lines = [_Line("safety", entry.key), *_lines_of(node)]
            plan = _read(lines, "safety")
            if plan and plan.safety and _is_a_room(node, lines, plan.safety):
                look = evolve(plan.safety.looks[0], place=node.line)
                yield Room(plan.safety, _words_of(lines, plan.safety), kiln, look)


def _is_a_room(node: TextNode, lines: list[_Line], safety: Safety) -> bool:
    """True where somebody looked and all that is said is fitted; else that is a fault."""
    if len(safety.looks) != 1:
        hint = 'begin with a line such as `looked at 2026-09-20 by "R. Teal"`'
        node.fault("who looked, and when, must be said once", hint)
    acts = list(done_on_the_day(safety))
    for span in acts:
        message = f"`{lines[span.line - 1].text.strip()}` is done on the day, not fitted"
        node.reader.fault(lines[span.line - 1].place(span), message, "each plan says it itself")
    return len(safety.looks) == 1 and not acts


def _words_of(lines: list[_Line], safety: Safety) -> dict[str, str]:
    said = ((name, getattr(safety, name)) for name in FITTED)
    return {name: lines[one.span.line - 1].text.strip() for name, one in said if one}


def _name_in_plans(name: str) -> str | None:
    """The name as a plan knows it when it stands in quotes; None if no plan can write it."""
    if "\n" in name:
        return None
    statements = read_statements(SourceText("", split_lines(f'plan "{name}"')))
    heading = statements.sections[0].name if statements.sections else None
    if statements.faults or heading is None:
        return None
    return str(heading.value)


def _kiln_lines(entry: Entry) -> list[_Line]:
    """The lines of a kiln section, in one text or in a list of them."""
    lines = [_Line(f'kiln "{entry.key.text}"', entry.key)]
    for node in entry.texts():
        lines += _lines_of(node)
    return lines


def _lines_of(node: TextNode) -> Iterator[_Line]:
    start = 0
    for text in node.text.split("\n"):
        yield _Line(text, node, start)
        start += len(text) + 1


def _load_lines(word: str, entry: Entry) -> list[_Line]:
    """A load with one line in it: the word, the name, and what the studio says of it."""
    node = entry.text()
    if node is None:
        return []
    said = "".join(f"{line.code:<{len(line.text) + 1}}" for line in split_lines(node.text))
    before = f'{word} "{entry.key.text}" '
    return [_Line("load", entry.key), _Line(before + said, node, 0, len(before) + 1)]


def _read(lines: list[_Line], section: str) -> Plan | None:
    """The plan that the lines are; None where they have a fault, or are more than that section."""
    reader = lines[0].node.reader
    before = len(reader.faults)
    plan = read_plan(SourceText(reader.file, split_lines("\n".join(line.text for line in lines))))
    told = set()
    for fault in plan.faults:
        if fault.rule not in _EXPECTED:
            told.add(fault.span.line)
            reader.fault(lines[fault.span.line - 1].place(fault.span), *_told(fault))
    for heading, word in _headings(plan, section):
        if heading.line not in told:
            place = lines[heading.line - 1].place(heading)
            reader.fault(place, f"`{word}` opens another part of a plan", "take the line out")
    return plan if len(reader.faults) == before else None


def _told(fault: TextFault) -> tuple[str, str]:
    """The message and the hint of a fault, without the line numbers and headings of a plan."""
    if fault.rule == "fact-misplaced":
        return fault.found, "take the line out"
    if fault.rule == "fact-doubled":
        return "this is said a second time", "keep one of the two"
    hint = f"{fault.repair} Like: {fault.line}" if fault.line else fault.repair
    return fault.found, hint


def _headings(plan: Plan, section: str) -> Iterator[tuple[Span, str]]:
    """Where another section than this one opens, and its word."""
    once = {"kiln": plan.kiln, "load": plan.load, "schedule": plan.schedule, "safety": plan.safety}
    parts = (
        *once.items(),
        *(("witness", one) for one in plan.witness_sets),
        *(("reading", one) for one in plan.readings),
        ("plan", plan if plan.name else None),
    )
    yield from ((part.heading, word) for word, part in parts if part and word != section)
    yield from ((accept.span, "accept") for accept in plan.accepts)
    if plan.target:
        yield plan.target.span, "target"
