"""A studio's own file is read: what it changes and describes; every fault in it has its place."""

from collections.abc import Callable, Mapping
from functools import partial

from attrs import evolve

from guardcone.condition.typing import read_amount
from guardcone.language.meanings import names_nobody, says_nothing
from guardcone.language.nearest import did_you_mean
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
from guardcone.rulebook.studio_words import DESCRIBED, described_in, rooms_in
from guardcone.rulebook.yaml_text import MapNode, Reader, TextNode

__all__ = ["CHANGES", "CHANGE_KEYS", "STUDIO_KEYS", "read_studio"]

STUDIO_KEYS = (
    "local authority",
    "emergency",
    "room",
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
    described = described_in(root)
    may_accept = _may_accept(root)
    rooms = rooms_in(root, described)
    faults = sorted(reader.faults, key=lambda fault: fault.span)
    if faults or own_faults:
        return StudioFaults((*faults, *own_faults))
    return Studio(
        book=evolve(with_own.with_overrides(limits, changes), studio=file, may_accept=may_accept),
        file=file,
        described=described,
        rooms=rooms,
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
