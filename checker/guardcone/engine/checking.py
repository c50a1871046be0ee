"""Room: the engine; here every rule of a book is asked of every instance in a case."""

from collections.abc import Iterable
from typing import Any

from attrs import frozen

from guardcone.engine.finding import Finding, LineRepair
from guardcone.engine.silencing import silenced
from guardcone.rulebook.book import CompiledRule, Pointer, RuleBook
from guardcone.rulebook.vocabulary import UNREADABLE, Case, Subject
from guardcone.span import Span

__all__ = ["BrokenRule", "Outcome", "Silenced", "check"]

# Where a finding points if nothing it is about was written anywhere.
_TOP = Span(1, 1, 2)


@frozen
class BrokenRule:
    """A rule that could not be asked: a mistake of this program, never of the plan's writer."""

    rule: str
    error: Exception

    def __str__(self) -> str:
        kind = type(self.error).__name__
        return f"guardcone could not apply its rule {self.rule!r} ({kind}: {self.error})"


@frozen
class Silenced:
    """A finding that is not told because the finding of another rule, `by`, stands for it."""

    rule: str
    by: str
    span: Span


@frozen
class Outcome:
    """What a check gives: findings in order, what a root cause silenced, and broken rules."""

    findings: tuple[Finding, ...]
    silenced: tuple[Silenced, ...] = ()
    broken: tuple[BrokenRule, ...] = ()


def check(case: Case, book: RuleBook, also: Iterable[Finding] = ()) -> Outcome:
    """Ask every rule of the book of every instance; `also` are findings from elsewhere to sort in.

    Only a condition that holds is a finding: one that is unknown says nothing. A rule that raises
    is recorded as broken, and the others are still asked.
    """
    fired: list[tuple[CompiledRule, Subject, Any]] = []
    broken: list[BrokenRule] = []
    there: dict[str, bool] = {}
    for subject, rules in book.by_subject:
        try:
            instances = [one for one in subject.each(case) if one is not UNREADABLE]
        except Exception as error:
            broken += [BrokenRule(compiled.rule.name, error) for compiled in rules]
            continue
        for compiled in rules:
            try:
                if compiled.needs and not _has_all(compiled.needs, case, there):
                    continue
                for one in instances:
                    holds = _as_holds(compiled, case, one)
                    if holds is not None:
                        fired.append((holds, subject, one))
            except Exception as error:
                broken.append(BrokenRule(compiled.rule.name, error))
    unsaid: dict[int, str] = {}
    if len(fired) > 1:
        try:
            unsaid = silenced(fired)
        except Exception as error:
            broken.append(BrokenRule(" or ".join({one.rule.name: 0 for one, _, _ in fired}), error))
    findings = list(also)
    quiet: list[Silenced] = []
    for place, (compiled, subject, instance) in enumerate(fired):
        try:
            if place in unsaid:
                span = _place(case, compiled, subject, instance)
                quiet.append(Silenced(compiled.rule.name, unsaid[place], span))
            else:
                findings.append(_finding(case, compiled, subject, instance))
        except Exception as error:
            broken.append(BrokenRule(compiled.rule.name, error))
    findings.sort(key=lambda finding: finding.order)
    return Outcome(tuple(findings), tuple(quiet), tuple(broken))


def _as_holds(compiled: CompiledRule, case: Case, instance: Any) -> CompiledRule | None:
    """The rule if its condition holds of the instance.

    A danger holds by the limits of the studio or by those of the book: either is enough.
    """
    if compiled.test(case, instance, instance) is True:
        return compiled
    built_in = compiled.built_in
    if built_in is not None and built_in.test(case, instance, instance) is True:
        return built_in
    return None


def _has_all(needs: tuple[Subject, ...], case: Case, there: dict[str, bool]) -> bool:
    for subject in needs:
        if subject.name not in there:
            there[subject.name] = any(True for _ in subject.each(case))
        if not there[subject.name]:
            return False
    return True


def _finding(case: Case, compiled: CompiledRule, subject: Subject, instance: Any) -> Finding:
    span = _place(case, compiled, subject, instance)
    near = span if compiled.write is None else _pointed(compiled.repair_at, case, instance) or span
    text, unstated = compiled.finding(case, instance, subject.units(instance, span))
    units = subject.units(instance, near)
    repair, unstated_too = compiled.say(case, instance, units)
    line_repair = None
    if compiled.write is not None:
        line, unwritten = compiled.write(case, instance, units)
        unstated_too += unwritten
        # A line with a gap in it mends nothing; the sentence still says what to do.
        if not unwritten:
            line_repair = LineRepair(line, compiled.rule.repair.where, near)
    return Finding(
        compiled.rule.name,
        compiled.consequence,
        span,
        text,
        repair,
        line_repair,
        unstated + unstated_too,
    )


def _place(case: Case, compiled: CompiledRule, subject: Subject, instance: Any) -> Span:
    """Where a finding points."""
    return _pointed(compiled.at, case, instance) or subject.place(instance) or _TOP


def _pointed(pointers: tuple[Pointer, ...], case: Case, instance: Any) -> Span | None:
    """The place of the first fact that was written."""
    found = (place(case, instance, instance) for place, _ in pointers)
    return next((span for span in found if span is not None), None)
