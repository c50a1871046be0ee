"""Room: the engine; here every rule of a book is asked of every instance in a case."""

from collections.abc import Iterable
from typing import Any

from attrs import frozen

from guardcone.engine.finding import Finding, LineRepair
from guardcone.engine.silencing import silenced
from guardcone.rulebook.book import CompiledRule, Pointer, RuleBook
from guardcone.rulebook.vocabulary import UNREADABLE, Case, Subject
from guardcone.span import Span
from guardcone.values import Quantity

__all__ = ["BrokenRule", "Outcome", "check"]

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
class Outcome:
    """What a check gives: findings in order, how many a root cause silenced, and broken rules."""

    findings: tuple[Finding, ...]
    silenced: int = 0
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
                test = compiled.test
                fired += [
                    (compiled, subject, one) for one in instances if test(case, one, one) is True
                ]
            except Exception as error:
                broken.append(BrokenRule(compiled.rule.name, error))
    unsaid: frozenset[int] = frozenset()
    if len(fired) > 1:
        try:
            unsaid = silenced([(one.rule, subject, what) for one, subject, what in fired])
        except Exception as error:
            broken.append(BrokenRule(" or ".join({one.rule.name: 0 for one, _, _ in fired}), error))
    findings = list(also)
    for place, (compiled, subject, instance) in enumerate(fired):
        if place in unsaid:
            continue
        try:
            findings.append(_finding(case, compiled, subject, instance))
        except Exception as error:
            broken.append(BrokenRule(compiled.rule.name, error))
    findings.sort(key=lambda finding: finding.order)
    return Outcome(tuple(findings), len(unsaid), tuple(broken))


def _has_all(needs: tuple[Subject, ...], case: Case, there: dict[str, bool]) -> bool:
    for subject in needs:
        if subject.name not in there:
            there[subject.name] = any(True for _ in subject.each(case))
        if not there[subject.name]:
            return False
    return True


def _finding(case: Case, compiled: CompiledRule, subject: Subject, instance: Any) -> Finding:
    span, value = _pointed(compiled.at, case, instance)
    span = span or subject.place(instance) or _TOP
    units = tuple(subject.units(instance))
    if isinstance(value, Quantity):
        units = (value, *units)
    text, unstated = compiled.finding(case, instance, units)
    repair, unstated_too = compiled.say(case, instance, units)
    line_repair = None
    if compiled.write is not None:
        line, unwritten = compiled.write(case, instance, units)
        unstated_too += unwritten
        # A line with a gap in it mends nothing; the sentence still says what to do.
        if not unwritten:
            near, _ = _pointed(compiled.repair_at, case, instance)
            line_repair = LineRepair(line, compiled.rule.repair.where, near or span)
    return Finding(
        compiled.rule.name,
        compiled.consequence,
        span,
        text,
        repair,
        line_repair,
        unstated + unstated_too,
    )


def _pointed(pointers: tuple[Pointer, ...], case: Case, instance: Any) -> tuple[Span | None, Any]:
    """Place and value of the first fact that was written."""
    for place, value in pointers:
        span = place(case, instance, instance)
        if span is not None:
            return span, value(case, instance, instance)
    return None, None
