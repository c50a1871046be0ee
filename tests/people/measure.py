"""How quiet the program is, and how much it understands: measured on plans as people type them.

    python tests/people/measure.py [--phrases] [PLAN ...]

Prints for each plan its lines, the findings, how often the report tells a rule anew, the lines of
the report, and how often it must be written anew by the report alone until only places to
fill in remain; then the means. With --phrases each phrase of
the tables that is neither read nor answered with a line that can be written in its place.
"""

import argparse
import csv
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

from guardcone.checking.plans import CheckedPlan, check_plan
from guardcone.language import SourceText, TextFault, read_statements, split_lines
from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.plan import read_plan
from guardcone.plan.plan import Plan
from guardcone.reports.findings import findings_for_people
from guardcone.reports.page import Style
from guardcone.reports.together import asked_elsewhere, asked_of, is_whole_section, section_of
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence, Where

HERE = Path(__file__).resolve().parent
PHRASES = (
    "phrases",
    "fresh_phrases",
    "third_phrases",
    "fourth_phrases",
    "fifth_phrases",
    "sixth_phrases",
    "seventh_phrases",
    "eighth_phrases",
)
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
    """The lines that a fault offers in place of the phrase; a list of words is no answer."""
    if fault.found.startswith("No line of the"):
        return
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


def phrases(name: str = "phrases") -> list[tuple[str, str]]:
    """Each phrase of a table with its section."""
    with (HERE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return [(row["section"], row["phrase"]) for row in csv.DictReader(file)]


def figures(checked: CheckedPlan) -> tuple[int, int, int, int]:
    """Lines of the plan, findings, how many rules are told anew, lines of the report."""
    findings = checked.findings
    report = findings_for_people([checked], Style(), Consequence.DOUBT)
    lines = sum(not line.blank for line in checked.plan.source.lines)
    told = re.findall(r"^▲.*: ([a-z-]+)$|# (?:danger|loss|doubt|advice): ([a-z-]+)$", report, re.M)
    names = ["".join(one) for one in told]
    return lines, len(findings), len(names) - len(set(names)), len(report.splitlines())


def stands_beside(text: str) -> bool:
    """True for a line that has its place among others, as those of a schedule or a set have."""
    section = section_of(text, plan_grammar())
    return section in ("witness", "schedule") or (section is None and not is_whole_section(text))


def heading_of(plan: Plan, section: str) -> int | None:
    """The line of a section's heading, also of one with a slip in its word."""
    if section == "plan":
        return plan.heading.line if plan.name or "name" in plan.unreadable else None
    found = getattr(plan, section)
    return found.heading.line if found else None


def followed(checked: CheckedPlan) -> str:
    """The plan as somebody writes it anew who does what the report says, and nothing else.

    Lines to write are written, with the places to fill in as they are; of words in place of others
    the first that is offered is taken.
    """
    lines = [line.text for line in checked.plan.source.lines]
    new: dict[int, list[str]] = {}  # what stands behind each line then
    below: dict[str, list[str]] = {}
    further: list[str] = []
    elsewhere = {id(one.asked) for one in asked_elsewhere(checked)}
    for finding in sorted(checked.findings, key=lambda one: one.span, reverse=True):
        repair, at = finding.line_repair, finding.span.line - 1
        offered = re.search(r"Write (?:`([^`]+)`|(\"[^\"]*\"))", finding.repair)
        if id(finding) in elsewhere:
            continue  # its line is among those that are offered in place of another
        if finding.rule == "other-text":
            last = int(re.findall("[0-9]+", finding.text)[1])
            lines[at:last] = [f"# {line}" if line.strip() else line for line in lines[at:last]]
        elif repair and repair.where is Where.INSTEAD:
            lines[repair.span.line - 1] = f"  {repair.text}"
        elif offered and finding.rule == "name-unknown":
            written, told = offered[2], finding.span
            lines[at] = lines[at][: told.start - 1] + written + lines[at][told.end - 1 :]
        elif repair and stands_beside(repair.text):
            beside = repair.span.line - (repair.where is Where.BEFORE)
            new[beside] = [f"  {line}" for line in repair.text.split("\n")] + new.get(beside, [])
        elif repair or finding.rule == "name-unknown":
            text = repair.text if repair else finding.example
            section = section_of(text, plan_grammar(), asked_of(checked.plan, finding))
            asked = below.setdefault(section, []) if section else further
            asked += [line for line in text.split("\n") if line not in asked]
        elif offered and finding.rule in text_fault_pages():
            start, end = finding.span.start - 1, finding.span.end - 1
            lines[at] = lines[at][:start] + (offered[1] or offered[2]) + lines[at][end:]
    for section, asked in below.items():
        heading = heading_of(checked.plan, section)
        if heading:
            new[heading] = [f"  {line}" for line in asked] + new.get(heading, [])
        else:
            further += [plan_grammar().right_line(section, section.upper()).to_copy, *asked]
    anew = [one for n, line in enumerate(lines, 1) for one in (line, *new.get(n, ()))]
    return "\n".join([*new.get(0, ()), *anew, *further]) + "\n"


def rounds(text: str, most: int = 6) -> tuple[int, list[int]]:
    """How often a plan is followed until only places to fill in remain, and the findings then."""
    told: list[int] = []
    while len(told) <= most:
        checked = checked_text(text)
        left = {one.rule for one in checked.findings} - {"still-to-fill-in"}
        told.append(len(checked.findings))
        if not left or (after := followed(checked)) == text:
            break
        text = after
    return len(told) - 1, told


def checked_text(text: str, name: str = "plan") -> CheckedPlan:
    """The plan in a text, checked by the book alone."""
    return check_plan(read_plan(SourceText(name, split_lines(text))), built_in_book())


WIDTHS = (7, 10, 10, 8, 8)


def row(name: str, cells: Iterable[object]) -> str:
    """A line of the table."""
    return f"{name:42}" + "".join(f"{cell:>{w}}" for cell, w in zip(cells, WIDTHS, strict=True))


def table(plans: Iterable[Path]) -> Iterator[str]:
    """The figures of each plan, and of all."""
    found: dict[str, tuple[int, ...]] = {}
    for path in plans:
        text = path.read_text(encoding="utf-8")
        found[path.stem] = (*figures(checked_text(text, path.name)), rounds(text)[0])
    yield row("plan", ("lines", "findings", "repeated", "report", "rounds"))
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
        for name in PHRASES:
            found = [(verdict(*one), *one) for one in phrases(name)]
            for what, section, phrase in found:
                if what == "refused":
                    (fault, *_) = faults_of(section, phrase)
                    print(f"{section:9} {phrase:36} {fault.found} {fault.repair}")
            print(name, Counter(what for what, *_ in found))
        return
    people, samples = sorted(HERE.glob("*.firing")), sorted(SAMPLES.glob("*.firing"))
    for plans in (chosen.plans,) if chosen.plans else (people, samples):
        if plans:
            print("\n".join(table(plans)))


if __name__ == "__main__":
    main()
