"""What is told together: one fault of several lines, and all that a plan leaves unsaid."""

from bisect import bisect_right
from collections.abc import Iterator
from math import inf

from attrs import evolve, frozen

from guardcone.checking.plans import CheckedPlan
from guardcone.checking.run import Finding, check
from guardcone.facts import PlanCase
from guardcone.language.grammar import SECTIONS, PlanGrammar, plan_grammar
from guardcone.plan.kiln import Kiln
from guardcone.plan.measures import measures_of
from guardcone.plan.plan import Plan
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence, Where
from guardcone.span import Span, Written

__all__ = [
    "Elsewhere",
    "SectionLacks",
    "Unsaid",
    "asked_elsewhere",
    "asked_of",
    "hiding",
    "is_whole_section",
    "left_unsaid",
    "section_of",
    "together",
]


_FEWEST = 2  # lines that are told together
_MOST_IN_WORDS = 2  # dangers that are told in words as well as by their lines
_FEW_LINES = 4  # where so few are asked for, a danger among them has words too


@frozen(eq=False, repr=False)
class SectionLacks:
    """Lines that one section of a plan lacks.

    `heading` is the plan's own, in line `line`; where that is None the section is not there,
    `missing` is the finding that says so, and `heading` the line to begin it with.
    """

    section: str
    heading: str
    line: int | None
    findings: tuple[Finding, ...]
    missing: Finding | None = None


@frozen(eq=False, repr=False)
class Unsaid:
    """All that a plan leaves unsaid, section by section: each finding asks for a line to write.

    What is only left out is told by its line to write alone. A loss, a danger that some other line
    of the plan brings, and few dangers of a section that is there have words of their own, and are
    not here. While the plan does not say what heats the kiln, `of_fuel` are the dangers of one
    that burns fuel, of which there is no line to write yet; `elsewhere` is what a line that can't
    be read asks for already, in the line that is offered in its place.
    """

    sections: tuple[SectionLacks, ...]
    findings: tuple[Finding, ...]
    of_fuel: tuple[Finding, ...] = ()
    elsewhere: tuple["Elsewhere", ...] = ()


@frozen(eq=False, repr=False)
class Elsewhere:
    """What is asked for, and the fault that offers such a line: its place among what is offered."""

    asked: Finding
    fault: Finding
    at: int


def together(checked: CheckedPlan, unsaid: Unsaid | None) -> Iterator[Unsaid | tuple[Finding, ...]]:
    """The findings of a plan in their order, those of one rule and weight together.

    First come those that hide others, then the worst, then lines that can't be read, then what the
    plan leaves unsaid.
    """
    alike: dict[object, list[Finding]] = {}
    first = {id(one) for one in hiding(checked)}
    acknowledged = {id(one.finding) for one in checked.accepted}
    asked = {id(one) for one in unsaid.findings} if unsaid else set()
    for finding in checked.findings:
        key: object = (finding.rule, finding.consequence, finding.case)
        if id(finding) in acknowledged:
            key = id(finding)
        elif id(finding) in asked:
            key = unsaid
        alike.setdefault(key, []).append(finding)
    for key in sorted(alike, key=lambda one: _turn(alike[one], first, one is unsaid)):
        yield key if isinstance(key, Unsaid) else tuple(alike[key])


def _turn(findings: list[Finding], first: set[int], are_unsaid: bool) -> int:
    """When findings have their turn: a line that can't be read may say what the plan lacks."""
    if are_unsaid:
        return 3
    if any(id(finding) in first for finding in findings):
        return 0
    if findings[0].consequence.at_least(Consequence.LOSS):
        return 1
    return 2 if findings[0].rule in text_fault_pages() else 4


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


def left_unsaid(checked: CheckedPlan) -> Unsaid | None:
    """What a plan leaves unsaid, if it is more than one line.

    A line that has its place among others, as those of a schedule have, is not of it.
    """
    grammar, plan = plan_grammar(), checked.plan
    asking = [
        finding
        for finding in checked.findings
        if finding.line_repair and finding.line_repair.where is not Where.INSTEAD
    ]
    anyway, elsewhere = {id(one.asked): one for one in asked_elsewhere(checked)}, []
    # Lines that stand for a heading that is not there, and offer none.
    astray = {
        one.span.line
        for one in checked.findings
        if one.rule == "fact-misplaced" and not one.line_repair
    }
    headings = {*measures_of(plan).headings, *([plan.name.span.line] if plan.name else []), 1}
    few = sum(one.consequence is Consequence.DANGER for one in asking) <= _MOST_IN_WORDS
    few = few and len(asking) <= _FEW_LINES
    asked: dict[tuple[int, Span | None], list[Finding]] = {}
    sets = sorted((one.heading for one in plan.witness_sets), key=lambda one: one.line)
    for finding in asking:
        assert finding.line_repair
        text, weight = finding.line_repair.text, finding.consequence
        section, place = section_of(text, grammar, asked_of(plan, finding)), None
        if section is None and finding.span.line == plan.heading.line and "\n" not in text:
            section = "plan"  # the target may stand anywhere, and is the plan's
        if section:
            place = _heading(plan, section, finding.span, sets)
            place = None if place and place.line in astray else place
        elif is_whole_section(text):
            section = text.split(maxsplit=1)[0]
        left_out = finding.span.line in headings and not (few and place)
        in_words = weight is Consequence.LOSS or (weight is Consequence.DANGER and not left_out)
        if id(finding) in anyway and not in_words:
            elsewhere.append(anyway[id(finding)])
        elif section and not in_words and not (section == "schedule" and place):
            asked.setdefault((SECTIONS.index(section), place), []).append(finding)
    findings = [one for some in asked.values() for one in some]
    if len(findings) < _FEWEST:
        return None
    of_fuel = _of_fuel(checked, findings)
    sections = []
    for (at, place), all_asked in sorted(asked.items(), key=lambda one: one[0][0]):
        some = [one for one in all_asked if one not in of_fuel]
        name = f"{SECTIONS[at]}-section-missing"
        missing = next((one for one in checked.findings if one.rule == name), None)
        if missing and missing.line_repair is None:
            findings.append(missing)
        heading = grammar.right_line(SECTIONS[at], SECTIONS[at].upper()).to_copy
        if place:
            heading = place.of(plan.source.line(place.line))
        line = place.line if place else None
        sections.append(SectionLacks(SECTIONS[at], heading, line, tuple(some), missing))
    findings += [one.asked for one in elsewhere]
    return Unsaid(tuple(sections), tuple(findings), tuple(of_fuel), tuple(elsewhere))


