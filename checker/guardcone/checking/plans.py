"""A whole plan is checked: text, rules, accept lines; and what a studio's file has changed.

Every report names that file, so that nobody takes for the book what a studio has changed.
"""

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve, frozen

from guardcone.checking.accepts import Accepted, apply_accepts
from guardcone.checking.run import BrokenRule, Finding, LineRepair, Outcome, Silenced, check
from guardcone.facts import PlanCase
from guardcone.language import TextFault
from guardcone.plan.plan import Plan
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence, Where

__all__ = ["Change", "CheckedPlan", "InForce", "check_plan", "in_force"]


@frozen(repr=False)
class CheckedPlan:
    """A plan with everything there is to say about it, by the book that was in force.

    `findings` are those that stand, worst first and then by line; `accepted` those that an accept
    line lets stand (an acknowledged danger is in both). `text_faults` are the names among the
    findings that mean the plan could not be read as it is. `nothing_from` is that of the outcome.
    """

    plan: Plan
    book: RuleBook
    findings: tuple[Finding, ...]
    accepted: tuple[Accepted, ...]
    silenced: tuple[Silenced, ...]
    broken: tuple[BrokenRule, ...]
    nothing_from: frozenset[str] = frozenset()

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
        return Outcome(self.findings, self.silenced, self.broken, self.nothing_from)


def check_plan(plan: Plan, book: RuleBook, case: PlanCase | None = None) -> CheckedPlan:
    """Check one plan against a book; a pure function of the two.

    `case` is that of the plan, where its firing is asked for elsewhere too.
    """
    pages = text_fault_pages()
    faults = [
        Finding(
            f.rule,
            pages[f.rule].consequence,
            f.span,
            f.found,
            f.repair,
            _line_repair(f),
            example=f.line,
        )
        for f in plan.faults
    ]
    outcome = check(case or PlanCase(plan), book, faults)
    findings = [*outcome.findings, *_dangers_otherwise(plan, book, outcome.findings)]
    # What a whole section leaves out stands at its heading, however that is written.
    grave = {
        one.span.line
        for one in findings
        if one.consequence is Consequence.DANGER and not one.line_repair
        if one.span != plan.heading
    }
    findings = [
        # Nobody is to copy a line that is a danger, however well it is spelt.
        evolve(one, line_repair=None) if one.rule in pages and one.span.line in grave else one
        for one in findings
    ]
    standing, accepted = apply_accepts(plan, findings, book)
    standing.sort(key=lambda finding: (finding.consequence.rank, finding.order))
    return CheckedPlan(
        plan,
        book,
        tuple(standing),
        tuple(accepted),
        outcome.silenced,
        outcome.broken,
        outcome.nothing_from,
    )


def _line_repair(fault: TextFault) -> LineRepair | None:
    if fault.mended:
        return LineRepair(fault.mended, Where.INSTEAD, fault.span)
    return LineRepair(fault.line, Where.AFTER, fault.below) if fault.below else None


def _dangers_otherwise(plan: Plan, book: RuleBook, told: Iterable[Finding]) -> Iterator[Finding]:
    """The dangers that are there if of what the plan says twice another one is meant."""
    known = {(finding.rule, finding.text) for finding in told}
    for other in plan.otherwise:
        for finding in check(PlanCase(other), book).findings:
            key = (finding.rule, finding.text)
            if finding.consequence is Consequence.DANGER and key not in known:
                known.add(key)
                yield finding


@frozen(repr=False)
class Change:
    """One thing that is otherwise than in the book: the rule or limit, what, and where it is said.

    `place` is as ``studio.yaml:12``.
    """

    name: str
    what: str
    place: str


@frozen(repr=False)
class InForce:
    """A studio's file that some plans were checked by, its files of own rules, and the changes."""

    file: str
    own_files: tuple[str, ...]
    may_accept: tuple[str, ...]
    changes: tuple[Change, ...]


def in_force(checked: Sequence[CheckedPlan]) -> tuple[InForce, ...]:
    """The studios' files that these plans were checked by, each once; none for the book alone."""
    by_file: dict[str, list[CheckedPlan]] = {}
    for one in checked:
        if one.book.studio:
            by_file.setdefault(one.book.studio, []).append(one)
    return tuple(_of(plans[0].book, plans) for plans in by_file.values())


def _of(book: RuleBook, plans: Iterable[CheckedPlan]) -> InForce:
    return InForce(
        book.studio,
        book.own_files,
        book.may_accept,
        (*_changes(book), *_taken(book, plans), *_silenced(book, plans)),
    )


def _changes(book: RuleBook) -> Iterable[Change]:
    for name, change in book.changes.items():
        yield Change(name, f"{change}, because {change.reason}", change.place)
    for limit in book.limits:
        if limit.changed_at:
            what = f"{limit.value} in place of {limit.built_in}"
            yield Change(limit.name, what, limit.changed_at)


def _taken(book: RuleBook, plans: Iterable[CheckedPlan]) -> Iterable[Change]:
    """What heats a kiln and where it stands, where plans leave that to the studio.

    Dangers hang on these two, so that nobody should take them for words of the plan.
    """
    told: dict[str, Change] = {}
    for one in plans:
        kiln = one.plan.kiln
        if kiln is None or kiln.name is None:
            continue
        taken = [
            said.value
            for said in (kiln.fuel, kiln.setting)
            # What a plan takes over points at the name by which it does so.
            if said is not None and said.span == kiln.name.span
        ]
        if taken:
            what = f"{', '.join(taken)}: so says this file, not the plan"
            told.setdefault(kiln.name.value, Change(kiln.name.value, what, book.studio))
    return told.values()


def _silenced(book: RuleBook, plans: Iterable[CheckedPlan]) -> Iterable[Change]:
    """What the studio's own rules keep quiet, and where."""
    for plan in plans:
        for quiet in plan.silenced:
            rule = book.rule(quiet.by)
            if rule is not None and quiet.by in book.own:
                where = f"{plan.plan.source.name}:{quiet.span.line}"
                place = f"{rule.file}:{rule.span.line}"
                yield Change(quiet.rule, f"silenced at {where} by {quiet.by}", place)
