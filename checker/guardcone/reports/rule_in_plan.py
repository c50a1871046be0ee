"""One rule is told by the values of one plan: where it tells there, and where not and by what."""

from collections.abc import Iterator, Sequence

from guardcone.checking.asked import AskedOf, asked_of
from guardcone.checking.plans import CheckedPlan
from guardcone.language.nearest import either
from guardcone.reports.findings import finding_lines
from guardcone.reports.page import Style, count
from guardcone.reports.rule_page import condition_told, level_lead, part_of_plan
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.rule import Consequence, Rule, TextFaultPage

__all__ = ["rule_in_plan", "text_fault_in_plan"]


def rule_in_plan(rule: Rule, checked: CheckedPlan, style: Style) -> str:
    """What a rule asks, what it tells of a plan, and by which values it does not tell elsewhere."""
    asked = asked_of(rule, checked.plan, checked.book)
    quiet = [one for one in asked if not one.tells]
    lines = [*_heading(rule.name, checked, style), *_asks(rule, checked.book, asked, style)]
    lines += _told(rule.name, checked, style)
    for silent in checked.silenced:
        if silent.rule == rule.name:
            told = f"Line {silent.span.line}: not told, for {silent.by} tells of the same cause."
            lines += [*style.wrapped(told), ""]
    for part in quiet:
        lines += _not_told(rule, part, style)
    if not asked and checked.book.weights(rule):
        told = f"This plan has no {part_of_plan(rule)} that can be read, so nothing is asked."
        lines += [*style.wrapped(told), ""]
    return style.page([*lines, *_ending(checked, style)])


def text_fault_in_plan(page: TextFaultPage, checked: CheckedPlan, style: Style) -> str:
    """What a fault of the text is, and the lines of a plan that have it."""
    lines = [*_heading(page.name, checked, style), *style.wrapped(page.finding), ""]
    told = [*_told(page.name, checked, style)]
    lines += told or ["It does not tell here: no line of this plan has it.", ""]
    return style.page([*lines, *_ending(checked, style)])


def _heading(name: str, checked: CheckedPlan, style: Style) -> Iterator[str]:
    plan = checked.plan.name.value if checked.plan.name else "a plan without a name"
    yield f"{style.strong(name)}, asked of this plan: {plan}"
    yield checked.plan.source.name
    yield ""


def _asks(rule: Rule, book: RuleBook, asked: Sequence[AskedOf], style: Style) -> Iterator[str]:
    """When the rule tells, by the numbers in force; and what the names in that mean."""
    units = asked[0].units if asked else ()
    for level in rule.levels:
        word = "told where" if book.consequence(rule, level) else "where"
        lead = f"  {level_lead(rule, level, book, style)} {word} "
        yield from style.wrapped(lead + condition_told(level.condition_text, book, units), "", 8)
    if rule.unless:
        yield from style.wrapped(
            f"Never told where {condition_told(rule.unless, book, units)}.", "  "
        )
    if change := book.changes.get(rule.name):
        where = f" in {change.place}" if change.place else ""
        yield from style.wrapped(f"Set{where}, {change}: {change.reason}", "  ", 2)
    values = [value for one in asked if not one.tells for value in one.values]
    meanings = {value.name: value.meaning for value in values if value.meaning}
    if meanings:
        yield ""
    for name, meaning in meanings.items():
        yield from style.wrapped(f"{name}: {meaning}", "  ", 2)
    yield ""


def _told(name: str, checked: CheckedPlan, style: Style) -> Iterator[str]:
    """The findings of a rule that the check tells, and those that an accept line lets stand."""
    accepted = {id(one.finding): one.by for one in checked.accepted}
    findings = [*checked.findings, *(one.finding for one in checked.accepted)]
    for finding in {id(one): one for one in findings if one.rule == name}.values():
        yield from finding_lines(checked, finding, style)
        if by := accepted.get(id(finding)):
            who = f" by {by.by.value}" if by.by else ""
            word = "Acknowledged" if finding.consequence is Consequence.DANGER else "Accepted"
            told = f"{word}{who} in line {by.span.line}: {by.reason.value}"
            yield from style.wrapped(told, "     ")
        yield ""


def _not_told(rule: Rule, asked: AskedOf, style: Style) -> Iterator[str]:
    """A part of the plan in which the rule does not tell, with what it asks of there."""
    title = asked.title or f"the {part_of_plan(rule)}"
    yield f"Line {asked.span.line}, {title}: it does not tell here."
    if asked.unknown:
        weights = either([weight.value for weight in asked.unknown])
        told = f"As {weights} it can't be asked to the end: something is not said, or not there."
        yield from style.wrapped(told, "  ")
    for value in asked.values:
        of = f" of {value.of}" if value.of else ""
        line = f" (line {value.line})" if value.line else ""
        yield from style.wrapped(f"{value.name}{of}: {value.told}{line}", "  ", 2)
    yield ""


def _ending(checked: CheckedPlan, style: Style) -> Iterator[str]:
    """What nobody may take from a rule that does not tell."""
    if number := len(checked.plan.faults):
        can = "can't be read, and what it says" if number == 1 else "can't be read; what they say"
        told = f"{count(number, 'line')} of this plan {can} is not known here."
        yield from style.wrapped(told)
    yield from style.wrapped(
        "This is one rule, asked of the text alone. That it does not tell is no leave to fire: "
        f"guardcone check {checked.plan.source.name} asks all rules, and says what comes before "
        "this program."
    )
