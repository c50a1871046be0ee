"""The rules told to people as lists, what is an example's own, and what came of examples."""

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping
from operator import attrgetter

from guardcone.checking.examples import ExampleRun, RuleTest
from guardcone.condition.vocabulary import Subject, Vocabulary
from guardcone.reports.page import Style, count
from guardcone.reports.rule_page import generally
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.example_plan import Unspliceable, changed_line, line_of, sections_of, splice
from guardcone.rulebook.rule import (
    Change,
    Example,
    Limit,
    Rule,
    RuleFault,
    TextFaultPage,
)

__all__ = [
    "example_base",
    "example_lines",
    "faults_one_a_line",
    "how_many",
    "in_force",
    "limit_list",
    "rule_list",
    "rule_test_report",
    "vocabulary_list",
    "weights_of",
]


_WIDEST_NAME = 32


def rule_list(book: RuleBook, pages: Iterable[TextFaultPage], style: Style) -> str:
    """Every rule with its consequence and what it says, file by file; then the text faults.

    Where it tells something of the plan stands an ellipsis.

    What a studio has changed is told with the line of its file that says so.
    """
    lines: list[str] = []
    for file, rules in itertools.groupby(book.rules, key=attrgetter("file")):
        lines.append(style.strong(file))
        for rule in rules:
            lines += _rule(rule, book, style)
        lines.append("")
    lines.append(style.strong("rules/text.yaml"))
    for page in pages:
        lines += [_named(page.name, page.consequence.value), *style.wrapped(page.finding, "      ")]
    off = sum(not book.weights(rule) for rule in book.rules)
    turned_off = f", {off} turned off" if off else ""
    lines += ["", f"{count(len(book.rules) - off, 'rule')} in force{turned_off}."]
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
    lines.append(f"{count(len(book.limits), 'limit')}.")
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
    first = re.split(r"(?<=[.?!]) ", generally(rule.levels[-1].finding, book))[0]
    yield from style.wrapped(first, "      ")
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
    lines.append(f"{count(facts, 'fact')} of {len(vocabulary.subjects)} subjects.")
    return style.page(lines)


def how_many(subject: Subject) -> str:
    """Whether a rule can name the subject from anywhere."""
    if subject.single:
        return "A plan has one at most, so a rule may name it from anywhere."
    return f"A plan may have several: write some {subject.name} has (...), every, or no."


def weights_of(rule: Rule, book: RuleBook) -> str:
    """What a finding of the rule may weigh, as the book and the studio have it."""
    return ", ".join(weight.value for weight in book.weights(rule)) or "turned off"


# -- its examples -------------------------------------------------------------------------------

# A remark stands behind its line where both fit into a page with a margin.
_WIDTH = 74


def example_base(example: Example) -> str:
    """Where the rest of an example's plan comes from, in words that fit into brackets."""
    if not (example.plan or example.without or example.changes):
        return f"the sound plan {example.base} as it is"
    less = ""
    if example.without:
        sections = "section" if len(example.without) == 1 else "sections"
        less = f", without its {' and '.join(example.without)} {sections}"
    return f"the rest as in the sound plan {example.base}{less}"


def example_lines(
    example: Example, bases: Mapping[str, str], beside: Example | None = None
) -> list[str]:
    """What an example has of its own, as lines of a plan: whole sections, and changed lines.

    A changed line stands under its heading with a remark that says what stood there. Of an example
    that is a sound plan as it is, those lines are shown that the one `beside` it changes. `bases`
    are the texts of the sound plans by name; of an example that does not fit the one it names, the
    lines come without headings.
    """
    try:
        plan = splice(bases[example.base], example.plan, example.without).text
        changed: dict[int, list[Change]] = {}
        for change in example.changes:
            changed.setdefault(line_of(plan.splitlines(), change), []).append(change)
        marked = set(changed)
        if beside and beside.base == example.base and not (example.plan or example.changes):
            marked = {line_of(plan.splitlines(), change) for change in beside.changes}
    except (KeyError, Unspliceable):
        loose = (_told(change.line.value, [change]) for change in example.changes)
        return [*example.plan.splitlines(), *(line for lines in loose for line in lines)]
    own = {section.kind for section in sections_of(example.plan)}
    shown: list[str] = []
    end = 0
    for section in sections_of(plan):
        lines = section.text.splitlines()
        first, end = end + 1, end + len(lines)
        is_whole = section.kind in own
        if not is_whole and marked.isdisjoint(range(first, end + 1)):
            continue
        for at, line in enumerate(lines, first):
            if at in changed:
                shown += _told(line, changed[at])
            elif line.strip() and (is_whole or at in marked or at == first):
                shown.append(line)
    return shown


def _told(line: str, changes: list[Change]) -> Iterator[str]:
    """What becomes of a line, with what it was in a remark."""
    margin = line[: len(line) - len(line.lstrip())]
    old = " ".join(line.split())
    new: tuple[str, ...] | None = None
    for change in changes:
        if not change.is_added:
            new = changed_line(line if new is None else new[0], change)
    if new is None:
        yield line
    elif not new:
        yield f"{margin}# left out: {old}"
    else:
        yield from (margin + text for text in new[:-1])
        last, remark = margin + new[-1], f"# in place of: {old}"
        together = f"{last}  {remark}"
        yield from [together] if len(together) <= _WIDTH else [last, f"{margin}  {remark}"]
    for change in changes:
        if change.is_added:
            yield from (f"{margin or '  '}{text}  # added" for text in change.lines)


def rule_test_report(test: RuleTest, style: Style) -> str:
    """Each example by its id, right or wrong, with what was found; then how many of each."""
    lines: list[str] = []
    for file, runs in itertools.groupby(test.runs, key=attrgetter("example.file")):
        lines += [style.strong(file), *(line for run in runs for line in _run(run, style)), ""]
    rules = {run.example.rule for run in test.runs}
    wrong = len(test.wrong)
    number = count(len(test.runs), "example")
    summary = f"{number} of {count(len(rules), 'rule')}: "
    summary += f"{count(wrong, 'is', 'are')} wrong." if wrong else "all come out as they say."
    return style.page([*lines, summary if test.runs else "There is no rule to try."])


def faults_one_a_line(faults: tuple[RuleFault, ...], style: Style) -> str:
    """What is wrong with files of rules or of a studio, one line each, with its place."""
    return style.page(map(str, faults))


def _run(run: ExampleRun, style: Style) -> Iterator[str]:
    word = "wrong" if run.problems else "right"
    yield f"  {word}  {run.example.id}, line {run.example.span.line}"
    for problem in run.problems:
        yield from style.wrapped(problem, " " * 9, 2)
    for finding in () if run.problems else run.found:
        yield from style.wrapped(finding.text, " " * 9)
        yield from style.wrapped(finding.repair, " " * 9)
