"""Room: the rule book; here the rules of a file are read; every fault has its place."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, TypeVar

from attrs import fields, frozen, has

from guardcone.rulebook import typed
from guardcone.rulebook.checking import read_condition, read_place
from guardcone.rulebook.example_file import read_examples
from guardcone.rulebook.faults import Mistake, did_you_mean
from guardcone.rulebook.kinds import Type
from guardcone.rulebook.naming import Scope
from guardcone.rulebook.rule import Consequence, ExampleKind, Repair, Rule, Where
from guardcone.rulebook.vocabulary import Vocabulary
from guardcone.rulebook.wording import Wording
from guardcone.rulebook.wording_text import read_wording
from guardcone.rulebook.yaml_text import MapNode, Reader, TextNode
from guardcone.span import Span

__all__ = [
    "NEEDED_REPAIR_KEYS",
    "NEEDED_RULE_KEYS",
    "NEVER",
    "REPAIR_KEYS",
    "RULE_KEYS",
    "ReadRule",
    "RuleFile",
    "read_rules",
]

RULE_KEYS = (
    "rule",
    "concerns",
    "consequence",
    "fails when",
    "at",
    "finding",
    "repair",
    "why",
    "accept when",
    "accept",
    "sources",
    "silences",
    "needs",
    "passes",
    "fails",
)
NEEDED_RULE_KEYS = (
    "rule",
    "concerns",
    "consequence",
    "fails when",
    "finding",
    "repair",
    "why",
    "sources",
    "passes",
    "fails",
)
# What stands under `accept` where no accept line may let the finding stand.
NEVER = "never"
REPAIR_KEYS = ("say", "write", "after", "before", "instead")
NEEDED_REPAIR_KEYS = ("say",)

T = TypeVar("T")


@frozen
class ReadRule:
    """A rule with the places of the names of rules it silences, to be checked against the book."""

    rule: Rule
    silences: tuple[tuple[str, Span], ...]


@frozen
class RuleFile:
    """What one file gives: the rules without fault, and the names of all in it."""

    rules: tuple[ReadRule, ...]
    names: frozenset[str]


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
        consequence = self._consequence()
        scope = self._scope()
        if name is None or scope is None or consequence is None or not complete:
            return None
        if not all(part.isalnum() and part == part.lower() for part in name.text.split("-")):
            hint = "write small letters and hyphens: guard-missing"
            reader.fault(name.span, f"{name.text!r} cannot name a rule", hint)
        condition_text = reader.text(record, "fails when")
        condition = self._read(condition_text, lambda text: read_condition(text, scope))
        finding = self._read(reader.text(record, "finding"), lambda text: read_wording(text, scope))
        repair = self._repair(scope)
        at = self._places(record, "at", scope)
        silences = reader.texts(record, "silences")
        passes = read_examples(record, ExampleKind.PASSES, name.text, reader)
        fails = read_examples(record, ExampleKind.FAILS, name.text, reader)
        if condition is None or condition_text is None or finding is None or repair is None:
            return None
        rule = Rule(
            name=name.text,
            concerns=scope.concerns.name,
            consequence=consequence,
            fails_when=condition,
            condition_text=" ".join(condition_text.text.split()),
            at=at,
            finding=finding,
            repair=repair,
            why=self._said("why"),
            accept_when=self._said("accept when"),
            is_acceptable=self._is_acceptable(),
            sources=tuple(node.text.strip() for node in reader.texts(record, "sources")),
            silences=tuple(node.text for node in silences),
            needs=self._needs(),
            passes=passes,
            fails=fails,
            limits=frozenset(_limits_in((condition, at, finding, repair))),
            file=reader.file,
            span=name.span,
        )
        return ReadRule(rule, tuple((node.text, node.span) for node in silences))

    def _consequence(self) -> Consequence | None:
        node = self._reader.text(self._record, "consequence")
        if node is None:
            return None
        known = {consequence.value: consequence for consequence in Consequence}
        if node.text not in known:
            hint = did_you_mean(node.text, known) or f"consequences are {', '.join(known)}"
            self._reader.fault(node.span, f"there is no consequence {node.text!r}", hint)
            return None
        return known[node.text]

    def _scope(self) -> Scope | None:
        node = self._reader.text(self._record, "concerns")
        if node is None:
            return None
        subject = self._vocabulary.subject(node.text)
        if subject is None:
            self._no_subject(node)
            return None
        return Scope.of(self._vocabulary, self._limits, subject)

    def _no_subject(self, node: TextNode) -> None:
        known = [subject.name for subject in self._vocabulary.subjects]
        hint = did_you_mean(node.text, known) or f"subjects are {', '.join(known)}"
        self._reader.fault(node.span, f"there is no subject {node.text!r}", hint)

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

    def _repair(self, scope: Scope) -> Repair | None:
        reader, record = self._reader, self._record.get("repair")
        if not isinstance(record, MapNode):
            if record is not None:
                reader.fault(record.span, "'repair' must have a key 'say'", "repair: {say: ...}")
            return None
        if not reader.keys(record, REPAIR_KEYS, NEEDED_REPAIR_KEYS):
            return None
        say = self._read(reader.text(record, "say"), lambda text: read_wording(text, scope))
        line = reader.text(record, "write")
        write: Wording | None = None
        if line is not None:
            write = self._read(line, lambda text: read_wording(text, scope, is_plan_line=True))
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

    def _said(self, key: str) -> str:
        node = self._reader.text(self._record, key)
        return node.text.strip() if node else ""

    def _is_acceptable(self) -> bool:
        node = self._reader.text(self._record, "accept")
        if node is not None and node.text != NEVER:
            hint = f"write accept: {NEVER}, or leave it out"
            self._reader.fault(node.span, f"{node.text!r} can't stand here", hint)
        if node is not None and self._record.get("accept when") is not None:
            self._reader.fault(node.span, "what is never accepted has no 'accept when'")
        return node is None

    def _needs(self) -> tuple[str, ...]:
        nodes = self._reader.texts(self._record, "needs")
        for node in nodes:
            if self._vocabulary.subject(node.text) is None:
                self._no_subject(node)
        return tuple(node.text for node in nodes)


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
