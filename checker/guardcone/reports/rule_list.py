"""The rules and limits in force, and all that a rule may ask, as lists for people."""

from collections.abc import Iterable, Iterator

from guardcone.condition.vocabulary import Subject, Vocabulary
from guardcone.reports.page import Style, count, wrapped
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.rule import Limit, Rule, TextFaultPage

__all__ = ["how_many", "limit_list", "rule_list", "vocabulary_list"]


_WIDEST_NAME = 32


def rule_list(book: RuleBook, pages: Iterable[TextFaultPage], style: Style) -> str:
    """Every rule with its consequence and its condition, file by file; then the text faults.

    What a studio has changed is told with the line of its file that says so.
    """
    lines: list[str] = []
    file = ""
    for rule in book.rules:
        if rule.file != file:
            file = rule.file
            lines += ["", style.strong(file)]
        lines += _rule(rule, book, style)
    lines += ["", style.strong("rules/text.yaml")]
    for page in pages:
        lines += _entry(page.name, page.consequence.value, page.finding, style)
    off = sum(not book.weights(rule) for rule in book.rules)
    lines += ["", _number(len(book.rules) - off, off)]
    changed = [limit for limit in book.limits if limit.changed_at]
    if changed:
        lines += ["", style.strong("Limits that are changed")]
        for limit in changed:
            lines += wrapped(f"{limit.name} {_value(limit)}", style.width, "   ", "      ")
    lines += ["", "To read one: guardcone why NAME. All limits: guardcone rules limits"]
    return style.page(lines[1:])


def limit_list(book: RuleBook, style: Style) -> str:
    """Every limit with the value in force, where that comes from, its range, source and rules."""
    lines = []
    for limit in book.limits:
        lines += wrapped(f"{limit.name} {_value(limit)}", style.width, "", "    ")
        about = [f"a studio may set {limit.least} to {limit.most}", limit.note]
        used = ", ".join(rule.name for rule in book.rules if limit.name in rule.limits)
        about += [*map(str, limit.sources), f"used by {used or 'no rule'}"]
        for text in about:
            if text:
                lines += wrapped(text, style.width, "    ", "      ")
        lines.append("")
    lines.append(f"{count(len(book.limits), 'limit', 'limits')}.")
    return style.page(lines)


def _number(in_force: int, off: int) -> str:
    turned_off = f", {off} turned off" if off else ""
    return f"{count(in_force, 'rule', 'rules')} in force{turned_off}."


def _value(limit: Limit) -> str:
    if not limit.changed_at:
        return str(limit.value)
    return f"{limit.value} (set in {limit.changed_at}; the book says {limit.built_in})"


def _rule(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    weights = " ".join(weight.value for weight in book.weights(rule))
    yield f"  {rule.name.ljust(_WIDEST_NAME)} {weights or 'off'}"
    several = len(rule.levels) > 1
    for level in rule.levels:
        name = f"{level.consequence.value} {level.case}".strip() if several else rule.concerns
        yield from wrapped(f"{name}: {level.condition_text}", style.width, "      ", "        ")
    if rule.unless:
        yield from wrapped(f"unless {rule.unless}", style.width, "      ", "        ")
    change = book.changes.get(rule.name)
    if change:
        where = f"set in {change.place}; " if change.place else ""
        text = f"{where}{change}: {change.reason}"
        yield from wrapped(text, style.width, "      ", "      ")


def _entry(name: str, weight: str, about: str, style: Style) -> Iterator[str]:
    yield f"  {name.ljust(_WIDEST_NAME)} {weight}"
    yield from wrapped(about, style.width, "      ", "      ")


def vocabulary_list(vocabulary: Vocabulary, style: Style) -> str:
    """Each subject with its meaning, and its facts with the kind of their value and meaning."""
    lines: list[str] = []
    for subject in vocabulary.subjects:
        lines.append(style.strong(subject.name))
        lines += wrapped(f"{subject.doc} {how_many(subject)}", style.width, "  ", "  ")
        for fact in subject.facts:
            lines += wrapped(f"{fact.name}: {fact.type}", style.width, "    ", "        ")
            lines += wrapped(fact.doc, style.width, "        ", "        ")
        lines.append("")
    facts = sum(len(subject.facts) for subject in vocabulary.subjects)
    number = f"{count(facts, 'fact', 'facts')} of {len(vocabulary.subjects)} subjects."
    lines += wrapped(number, style.width, "", "")
    return style.page(lines)


def how_many(subject: Subject) -> str:
    """Whether a rule can name the subject from anywhere."""
    return (
        "A plan has one at most, so a rule may name it from anywhere."
        if subject.single
        else f"A plan may have several: write some {subject.name} has (...), every, or no."
    )
