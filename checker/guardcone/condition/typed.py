"""The parts of a condition once every name and kind is known, and the closures made of them.

These trees hold no text and no places, so that a rule book can be put in force without its parser.
A condition is a value of the kind yes or no.

Closures are made once, when a book is put in force; facts are their leaves. A closure takes the
case and the instance in question. It gives None where nothing is known or stated; a condition gives
True, False, or None for unknown, by Kleene's strong logic (S. C. Kleene, Introduction to
Metamathematics, 1952, § 64).
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from attrs import field, frozen

from guardcone.condition.kinds import FLAG, NUMBER, Type, operation
from guardcone.condition.vocabulary import UNREADABLE, Subject, Vocabulary
from guardcone.span import Span, Written

__all__ = [
    "AllOf",
    "AnyOf",
    "Closure",
    "Compiler",
    "Constant",
    "Count",
    "EachOf",
    "FactOf",
    "It",
    "LimitOf",
    "Missing",
    "Operation",
    "Quantified",
    "Single",
    "Value",
    "denied",
    "without_place",
]


@frozen(repr=False)
class Value:
    """Something with a kind that a fact, a limit or an operation yields."""

    type: Type


@frozen(repr=False)
class Constant(Value):
    """A Quantity, Cone, float or str written in the rule, or several words of a fact."""

    value: Any


@frozen(repr=False)
class LimitOf(Value):
    """The limit of this name, as it is in force."""

    name: str


@frozen(repr=False)
class It(Value):
    """The instance in question: the rule's own, inside `some ... has (...)` the one looked at."""


@frozen(repr=False)
class Single(Value):
    """The one instance of a single subject: the kiln, the plan."""


@frozen(repr=False)
class EachOf(Value):
    """All instances of a subject in the case."""


@frozen(repr=False)
class FactOf(Value):
    """A fact of the instance that `owner` yields; `owner.type.subject` says which subject."""

    owner: Value
    fact: str


@frozen(repr=False)
class Operation(Value):
    """What is computed of these values, as `kinds.operation` says.

    The sign is one of + - * /; `steps` for the whole cones from the first up to the last, negative
    if the last is cooler; `hotter` or `cooler` for the next whole cone. Of a condition it is one of
    = < <= > >=; `one of` for a word and those that are meant; `mentions` for a text and what it
    contains; `not` for the opposite.
    """

    sign: str
    operands: tuple[Value, ...]


@frozen(repr=False)
class Count(Value):
    """How many instances of `domain` there are."""

    type: Type = field(default=NUMBER, init=False)
    domain: Value


@frozen(repr=False)
class Missing(Value):
    """The fact is not stated, or the single subject is not in the plan."""

    type: Type = field(default=FLAG, init=False)
    value: Value


@frozen(repr=False)
class AllOf(Value):
    """Every part holds."""

    type: Type = field(default=FLAG, init=False)
    parts: tuple[Value, ...]


@frozen(repr=False)
class AnyOf(Value):
    """At least one part holds."""

    type: Type = field(default=FLAG, init=False)
    parts: tuple[Value, ...]


@frozen(repr=False)
class Quantified(Value):
    """`word` is some or every; the condition is asked of each instance of `domain`."""

    type: Type = field(default=FLAG, init=False)
    word: str
    domain: Value
    condition: Value


def denied(condition: Value) -> Operation:
    """The opposite; unknown stays unknown."""
    return Operation(FLAG, "not", (condition,))


Closure = Callable[[Any, Any], Any]


class Compiler:
    """Makes closures for one vocabulary with the limits that are in force, by name."""

    def __init__(self, vocabulary: Vocabulary, limits: Mapping[str, Any]) -> None:
        self._vocabulary = vocabulary
        self._limits = limits

    def value(self, node: Value) -> Closure:
        """The closure that yields a value, None where it is missing or unknown."""
        match node:
            case Constant(value=constant):
                return lambda _case, _it: constant
            case LimitOf(name=name):
                limit = self._limits[name]
                return lambda _case, _it: limit
            case Operation(sign=sign, operands=operands):
                known = operation(sign, *(one.type.kind for one in operands))
                if known is not None:
                    return _of_stated(known[1], *map(self.value, operands))
            case Count(domain=domain):
                return _of_stated(_count, self.instances(domain))
            case Missing(value=fact):
                return self._missing(fact)
            case AllOf(parts=parts) | AnyOf(parts=parts):
                return self._all_or_any(parts, isinstance(node, AnyOf))
            case Quantified():
                return self._quantified(node)
        raw = self._raw(node)

        def value(case: Any, it: Any) -> Any:
            found = without_place(raw(case, it))
            return None if found is UNREADABLE else found

        return value

    def _all_or_any(self, parts: tuple[Value, ...], decisive: bool) -> Closure:
        """Each part is made when it is first reached: mostly the first decides."""
        tests: list[Closure] = []

        def verdicts(case: Any, it: Any) -> Iterator[bool | None]:
            for at, part in enumerate(parts):
                if at == len(tests):
                    tests.append(self.value(part))
                yield tests[at](case, it)

        return lambda case, it: _decided(verdicts(case, it), decisive)

    def place(self, node: Value, case: Any, it: Any) -> Span | None:
        """Where a fact or subject was written, None where it was not."""
        found = self._raw(node)(case, it)
        if isinstance(found, Written):
            return found.span
        if found is None or found is UNREADABLE or not node.type.subject:
            return None
        return self.subject(node).place(found)

    def subject(self, node: Value) -> Subject:
        """The subject of a value of that kind."""
        return self._vocabulary.subject_of(node.type)

    def _raw(self, node: Value) -> Closure:
        """The closure that yields a leaf as the vocabulary gives it: Written, UNREADABLE, None.

        A fact of something missing is UNREADABLE, for nothing can be known of it.
        """
        match node:
            case It():
                return lambda _case, it: it
            case Single():
                each = self.subject(node).each
                return lambda case, _it: next(iter(each(case)), None)
            case FactOf(owner=owner, fact=name):
                subject = self.subject(owner)
                fact = subject.find(name)
                if fact is None:
                    raise LookupError(f"the vocabulary has no fact {name!r} of {subject.name}")
                get = fact.get
                if isinstance(owner, It):
                    return lambda _case, it: get(it)
                owned = self.value(owner)

                def fact_of(case: Any, it: Any) -> Any:
                    found = owned(case, it)
                    return UNREADABLE if found is None else get(found)

                return fact_of
        raise TypeError(f"no such value: {node!r}")

    def _missing(self, node: Value) -> Closure:
        raw = self._raw(node)

        def missing(case: Any, it: Any) -> bool | None:
            found = without_place(raw(case, it))
            return None if found is UNREADABLE else found is None

        return missing

    def instances(self, node: Value) -> Callable[[Any, Any], Iterable[Any] | None]:
        """The closure that yields the instances of a domain; None where they are not known."""
        if isinstance(node, EachOf):
            each = self.subject(node).each
            return lambda case, _it: each(case)
        return self.value(node)

    def _quantified(self, node: Quantified) -> Closure:
        domain, test = self.instances(node.domain), self.value(node.condition)
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


def _of_stated(function: Callable[..., Any], *values: Closure) -> Closure:
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


def _count(instances: Iterable[Any]) -> float | None:
    counted = tuple(instances)
    return None if UNREADABLE in counted else float(len(counted))
