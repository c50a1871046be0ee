"""Files of rules, limits and reasons are read into one book and cross-checked."""

from collections.abc import Iterable, Iterator, Mapping, Set
from typing import TypeVar

from attrs import evolve, frozen

from guardcone.condition.vocabulary import Vocabulary
from guardcone.language.nearest import did_you_mean
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import BookFile, Consequence, Limit, Rule, RuleFault, Silence
from guardcone.rulebook.rule_file import ReadRule, Reason, read_limits, read_reasons, read_rules
from guardcone.rulebook.yaml_text import MapNode, Reader, TextNode

__all__ = ["BookFile", "LoadedBook", "read_book"]

# Between the name of a rule that is silenced and the weight up to which it is.
UP_TO = " up to "


@frozen(repr=False)
class LoadedBook:
    """A book made of everything that could be read, and what could not."""

    book: RuleBook
    faults: tuple[RuleFault, ...]


def read_book(
    files: Iterable[BookFile], vocabulary: Vocabulary, base: RuleBook | None = None
) -> LoadedBook:
    """Read, type and cross-check a whole book; rules with faults are left out of it.

    `base` is a sound book that these files add to.
    """
    opened = [_Opened(file) for file in files]
    faults: list[RuleFault] = []
    limits = {limit.name: limit for limit in base.limits} if base else {}
    own_limits: dict[str, Limit] = {}
    for one in opened:
        for limit in read_limits(one.records["limit"], vocabulary):
            if _is_first(limit, limits, "limit", faults):
                own_limits[limit.name] = limit
    reasons: dict[str, Reason] = {}
    for one in opened:
        for reason in read_reasons(one.records["reason"]):
            _is_first(reason, reasons, "reason", faults)
    types = {name: limit.type for name, limit in limits.items()}
    rules = {rule.name: rule for rule in base.rules} if base else {}
    names = set(rules)
    read: dict[str, ReadRule] = {}
    for one in opened:
        records = one.records["rule"]
        written = (record.get("rule") for record in records)
        names |= {node.text for node in written if isinstance(node, TextNode)}
        # What is wrong within rules is told before what is wrong between them.
        for found in tuple(read_rules(records, vocabulary, types)):
            rule = found.rule
            if rule.name in text_fault_pages():
                message = f"{rule.name!r} is the name of a fault of the text"
                faults.append(RuleFault(rule.file, rule.span, message, "give it another"))
            with_reason = _with_reason(found, reasons)
            if _is_first(with_reason.rule, rules, "rule", faults):
                read[rule.name] = with_reason
    rules |= _Silences(read, rules, names, vocabulary).resolved
    for one in opened:
        faults += one.reader.faults
    if not faults:
        faults += _unused(own_limits, reasons, read)
    changes = base.changes if base else {}
    own = base.own | frozenset(read) if base else frozenset[str]()
    book = RuleBook(vocabulary, tuple(limits.values()), tuple(rules.values()), changes, own)
    return LoadedBook(book, tuple(faults))


class _Opened:
    """A file with its records by kind: those of limits, of reasons, and all others."""

    def __init__(self, file: BookFile) -> None:
        self.reader = Reader(file.file, file.source)
        self.records: dict[str, list[MapNode]] = {"limit": [], "reason": [], "rule": []}
        for record in self.reader.records():
            kinds = ("rule", "limit", "reason") if record.get("concerns") else ("limit", "reason")
            kind = next((kind for kind in kinds if record.get(kind) is not None), "rule")
            self.records[kind].append(record)


Named = TypeVar("Named", Rule, Limit, Reason)


def _is_first(new: Named, known: dict[str, Named], what: str, faults: list[RuleFault]) -> bool:
    """True where none of this name is known yet, which adds it; else that is a fault."""
    first = known.setdefault(new.name, new)
    if first is not new:
        hint = f"the first is at {first.file}:{first.span.line}"
        faults.append(RuleFault(new.file, new.span, f"the {what} {new.name!r} stands twice", hint))
    return first is new


def _with_reason(one: ReadRule, reasons: Mapping[str, Reason]) -> ReadRule:
    """The rule with the shared reason that it names, and that reason's sources after its own."""
    node = one.reason
    if node is None:
        return one
    said = reasons.get(node.text)
    if said is None:
        hint = did_you_mean(node.text, reasons) or "write it as `- reason: NAME` with its `text`"
        node.fault(f"there is no reason {node.text!r}", hint)
        return one
    sources = (*one.rule.sources, *said.sources)
    background = evolve(one.rule.background(), why=said.text, sources=sources)
    return evolve(one, rule=evolve(one.rule, background=lambda: background))


