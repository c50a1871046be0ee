"""A studio's own file is read: what it changes and describes; every fault in it has its place.

Kilns, clays and glazes are described in the words of plans. Each description is read by the grammar
of plans, under the heading or behind the name that it has in a plan.
"""

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import TypeVar

from attrs import evolve, frozen

from guardcone.condition.typing import read_amount
from guardcone.language import SourceText, TextFault, read_statements, split_lines
from guardcone.language.meanings import names_nobody, says_nothing
from guardcone.language.nearest import did_you_mean
from guardcone.plan import Described, Plan, read_plan
from guardcone.plan.load import Clay, Glaze
from guardcone.rulebook.book import (
    Crossing,
    LimitChange,
    RuleBook,
    RuleChange,
    Studio,
    StudioFaults,
    Trial,
)
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence, Rule, RuleFault
from guardcone.rulebook.yaml_text import Entry, MapNode, Reader, TextNode
from guardcone.span import Span

__all__ = ["CHANGES", "CHANGE_KEYS", "DESCRIBED", "STUDIO_KEYS", "read_studio"]

T = TypeVar("T")

# What a studio may describe, by the key it stands under, and the word of a plan for one of them.
DESCRIBED = {"kilns": "kiln", "clays": "clay", "glazes": "glaze"}

# Faults that a plan with nothing else in it would have, and a description rightly has.
_EXPECTED = frozenset({"name-unused"})


STUDIO_KEYS = (
    "local authority",
    "emergency",
    *DESCRIBED,
    "limits",
    "rules",
    "may accept",
    "own rules",
)
# A whole rule gets one weight, or its levels each their own by the weight they have in the book.
CHANGE_KEYS = ("consequence", *(one.value for one in Consequence), "because")
# What a studio may make of a rule.
CHANGES: dict[str, Consequence | None] = {
    **{consequence.value: consequence for consequence in Consequence},
    "off": None,
}


def read_studio(
    file: str, source: str, book: RuleBook, load: Callable[[str], BookFile | str], trial: Trial
) -> Studio | StudioFaults:
    """The studio that the text `source` of a file named `file` describes, or all that is wrong.

    `book` is the built-in book. `load` gives the file that stands under `own rules` by this name,
    or says why it can't be read. `trial` runs the examples of these rules: a rule whose examples
    come out otherwise is a fault.
    """
    reader = Reader(file, source)
    root = reader.root()
    if root is None and not reader.faults:
        return Studio(evolve(book, studio=file), file)
    if not isinstance(root, MapNode):
        if root is not None:
            hint = f"keys are {', '.join(STUDIO_KEYS)}"
            root.fault("this file must have `key: value` lines", hint)
        return StudioFaults(tuple(reader.faults))
    root.has(STUDIO_KEYS, ())
    with_own, own_faults = _with_own_rules(root, book, load)
    if with_own.own and not own_faults:
        own_faults = trial(with_own, with_own.own)
    limits = _limits(root, with_own)
    changes = _changes(root, with_own)
    described = Described(
        _each(root, "kilns", lambda plan: plan.kiln),
        _each(root, "clays", _clay),
        _each(root, "glazes", _glaze),
    )
    may_accept = _may_accept(root)
    authority, emergency = root.words("local authority"), root.words("emergency")
    faults = sorted(reader.faults, key=lambda fault: fault.span)
    if faults or own_faults:
        return StudioFaults((*faults, *own_faults))
    return Studio(
        book=evolve(with_own.with_overrides(limits, changes), studio=file, may_accept=may_accept),
        file=file,
        described=described,
        local_authority=authority,
        emergency=emergency,
    )


def _may_accept(root: MapNode) -> tuple[str, ...]:
    """The people who may accept a danger; each must be a name."""
    nodes = root.texts("may accept")
    for node in nodes:
        if names_nobody(node.text):
            hint = "name one person, as plans name them behind `by`"
            node.fault(f"{node.words!r} is nobody's name", hint)
    return tuple(node.words for node in nodes)


def _with_own_rules(
    root: MapNode, book: RuleBook, load: Callable[[str], BookFile | str]
) -> tuple[RuleBook, tuple[RuleFault, ...]]:
    """The book with the studio's own rules, and the faults in their files."""
    files: dict[str, BookFile] = {}
    for node in root.texts("own rules"):
        found = load(node.text)
        if isinstance(found, str):
            node.fault(f"the file {node.text!r} can't be read", found)
        elif files.setdefault(found.file, found) is not found:
            node.fault(f"the file {node.text!r} stands here twice")
    if not files:
        return book, ()
    reading = read_book(files.values(), book.vocabulary, book)
    return reading.book, reading.faults


