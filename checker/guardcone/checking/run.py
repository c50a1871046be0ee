"""Every rule of a book is asked of every instance in a case."""

from collections.abc import Iterable
from typing import Any

from attrs import frozen

from guardcone.checking.finding import Finding, LineRepair
from guardcone.checking.silences import Fired, silenced
from guardcone.condition.vocabulary import UNREADABLE, Case
from guardcone.rulebook.book import CompiledLevel, CompiledRule, Pointer, RuleBook
from guardcone.rulebook.rule import Consequence
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

    Of the levels of a rule the first that holds is the finding; one that is unknown says nothing. A
    rule that raises is recorded as broken, and the others are still asked.
    """
    fired: list[Fired] = []
    broken: list[BrokenRule] = []
    for subject, rules in book.by_subject:
        try:
            instances = [one for one in subject.each(case) if one is not UNREADABLE]
        except Exception as error:
            broken += [BrokenRule(compiled.rule.name, error) for compiled in rules]
            continue
        for compiled in rules:
            try:
                for instance in instances:
                    level, unknown = _level_of(compiled, case, instance)
                    if level is not None:
                        fired.append(Fired(compiled.rule, level, subject, instance, unknown))
            except Exception as error:
                broken.append(BrokenRule(compiled.rule.name, error))
    unsaid: dict[int, str] = {}
    if len(fired) > 1:
        try:
            unsaid = silenced(fired, book.vocabulary)
        except Exception as error:
            broken.append(BrokenRule(" or ".join({one.rule.name: 0 for one in fired}), error))
    findings = list(also)
    quiet: list[Silenced] = []
    for place, one in enumerate(fired):
        try:
            if place in unsaid:
                quiet.append(Silenced(one.rule.name, unsaid[place], _place(case, one)))
            else:
                findings.append(_finding(case, one, book))
        except Exception as error:
            broken.append(BrokenRule(one.rule.name, error))
    findings.sort(key=lambda finding: finding.order)
    return Outcome(tuple(findings), tuple(quiet), tuple(broken))


def _level_of(
    compiled: CompiledRule, case: Case, instance: Any
) -> tuple[CompiledLevel | None, tuple[Consequence, ...]]:
    """The first level that holds of the instance, and worse ones of which nothing is known.

    A danger holds by the limits of the studio or by those of the book: either is enough.
    """
    unknown: dict[Consequence, None] = {}
    for level in compiled.levels:
        worse = tuple(one for one in unknown if one is not level.consequence)
        holds = level.test(case, instance)
        if holds is True:
            return level, worse
        built_in = level.built_in
        if built_in is not None and built_in.test(case, instance) is True:
            return built_in, worse
        if holds is None:
            unknown[level.consequence] = None
    return None, ()


def _finding(case: Case, fired: Fired, book: RuleBook) -> Finding:
    level, instance, units_at = fired.level, fired.instance, book.vocabulary.units
    span = _place(case, fired)
    near = span if level.write is None else _pointed(level.repair_at, case, instance) or span
    text, unstated = level.finding(case, instance, units_at(instance, span))
    units = units_at(instance, near)
    repair, unstated_too = level.say(case, instance, units)
    line_repair = None
    if level.write is not None:
        line, unwritten = level.write(case, instance, units)
        unstated_too += unwritten
        # A line with a gap in it mends nothing; the sentence still says what to do.
        if not unwritten:
            line_repair = LineRepair(line, level.level.repair.where, near)
    return Finding(
        fired.rule.name,
        level.consequence,
        span,
        text,
        repair,
        line_repair,
        unstated + unstated_too,
        case=level.level.case,
        levels=book.weights(fired.rule),
        unknown=fired.unknown,
    )


def _place(case: Case, fired: Fired) -> Span:
    """Where a finding points."""
    span = _pointed(fired.level.at, case, fired.instance)
    return span or fired.subject.place(fired.instance) or _TOP


def _pointed(pointers: tuple[Pointer, ...], case: Case, instance: Any) -> Span | None:
    """The place of the first fact that was written."""
    found = (place(case, instance) for place in pointers)
    return next((span for span in found if span is not None), None)
