"""How quiet the program is, and how much it understands: measured on plans as people type them.

    python tests/people/measure.py [--phrases] [PLAN ...]

Prints for each plan the findings, how many of them repeat an earlier one's rule, the lines of the
report, and how many lines the plan has; then the same in all. With --phrases each phrase of
phrases.csv that is neither read nor answered with a line that can be written in its place.
"""

import argparse
import csv
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from guardcone.checking.plans import CheckedPlan, check_plan
from guardcone.language import SourceText, TextFault, read_statements, split_lines
from guardcone.language.grammar import SECTIONS
from guardcone.plan import read_plan
from guardcone.reports.findings import findings_for_people
from guardcone.reports.page import Style
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence

HERE = Path(__file__).resolve().parent
SAMPLES = HERE.parents[1] / "sample_plans"
HEADINGS = {"target": 'plan "Test"'} | {
    section: f'{section} "x"' for section in ("plan", "kiln", "witness", "reading")
}


def faults_of(section: str, line: str) -> tuple[TextFault, ...]:
    """What is wrong with one line of a section, places to fill in apart."""
    text = f"{HEADINGS.get(section, section)}\n  {line}\n"
    faults = read_statements(SourceText("phrase", split_lines(text))).faults
    return tuple(fault for fault in faults if fault.rule != "still-to-fill-in")


def answers(phrase: str, fault: TextFault) -> Iterator[str]:
    """The lines that a fault offers in place of the phrase."""
    if not fault.found.startswith("No line of the"):
        yield fault.line
    for offered in re.findall(r"`([^`]+)`", fault.repair):
        yield offered
        yield phrase[: fault.span.start - 3] + offered + phrase[fault.span.end - 3 :]


def verdict(section: str, phrase: str) -> str:
    """`read`, `answered` with a line that can be written in its place, or `refused`."""
    faults = faults_of(section, phrase)
    if not faults:
        return "read"
    offered = (line for fault in faults for line in answers(phrase, fault) if line)
    right = (
        line for line in offered if any(not faults_of(one, line) for one in (section, *SECTIONS))
    )
    return "answered" if next(right, "") else "refused"


def phrases() -> list[tuple[str, str]]:
    """Each phrase with its section."""
    with (HERE / "phrases.csv").open(encoding="utf-8", newline="") as file:
        return [(row["section"], row["phrase"]) for row in csv.DictReader(file)]


def figures(checked: CheckedPlan) -> tuple[int, int, int, int]:
    """Lines of the plan, findings, those that repeat an earlier one's rule, lines of the report."""
    findings = checked.findings
    report = findings_for_people([checked], Style(), Consequence.DOUBT)
    lines = sum(not line.blank for line in checked.plan.source.lines)
    told = len(findings) - len({finding.rule for finding in findings})
    return lines, len(findings), told, len(report.splitlines())


WIDTHS = (7, 10, 10, 8)


def row(name: str, cells: Iterable[object]) -> str:
    """A line of the table."""
    return f"{name:42}" + "".join(f"{cell:>{w}}" for cell, w in zip(cells, WIDTHS, strict=True))


def table(plans: Iterable[Path]) -> Iterator[str]:
    """The figures of each plan, and of all."""
    book = built_in_book()
    found: dict[str, tuple[int, ...]] = {}
    for path in plans:
        source = SourceText(path.name, split_lines(path.read_text(encoding="utf-8")))
        found[path.stem] = figures(check_plan(read_plan(source), book))
    yield row("plan", ("lines", "findings", "repeated", "report"))
    for name, numbers in found.items():
        yield row(name, numbers)
    means = (sum(column) / len(found) for column in zip(*found.values(), strict=True))
    yield row(f"{len(found)} plans, mean", (f"{mean:.1f}" for mean in means))


def main() -> None:
    """Print the figures."""
    given = argparse.ArgumentParser()
    given.add_argument("plans", nargs="*", type=Path)
    given.add_argument("--phrases", action="store_true")
    chosen = given.parse_args()
    if chosen.phrases:
        told: dict[str, int] = {}
        for section, phrase in phrases():
            what = verdict(section, phrase)
            told[what] = told.get(what, 0) + 1
            if what == "refused":
                (fault, *_) = faults_of(section, phrase)
                print(f"{section:9} {phrase:36} {fault.found} {fault.repair}")
        print(told)
        return
    people, samples = sorted(HERE.glob("*.firing")), sorted(SAMPLES.glob("*.firing"))
    for plans in (chosen.plans,) if chosen.plans else (people, samples):
        if plans:
            print("\n".join(table(plans)))


if __name__ == "__main__":
    main()
