"""The examples of rules for people: their plans, and what came of running them."""

from collections.abc import Iterator, Mapping

from guardcone.checking.examples import ExampleRun, RuleTest
from guardcone.condition.rule_faults import RuleFault
from guardcone.reports.page import Style, count, wrapped
from guardcone.rulebook.example_plan import Unspliceable, changed_line, line_of, sections_of, splice
from guardcone.rulebook.rule import Change, Example

__all__ = ["example_base", "example_lines", "faults_one_a_line", "rule_test_report"]


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