def asked_elsewhere(checked: CheckedPlan) -> Iterator[Elsewhere]:
    """What is asked for and offered already where a line can't be read: `safety: vent, gloves`."""
    grammar, pages = plan_grammar(), text_fault_pages()
    offered: dict[frozenset[str], tuple[Finding, int]] = {}
    for finding in checked.findings:
        if finding.rule in pages and finding.line_repair:
            lines = [line.strip() for line in finding.line_repair.text.split("\n")]
            of_a_set = any(line.startswith(("guide", "guard")) for line in lines)
            for at, line in enumerate(lines):
                if of_a_set and line.startswith("target"):
                    continue  # the middle cone of a set is not what the firing is to reach
                if key := _statement_of(line, grammar):
                    offered.setdefault(key, (finding, at))
    for finding in checked.findings if offered else ():
        if finding.rule not in pages and (asked := finding.line_repair):
            below = asked.where is not Where.INSTEAD
            met = offered.get(_statement_of(asked.text, grammar)) if below else None
            if met:
                yield Elsewhere(finding, *met)


def _statement_of(line: str, grammar: PlanGrammar) -> frozenset[str]:
    """The statements that a line may be: those of its section that its first word opens.

    Of several lines it is the first that counts: the heading of a whole section.
    """
    first = next(iter(line.split(maxsplit=1)), "")
    heads = line in SECTIONS or line.startswith(('plan "', 'kiln "'))
    if heads or first == "witness" or is_whole_section(line):
        return frozenset({"section", first})
    if first == "target":
        return frozenset({first})
    if "\n" in line:
        return frozenset()
    section = section_of(line, grammar)
    word = grammar.opening_word(section, line, 0) if section else None
    if section and word:
        return frozenset(grammar.rules_opened_by(section, word.kind))
    return frozenset(grammar.opened_by_quote(section) if section else ())


def _of_fuel(checked: CheckedPlan, findings: list[Finding]) -> list[Finding]:
    """The dangers of a kiln that burns fuel, where the plan does not say what heats it.

    They are the ones that are not found if it is electric.
    """
    plan, kiln = checked.plan, checked.plan.kiln or Kiln(checked.plan.heading)
    if kiln.fuel or "fuel" in kiln.unreadable or not any(_asks_fuel(one) for one in findings):
        return []
    electric = evolve(kiln, fuel=Written("electric", kiln.heading))
    others = {
        one.rule for one in check(PlanCase(evolve(plan, kiln=electric)), checked.book).findings
    }
    dangers = (one for one in findings if one.consequence is Consequence.DANGER)
    return [one for one in dangers if one.rule not in others]


def _asks_fuel(finding: Finding) -> bool:
    return finding.rule in ("fuel-unsaid", "kiln-section-missing")


def section_of(line: str, grammar: PlanGrammar, first: str = "") -> str | None:
    """The section that a line belongs to: the one that knows the most of how it begins.

    Where two know as much of it, it is the `first`: that of which it is asked.

    `gas line inspected` is one of safety, though a kiln may be heated by `gas`; `shelves washed` is
    one of the load, though a kiln has `shelves 4`.
    """
    best, known = None, (0, False)
    homes = sorted((one for one in SECTIONS if one != "reading"), key=lambda one: one != first)
    for section in homes:
        word = grammar.opening_word(section, line, 0)
        rules = grammar.rules_opened_by(section, word.kind if word else None)
        rules += grammar.opened_by_quote(section) if line.startswith('"') else []
        to_copy = {one.to_copy for rule in rules for one in grammar.right_lines.get(rule, ())}
        is_right = any(map(line.startswith, to_copy - {""})) or grammar.is_right(line, section)
        knows = word.end if word else 1, is_right
        if knows > known and grammar.facts_of(section).intersection(rules):
            best, known = section, knows
    return best


def asked_of(plan: Plan, finding: Finding) -> str:
    """The section whose heading a finding points at; empty where it points elsewhere."""
    named = (plan.kiln, plan.load, plan.schedule, plan.safety, *plan.witness_sets)
    kinds = ("kiln", "load", "schedule", "safety", *["witness"] * len(plan.witness_sets))
    for section, kind in zip(named, kinds, strict=True):
        if section and section.heading.line == finding.span.line:
            return kind
    return ""


def is_whole_section(text: str) -> bool:
    """True for lines of which the first is the heading of a section."""
    return "\n" in text and text.split(maxsplit=1)[0] in SECTIONS


def _heading(plan: Plan, section: str, place: Span, sets: list[Span]) -> Span | None:
    """The heading of the section in the plan, of several the one that a place is below.

    `sets` are the headings of the witness sets in order.
    """
    if section == "plan":
        return plan.heading if plan.name or "name" in plan.unreadable else None
    if section == "witness":
        above = bisect_right(sets, place.line, key=lambda one: one.line)
        return sets[above - 1] if above else None
    found = getattr(plan, section)
    return found.heading if found else None
