"""Closures reach facts and instances: the leaves of every condition."""

from collections.abc import Callable, Iterable
from typing import Any

from guardcone.condition import typed
from guardcone.condition.vocabulary import UNREADABLE, Subject, Vocabulary
from guardcone.span import Span, Written

__all__ = ["Reacher", "Values", "first_instance"]

Values = Callable[[Any, Any], Any]


def _in_question(_case: Any, it: Any) -> Any:
    return it


def first_instance(subject: Subject) -> Callable[[Any], Any]:
    """For a single subject: its instance in a case, None without one, UNREADABLE if it is so."""
    each = subject.each

    def first(case: Any) -> Any:
        for instance in each(case):
            return instance
        return None

    return first


class Reacher:
    """Closures for facts, single subjects and the instances that a quantifier runs through."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary

    def value(self, node: typed.Value) -> Values:
        """The closure that yields a leaf, None where it is missing or unknown."""
        raw = self.raw(node)
        if isinstance(node, typed.It):
            return raw

        def value(case: Any, it: Any) -> Any:
            found = raw(case, it)
            if found.__class__ is Written:
                found = found.value
            return None if found is UNREADABLE else found

        return value

    def raw(self, node: typed.Value) -> Values:
        """The closure that yields a leaf as the vocabulary gives it: Written, UNREADABLE, None.

        A fact of something missing is UNREADABLE, for nothing can be known of it.
        """
        match node:
            case typed.It():
                return _in_question
            case typed.Single():
                first = first_instance(self.subject(node))
                return lambda case, _it: first(case)
            case typed.FactOf(owner=typed.It(), fact=name):
                get = self._getter(node.owner, name)
                return lambda _case, it: get(it)
            case typed.FactOf(owner=owner, fact=name):
                return self._walk(self.value(owner), self._getter(owner, name))
        raise TypeError(f"no such value: {node!r}")

    def stated(self, node: typed.Value) -> Callable[[Any, Any], bool | None]:
        """The closure that says whether a leaf is stated; None where that cannot be known."""
        raw = self.raw(node)

        def stated(case: Any, it: Any) -> bool | None:
            found = raw(case, it)
            if found.__class__ is Written:
                found = found.value
            return None if found is UNREADABLE else found is not None

        return stated

    def instances(self, node: typed.Value) -> Callable[[Any, Any], Iterable[Any] | None]:
        """The closure that yields the instances of a domain; None where they are not known."""
        if isinstance(node, typed.EachOf):
            each = self.subject(node).each
            return lambda case, _it: each(case)
        return self.value(node)

    def place(self, node: typed.Value) -> Callable[[Any, Any], Span | None]:
        """The closure that yields where a leaf was written, None where it was not."""
        raw = self.raw(node)
        subject = self.subject(node) if node.type.subject else None

        def place(case: Any, it: Any) -> Span | None:
            found = raw(case, it)
            if found.__class__ is Written:
                span = found.span
                return span if isinstance(span, Span) else None
            if subject is None or found is None or found is UNREADABLE:
                return None
            return subject.place(found)

        return place

    def subject(self, node: typed.Value) -> Subject:
        """The subject of a value of that kind."""
        found = self._vocabulary.subject(node.type.subject)
        if found is None:
            raise LookupError(f"the vocabulary has no subject {node.type.subject!r}")
        return found

    def _getter(self, owner: typed.Value, name: str) -> Callable[[Any], Any]:
        subject = self.subject(owner)
        fact = subject.find(name)
        if fact is None:
            raise LookupError(f"the vocabulary has no fact {name!r} of {subject.name}")
        return fact.get

    @staticmethod
    def _walk(owner: Values, get: Callable[[Any], Any]) -> Values:
        def walk(case: Any, it: Any) -> Any:
            found = owner(case, it)
            return UNREADABLE if found is None else get(found)

        return walk
