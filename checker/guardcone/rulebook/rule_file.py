"""The rules, limits and reasons of a file are read; every fault in them has its place."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from typing import Any, TypeVar

from attrs import evolve, fields, frozen, has

from guardcone.condition import typed
from guardcone.condition.grammar import Mistake, bare_name, parse_condition, reserved_words
from guardcone.condition.kinds import CONE, NUMBER, QUANTITY_CLASS, Type
from guardcone.condition.scope import Scope
from guardcone.condition.typing import read_amount, read_condition, read_place, read_wording
from guardcone.condition.vocabulary import Vocabulary
from guardcone.language.nearest import did_you_mean
from guardcone.rulebook.example_file import read_examples
from guardcone.rulebook.rule import (
    KEY,
    Background,
    Consequence,
    ExampleKind,
    Level,
    Limit,
    Repair,
    Rule,
    Said,
    Source,
    Where,
    bibliography,
)
from guardcone.rulebook.yaml_text import ListNode, MapNode, TextNode
from guardcone.span import Span

__all__ = [
    "CASE_KEYS",
    "LEVEL_KEYS",
    "LIMIT_KEYS",
    "MEASURES",
    "NEEDED_LIMIT_KEYS",
    "NEEDED_RULE_KEYS",
    "NEVER",
    "REASON_KEYS",
    "RULE_KEYS",
    "WHEN_KEYS",
    "ReadRule",
    "Reason",
    "read_limits",
    "read_reasons",
    "read_rules",
]

# The condition of a level in short, and a level that says more of its own.
WHEN_KEYS = {f"{consequence.value} when": consequence for consequence in Consequence}
LEVEL_KEYS = {consequence.value: consequence for consequence in Consequence}
_REPAIR_KEYS = ("do", "write", *(where.value for where in Where))
# What a level may say itself.
_OWN_KEYS = ("at", "finding", *_REPAIR_KEYS, "accept when", "silences")
CASE_KEYS = ("case", "when", *_OWN_KEYS)
RULE_KEYS = (
    *("rule", "concerns", "unless", *WHEN_KEYS, *LEVEL_KEYS, *_OWN_KEYS),
    *("why", "reason", "accept", "sources", *(kind.value for kind in ExampleKind)),
)
NEEDED_RULE_KEYS = ("rule", "concerns", "passes", "fails")
REASON_KEYS = ("reason", "text", "sources")
# What stands under `accept` where no accept line may let the finding stand.
NEVER = "never"

LIMIT_KEYS = ("limit", "value", "range", "measures", "sources", "note")
NEEDED_LIMIT_KEYS = ("limit", "value", "range", "sources")
# What a limit may measure, by the name under `measures`, needed where the unit leaves it open.
MEASURES: dict[str, Type] = {
    **{kind.value: Type(kind) for kind in QUANTITY_CLASS},
    CONE.kind.value: CONE,
    NUMBER.kind.value: NUMBER,
}

T = TypeVar("T")


@frozen(repr=False)
class ReadRule:
    """A rule, with what can be told only when the whole book is read.

    `silences` are what each of its levels silences, as it is written. `reason` is the name of a
    reason that several rules share.
    """

    rule: Rule
    silences: tuple[tuple[TextNode, ...], ...]
    reason: TextNode | None


@frozen(repr=False)
class Reason:
    """A reason that several rules share."""

    name: str
    text: str
    sources: tuple[Source, ...]
    file: str
    span: Span


def read_reasons(records: Iterable[MapNode]) -> Iterator[Reason]:
    """The shared reasons in these records of a file."""
    for record in records:
        if not record.has(REASON_KEYS, REASON_KEYS):
            continue
        name, text = record.text("reason"), record.text("text")
        if name is not None and text is not None:
            sources, file = read_sources(record), record.reader.file
            yield Reason(name.text, text.text.strip(), sources, file, name.span)


def read_rules(
    records: Iterable[MapNode], vocabulary: Vocabulary, limits: Mapping[str, Type]
) -> Iterator[ReadRule]:
    """The rules without fault in these records; `limits` has the type of each they may name."""
    for record in records:
        before = len(record.reader.faults)
        rule = _RuleReader(record, vocabulary, limits).rule()
        if rule is not None and len(record.reader.faults) == before:
            yield rule


class _RuleReader:
    """Reads one record; goes on past a fault, so that one run shows all of them."""

    def __init__(self, record: MapNode, vocabulary: Vocabulary, limits: Mapping[str, Type]) -> None:
        self._record = record
        self._vocabulary = vocabulary
        self._limits = limits

    def rule(self) -> ReadRule | None:
        record = self._record
        complete = record.has(RULE_KEYS, NEEDED_RULE_KEYS)
        name = record.text("rule")
        scope = self._scope()
        if name is None or scope is None or not complete:
            return None
        if not all(part.isalnum() and part == part.lower() for part in name.text.split("-")):
            hint = "write small letters and hyphens: guard-missing"
            name.fault(f"{name.text!r} cannot name a rule", hint)
        cases = tuple(self._cases())
        read = tuple(self._levels(cases, scope))
        reason, why = record.text("reason"), record.text("why")
        if (why is None) == (reason is None):
            record.fault("a rule has either a 'why' or a 'reason' by name")
        elif why is not None and record.get("sources") is None:
            record.fault("the key 'sources' is missing")
        if not read or len(read) != len(cases):
            return None
        levels = tuple(level for level, _ in read)
        examples = tuple(
            example
            for kind in ExampleKind
            for example in read_examples(record, kind, name.text, levels)
        )
        background = Background(
            unless=record.words("unless"),
            why=why.text.strip() if why else "",
            sources=read_sources(record),
            examples=examples,
        )
        rule = Rule(
            name=name.text,
            concerns=scope.inner.name,
            levels=levels,
            is_acceptable=self._is_acceptable(),
            file=record.reader.file,
            span=name.span,
            background=lambda: background,
        )
        return ReadRule(rule, tuple(nodes for _, nodes in read), reason)

    def _cases(self) -> Iterator[tuple[Consequence, TextNode | None, MapNode]]:
        """Each level, the worst first: its weight, its condition, and what it says itself."""
        for key, consequence in LEVEL_KEYS.items():
            short, whole = self._record.text(f"{key} when"), self._record.get(key)
            if short is not None:
                yield consequence, short, self._record.only()
            if whole is None:
                continue
            if short is not None:
                short.fault(f"'{key} when' stands beside '{key}'", "make them one")
            cases = whole.items if isinstance(whole, ListNode) else (whole,)
            for case in cases:
                if not isinstance(case, MapNode):
                    hint = f"write `{key} when: ...`, or lines below it"
                    case.fault(f"{key!r} must have a `when` below it", hint)
                    continue
                if len(cases) > 1 and case.get("case") is None:
                    case.fault(f"several cases of {key}: name each")
                yield consequence, case.text("when"), case

    def _levels(
        self, cases: Iterable[tuple[Consequence, TextNode | None, MapNode]], scope: Scope
    ) -> Iterator[tuple[Level, tuple[TextNode, ...]]]:
        """The levels that can be read, with the names of what each silences."""
        if not cases:
            hint = "write one of " + ", ".join(f"`{key}: ...`" for key in WHEN_KEYS)
            self._record.fault("the rule has no level", hint)
        unless = _read(self._record.text("unless"), read_condition, scope)
        for consequence, when, own in cases:
            level = self._level(consequence, when, own, scope)
            if level is None:
                continue
            if unless is not None:
                both = (typed.denied(unless), level.condition)
                level = evolve(level, condition=typed.AllOf(both))
            yield level, (*own.texts("silences"), *self._record.texts("silences"))

    def _level(
        self, consequence: Consequence, when: TextNode | None, own: MapNode, scope: Scope
    ) -> Level | None:
        if own.entries and not own.has(CASE_KEYS, ("when",)):
            return None

        def teller(key: str) -> MapNode:
            """The level where it says this itself, or else the rule."""
            return own if own.get(key) is not None else self._record

        condition = _read(when, read_condition, scope)
        text = teller("finding").text("finding")
        if text is None:
            self._record.fault("the key 'finding' is missing")
        finding = _read(text, read_wording, scope)
        # A sentence of advice and the line that does it belong together; a level may have a line
        # of its own to the sentence of the rule.
        says = teller("do")
        repair = _repair(says, own if own.get("write") is not None else says, scope)
        if condition is None or when is None or finding is None or repair is None:
            return None
        at = _places(teller("at"), "at", scope)
        case, accept_when = own.text("case"), teller("accept when").text("accept when")
        let_stand = accept_when.text.strip() if accept_when else ""
        said = Said(when.words, finding, repair, let_stand)
        return Level(
            consequence=consequence,
            case=case.text if case else "",
            condition=condition,
            at=at,
            said=lambda: said,
            silences=(),
            limits=frozenset(_limits_in((condition, at, finding, repair))),
        )

    def _scope(self) -> Scope | None:
        node = self._record.text("concerns")
        if node is None:
            return None
        subject = self._vocabulary.subject(node.text)
        if subject is None:
            known = [one.name for one in self._vocabulary.subjects]
            hint = did_you_mean(node.text, known) or f"subjects are {', '.join(known)}"
            node.fault(f"there is no subject {node.text!r}", hint)
            return None
        return Scope(self._vocabulary, self._limits, subject)

    def _is_acceptable(self) -> bool:
        node = self._record.text("accept")
        if node is not None and node.text != NEVER:
            hint = f"write accept: {NEVER}, or leave it out"
            node.fault(f"{node.text!r} can't stand here", hint)
        if node is not None and self._record.get("accept when") is not None:
            node.fault("what is never accepted has no 'accept when'")
        return node is None


def _read(node: TextNode | None, read: Callable[[str, Scope], T], scope: Scope) -> T | None:
    return node.read(lambda text: read(text, scope)) if node else None


def _places(record: MapNode, key: str, scope: Scope) -> tuple[typed.Value, ...]:
    values = (_read(node, read_place, scope) for node in record.texts(key))
    return tuple(value for value in values if value is not None)


def _repair(says: MapNode, record: MapNode, scope: Scope) -> Repair | None:
    """What to do, as one level or rule `says`, and the line to write, as in `record`."""
    text = says.text("do")
    if text is None:
        if says.get("do") is None:
            says.fault("the key 'do' is missing")
        return None
    say = _read(text, read_wording, scope)
    line = record.text("write")
    write = _read(line, partial(read_wording, is_plan_line=True), scope)
    chosen = [where for where in Where if record.get(where.value) is not None]
    if len(chosen) > 1:
        record.fault(f"a line goes to one place, not {len(chosen)}")
    if chosen and line is None:
        record.fault(f"'{chosen[0].value}' says where, but no 'write' says what")
    where = chosen[0] if chosen else Where.AFTER
    places = _places(record, where.value, scope)
    return None if say is None else Repair(say, write, where, places)


def _limits_in(part: Any) -> Iterator[str]:
    """Names of the limits used anywhere in a typed tree or in what holds some."""
    if isinstance(part, typed.LimitOf):
        yield part.name
    elif isinstance(part, tuple):
        for item in part:
            yield from _limits_in(item)
    elif has(type(part)) and not isinstance(part, Type):
        for attribute in fields(type(part)):
            yield from _limits_in(getattr(part, attribute.name))


def read_limits(records: Iterable[MapNode], vocabulary: Vocabulary) -> tuple[Limit, ...]:
    """The limits in these records; what is wrong with the others is told at its place."""
    found: dict[str, Limit] = {}
    for record in records:
        limit = _limit(record, vocabulary)
        if limit is not None and found.setdefault(limit.name, limit) is not limit:
            hint = f"see line {found[limit.name].span.line}"
            record.reader.fault(limit.span, f"the limit {limit.name!r} stands twice", hint)
    return tuple(found.values())


def read_sources(record: MapNode) -> tuple[Source, ...]:
    """The sources of a record: keys of the bibliography, or a studio's own words."""
    known = bibliography()
    nodes = record.texts("sources")
    for node in nodes:
        if node.words not in known and KEY.fullmatch(node.words):
            hint = did_you_mean(node.words, known)
            hint = hint or "add it to rules/sources.csv, or say it in words"
            node.fault(f"the bibliography has no source {node.words!r}", hint)
    return tuple(known.get(node.words) or Source(node.words) for node in nodes)