def _limits(root: MapNode, book: RuleBook) -> Mapping[str, LimitChange]:
    changes: dict[str, LimitChange] = {}
    known = [limit.name for limit in book.limits]
    entries = root.section("limits")
    for entry in entries:
        name = entry.key.text
        limit = book.limit(name)
        if limit is None:
            hint = did_you_mean(name, known) or "guardcone rules limits lists them"
            entry.key.fault(f"there is no limit {name!r}", hint)
            continue
        amount = entry.text("must be one amount", f"as {limit.value}")
        constant = amount.read(partial(read_amount, kind=limit.type)) if amount else None
        if amount is None or constant is None:
            continue
        if not limit.takes(constant.value):
            source = "; ".join(map(str, limit.sources))
            hint = f"a studio may set {limit.least} to {limit.most}; source: {source}"
            amount.fault(f"{amount.text} is no value for {name!r}", hint)
            continue
        changes[name] = LimitChange(constant.value, entry.key.line)
    try:
        book.with_overrides(changes, {})
    except Crossing as crossing:
        moved = next(one for one in entries if one.key.text in crossing.limits)
        moved.value.fault(str(crossing), "the worse of two levels must lie further out")
        return {}
    return changes


def _changes(root: MapNode, book: RuleBook) -> Mapping[str, RuleChange]:
    changes: dict[str, RuleChange] = {}
    for entry in root.section("rules"):
        rule = _rule(entry.key, book)
        record = entry.value
        if rule is None:
            continue
        if not isinstance(record, MapNode):
            hint = "write {consequence: off, because: ...} with the reason"
            message = f"{rule.name!r} must have a consequence and a reason"
            entry.written(record).fault(message, hint)
            continue
        complete = record.has(CHANGE_KEYS, ("because",))
        reason = record.text("because")
        if reason is not None and says_nothing(reason.text, rule.name):
            hint = "say what is known in this studio that makes the change right"
            message = f"{reason.text.strip()!r} gives no reason that would tell anybody anything"
            reason.fault(message, hint)
        weights = _weights(record, rule)
        if reason is None or not complete or not weights:
            continue
        changes[rule.name] = RuleChange(weights, reason.words, entry.key.line)
        try:
            book.with_overrides({}, {rule.name: changes[rule.name]})
        except Crossing as crossing:
            entry.key.fault(str(crossing), "change the lighter levels with it")
    return changes


def _weights(record: MapNode, rule: Rule) -> Mapping[Consequence, Consequence | None]:
    """What the levels of a rule weigh in this studio."""
    found: dict[Consequence, Consequence | None] = {}
    whole = record.text("consequence")
    if whole is not None:
        if not all(_may_become(whole, weight, rule) for weight in rule.weights):
            return {}
        found = dict.fromkeys(rule.weights, CHANGES[whole.text])
    elif all(record.get(one.value) is None for one in Consequence):
        record.fault("the key 'consequence' is missing")
    for weight in Consequence:
        node = record.text(weight.value)
        if node is None:
            continue
        if weight not in rule.weights:
            hint = f"it has {', '.join(one.value for one in rule.weights)}"
            node.fault(f"{rule.name!r} has no level {weight.value}", hint)
        elif whole is not None:
            node.fault("this level has a consequence already, that of the whole rule")
        elif _may_become(node, weight, rule):
            found[weight] = CHANGES[node.text]
    return found


def _rule(name: TextNode, book: RuleBook) -> Rule | None:
    rule = book.rule(name.text)
    if rule is None and name.text in text_fault_pages():
        name.fault(f"{name.text!r} is a fault of the text", "a studio can't change it")
    elif rule is None:
        near = did_you_mean(name.text, [rule.name for rule in book.rules])
        name.fault(f"there is no rule {name.text!r}", near or "guardcone rules lists them")
    return rule


def _may_become(node: TextNode, weight: Consequence, rule: Rule) -> bool:
    if node.text not in CHANGES:
        hint = did_you_mean(node.text, CHANGES) or f"write one of {', '.join(CHANGES)}"
        node.fault(f"there is no consequence {node.text!r}", hint)
        return False
    if weight is Consequence.DANGER and CHANGES[node.text] is not Consequence.DANGER:
        what = "is a danger" if len(rule.weights) == 1 else "has a level of danger"
        hint = "write danger, with the reason; it is still shown"
        if len(rule.weights) > 1:
            hint = "change its other levels by name: {advice: off, because: ...}"
        node.fault(f"{rule.name!r} {what}, which may be explained but not hidden", hint)
        return False
    return True


@frozen
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
        start = 0
        for text in node.text.split("\n"):
            lines.append(_Line(text, node, start))
            start += len(text) + 1
    return lines


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