def _unused(
    limits: Mapping[str, Limit], reasons: Mapping[str, Reason], read: Mapping[str, ReadRule]
) -> Iterator[RuleFault]:
    """Limits and reasons that no rule uses; a rule with a fault might have been the one."""
    used = {name for one in read.values() for name in one.rule.limits}
    told = {one.reason.text for one in read.values() if one.reason}
    for what, named, names in (("limit", limits, used), ("reason", reasons, told)):
        for one in named.values():
            if one.name not in names:
                yield RuleFault(one.file, one.span, f"no rule uses the {what} {one.name!r}")


class _Silences:
    """What the rules that were read silence; what is wrong in it is told at its place.

    `names` has the rules with faults too. A rule is silenced up to a weight; what is danger is not.
    """

    def __init__(
        self,
        read: Mapping[str, ReadRule],
        rules: Mapping[str, Rule],
        names: Set[str],
        vocabulary: Vocabulary,
    ) -> None:
        self._rules = rules
        self._names = names
        self._vocabulary = vocabulary
        self._nodes: dict[tuple[str, str], TextNode] = {}
        # The rules with what each level silences.
        self.resolved = {name: self._of(one) for name, one in read.items()}
        for rule in self.resolved.values():
            self._refuse_circle(rule)

    def _of(self, one: ReadRule) -> Rule:
        levels = tuple(
            evolve(level, silences=tuple(self._silences(one.rule, nodes)))
            for level, nodes in zip(one.rule.levels, one.silences, strict=True)
        )
        return evolve(one.rule, levels=levels)

    def _silences(self, rule: Rule, nodes: Iterable[TextNode]) -> Iterator[Silence]:
        for node in nodes:
            silence = self._read(rule, node)
            if silence is not None:
                self._nodes[rule.name, silence.rule] = node
                yield silence

    def _read(self, rule: Rule, node: TextNode) -> Silence | None:
        name, _, weight = (part.strip() for part in node.text.partition(UP_TO))
        other = self._rules.get(name)
        if name in text_fault_pages():
            node.fault(f"{name!r} is a fault of the text, which no rule silences")
        elif name not in self._names:
            node.fault(f"there is no rule {name!r} to silence", did_you_mean(name, self._names))
        elif other is None:
            return None
        elif not self._vocabulary.related(rule.concerns, other.concerns):
            hint = "no fact leads from one to the other, so none can stand for the other"
            message = f"{name!r} concerns the {other.concerns}, this rule the {rule.concerns}"
            node.fault(message, hint)
        else:
            up_to = _up_to(node, weight, other)
            return Silence(name, up_to) if up_to else None
        return None

    def _refuse_circle(self, rule: Rule) -> None:
        for level in rule.levels:
            for silence in level.silences:
                if self._reaches((silence.rule, silence.up_to), (rule.name, level.consequence)):
                    node = self._nodes[rule.name, silence.rule]
                    message = f"{silence.rule!r} silences this rule in turn: both would stay unsaid"
                    node.fault(message)

    def _reaches(self, start: tuple[str, Consequence], goal: tuple[str, Consequence]) -> bool:
        """True if a finding that `start` covers silences the level `goal`, itself or by others."""
        seen: set[tuple[str, Consequence]] = set()
        waiting = [start]
        while waiting:
            name, up_to = waiting.pop()
            rule = self.resolved.get(name) or self._rules.get(name)
            for level in rule.levels if rule else ():
                reached = (name, level.consequence)
                is_covered = up_to.at_least(level.consequence)
                if reached in seen or not is_covered or level.consequence is Consequence.DANGER:
                    continue
                if reached == goal:
                    return True
                seen.add(reached)
                waiting += [(silence.rule, silence.up_to) for silence in level.silences]
        return False


def _up_to(node: TextNode, weight: str, other: Rule) -> Consequence | None:
    """The weight up to which a rule is silenced; None, and a fault, where it can't be so."""
    mild = {one.value: one for one in other.weights if one is not Consequence.DANGER}
    hint = "write " + ", ".join(f"{other.name}{UP_TO}{one}" for one in mild)
    if weight == Consequence.DANGER.value:
        node.fault("nothing is silenced up to danger: a danger is always told", hint)
    elif not mild:
        hint = "both are told; say in the condition when this rule has nothing to add"
        node.fault(f"{other.name!r} is a danger, which no rule silences", hint)
    elif weight and weight not in mild:
        node.fault(f"{other.name!r} is never found at {weight!r}", hint)
    elif not weight and len(other.weights) > 1:
        node.fault(f"{other.name!r} has more than one weight: say up to which it is silenced", hint)
    else:
        return mild[weight] if weight else other.consequence
    return None
