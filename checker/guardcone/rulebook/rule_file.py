"""The rules of a file are read; every fault in them has its place."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, TypeVar

from attrs import evolve, fields, frozen, has

from guardcone.condition import typed
from guardcone.condition.kinds import Type
from guardcone.condition.rule_faults import Mistake, did_you_mean
from guardcone.condition.scope import Scope
from guardcone.condition.sentences import Wording
from guardcone.condition.typing import read_condition, read_place, read_wording
from guardcone.condition.vocabulary import Vocabulary
from guardcone.rulebook.example_file import read_examples
from guardcone.rulebook.limits import read_sources
from guardcone.rulebook.rule import Consequence, ExampleKind, Level, Repair, Rule, Source, Where
from guardcone.rulebook.yaml_text import ListNode, MapNode, Reader, TextNode
from guardcone.span import Span

__all__ = [
    "CASE_KEYS",
    "LEVEL_KEYS",
    "NEEDED_RULE_KEYS",
    "NEVER",
    "REASON_KEYS",
    "RULE_KEYS",
    "WHEN_KEYS",
    "ReadRule",
    "Reason",
    "RuleFile",
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

T = TypeVar("T")


@frozen
class ReadRule:
    """A rule, with what can be told only when the whole book is read.

    `silences` are what it silences, as it is written, each with the number of the level that says
    so. `reason` is the name of a reason that several rules share.
    """

    rule: Rule
    silences: tuple[tuple[int, TextNode], ...]
    reason: TextNode | None


@frozen
class Reason:
    """A reason that several rules share."""

    name: str
    text: str
    sources: tuple[Source, ...]
    file: str
    span: Span


@frozen
class RuleFile:
    """What one file gives: the rules without fault, and the names of all in it."""

    rules: tuple[ReadRule, ...]
    names: frozenset[str]


def read_reasons(records: Iterable[MapNode], reader: Reader) -> tuple[Reason, ...]:
    """The shared reasons in these records of a file."""
    found = []
    for record in records:
        if not reader.keys(record, REASON_KEYS, REASON_KEYS):
            continue
        name, text = reader.text(record, "reason"), reader.text(record, "text")
        if name is not None and text is not None:
            sources = read_sources(record, reader)
            found.append(Reason(name.text, text.text.strip(), sources, reader.file, name.span))
    return tuple(found)


def read_rules(
    records: Iterable[MapNode], reader: Reader, vocabulary: Vocabulary, limits: Mapping[str, Type]
) -> RuleFile:
    """The rules in these records of a file; `limits` gives the type of each limit they may name."""
    found = []
    names = set()
    for record in records:
        before = len(reader.faults)
        rule = _RuleReader(reader, record, vocabulary, limits).rule()
        name = record.get("rule")
        if isinstance(name, TextNode):
            names.add(name.text)
        if rule is not None and len(reader.faults) == before:
            found.append(rule)
    return RuleFile(tuple(found), frozenset(names))


class _RuleReader:
    """Reads one record; goes on past a fault, so that one run shows all of them."""

    def __init__(
        self, reader: Reader, record: MapNode, vocabulary: Vocabulary, limits: Mapping[str, Type]
    ) -> None:
        self._reader = reader
        self._record = record
        self._vocabulary = vocabulary
        self._limits = limits

    def rule(self) -> ReadRule | None:
        reader, record = self._reader, self._record
        complete = reader.keys(record, RULE_KEYS, NEEDED_RULE_KEYS)
        name = reader.text(record, "rule")
        scope = self._scope()
        if name is None or scope is None or not complete:
            return None
        if not all(part.isalnum() and part == part.lower() for part in name.text.split("-")):
            hint = "write small letters and hyphens: guard-missing"
            reader.fault(name.span, f"{name.text!r} cannot name a rule", hint)
        cases = tuple(self._cases())
        levels = tuple(self._levels(cases, scope))
        reason = reader.text(record, "reason")
        why = reader.text(record, "why")
        if (why is None) == (reason is None):
            reader.fault(record.span, "a rule has either a 'why' or a 'reason' by name")
        elif why is not None and record.get("sources") is None:
            reader.fault(record.span, "the key 'sources' is missing")
        if not levels or len(levels) != len(cases):
            return None
        weights = [level for level, _ in levels]
        examples = tuple(
            example
            for kind in ExampleKind
            for example in read_examples(record, kind, name.text, weights, reader)
        )
        rule = Rule(
            name=name.text,
            concerns=scope.concerns.name,
            unless=self._told("unless"),
            levels=tuple(level for level, _ in levels),
            why=why.text.strip() if why else "",
            is_acceptable=self._is_acceptable(),
            sources=read_sources(record, reader),
            file=reader.file,
            span=name.span,
            tried=lambda: examples,
        )
        silences = tuple(
            (number, node) for number, (_, nodes) in enumerate(levels) for node in nodes
        )
        return ReadRule(rule, silences, reason)

    def _cases(self) -> Iterator[tuple[Consequence, TextNode | None, MapNode]]:
        """Each level, the worst first: its weight, its condition, and what it says itself."""
        reader, record = self._reader, self._record
        for key, consequence in LEVEL_KEYS.items():
            short, whole = reader.text(record, f"{key} when"), record.get(key)
            if short is not None:
                yield consequence, short, MapNode(short.span, ())
            if whole is None:
                continue
            if short is not None:
                reader.fault(short.span, f"'{key} when' stands beside '{key}'", "make them one")
            cases = whole.items if isinstance(whole, ListNode) else (whole,)
            for case in cases:
                if not isinstance(case, MapNode):
                    hint = f"write `{key} when: ...`, or lines below it"
                    reader.fault(case.span, f"{key!r} must have a `when` below it", hint)
                    continue
                if len(cases) > 1 and case.get("case") is None:
                    reader.fault(case.span, f"several cases of {key}: name each")
                yield consequence, reader.text(case, "when"), case

    def _levels(
        self, cases: Iterable[tuple[Consequence, TextNode | None, MapNode]], scope: Scope
    ) -> Iterator[tuple[Level, tuple[TextNode, ...]]]:
        """The levels that can be read, with the names of what each silences."""
        reader, record = self._reader, self._record
        if not cases:
            hint = "write one of " + ", ".join(f"`{key}: ...`" for key in WHEN_KEYS)
            reader.fault(record.span, "the rule has no level", hint)
        unless = self._read(reader.text(record, "unless"), lambda text: read_condition(text, scope))
        for consequence, when, own in cases:
            level = self._level(consequence, when, own, scope)
            if level is None:
                continue
            if unless is not None:
                both = typed.AllOf((typed.NotOf(unless), level[0].condition))
                level = evolve(level[0], condition=both), level[1]
            yield level

    def _level(
        self, consequence: Consequence, when: TextNode | None, own: MapNode, scope: Scope
    ) -> tuple[Level, tuple[TextNode, ...]] | None:
        reader, record = self._reader, self._record
        if own.entries and not reader.keys(own, CASE_KEYS, ("when",)):
            return None
        condition = self._read(when, lambda text: read_condition(text, scope))
        text = self._own(own, "finding")
        if text is None:
            reader.fault(record.span, "the key 'finding' is missing")
        finding = self._read(text, lambda said: read_wording(said, scope))
        # A sentence of advice and the line that does it belong together.
        repair = self._repair(own if own.get("do") is not None else record, scope)
        if condition is None or when is None or finding is None or repair is None:
            return None
        at = self._places(own if own.get("at") is not None else record, "at", scope)
        case, accept_when = reader.text(own, "case"), self._own(own, "accept when")
        level = Level(
            consequence=consequence,
            case=case.text if case else "",
            condition=condition,
            condition_text=" ".join(when.text.split()),
            at=at,
            finding=finding,
            repair=repair,
            accept_when=accept_when.text.strip() if accept_when else "",
            silences=(),
            limits=frozenset(_limits_in((condition, at, finding, repair))),
        )
        return level, (*reader.texts(own, "silences"), *reader.texts(record, "silences"))

    def _own(self, own: MapNode, key: str) -> TextNode | None:
        """What the level says, or else the rule."""
        return self._reader.text(own if own.get(key) is not None else self._record, key)

    def _scope(self) -> Scope | None:
        node = self._reader.text(self._record, "concerns")
        if node is None:
            return None
        subject = self._vocabulary.subject(node.text)
        if subject is None:
            known = [one.name for one in self._vocabulary.subjects]
            hint = did_you_mean(node.text, known) or f"subjects are {', '.join(known)}"
            self._reader.fault(node.span, f"there is no subject {node.text!r}", hint)
            return None
        return Scope.of(self._vocabulary, self._limits, subject)

    def _read(self, node: TextNode | None, read: Callable[[str], T | Mistake]) -> T | None:
        if node is None:
            return None
        result = read(node.text)
        if isinstance(result, Mistake):
            place = node.place(result.start, result.end)
            self._reader.fault(place, result.message, result.hint)
            return None
        return result

    def _places(self, record: MapNode, key: str, scope: Scope) -> tuple[typed.Value, ...]:
        nodes = self._reader.texts(record, key)
        values = [self._read(node, lambda text: read_place(text, scope)) for node in nodes]
        return tuple(value for value in values if value is not None)

    def _repair(self, record: MapNode, scope: Scope) -> Repair | None:
        reader = self._reader
        text = reader.text(record, "do")
        if text is None:
            if record.get("do") is None:
                reader.fault(record.span, "the key 'do' is missing")
            return None
        say = self._read(text, lambda said: read_wording(said, scope))
        line = reader.text(record, "write")
        write: Wording | None = None
        if line is not None:
            write = self._read(line, lambda said: read_wording(said, scope, is_plan_line=True))
            if "\n" in line.text.strip():
                reader.fault(line.span, "a repair writes one line of the plan")
        chosen = [where for where in Where if record.get(where.value) is not None]
        if len(chosen) > 1:
            reader.fault(record.span, f"a line goes to one place, not {len(chosen)}")
        if chosen and line is None:
            reader.fault(record.span, f"'{chosen[0].value}' says where, but no 'write' says what")
        where = chosen[0] if chosen else Where.AFTER
        places = self._places(record, where.value, scope)
        return None if say is None else Repair(say, write, where, places)

    def _told(self, key: str) -> str:
        node = self._reader.text(self._record, key)
        return " ".join(node.text.split()) if node else ""

    def _is_acceptable(self) -> bool:
        node = self._reader.text(self._record, "accept")
        if node is not None and node.text != NEVER:
            hint = f"write accept: {NEVER}, or leave it out"
            self._reader.fault(node.span, f"{node.text!r} can't stand here", hint)
        if node is not None and self._record.get("accept when") is not None:
            self._reader.fault(node.span, "what is never accepted has no 'accept when'")
        return node is None


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