def _limit(record: MapNode, vocabulary: Vocabulary) -> Limit | None:
    if not record.has(LIMIT_KEYS, NEEDED_LIMIT_KEYS):
        return None
    name, value, reach, measures = map(record.text, ("limit", "value", "range", "measures"))
    note = record.words("note")
    if name is None or value is None or reach is None or not _name_is_free(name, vocabulary):
        return None
    expected = MEASURES.get(measures.text) if measures else None
    if measures is not None and expected is None:
        hint = did_you_mean(measures.text, MEASURES) or f"limits measure {', '.join(MEASURES)}"
        measures.fault(f"no limit measures {measures.text!r}", hint)
        return None
    constant = value.read(partial(read_amount, kind=expected))
    ends = _range(reach, constant.type) if constant else None
    if constant is None or ends is None:
        return None
    limit = Limit(
        name=name.text,
        type=constant.type,
        value=constant.value,
        least=ends[0].value,
        most=ends[1].value,
        sources=(),
        note=note,
        file=record.reader.file,
        span=name.span,
    )
    if not limit.takes(limit.value):
        value.fault(f"{value.text} does not lie between {limit.least} and {limit.most}")
        return None
    return evolve(limit, sources=read_sources(record))


def _range(node: TextNode, kind: Type) -> tuple[typed.Constant, typed.Constant] | None:
    """The two ends of `40 C to 121 C`."""
    first, to, _ = node.text.partition(" to ")
    if not to:
        hint = "write the least and the most: 40 C to 121 C"
        node.fault(f"{node.text!r} is no range", hint)
        return None
    amount = partial(read_amount, kind=kind)
    least = node.read(amount, 0, len(first))
    most = node.read(amount, len(first) + len(to)) if least else None
    return (least, most) if least and most else None


def _name_is_free(name: TextNode, vocabulary: Vocabulary) -> bool:
    try:
        named = bare_name(parse_condition(name.text))
    except Mistake:
        named = None
    if named != name.text or " " in name.text:
        hint = "write small letters and hyphens: damp-ware-rate"
        name.fault(f"{name.text!r} cannot name a limit", hint)
        return False
    if name.text in vocabulary.names() or name.text in reserved_words():
        name.fault(f"{name.text!r} is the name of something else already")
        return False
    return True
