"""The rules and limits in force, and all that a rule may ask, as lists for people."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from operator import attrgetter

from guardcone.condition.vocabulary import Subject, Vocabulary
from guardcone.reports.page import Style, count
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.rule import Limit, Rule, TextFaultPage

__all__ = ["how_many", "in_force", "limit_list", "rule_list", "vocabulary_list"]


_WIDEST_NAME = 32


def rule_list(book: RuleBook, pages: Iterable[TextFaultPage], style: Style) -> str:
    """Every rule with its consequence and its condition, file by file; then the text faults.

    What a studio has changed is told with the line of its file that says so.
    """
    lines: list[str] = []
    for file, rules in groupby(book.rules, key=attrgetter("file")):
        lines.append(style.strong(file))
        for rule in rules:
            lines += _rule(rule, book, style)
        lines.append("")
    lines.append(style.strong("rules/text.yaml"))
    for page in pages:
        lines += [_named(page.name, page.consequence.value), *style.wrapped(page.finding, "      ")]
    off = sum(not book.weights(rule) for rule in book.rules)
    turned_off = f", {off} turned off" if off else ""
    lines += ["", f"{count(len(book.rules) - off, 'rule', 'rules')} in force{turned_off}."]
    changed = [limit for limit in book.limits if limit.changed_at]
    if changed:
        lines += ["", style.strong("Limits that are changed")]
        for limit in changed:
            lines += style.wrapped(f"{limit.name} {in_force(limit)}", "   ", 3)
    lines += ["", "To read one: guardcone why NAME. All limits: guardcone rules limits"]
    return style.page(lines)


def limit_list(book: RuleBook, style: Style) -> str:
    """Every limit with the value in force, where that comes from, its range, source and rules."""
    lines = []
    for limit in book.limits:
        lines += style.wrapped(f"{limit.name} {in_force(limit)}", "", 4)
        about = [f"a studio may set {limit.least} to {limit.most}", limit.note]
        used = ", ".join(rule.name for rule in book.rules if limit.name in rule.limits)
        about += [*map(str, limit.sources), f"used by {used or 'no rule'}"]
        for text in filter(None, about):
            lines += style.wrapped(text, "    ", 2)
        lines.append("")
    lines.append(f"{count(len(book.limits), 'limit', 'limits')}.")
    return style.page(lines)


def in_force(limit: Limit) -> str:
    """The value of a limit, and where a studio has set it otherwise than the book."""
    if not limit.changed_at:
        return str(limit.value)
    return f"{limit.value} (set in {limit.changed_at}; the book says {limit.built_in})"


def _named(name: str, weight: str) -> str:
    return f"  {name.ljust(_WIDEST_NAME)} {weight}"


def _rule(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    weights = " ".join(weight.value for weight in book.weights(rule))
    yield _named(rule.name, weights or "off")
    several = len(rule.levels) > 1
    for level in rule.levels:
        name = f"{level.consequence.value} {level.case}".strip() if several else rule.concerns
        yield from style.wrapped(f"{name}: {level.condition_text}", "      ", 2)
    if rule.unless:
        yield from style.wrapped(f"unless {rule.unless}", "      ", 2)
    if change := book.changes.get(rule.name):
        where = f"set in {change.place}; " if change.place else ""
        yield from style.wrapped(f"{where}{change}: {change.reason}", "      ")


def vocabulary_list(vocabulary: Vocabulary, style: Style) -> str:
    """Each subject with its meaning, and its facts with the kind of their value and meaning."""
    lines: list[str] = []
    for subject in vocabulary.subjects:
        lines.append(style.strong(subject.name))
        lines += style.wrapped(f"{subject.doc} {how_many(subject)}", "  ")
        for fact in subject.facts:
            lines += style.wrapped(f"{fact.name}: {fact.type}", "    ", 4)
            lines += style.wrapped(fact.doc, "        ")
        lines.append("")
    facts = sum(len(subject.facts) for subject in vocabulary.subjects)
    lines.append(f"{count(facts, 'fact', 'facts')} of {len(vocabulary.subjects)} subjects.")
    return style.page(lines)


def how_many(subject: Subject) -> str:
    """Whether a rule can name the subject from anywhere."""
    return (
        "A plan has one at most, so a rule may name it from anywhere."
        if subject.single
        else f"A plan may have several: write some {subject.name} has (...), every, or no."
    )
