"""The long explanation of one rule for people, with its examples and what came of running them."""

from collections.abc import Iterable, Iterator, Mapping

from guardcone.checking.examples import ExampleRun, RuleTest
from guardcone.condition import typed
from guardcone.condition.rule_faults import RuleFault
from guardcone.condition.sentences import Slot, Wording
from guardcone.reports.page import Style, count, wrapped
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.example_plan import Unspliceable, changed_line, line_of, sections_of, splice
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.rule import Change, Example, Rule, Source, TextFaultPage

__all__ = [
    "example_base",
    "example_lines",
    "faults_one_a_line",
    "rule_page",
    "rule_test_report",
    "text_fault_page",
]


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
    number = 0
    for section in sections_of(plan):
        lines = list(enumerate(section.text.splitlines(), number + 1))
        number += len(lines)
        is_whole = section.kind in own
        if not is_whole and not any(at in marked for at, _ in lines):
            continue
        for at, line in lines:
            if at in changed:
                shown += _told(line, changed[at])
            elif line.strip() and (is_whole or at in marked or at == lines[0][0]):
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
    file = ""
    for run in test.runs:
        if run.example.file != file:
            file = run.example.file
            lines += ["", style.strong(file)]
        lines += _run(run, style)
    rules = {run.example.rule for run in test.runs}
    wrong = len(test.wrong)
    number = count(len(test.runs), "example", "examples")
    summary = f"{number} of {count(len(rules), 'rule', 'rules')}: "
    summary += f"{count(wrong, 'is', 'are')} wrong." if wrong else "all come out as they say."
    if not test.runs:
        summary = "There is no rule to try."
    lines += ["", summary]
    return style.page(lines[1:])


def faults_one_a_line(faults: tuple[RuleFault, ...], style: Style) -> str:
    """What is wrong with files of rules or of a studio, one line each, with its place."""
    return style.page(map(str, faults))


def _run(run: ExampleRun, style: Style) -> Iterator[str]:
    word = "wrong" if run.problems else "right"
    yield f"  {word}  {run.example.id}, line {run.example.span.line}"
    for problem in run.problems:
        yield from wrapped(problem, style.width, " " * 9, " " * 11)
    if not run.problems:
        for finding in run.found:
            yield from wrapped(finding.text, style.width, " " * 9, " " * 9)
            yield from wrapped(finding.repair, style.width, " " * 9, " " * 9)


def rule_page(rule: Rule, book: RuleBook, style: Style) -> str:
    """What the rule says, why, its limits, sources, examples, what to do, when to accept."""
    weights = book.weights(rule)
    weight = ", ".join(weight.value for weight in weights) if weights else "turned off"
    lines = [f"{style.strong(rule.name)}: {weight}, about the {rule.concerns}", ""]
    lines += _levels(rule, book, style)
    lines += _paragraphs("Why", rule.why, style)
    lines += _limits(rule, book, style)
    lines += ["Source", *_sources(rule.sources, style, "  "), ""]
    lines += _example("A plan without this finding", rule.passes, rule.fails, style)
    lines += _example("A plan with this finding", rule.fails, (), style)
    change = book.changes.get(rule.name)
    if change:
        lines += _part("Changed by the studio", f"{change}: {change.reason}", style)
    return style.page(lines[:-1])


def text_fault_page(page: TextFaultPage, style: Style) -> str:
    """What a fault of the text is, why it matters, a line as it is wrong and as it is right."""
    lines = [f"{style.strong(page.name)}: {page.consequence.value}, a fault of the text", ""]
    lines += _part("What it finds", page.finding, style)
    lines += _paragraphs("Why", page.why, style)
    lines += ["A line that has it", f"  {page.wrong}", "", "A right line", f"  {page.right}"]
    return style.page(lines)


def _levels(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    """What is found at each level, when, what to do and when to accept it."""
    if rule.unless:
        yield from _part("Never where", rule.unless, style)
    if len(rule.levels) == 1:
        (level,) = rule.levels
        yield from _part("What it finds", _plainly(level.finding, book), style)
        yield from _part("It is found when", level.condition_text, style)
        yield from _part("What to do", _plainly(level.repair.say, book), style)
        if level.accept_when:
            yield from _paragraphs("When to accept it", level.accept_when, style)
        return
    for level in rule.levels:
        weight = book.consequence(rule, level)
        name = f"{weight.value if weight else 'off'} {level.case}".strip()
        yield from wrapped(f"{name}, when {level.condition_text}", style.width, "", "  ")
        told = (
            ("", _plainly(level.finding, book)),
            ("Do  ", _plainly(level.repair.say, book)),
            ("Accept it when  ", level.accept_when),
        )
        for lead, text in told:
            if text:
                further = "    " if lead else "  "
                yield from wrapped(f"{lead}{' '.join(text.split())}", style.width, "  ", further)
        yield ""


def _plainly(sentence: Wording, book: RuleBook) -> str:
    """A sentence with the value in force of each limit, and other slots as a rule asks for them.

    Those stand in pointed brackets: <wall of ware>.
    """
    return "".join(
        piece if isinstance(piece, str) else _slot(piece, book) for piece in sentence.pieces
    )


def _slot(slot: Slot, book: RuleBook) -> str:
    if isinstance(slot.value, typed.Constant):
        return str(slot.value.value)
    limit = book.limit(slot.value.name) if isinstance(slot.value, typed.LimitOf) else None
    return str(limit.value) if limit else f"<{slot.text}>"


def _sources(sources: Iterable[Source], style: Style, indent: str) -> Iterator[str]:
    for source in sources:
        yield from wrapped(str(source), style.width, indent, f"{indent}  ")


def _part(heading: str, text: str, style: Style) -> list[str]:
    return [heading, *wrapped(text, style.width, "  ", "  "), ""]


def _paragraphs(heading: str, text: str, style: Style) -> list[str]:
    lines = [heading]
    for paragraph in text.strip().split("\n\n"):
        lines += [*wrapped(" ".join(paragraph.split()), style.width, "  ", "  "), ""]
    return lines


def _limits(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    if not rule.limits:
        return
    yield "Limits in force"
    for name in sorted(rule.limits):
        limit = book.limit(name)
        if limit is None:
            continue
        yield f"  {name}: {limit.value} (a studio may set {limit.least} to {limit.most})"
        yield from _sources(limit.sources, style, "    ")
    yield ""


def _example(
    heading: str, examples: tuple[Example, ...], beside: tuple[Example, ...], style: Style
) -> list[str]:
    """The first example, which may be told by what changes in the first one beside it."""
    if not examples:
        return []
    example = examples[0]
    lines = [f"{heading} ({example_base(example)})"]
    text = example_lines(example, sound_plans(), next(iter(beside), None))
    lines += [f"  {line}" for line in text]
    if example.at:
        lines += wrapped(f"It points at: {example.at}", style.width, "  ", "  ")
    return [*lines, ""]
