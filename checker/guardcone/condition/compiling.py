"""Typed conditions become closures, once, when a book is put in force; facts are their leaves.

A closure takes the case and the instance in question. A value
closure gives None where nothing is known or stated; a condition closure gives True, False, or None
for unknown, by Kleene's strong logic (S. C. Kleene, Introduction to Metamathematics, 1952, § 64).
"""

import operator
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import Any

from guardcone.condition import typed
from guardcone.condition.kinds import QUANTITY_CLASS, Kind, arithmetic, next_cone, steps
from guardcone.condition.vocabulary import UNREADABLE, Subject, Vocabulary
from guardcone.span import Span, Written

__all__ = ["Compiler", "Reacher", "Test", "Values", "first_instance"]


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


Test = Callable[[Any, Any], bool | None]

_SIGNS: dict[str, Callable[[Any, Any], bool]] = {
    "=": operator.eq,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}


class Compiler(Reacher):
    """Makes closures for one vocabulary with the limits that are in force, by name."""

    def __init__(self, vocabulary: Vocabulary, limits: Mapping[str, Any]) -> None:
        super().__init__(vocabulary)
        self._limits = limits

    def condition(self, node: typed.Condition) -> Test:
        """The closure that tests a condition."""
        match node:
            case typed.Compare():
                return self._compare(node)
            case typed.WordIn(left=left, words=words):
                chosen = frozenset(words)
                return _stated(self.value(left), lambda word: word in chosen)
            case typed.Mentions(left=left, text=text):
                sought = text.casefold()
                return _stated(self.value(left), lambda told: sought in told.casefold())
            case typed.Missing(value=value):
                return _opposite(self.stated(value))
            case typed.Flag(value=value):
                return self.value(value)
            case typed.NotOf(inner=inner):
                return _opposite(self.condition(inner))
            case typed.AllOf(parts=parts):
                return _all_of(tuple(self.condition(part) for part in parts))
            case typed.AnyOf(parts=parts):
                return _any_of(tuple(self.condition(part) for part in parts))
            case typed.Quantified():
                return self._quantified(node)
        raise TypeError(f"no such condition: {node!r}")

    def value(self, node: typed.Value) -> Values:
        """The closure that yields a value, None where it is missing or unknown."""
        match node:
            case typed.Constant(value=constant):
                return lambda _case, _it: constant
            case typed.LimitOf(name=name):
                limit = self._limits[name]
                return lambda _case, _it: limit
            case typed.Arithmetic(sign=sign, left=left, right=right):
                compute = arithmetic(sign, left.type.kind, right.type.kind)
                return _both_stated(self.value(left), self.value(right), compute)
            case typed.Steps(first=first, last=last):
                return _both_stated(self.value(first), self.value(last), steps)
            case typed.NextCone(hotter=hotter, cone=cone):
                return _stated(self.value(cone), partial(next_cone, hotter))
            case typed.Count():
                return self._count(node)
        return super().value(node)

    def _compare(self, node: typed.Compare) -> Test:
        compare = _SIGNS[node.sign]
        left, right = self.value(node.left), self.value(node.right)
        kind = node.left.type.kind
        if kind is Kind.CONE:

            def of_cones(one: Any, other: Any) -> bool | None:
                return compare(one.number, other.number) if one.comparable(other) else None

            return _both_stated(left, right, of_cones)
        if kind is Kind.TEXT:
            return _both_stated(left, right, lambda one, other: one.casefold() == other.casefold())
        if kind not in QUANTITY_CLASS:
            return _both_stated(left, right, compare)

        # Most rules compare a measure with a measure; kinds are known to agree, so amounts will do.
        if isinstance(node.right, typed.Constant | typed.LimitOf):
            bound = right(None, None).base

            def against_bound(case: Any, it: Any) -> bool | None:
                one = left(case, it)
                return None if one is None else compare(one.base, bound)

            return against_bound

        def of_measures(case: Any, it: Any) -> bool | None:
            one = left(case, it)
            if one is None:
                return None
            other = right(case, it)
            return None if other is None else compare(one.base, other.base)

        return of_measures

    def _quantified(self, node: typed.Quantified) -> Test:
        domain, test = self.instances(node.domain), self.condition(node.condition)
        # `every` looks for one that fails, `some` for one that holds; either decides.
        decisive = node.word == "some"

        def quantified(case: Any, it: Any) -> bool | None:
            instances = domain(case, it)
            if instances is None:
                return None
            unknown = False
            for instance in instances:
                verdict = None if instance is UNREADABLE else test(case, instance)
                if verdict is decisive:
                    return decisive
                unknown = unknown or verdict is None
            return None if unknown else not decisive

        return quantified

    def _count(self, node: typed.Count) -> Values:
        domain = self.instances(node.domain)

        def count(case: Any, it: Any) -> float | None:
            instances = domain(case, it)
            if instances is None:
                return None
            counted = tuple(instances)
            return None if UNREADABLE in counted else float(len(counted))

        return count


def _stated(value: Values, test: Callable[[Any], Any]) -> Values:
    def stated(case: Any, it: Any) -> Any:
        found = value(case, it)
        return None if found is None else test(found)

    return stated


def _both_stated(left: Values, right: Values, test: Callable[[Any, Any], Any]) -> Values:
    def both_stated(case: Any, it: Any) -> Any:
        one = left(case, it)
        if one is None:
            return None
        other = right(case, it)
        return None if other is None else test(one, other)

    return both_stated


def _opposite(test: Test) -> Test:
    def opposite(case: Any, it: Any) -> bool | None:
        verdict = test(case, it)
        return None if verdict is None else not verdict

    return opposite


def _all_of(tests: tuple[Test, ...]) -> Test:
    def all_of(case: Any, it: Any) -> bool | None:
        outcome: bool | None = True
        for test in tests:
            verdict = test(case, it)
            if verdict is False:
                return False
            if verdict is None:
                outcome = None
        return outcome

    return all_of


def _any_of(tests: tuple[Test, ...]) -> Test:
    def any_of(case: Any, it: Any) -> bool | None:
        outcome: bool | None = False
        for test in tests:
            verdict = test(case, it)
            if verdict is True:
                return True
            if verdict is None:
                outcome = None
        return outcome

    return any_of
