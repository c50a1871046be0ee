"""Typed conditions become closures, once, when a book is put in force; facts are their leaves.

A closure takes the case and the instance in question. A value
closure gives None where nothing is known or stated; a condition closure gives True, False, or None
for unknown, by Kleene's strong logic (S. C. Kleene, Introduction to Metamathematics, 1952, § 64).
"""

import operator
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from guardcone.condition import typed
from guardcone.condition.kinds import QUANTITY_CLASS, Kind, operation
from guardcone.condition.vocabulary import UNREADABLE, Subject, Vocabulary
from guardcone.span import Span, Written

__all__ = ["Compiler", "Test", "Values", "without_place"]


Values = Callable[[Any, Any], Any]
Test = Callable[[Any, Any], bool | None]

_SIGNS: dict[str, Callable[[Any, Any], bool]] = {
    "=": operator.eq,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}


class Compiler:
    """Makes closures for one vocabulary with the limits that are in force, by name."""

    def __init__(self, vocabulary: Vocabulary, limits: Mapping[str, Any]) -> None:
        self._vocabulary = vocabulary
        self._limits = limits

    def condition(self, node: typed.Condition) -> Test:
        """The closure that tests a condition."""
        match node:
            case typed.Compare(sign=sign, left=left, right=right):
                return _of_stated(
                    _comparison(sign, left.type.kind), *map(self.value, (left, right))
                )
            case typed.WordIn(left=left, words=words):
                chosen = frozenset(words)
                return _of_stated(lambda word: word in chosen, self.value(left))
            case typed.Mentions(left=left, text=text):
                sought = text.casefold()
                return _of_stated(lambda told: sought in told.casefold(), self.value(left))
            case typed.Missing(value=value):
                return self._missing(value)
            case typed.Flag(value=value):
                return self.value(value)
            case typed.NotOf(inner=inner):
                return _of_stated(operator.not_, self.condition(inner))
            case typed.AllOf(parts=parts) | typed.AnyOf(parts=parts):
                tests = tuple(map(self.condition, parts))
                decisive = isinstance(node, typed.AnyOf)
                return lambda case, it: _decided((test(case, it) for test in tests), decisive)
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
            case typed.Operation(sign=sign, operands=operands):
                known = operation(sign, *(one.type.kind for one in operands))
                if known is not None:
                    return _of_stated(known[1], *map(self.value, operands))
            case typed.Count(domain=domain):
                return _of_stated(_count, self._instances(domain))
        raw = self._raw(node)

        def value(case: Any, it: Any) -> Any:
            found = without_place(raw(case, it))
            return None if found is UNREADABLE else found

        return value

    def place(self, node: typed.Value) -> Callable[[Any, Any], Span | None]:
        """The closure that yields where a fact or subject was written, None where it was not."""
        raw = self._raw(node)
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

    def _raw(self, node: typed.Value) -> Values:
        """The closure that yields a leaf as the vocabulary gives it: Written, UNREADABLE, None.

        A fact of something missing is UNREADABLE, for nothing can be known of it.
        """
        match node:
            case typed.It():
                return lambda _case, it: it
            case typed.Single():
                each = self.subject(node).each
                return lambda case, _it: next(iter(each(case)), None)
            case typed.FactOf(owner=owner, fact=name):
                subject = self.subject(owner)
                fact = subject.find(name)
                if fact is None:
                    raise LookupError(f"the vocabulary has no fact {name!r} of {subject.name}")
                get = fact.get
                if isinstance(owner, typed.It):
                    return lambda _case, it: get(it)
                owned = self.value(owner)

                def fact_of(case: Any, it: Any) -> Any:
                    found = owned(case, it)
                    return UNREADABLE if found is None else get(found)

                return fact_of
        raise TypeError(f"no such value: {node!r}")

    def _missing(self, node: typed.Value) -> Test:
        raw = self._raw(node)

        def missing(case: Any, it: Any) -> bool | None:
            found = without_place(raw(case, it))
            return None if found is UNREADABLE else found is None

        return missing

    def _instances(self, node: typed.Value) -> Callable[[Any, Any], Iterable[Any] | None]:
        """The closure that yields the instances of a domain; None where they are not known."""
        if isinstance(node, typed.EachOf):
            each = self.subject(node).each
            return lambda case, _it: each(case)
        return self.value(node)

    def _quantified(self, node: typed.Quantified) -> Test:
        domain, test = self._instances(node.domain), self.condition(node.condition)
        # `every` looks for one that fails, `some` for one that holds; either decides.
        decisive = node.word == "some"

        def quantified(case: Any, it: Any) -> bool | None:
            instances = domain(case, it)
            if instances is None:
                return None
            verdicts = (None if one is UNREADABLE else test(case, one) for one in instances)
            return _decided(verdicts, decisive)

        return quantified


def without_place(found: Any) -> Any:
    """What a fact gives, apart from where it was written."""
    return found.value if found.__class__ is Written else found


def _of_stated(function: Callable[..., Any], *values: Values) -> Values:
    """What the function makes of these values; None where one of them is not known."""

    def of_stated(case: Any, it: Any) -> Any:
        known = []
        for value in values:
            found = value(case, it)
            if found is None:
                return None
            known.append(found)
        return function(*known)

    return of_stated


def _decided(verdicts: Iterable[bool | None], decisive: bool) -> bool | None:
    """`decisive` at the first verdict that is that, else the opposite if all are known."""
    outcome: bool | None = not decisive
    for verdict in verdicts:
        if verdict is decisive:
            return decisive
        if verdict is None:
            outcome = None
    return outcome


def _comparison(sign: str, kind: Kind) -> Callable[[Any, Any], bool | None]:
    """The test of two values of one kind."""
    compare = _SIGNS[sign]
    if kind is Kind.CONE:
        return lambda one, other: (
            compare(one.number, other.number) if one.comparable(other) else None
        )
    if kind is Kind.TEXT:
        return lambda one, other: one.casefold() == other.casefold()
    if kind in QUANTITY_CLASS:
        # The kinds of both are known to agree, so their amounts will do.
        return lambda one, other: compare(one.base, other.base)
    return compare


def _count(instances: Iterable[Any]) -> float | None:
    counted = tuple(instances)
    return None if UNREADABLE in counted else float(len(counted))
