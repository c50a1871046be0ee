"""What is told together: one fault of several lines, and the lines that a section lacks."""

from collections.abc import Iterator, Mapping
from math import inf

from attrs import frozen

from guardcone.checking.plans import CheckedPlan
from guardcone.checking.run import Finding
from guardcone.language.grammar import SECTIONS, PlanGrammar, plan_grammar
from guardcone.plan.measures import measures_of
from guardcone.plan.plan import Plan
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence, Where
from guardcone.span import Span

__all__ = ["Lacking", "hiding", "lines_lacking", "section_of", "together"]


@frozen(eq=False)
class Lacking:
    """Findings that each ask for a line which a section lacks, the worst first.

    `place` is that of the section's heading; where it is None the section is not there, `missing`
    is the finding that says so, and `heading` the line to begin it with. Dangers and losses are
    told by themselves as well, but for that one.
    """

    section: str
    heading: str
    place: Span | None
    findings: tuple[Finding, ...]
    missing: Finding | None = None

    def tells(self, finding: Finding) -> bool:
        """True for a finding that needs no more words of its own."""
        return finding is self.missing or not finding.consequence.at_least(Consequence.LOSS)


_FEWEST = 2


def together(
    checked: CheckedPlan, lacking: Mapping[int, Lacking]
) -> Iterator[Lacking | tuple[Finding, ...]]:
    """The findings of a plan in their order, those of one rule and weight together.

    First come those that hide others. What `lacking` has by the identity of a finding is told as
    that.
    """
    alike: dict[object, list[Finding]] = {}
    first = {id(one) for one in hiding(checked)}
    acknowledged = {id(one.finding) for one in checked.accepted}
    for finding in sorted(checked.findings, key=lambda one: id(one) not in first):
        key: object = (finding.rule, finding.consequence, finding.case, id(finding) in first)
        if id(finding) in acknowledged:
            key = id(finding)
        elif (block := lacking.get(id(finding))) and block.tells(finding):
            key = block
        alike.setdefault(key, []).append(finding)
    for key, findings in alike.items():
        yield key if isinstance(key, Lacking) else tuple(findings)


def hiding(checked: CheckedPlan) -> list[Finding]:
    """Faults of lines of the schedule: until they can be read the firing is not known."""
    schedule, pages = checked.plan.schedule, text_fault_pages()
    if schedule is None or "segments" not in schedule.unreadable:
        return []
    start = schedule.heading.line
    end = min((one for one in measures_of(checked.plan).headings if one > start), default=inf)
    return [
        finding
        for finding in checked.findings
        if finding.rule in pages and finding.rule != "still-to-fill-in"
        if start < finding.span.line < end
    ]


def lines_lacking(checked: CheckedPlan) -> dict[int, Lacking]:
    """What each section lacks, by the identity of each finding that asks for a line of it."""
    grammar, plan = plan_grammar(), checked.plan
    asked: dict[tuple[str, Span | None], list[Finding]] = {}
    for finding in checked.findings:
        repair = finding.line_repair
        if repair is None or repair.where is Where.INSTEAD:
            continue
        section = section_of(repair.text, grammar)
        if section:
            asked.setdefault((section, _heading(plan, section, finding.span)), []).append(finding)
    blocks: dict[int, Lacking] = {}
    for (section, place), findings in asked.items():
        if len(findings) >= _FEWEST:
            name = f"{section}-section-missing"
            missing = next((one for one in checked.findings if one.rule == name), None)
            heading = grammar.right_line(section, section.upper()).to_copy
            block = Lacking(section, heading, place, tuple(findings), missing)
            told = (*findings, missing) if missing else findings
            blocks |= {id(finding): block for finding in told}
    return blocks


def section_of(line: str, grammar: PlanGrammar) -> str | None:
    """The section that a line belongs to: the one that knows the most of how it begins.

    `gas line inspected` is one of safety, though a kiln may be heated by `gas`.
    """
    best, known = None, 0
    for section in (one for one in SECTIONS if one != "reading"):
        word = grammar.opening_word(section, line, 0)
        rules = grammar.rules_opened_by(section, word.kind if word else None)
        rules += grammar.opened_by_quote(section) if line.startswith('"') else []
        end = word.end if word else 1
        if end > known and grammar.facts_of(section).intersection(rules):
            best, known = section, end
    return best


def _heading(plan: Plan, section: str, place: Span) -> Span | None:
    """The heading of the section in the plan, of several the one that a place is below."""
    if section == "plan":
        return plan.heading if plan.name else None
    if section == "witness":
        headings = (one.heading for one in plan.witness_sets)
        return max((one for one in headings if one.line <= place.line), default=None)
    found = getattr(plan, section)
    return found.heading if found else None
