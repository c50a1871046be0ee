"""Room: the rule book; here files of rules and limits are read into one book and cross-checked."""

from collections.abc import Iterable, Mapping, Set

from attrs import frozen

from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.faults import RuleFault, did_you_mean
from guardcone.rulebook.limit import Limit
from guardcone.rulebook.limit_file import read_limit_records, read_limits
from guardcone.rulebook.rule import Consequence, Rule
from guardcone.rulebook.rule_file import ReadRule, read_rules
from guardcone.rulebook.text_faults import text_fault_pages
from guardcone.rulebook.vocabulary import Vocabulary
from guardcone.rulebook.yaml_text import MapNode, Reader

__all__ = ["BookFile", "BookReading", "read_book"]


@frozen
class BookFile:
    """The name and the text of a file of rules or limits."""

    file: str
    source: str


@frozen
class BookReading:
    """A book made of everything that could be read, and what could not."""

    book: RuleBook
    faults: tuple[RuleFault, ...]


def read_book(
    rule_files: Iterable[BookFile],
    limit_files: Iterable[BookFile],
    vocabulary: Vocabulary,
    base: RuleBook | None = None,
) -> BookReading:
    """Read, type and cross-check a whole book; rules with faults are left out of it.

    A file of rules may have limits of its own among them. `base` is a sound book that these files
    add to.
    """
    limits = {limit.name: limit for limit in base.limits} if base else {}
    rules = {rule.name: rule for rule in base.rules} if base else {}
    own_limits: dict[str, Limit] = {}
    read: dict[str, ReadRule] = {}
    names = set(rules)
    faults: list[RuleFault] = []

    def add_limits(found: Iterable[Limit]) -> None:
        for limit in found:
            first = limits.setdefault(limit.name, limit)
            if first is limit:
                own_limits[limit.name] = limit
            else:
                faults.append(_twice(limit, first, "limit"))

    for file in limit_files:
        found, wrong = read_limits(file.file, file.source, vocabulary)
        faults += wrong
        add_limits(found)
    opened = []
    for file in rule_files:
        reader = Reader(file.file, file.source)
        records = list(reader.records(reader.root(), "rules"))
        of_limits = [record for record in records if _is_limit(record)]
        add_limits(read_limit_records(of_limits, reader, vocabulary))
        opened.append((reader, [record for record in records if not _is_limit(record)]))
    types = {name: limit.type for name, limit in limits.items()}
    for reader, records in opened:
        rule_file = read_rules(records, reader, vocabulary, types)
        faults += reader.faults
        names |= rule_file.names
        for one in rule_file.rules:
            if one.rule.name in text_fault_pages():
                message = f"{one.rule.name!r} is the name of a fault of the text"
                faults.append(RuleFault(one.rule.file, one.rule.span, message, "give it another"))
                continue
            first_rule = rules.setdefault(one.rule.name, one.rule)
            if first_rule is one.rule:
                read[one.rule.name] = one
            else:
                faults.append(_twice(one.rule, first_rule, "rule"))
    faults += _wrong_silences(read, rules, names, vocabulary)
    # A rule that could not be read may be the one that uses a limit: no fault upon a fault.
    used = frozenset[str]().union(*(one.rule.limits for one in read.values()))
    if not faults:
        faults += [
            RuleFault(limit.file, limit.span, f"no rule uses the limit {limit.name!r}")
            for limit in own_limits.values()
            if limit.name not in used
        ]
    changes = base.changes if base else {}
    own = base.own | frozenset(read) if base else frozenset[str]()
    book = RuleBook(vocabulary, tuple(limits.values()), tuple(rules.values()), changes, own)
    return BookReading(book, tuple(faults))


def _is_limit(record: MapNode) -> bool:
    return record.get("limit") is not None and record.get("rule") is None


def _twice(second: Rule | Limit, first: Rule | Limit, what: str) -> RuleFault:
    hint = f"the first is at {first.file}:{first.span.line}"
    return RuleFault(second.file, second.span, f"the {what} {second.name!r} stands twice", hint)


def _wrong_silences(
    read: Mapping[str, ReadRule],
    rules: Mapping[str, Rule],
    names: Set[str],
    vocabulary: Vocabulary,
) -> list[RuleFault]:
    """Silences of no rule, of an unrelated one, of a danger, in a circle.

    `names` has the faulty rules too.
    """
    faults = []
    for one in read.values():
        for name, span in one.silences:
            file, concerns = one.rule.file, one.rule.concerns
            other = rules.get(name)
            if name in text_fault_pages():
                message = f"{name!r} is a fault of the text, which no rule silences"
                faults.append(RuleFault(file, span, message))
            elif name not in names:
                message = f"there is no rule {name!r} to silence"
                faults.append(RuleFault(file, span, message, did_you_mean(name, names)))
            elif other is None:
                continue
            elif other.consequence is Consequence.DANGER:
                message = f"{name!r} is a danger, which no rule silences"
                hint = "both are told; say in the condition when this rule has nothing to add"
                faults.append(RuleFault(file, span, message, hint))
            elif not vocabulary.related(concerns, other.concerns):
                message = f"{name!r} concerns the {other.concerns}, this rule the {concerns}"
                hint = "no fact leads from one to the other, so none can stand for the other"
                faults.append(RuleFault(file, span, message, hint))
            elif _silences(name, one.rule.name, rules, frozenset()):
                message = f"{name!r} silences this rule in turn: both would stay unsaid"
                faults.append(RuleFault(file, span, message))
    return faults


def _silences(name: str, other: str, rules: Mapping[str, Rule], seen: frozenset[str]) -> bool:
    """True if rule `name` silences `other`, itself or through a rule it silences."""
    if name == other:
        return True
    if name in seen or name not in rules:
        return False
    return any(_silences(n, other, rules, seen | {name}) for n in rules[name].silences)
