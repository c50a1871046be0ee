"""Files of rules, limits and reasons are read into one book and cross-checked."""

from collections.abc import Iterable, Iterator, Mapping, Set

from attrs import evolve, frozen

from guardcone.condition.rule_faults import RuleFault, did_you_mean
from guardcone.condition.vocabulary import Vocabulary
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.limits import read_limits
from guardcone.rulebook.rule import Consequence, Limit, Rule, Silence
from guardcone.rulebook.rule_file import ReadRule, Reason, read_reasons, read_rules
from guardcone.rulebook.yaml_text import MapNode, Reader, TextNode

__all__ = ["BookFile", "LoadedBook", "read_book"]

# Between the name of a rule that is silenced and the weight up to which it is.
UP_TO = " up to "


@frozen
class BookFile:
    """The name and the text of a file of rules, limits and reasons."""

    file: str
    source: str


@frozen
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
        for limit in read_limits(one.of("limit"), vocabulary):
            first = limits.setdefault(limit.name, limit)
            if first is limit:
                own_limits[limit.name] = limit
            else:
                faults.append(_twice(limit, first, "limit"))
    reasons: dict[str, Reason] = {}
    for one in opened:
        for reason in read_reasons(one.of("reason")):
            first_told = reasons.setdefault(reason.name, reason)
            if first_told is not reason:
                faults.append(_twice(reason, first_told, "reason"))
    types = {name: limit.type for name, limit in limits.items()}
    rules = {rule.name: rule for rule in base.rules} if base else {}
    names = set(rules)
    read: dict[str, ReadRule] = {}
    for one in opened:
        rule_file = read_rules(one.of("rule"), vocabulary, types)
        names |= rule_file.names
        for found in rule_file.rules:
            with_reason = _with_reason(found, reasons)
            faults += _name_taken(with_reason.rule, rules)
            if rules.setdefault(with_reason.rule.name, with_reason.rule) is with_reason.rule:
                read[with_reason.rule.name] = with_reason
        faults += one.reader.faults
    silences = _Silences(read, rules, names, vocabulary)
    rules |= silences.resolved()
    faults += silences.faults
    if not faults:
        faults += _unused(own_limits, reasons, read)
    changes = base.changes if base else {}
    own = base.own | frozenset(read) if base else frozenset[str]()
    book = RuleBook(vocabulary, tuple(limits.values()), tuple(rules.values()), changes, own)
    return LoadedBook(book, tuple(faults))


Named = Rule | Limit | Reason


class _Opened:
    """A file with its records by kind: those of limits, of reasons, and all others."""

    def __init__(self, file: BookFile) -> None:
        self.reader = Reader(file.file, file.source)
        self._records = list(self.reader.records())

    def of(self, kind: str) -> list[MapNode]:
        return [record for record in self._records if self._kind(record) == kind]

    @staticmethod
    def _kind(record: MapNode) -> str:
        kinds = ("rule", "limit", "reason") if record.get("concerns") else ("limit", "reason")
        return next((kind for kind in kinds if record.get(kind) is not None), "rule")


def _name_taken(rule: Rule, rules: Mapping[str, Rule]) -> Iterator[RuleFault]:
    if rule.name in text_fault_pages():
        message = f"{rule.name!r} is the name of a fault of the text"
        yield RuleFault(rule.file, rule.span, message, "give it another")
    elif rule.name in rules:
        yield _twice(rule, rules[rule.name], "rule")


