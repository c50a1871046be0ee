"""One root cause gives one finding: a rule silences what follows from it.

A danger is never silenced, whatever a rule file says.
"""

from collections.abc import Callable, Sequence
from typing import Any

from attrs import frozen

from guardcone.condition.kinds import Kind
from guardcone.condition.vocabulary import UNREADABLE, Subject, Vocabulary
from guardcone.rulebook.book import CompiledLevel
from guardcone.rulebook.rule import Consequence, Rule
from guardcone.span import Written

__all__ = ["Fired", "silenced"]


Identity = Callable[[Any], Any]


@frozen
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
    by_rule: dict[str, list[int]] = {}
    for place, one in enumerate(fired):
        if Consequence.DANGER not in (one.level.consequence, one.level.level.consequence):
            by_rule.setdefault(one.rule.name, []).append(place)
    return {
        place: cause.rule.name
        for cause in fired
        for silence in cause.level.level.silences
        for place in by_rule.get(silence.rule, ())
        if silence.up_to.at_least(fired[place].level.level.consequence)
        and _stands_for(cause, fired[place], vocabulary.identity)
    }


def _stands_for(cause: Fired, other: Fired, identity: Identity) -> bool:
    subject, instance = cause.subject, cause.instance
    other_subject, other_instance = other.subject, other.instance
    if subject.name == other_subject.name:
        return identity(instance) is identity(other_instance)
    if subject.single or other_subject.single:
        return True
    return _leads(subject, instance, other_subject, other_instance, identity) or _leads(
        other_subject, other_instance, subject, instance, identity
    )


def _leads(subject: Subject, instance: Any, to: Subject, goal: Any, identity: Identity) -> bool:
    for fact in subject.facts:
        if fact.type.kind is Kind.SUBJECT and fact.type.subject == to.name:
            found = fact.get(instance)
            if isinstance(found, Written):
                found = found.value
            if found is None or found is UNREADABLE:
                continue
            same = identity(goal)
            if any(identity(one) is same for one in (found if fact.type.is_many else (found,))):
                return True
    return False
