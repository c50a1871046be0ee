"""The rules told to people: as lists, one of them at length, and what came of their examples."""

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping
from operator import attrgetter

from guardcone.checking.examples import ExampleRun, RuleTest
from guardcone.condition import typed
from guardcone.condition.sentences import Slot, Wording
from guardcone.condition.vocabulary import Subject, Vocabulary
from guardcone.reports.page import Style, count, paragraphs
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.example_plan import Unspliceable, changed_line, line_of, sections_of, splice
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.rule import (
    Change,
    Example,
    Limit,
    Rule,
    RuleFault,
    Source,
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
    "rule_page",
    "rule_test_report",
    "text_fault_page",
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
    said = " ".join(_plainly(rule.levels[-1].finding, book).split())
    said = said.replace("<this-set>", "This set").replace("<the-set>", "this set")
    first = re.split(r"(?<=[.?!]) ", re.sub("<[^<>]*>", "…", said))[0]
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


# -- one rule -----------------------------------------------------------------------------------


def rule_page(rule: Rule, book: RuleBook, style: Style) -> str:
    """What the rule says, why, its limits, sources, examples, what to do, when to accept."""
    lines = [f"{style.strong(rule.name)}: {weights_of(rule, book)}, about the {rule.concerns}", ""]
    lines += _part("Never where", rule.unless, style)
    lines += _levels(rule, book, style)
    lines += _part("Why", rule.why, style)
    lines += _limits(rule, book, style)
    lines += ["Source", *_sources(rule.sources, style, "  "), ""]
    lines += _example("A plan without this finding", rule.passes[0], style, rule.fails[0])
    lines += _example("A plan with this finding", rule.fails[0], style)
    if change := book.changes.get(rule.name):
        lines += _part("Changed by the studio", f"{change}: {change.reason}", style)
    return style.page(lines[:-1])


def weights_of(rule: Rule, book: RuleBook) -> str:
    """What a finding of the rule may weigh, as the book and the studio have it."""
    return ", ".join(weight.value for weight in book.weights(rule)) or "turned off"


def text_fault_page(page: TextFaultPage, style: Style) -> str:
    """What a fault of the text is, why it matters, a line as it is wrong and as it is right."""
    lines = [f"{style.strong(page.name)}: {page.consequence.value}, a fault of the text", ""]
    lines += _part("What it finds", page.finding, style)
    lines += _part("Why", page.why, style)
    lines += ["A line that has it", f"  {page.wrong}", "", "A right line", f"  {page.right}"]
    return style.page(lines)


def _levels(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    """What is found at each level, when, what to do and when to accept it."""
    for level in rule.levels:
        finding, repair = _plainly(level.finding, book), _plainly(level.repair.say, book)
        if len(rule.levels) == 1:
            yield from _part("What it finds", finding, style)
            yield from _part("It is found when", level.condition_text, style)
            yield from _part("What to do", repair, style)
            yield from _part("When to accept it", level.accept_when, style)
            continue
        weight = book.consequence(rule, level)
        name = f"{weight.value if weight else 'off'} {level.case}".strip()
        yield from style.wrapped(f"{name}, when {level.condition_text}", "", 2)
        yield from style.wrapped(finding, "  ")
        yield from style.wrapped(f"Do  {repair}", "  ", 2)
        if level.accept_when:
            accept = " ".join(paragraphs(level.accept_when))
            yield from style.wrapped(f"Accept it when  {accept}", "  ", 2)
        yield ""


def _plainly(sentence: Wording, book: RuleBook) -> str:
    """A sentence with the value in force of each limit, and other slots as a rule asks for them.

    Those stand in pointed brackets: <wall of ware>.
    """
    return "".join(_piece(piece, book) for piece in sentence.fullest)


def _piece(slot: Slot | str, book: RuleBook) -> str:
    if isinstance(slot, str):
        return slot
    if isinstance(slot.value, typed.Constant):
        return str(slot.value.value)
    limit = book.limit(slot.value.name) if isinstance(slot.value, typed.LimitOf) else None
    value = limit.value if limit else f"<{slot.text}>"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _sources(sources: Iterable[Source], style: Style, indent: str) -> Iterator[str]:
    for source in sources:
        yield from style.wrapped(str(source), indent, 2)


def _part(heading: str, text: str, style: Style) -> Iterator[str]:
    """The paragraphs of a text under a heading; nothing where there is no text."""
    if text:
        yield heading
        for paragraph in paragraphs(text):
            yield from style.wrapped(paragraph, "  ")
            yield ""


def _limits(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    if rule.limits:
        yield "Limits in force"
        for limit in filter(None, map(book.limit, sorted(rule.limits))):
            reach = f"a studio may set {limit.least} to {limit.most}"
            yield f"  {limit.name}: {limit.value} ({reach})"
            yield from _sources(limit.sources, style, "    ")
        yield ""


def _example(
    heading: str, example: Example, style: Style, beside: Example | None = None
) -> Iterator[str]:
    yield f"{heading} ({example_base(example)})"
    yield from (f"  {line}" for line in example_lines(example, sound_plans(), beside))
    if example.at:
        yield from style.wrapped(f"It points at: {example.at}", "  ")
    yield ""


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
