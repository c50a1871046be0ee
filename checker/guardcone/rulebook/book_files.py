"""Room: the rule book; here files of rules and limits are read into one book and cross-checked."""

from collections.abc import Iterable, Mapping, Set

from attrs import frozen

from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.faults import RuleFault, did_you_mean
from guardcone.rulebook.limit import Limit
from guardcone.rulebook.limit_file import read_limits
from guardcone.rulebook.rule import Rule
from guardcone.rulebook.rule_file import ReadRule, read_rules
from guardcone.rulebook.vocabulary import Vocabulary

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
    rule_files: Iterable[BookFile], limit_files: Iterable[BookFile], vocabulary: Vocabulary
) -> BookReading:
    """Read, type and cross-check a whole book; rules with faults are left out of it."""
    limits: dict[str, Limit] = {}
    faults: list[RuleFault] = []
    for file in limit_files:
        found, wrong = read_limits(file.file, file.source, vocabulary)
        faults += wrong
        for limit in found:
            first = limits.setdefault(limit.name, limit)
            if first is not limit:
                faults.append(_twice(limit, first, "limit"))
    types = {name: limit.type for name, limit in limits.items()}
    read: dict[str, ReadRule] = {}
    names: set[str] = set()
    for file in rule_files:
        rule_file = read_rules(file.file, file.source, vocabulary, types)
        faults += rule_file.faults
        names |= rule_file.names
        for one in rule_file.rules:
            first_rule = read.setdefault(one.rule.name, one)
            if first_rule is not one:
                faults.append(_twice(one.rule, first_rule.rule, "rule"))
    faults += _wrong_silences(read, names, vocabulary)
    # A rule that could not be read may be the one that uses a limit: no fault upon a fault.
    used = frozenset[str]().union(*(one.rule.limits for one in read.values()))
    if not faults:
        faults += [
            RuleFault(limit.file, limit.span, f"no rule uses the limit {limit.name!r}")
            for limit in limits.values()
            if limit.name not in used
        ]
    rules_in_order = tuple(one.rule for one in read.values())
    return BookReading(RuleBook(vocabulary, tuple(limits.values()), rules_in_order), tuple(faults))


def _twice(second: Rule | Limit, first: Rule | Limit, what: str) -> RuleFault:
    hint = f"the first is at {first.file}:{first.span.line}"
    return RuleFault(second.file, second.span, f"the {what} {second.name!r} stands twice", hint)


def _wrong_silences(
    read: Mapping[str, ReadRule], names: Set[str], vocabulary: Vocabulary
) -> list[RuleFault]:
    """Silences of no rule, of an unrelated one, in a circle. `names` has the faulty rules too."""
    faults = []
    for one in read.values():
        for name, span in one.silences:
            file, concerns = one.rule.file, one.rule.concerns
            other = read.get(name)
            if name not in names:
                message = f"there is no rule {name!r} to silence"
                faults.append(RuleFault(file, span, message, did_you_mean(name, names)))
            elif other is None:
                continue
            elif not vocabulary.related(concerns, other.rule.concerns):
                message = f"{name!r} concerns the {other.rule.concerns}, this rule the {concerns}"
                hint = "no fact leads from one to the other, so none can stand for the other"
                faults.append(RuleFault(file, span, message, hint))
            elif _silences(name, one.rule.name, read, frozenset()):
                message = f"{name!r} silences this rule in turn: both would stay unsaid"
                faults.append(RuleFault(file, span, message))
    return faults


def _silences(name: str, other: str, read: Mapping[str, ReadRule], seen: frozenset[str]) -> bool:
    """True if rule `name` silences `other`, itself or through a rule it silences."""
    if name == other:
        return True
    if name in seen or name not in read:
        return False
    return any(_silences(n, other, read, seen | {name}) for n in read[name].rule.silences)
