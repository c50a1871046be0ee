"""A whole plan is checked: faults of the text, rules, accept lines."""

from collections.abc import Iterable, Iterator

from attrs import frozen

from guardcone.checking.accepts import Accepted, apply_accepts
from guardcone.checking.finding import Finding
from guardcone.checking.run import BrokenRule, Outcome, Silenced, check
from guardcone.facts import PlanCase
from guardcone.language import TextFault
from guardcone.plan.plan import Plan
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.fault_pages import text_fault_pages
from guardcone.rulebook.rule import Consequence

__all__ = ["CheckedPlan", "check_plan"]


@frozen
class CheckedPlan:
    """A plan with everything there is to say about it, by the book that was in force.

    `findings` are those that stand, worst first and then by line; `accepted` those that an accept
    line lets stand (an acknowledged danger is in both). `text_faults` are the names among the
    findings that mean the plan could not be read as it is.
    """

    plan: Plan
    book: RuleBook
    findings: tuple[Finding, ...]
    accepted: tuple[Accepted, ...]
    silenced: tuple[Silenced, ...]
    broken: tuple[BrokenRule, ...]

    def stops(self, stop_at: Consequence | None) -> bool:
        """True if the plan must not pass.

        It has a fault of its text that is more than advice, or a finding at `stop_at` or worse
        that nobody acknowledged.
        """
        acknowledged = {id(one.finding) for one in self.accepted}
        pages = text_fault_pages()
        return any(
            (finding.rule in pages and finding.consequence is not Consequence.ADVICE)
            or (stop_at is not None and finding.consequence.at_least(stop_at))
            for finding in self.findings
            if id(finding) not in acknowledged
        )

    @property
    def outcome(self) -> Outcome:
        """The findings as the engine gives them."""
        return Outcome(self.findings, self.silenced, self.broken)


def check_plan(plan: Plan, book: RuleBook) -> CheckedPlan:
    """Check one plan against a book; a pure function of the two."""
    faults = [_of_fault(fault) for fault in plan.faults]
    outcome = check(PlanCase(plan), book, faults)
    findings = [*outcome.findings, *_dangers_otherwise(plan, book, outcome.findings)]
    standing, accepted = apply_accepts(plan, findings, book)
    standing.sort(key=lambda finding: (finding.consequence.rank, finding.order))
    return CheckedPlan(
        plan, book, tuple(standing), tuple(accepted), outcome.silenced, outcome.broken
    )


def _dangers_otherwise(plan: Plan, book: RuleBook, told: Iterable[Finding]) -> Iterator[Finding]:
    """The dangers that are there if of what the plan says twice another one is meant."""
    known = {(finding.rule, finding.text) for finding in told}
    for other in plan.otherwise:
        for finding in check(PlanCase(other), book).findings:
            key = (finding.rule, finding.text)
            if finding.consequence is Consequence.DANGER and key not in known:
                known.add(key)
                yield finding


def _of_fault(fault: TextFault) -> Finding:
    consequence = text_fault_pages()[fault.rule].consequence
    return Finding(
        fault.rule, consequence, fault.span, fault.found, fault.repair, example=fault.line
    )
