"""Every rule of a book is asked of every instance in a case; one root cause is one finding.

A danger is never silenced, whatever a rule file says.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from attrs import frozen

from guardcone.condition.kinds import Kind
from guardcone.condition.typed import Value, without_place
from guardcone.condition.vocabulary import UNREADABLE, Case, Subject, Vocabulary
from guardcone.rulebook.book import CompiledLevel, RuleBook
from guardcone.rulebook.rule import Consequence, Rule, Where
from guardcone.span import Span

__all__ = [
    "BrokenRule",
    "Finding",
    "Fired",
    "LineRepair",
    "Outcome",
    "Silenced",
    "check",
    "level_of",
    "silenced",
]


@frozen(repr=False)
class LineRepair:
    """One line that mends the plan, and the place of the line it goes after, before or instead of.

    The text is in the words of a plan, without indentation.
    """

    text: str
    where: Where
    span: Span


@frozen(repr=False)
class Finding:
    """One thing a rule says about one place of a plan.

    `text` says what is wrong, `repair` what to do; `example` is a right line of the same sort, for
    a line that could not be read. `unstated` names the slots of the rule's
    sentences that had no value in this plan and say "not stated". `levels` are all the weights that
    its rule may have, the worst first, and `unknown` those worse ones of which the plan says too
    little; of several cases of one weight `case` says which.
    """

    rule: str
    consequence: Consequence
    span: Span
    text: str
    repair: str
    line_repair: LineRepair | None = None
    unstated: tuple[str, ...] = ()
    example: str = ""
    case: str = ""
    levels: tuple[Consequence, ...] = ()
    unknown: tuple[Consequence, ...] = ()

    @property
    def order(self) -> tuple[tuple[int, int, int], int, str, str]:
        """The key to sort by: place, then the worst first."""
        return self.span.order, self.consequence.rank, self.rule, self.text


Identity = Callable[[Any], Any]


@frozen(repr=False)
class Fired:
    """A level of a rule that holds of an instance; `unknown` are worse ones that can't be told."""

    rule: Rule
    level: CompiledLevel
    subject: Subject
    instance: Any
    unknown: tuple[Consequence, ...] = ()


def silenced(fired: Sequence[Fired], vocabulary: Vocabulary) -> dict[int, str]:
    """Which of the fired rules, by their place in the sequence, another one stands for, and which.

    A rule silences another, up to the weight it names, on the same instance, on an instance that a
    fact leads to from it or back, and everywhere in the plan if one of the two subjects is single.
    The weight is that of the book, whatever a studio makes of it. A silenced rule still silences in
    turn: what follows from a consequence follows from its cause.
    """
    identity = vocabulary.identity
    by_rule: dict[str, list[int]] = {}
    # A rule of the same subject is silenced on the very same instance alone.
    by_instance: dict[tuple[str, int], list[int]] = {}
    subjects = {one.rule.name: one.subject.name for one in fired}
    for place, one in enumerate(fired):
        if Consequence.DANGER not in (one.level.consequence, one.level.level.consequence):
            by_rule.setdefault(one.rule.name, []).append(place)
            key = one.rule.name, id(identity(one.instance))
            by_instance.setdefault(key, []).append(place)

    def others(cause: Fired, rule: str) -> list[int]:
        if subjects.get(rule) == cause.subject.name:
            return by_instance.get((rule, id(identity(cause.instance))), [])
        return by_rule.get(rule, [])

    return {
        place: cause.rule.name
        for cause in fired
        for silence in cause.level.level.silences
        for place in others(cause, silence.rule)
        if silence.up_to.at_least(fired[place].level.level.consequence)
        and _stands_for(cause, fired[place], identity)
    }


def _stands_for(cause: Fired, other: Fired, identity: Identity) -> bool:
    if cause.subject.name == other.subject.name:
        return identity(cause.instance) is identity(other.instance)
    if cause.subject.single or other.subject.single:
        return True
    return _leads(cause, other, identity) or _leads(other, cause, identity)


def _leads(one: Fired, other: Fired, identity: Identity) -> bool:
    """True where a fact of the one instance leads to the other."""
    for fact in one.subject.facts:
        if fact.type.kind is Kind.SUBJECT and fact.type.subject == other.subject.name:
            found = without_place(fact.get(one.instance))
            if found is None or found is UNREADABLE:
                continue
            goal = identity(other.instance)
            if any(identity(each) is goal for each in (found if fact.type.is_many else (found,))):
                return True
    return False


# Where a finding points if nothing it is about was written anywhere.
_TOP = Span(1, 1, 2)