def _twice(second: Named, first: Named, what: str) -> RuleFault:
    hint = f"the first is at {first.file}:{first.span.line}"
    return RuleFault(second.file, second.span, f"the {what} {second.name!r} stands twice", hint)


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
    return evolve(one, rule=evolve(one.rule, why=said.text, sources=sources))


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
    """What the rules that were read silence, and every fault in it.

    `names` has the rules with faults too. A rule is silenced up to a weight; what is danger is not.
    """

    def __init__(
        self,
        read: Mapping[str, ReadRule],
        rules: Mapping[str, Rule],
        names: Set[str],
        vocabulary: Vocabulary,
    ) -> None:
        self.faults: list[RuleFault] = []
        self._rules = rules
        self._names = names
        self._vocabulary = vocabulary
        self._nodes: dict[tuple[str, str], TextNode] = {}
        self._found = {name: self._of(one) for name, one in read.items()}
        for name, rule in self._found.items():
            self._refuse_circle(name, rule)

    def resolved(self) -> Mapping[str, Rule]:
        """The rules with what each level silences."""
        return self._found

    def _of(self, one: ReadRule) -> Rule:
        silences: dict[int, list[Silence]] = {}
        for number, node in one.silences:
            silence = self._read(one.rule, node)
            if silence is not None:
                silences.setdefault(number, []).append(silence)
                self._nodes[one.rule.name, silence.rule] = node
        levels = tuple(
            evolve(level, silences=tuple(silences.get(number, ())))
            for number, level in enumerate(one.rule.levels)
        )
        return evolve(one.rule, levels=levels)

    def _read(self, rule: Rule, node: TextNode) -> Silence | None:
        name, _, weight = (part.strip() for part in node.text.partition(UP_TO))
        other = self._rules.get(name)
        message, hint = "", ""
        if name in text_fault_pages():
            message = f"{name!r} is a fault of the text, which no rule silences"
        elif name not in self._names:
            message, hint = f"there is no rule {name!r} to silence", did_you_mean(name, self._names)
        elif other is None:
            return None
        elif not self._vocabulary.related(rule.concerns, other.concerns):
            message = f"{name!r} concerns the {other.concerns}, this rule the {rule.concerns}"
            hint = "no fact leads from one to the other, so none can stand for the other"
        else:
            up_to, message, hint = _up_to(weight, other)
            if up_to is not None:
                return Silence(name, up_to)
        fault = RuleFault(rule.file, node.span, message, hint)
        # A rule with several levels says it once for all of them.
        if fault not in self.faults:
            self.faults.append(fault)
        return None

    def _refuse_circle(self, name: str, rule: Rule) -> None:
        for level in rule.levels:
            for silence in level.silences:
                if self._reaches((silence.rule, silence.up_to), (name, level.consequence)):
                    node = self._nodes[name, silence.rule]
                    message = f"{silence.rule!r} silences this rule in turn: both would stay unsaid"
                    fault = RuleFault(rule.file, node.span, message)
                    if fault not in self.faults:
                        self.faults.append(fault)

    def _reaches(self, start: tuple[str, Consequence], goal: tuple[str, Consequence]) -> bool:
        """True if a finding that `start` covers silences the level `goal`, itself or by others."""
        seen: set[tuple[str, Consequence]] = set()
        waiting = [start]
        while waiting:
            name, up_to = waiting.pop()
            rule = self._found.get(name) or self._rules.get(name)
            for level in rule.levels if rule else ():
                if (name, level.consequence) in seen or not up_to.at_least(level.consequence):
                    continue
                if level.consequence is Consequence.DANGER:
                    continue
                if (name, level.consequence) == goal:
                    return True
                seen.add((name, level.consequence))
                waiting += [(silence.rule, silence.up_to) for silence in level.silences]
        return False


def _up_to(weight: str, other: Rule) -> tuple[Consequence | None, str, str]:
    """The weight up to which a rule is silenced, or what is wrong with it, and a hint."""
    mild = [one for one in other.weights if one is not Consequence.DANGER]
    told = ", ".join(f"{other.name}{UP_TO}{one.value}" for one in mild)
    if weight == Consequence.DANGER.value:
        return None, "nothing is silenced up to danger: a danger is always told", f"write {told}"
    if not mild:
        message = f"{other.name!r} is a danger, which no rule silences"
        hint = "both are told; say in the condition when this rule has nothing to add"
        return None, message, hint
    known = {one.value: one for one in mild}
    if weight in known:
        return known[weight], "", ""
    if weight:
        return None, f"{other.name!r} is never found at {weight!r}", f"write {told}"
    if len(other.weights) > 1:
        message = f"{other.name!r} has more than one weight: say up to which it is silenced"
        return None, message, f"write {told}"
    return mild[0], "", ""
