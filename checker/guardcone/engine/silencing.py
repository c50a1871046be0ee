"""Room: the engine; here one root cause gives one finding: a rule silences what follows from it.

A danger is never silenced, whatever a rule file says.
"""

from collections.abc import Sequence
from typing import Any

from guardcone.rulebook.book import CompiledRule
from guardcone.rulebook.kinds import Kind
from guardcone.rulebook.rule import Consequence
from guardcone.rulebook.vocabulary import UNREADABLE, Subject
from guardcone.span import Written

__all__ = ["silenced"]

Fired = tuple[CompiledRule, Subject, Any]


def silenced(fired: Sequence[Fired]) -> dict[int, str]:
    """Which of the fired rules, by their place in the sequence, another one stands for, and which.

    A rule silences another on the same instance, on an instance that a fact leads to from it or
    back, and everywhere in the plan if one of the two subjects is single. A silenced rule still
    silences in turn: what follows from a consequence follows from its cause.
    """
    by_rule: dict[str, list[int]] = {}
    for place, (compiled, _, _) in enumerate(fired):
        if compiled.consequence is not Consequence.DANGER:
            by_rule.setdefault(compiled.rule.name, []).append(place)
    return {
        place: cause[0].rule.name
        for cause in fired
        for name in cause[0].rule.silences
        for place in by_rule.get(name, ())
        if _stands_for(cause, fired[place])
    }


def _stands_for(cause: Fired, other: Fired) -> bool:
    _, subject, instance = cause
    _, other_subject, other_instance = other
    if subject.name == other_subject.name:
        return subject.identity(instance) is subject.identity(other_instance)
    if subject.single or other_subject.single:
        return True
    return _leads(subject, instance, other_subject, other_instance) or _leads(
        other_subject, other_instance, subject, instance
    )


def _leads(subject: Subject, instance: Any, to: Subject, goal: Any) -> bool:
    for fact in subject.facts:
        if fact.type.kind is Kind.SUBJECT and fact.type.subject == to.name:
            found = fact.get(instance)
            if isinstance(found, Written):
                found = found.value
            if found is None or found is UNREADABLE:
                continue
            same = to.identity(goal)
            if any(to.identity(one) is same for one in (found if fact.type.is_many else (found,))):
                return True
    return False