@frozen(repr=False)
class BrokenRule:
    """A rule that could not be asked: a mistake of this program, never of the plan's writer."""

    rule: str
    error: Exception

    def __str__(self) -> str:
        kind = type(self.error).__name__
        return f"guardcone could not apply its rule {self.rule!r} ({kind}: {self.error})"


@frozen(repr=False)
class Silenced:
    """A finding that is not told because the finding of another rule, `by`, stands for it."""

    rule: str
    by: str
    span: Span


@frozen(repr=False)
class Outcome:
    """What a check gives: findings in order, what a root cause silenced, and broken rules.

    `nothing_from` are the names of the rules that were asked and, in every part of the plan that
    they are asked of, knew all that they ask and do not hold.
    """

    findings: tuple[Finding, ...]
    silenced: tuple[Silenced, ...] = ()
    broken: tuple[BrokenRule, ...] = ()
    nothing_from: frozenset[str] = frozenset()


def check(case: Case, book: RuleBook, also: Iterable[Finding] = ()) -> Outcome:
    """Ask every rule of the book of every instance; `also` are findings from elsewhere to sort in.

    Of the levels of a rule the first that holds is the finding; one that is unknown says nothing. A
    rule that raises is recorded as broken, and the others are still asked.
    """
    fired: list[Fired] = []
    broken: list[BrokenRule] = []
    nothing_from: set[str] = set()
    for subject, rules in book.by_subject:
        try:
            parts = tuple(subject.each(case))
        except Exception as error:
            broken += [BrokenRule(rule.name, error) for rule, _ in rules]
            continue
        instances = [one for one in parts if one is not UNREADABLE]
        for rule, levels in rules:
            known = len(parts) == len(instances) > 0
            try:
                for instance in instances:
                    level, unknown = level_of(levels, case, instance)
                    if level is not None:
                        fired.append(Fired(rule, level, subject, instance, unknown))
                    known = known and level is None and not unknown
            except Exception as error:
                broken.append(BrokenRule(rule.name, error))
                known = False
            if known:
                nothing_from.add(rule.name)
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
    return Outcome(tuple(findings), tuple(quiet), tuple(broken), frozenset(nothing_from))


def level_of(
    levels: Iterable[CompiledLevel], case: Case, instance: Any
) -> tuple[CompiledLevel | None, tuple[Consequence, ...]]:
    """The first level that holds of the instance, and worse ones of which nothing is known.

    Where none holds these are all of which nothing is known.

    A danger holds by the limits of the studio or by those of the book: either is enough.
    """
    unknown: dict[Consequence, None] = {}
    for level in levels:
        worse = tuple(one for one in unknown if one is not level.consequence)
        holds = level.test(case, instance)
        if holds is True:
            return level, worse
        built_in = level.built_in
        if built_in is not None and built_in.test(case, instance) is True:
            return built_in, worse
        if holds is None:
            unknown[level.consequence] = None
    return None, tuple(unknown)


def _finding(case: Case, fired: Fired, book: RuleBook) -> Finding:
    level, instance, units_at = fired.level.level, fired.instance, book.vocabulary.units
    compiler, repair, line = fired.level.compiler, level.repair, level.repair.write
    span = _place(case, fired)
    written_at = _pointed(repair.places, case, fired) if line else None
    near = written_at or span
    units = units_at(instance, near)
    text, unstated = level.finding.told(compiler, case, instance, units_at(instance, span))
    say, unstated_too = repair.say.told(compiler, case, instance, units)
    line_repair = None
    if line is not None:
        written, unwritten = line.told(compiler, case, instance, units)
        unstated_too += unwritten
        # A line with a gap in it mends nothing; the sentence still says what to do.
        if not unwritten:
            # Where nothing is written that it could take the place of, it is one more line.
            further = written_at is None and repair.where is Where.INSTEAD
            line_repair = LineRepair(written, Where.AFTER if further else repair.where, near)
    return Finding(
        fired.rule.name,
        fired.level.consequence,
        span,
        text,
        say,
        line_repair,
        unstated + unstated_too,
        case=level.case,
        levels=book.weights(fired.rule),
        unknown=fired.unknown,
    )


def _place(case: Case, fired: Fired) -> Span:
    """Where a finding points."""
    span = _pointed(fired.level.level.at, case, fired)
    return span or fired.subject.place(fired.instance) or _TOP


def _pointed(values: Iterable[Value], case: Case, fired: Fired) -> Span | None:
    """The place of the first fact that was written."""
    found = (fired.level.compiler.place(value, case, fired.instance) for value in values)
    return next((span for span in found if span is not None), None)
