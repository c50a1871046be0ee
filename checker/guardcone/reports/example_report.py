"""What came of running the examples of rules, for people."""

from collections.abc import Iterator

from guardcone.checking.examples import ExampleRun
from guardcone.checking.rule_files import RuleTest
from guardcone.condition.rule_faults import RuleFault
from guardcone.reports.style import Style, count, wrapped

__all__ = ["faults_one_a_line", "rule_test_report"]


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
