"""A studio's own file is read; every fault in it has its place."""

from collections.abc import Callable, Mapping

from attrs import evolve

from guardcone.condition.rule_faults import RuleFault, did_you_mean
from guardcone.language.fillers import names_nobody, says_nothing
from guardcone.rulebook.book import Crossing, LimitChange, RuleBook, RuleChange
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.limits import read_limit_value
from guardcone.rulebook.rule import Consequence, Rule
from guardcone.rulebook.studio import Studio, StudioFaults, Trial
from guardcone.rulebook.studio_stock import DESCRIBED, read_described
from guardcone.rulebook.yaml_text import Entry, MapNode, Reader, TextNode
from guardcone.span import Span

__all__ = ["CHANGES", "CHANGE_KEYS", "OFF", "STUDIO_KEYS", "read_studio"]

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
OFF = "off"
# What a studio may make of a rule.
CHANGES: dict[str, Consequence | None] = {
    **{consequence.value: consequence for consequence in Consequence},
    OFF: None,
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
            reader.fault(root.span, "this file must have `key: value` lines", _keys_hint())
        return StudioFaults(tuple(reader.faults))
    reader.keys(root, STUDIO_KEYS, ())
    with_own, own_faults = _with_own_rules(root, reader, book, load)
    if with_own.own and not own_faults:
        own_faults = trial(with_own, with_own.own)
    limits = _limits(root, reader, with_own)
    changes = _changes(root, reader, with_own)
    described = read_described(root, reader)
    may_accept = _may_accept(root, reader)
    authority, emergency = (reader.text(root, key) for key in ("local authority", "emergency"))
    faults = sorted(reader.faults, key=lambda fault: fault.span)
    if faults or own_faults:
        return StudioFaults((*faults, *own_faults))
    return Studio(
        book=evolve(with_own.with_overrides(limits, changes), studio=file, may_accept=may_accept),
        file=file,
        described=described,
        local_authority=_said(authority),
        emergency=_said(emergency),
    )


def _may_accept(root: MapNode, reader: Reader) -> tuple[str, ...]:
    """The people who may accept a danger; each must be a name."""
    nodes = reader.texts(root, "may accept")
    for node in nodes:
        if names_nobody(node.text):
            message = f"{_said(node)!r} is nobody's name"
            reader.fault(node.span, message, "name one person, as plans name them behind `by`")
    return tuple(_said(node) for node in nodes)


def _keys_hint() -> str:
    return f"keys are {', '.join(STUDIO_KEYS)}"


def _said(node: TextNode | None) -> str:
    return " ".join(node.text.split()) if node else ""


def _place(file: str, span: Span) -> str:
    return f"{file}:{span.line}"


def _with_own_rules(
    root: MapNode, reader: Reader, book: RuleBook, load: Callable[[str], BookFile | str]
) -> tuple[RuleBook, tuple[RuleFault, ...]]:
    """The book with the studio's own rules, and the faults in their files."""
    files: dict[str, BookFile] = {}
    for node in reader.texts(root, "own rules"):
        found = load(node.text)
        if isinstance(found, str):
            reader.fault(node.span, f"the file {node.text!r} can't be read", found)
        elif found.file in files:
            reader.fault(node.span, f"the file {node.text!r} stands here twice")
        else:
            files[found.file] = found
    if not files:
        return book, ()
    reading = read_book(files.values(), book.vocabulary, book)
    return reading.book, reading.faults


def _limits(root: MapNode, reader: Reader, book: RuleBook) -> Mapping[str, LimitChange]:
    changes: dict[str, LimitChange] = {}
    section = reader.section(root, "limits") or MapNode(root.span, ())
    known = [limit.name for limit in book.limits]
    for entry in section.entries:
        limit = book.limit(entry.key.text)
        if limit is None:
            hint = did_you_mean(entry.key.text, known) or "guardcone rules limits lists them"
            reader.fault(entry.key.span, f"there is no limit {entry.key.text!r}", hint)
            continue
        if not isinstance(entry.value, TextNode) or not entry.value.text.strip():
            reader.fault(_shown(entry), f"{limit.name!r} must be one amount", f"as {limit.value}")
            continue
        value = read_limit_value(entry.value, limit.type, reader)
        if value is None:
            continue
        if not limit.takes(value):
            message = f"{entry.value.text} is no value for {limit.name!r}"
            source = "; ".join(map(str, limit.sources))
            hint = f"a studio may set {limit.least} to {limit.most}; source: {source}"
            reader.fault(entry.value.span, message, hint)
            continue
        changes[limit.name] = LimitChange(value, _place(reader.file, entry.key.span))
    try:
        book.with_overrides(changes, {})
    except Crossing as crossing:
        moved = next(one for one in section.entries if one.key.text in crossing.limits)
        hint = "the worse of two levels must lie further out"
        reader.fault(moved.value.span, str(crossing), hint)
        return {}
    return changes


def _changes(root: MapNode, reader: Reader, book: RuleBook) -> Mapping[str, RuleChange]:
    changes: dict[str, RuleChange] = {}
    section = reader.section(root, "rules")
    for entry in section.entries if section else ():
        rule = _rule(entry, reader, book)
        record = entry.value
        if rule is None:
            continue
        if not isinstance(record, MapNode):
            hint = "write {consequence: off, because: ...} with the reason"
            reader.fault(_shown(entry), f"{rule.name!r} must have a consequence and a reason", hint)
            continue
        complete = reader.keys(record, CHANGE_KEYS, ("because",))
        reason = reader.text(record, "because")
        if reason is not None and says_nothing(reason.text, rule.name):
            hint = "say what is known in this studio that makes the change right"
            message = f"{reason.text.strip()!r} gives no reason that would tell anybody anything"
            reader.fault(reason.span, message, hint)
        weights = _weights(record, rule, reader)
        if reason is None or not complete or not weights:
            continue
        place = _place(reader.file, entry.key.span)
        changes[rule.name] = RuleChange(weights, _said(reason), place)
        try:
            book.with_overrides({}, {rule.name: changes[rule.name]})
        except Crossing as crossing:
            hint = "change the lighter levels with it"
            reader.fault(entry.key.span, str(crossing), hint)
    return changes


def _weights(
    record: MapNode, rule: Rule, reader: Reader
) -> Mapping[Consequence, Consequence | None]:
    """What the levels of a rule weigh in this studio."""
    found: dict[Consequence, Consequence | None] = {}
    whole = reader.text(record, "consequence")
    if whole is None and all(record.get(one.value) is None for one in Consequence):
        reader.fault(record.span, "the key 'consequence' is missing")
    for weight in rule.weights if whole is not None else ():
        assert whole is not None
        if not _may_become(whole, weight, rule, reader):
            return {}
        found[weight] = CHANGES[whole.text]
    for weight in Consequence:
        node = reader.text(record, weight.value)
        if node is None:
            continue
        if weight not in rule.weights:
            hint = f"it has {', '.join(one.value for one in rule.weights)}"
            reader.fault(node.span, f"{rule.name!r} has no level {weight.value}", hint)
        elif whole is not None:
            reader.fault(node.span, "this level has a consequence already, that of the whole rule")
        elif _may_become(node, weight, rule, reader):
            found[weight] = CHANGES[node.text]
    return found


def _rule(entry: Entry, reader: Reader, book: RuleBook) -> Rule | None:
    name = entry.key.text
    rule = book.rule(name)
    if rule is None:
        if name in text_fault_pages():
            message, hint = f"{name!r} is a fault of the text", "a studio can't change it"
        else:
            message = f"there is no rule {name!r}"
            near = did_you_mean(name, [rule.name for rule in book.rules])
            hint = near or "guardcone rules lists them"
        reader.fault(entry.key.span, message, hint)
    return rule


def _may_become(node: TextNode, weight: Consequence, rule: Rule, reader: Reader) -> bool:
    if node.text not in CHANGES:
        hint = did_you_mean(node.text, CHANGES) or f"write one of {', '.join(CHANGES)}"
        reader.fault(node.span, f"there is no consequence {node.text!r}", hint)
        return False
    if weight is Consequence.DANGER and CHANGES[node.text] is not Consequence.DANGER:
        what = "is a danger" if len(rule.weights) == 1 else "has a level of danger"
        message = f"{rule.name!r} {what}, which may be explained but not hidden"
        hint = "write danger, with the reason; it is still shown"
        if len(rule.weights) > 1:
            hint = "change its other levels by name: {advice: off, because: ...}"
        reader.fault(node.span, message, hint)
        return False
    return True


def _shown(entry: Entry) -> Span:
    """Where the value of an entry stands; for an empty one, which stands nowhere, its key."""
    empty = isinstance(entry.value, TextNode) and not entry.value.text
    return entry.key.span if empty else entry.value.span
