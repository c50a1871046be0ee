"""The parts of a condition once every name and kind is known.

These trees hold no text and no places, so that a rule book can be compiled without its parser.
"""

from typing import Any

from attrs import frozen

from guardcone.condition.kinds import Type

__all__ = [
    "AllOf",
    "AnyOf",
    "Compare",
    "Condition",
    "Constant",
    "Count",
    "EachOf",
    "FactOf",
    "Flag",
    "It",
    "LimitOf",
    "Mentions",
    "Missing",
    "NotOf",
    "Operation",
    "Quantified",
    "Single",
    "Value",
    "WordIn",
]


@frozen
class Value:
    """Something with a kind that a fact, a limit or an operation yields."""

    type: Type


@frozen
class Constant(Value):
    """A Quantity, Cone, float or str written in the rule."""

    value: Any


@frozen
class LimitOf(Value):
    """The limit of this name, as it is in force."""

    name: str


@frozen
class It(Value):
    """The instance in question: the rule's own, inside `some ... has (...)` the one looked at."""


@frozen
class Single(Value):
    """The one instance of a single subject: the kiln, the plan."""


@frozen
class EachOf(Value):
    """All instances of a subject in the case."""


@frozen
class FactOf(Value):
    """A fact of the instance that `owner` yields; `owner.type.subject` says which subject."""

    owner: Value
    fact: str


@frozen
class Operation(Value):
    """What is computed of these values, as `kinds.operation` says.

    The sign is one of + - * /; `steps` for the whole cones from the first up to the last, negative
    if the last is cooler; `hotter` or `cooler` for the next whole cone.
    """

    sign: str
    operands: tuple[Value, ...]


@frozen
class Condition:
    """Something that holds, does not hold, or is unknown."""


@frozen
class Count(Value):
    """How many instances of `domain` there are."""

    domain: Value


@frozen
class Compare(Condition):
    """`left sign right`, the sign one of = < <= > >=.

    Cones are equal by number, texts whatever their capitals.
    """

    sign: str
    left: Value
    right: Value


@frozen
class WordIn(Condition):
    """The word is one of these."""

    left: Value
    words: tuple[str, ...]


@frozen
class Mentions(Condition):
    """The text contains this one, whatever its capitals."""

    left: Value
    text: str


@frozen
class Missing(Condition):
    """The fact is not stated, or the single subject is not in the plan."""

    value: Value


@frozen
class Flag(Condition):
    """A fact of the kind yes or no."""

    value: Value


@frozen
class NotOf(Condition):
    """The opposite; unknown stays unknown."""

    inner: Condition


@frozen
class AllOf(Condition):
    """Every part holds."""

    parts: tuple[Condition, ...]


@frozen
class AnyOf(Condition):
    """At least one part holds."""

    parts: tuple[Condition, ...]


@frozen
class Quantified(Condition):
    """`word` is some or every; the condition is asked of each instance of `domain`."""

    word: str
    domain: Value
    condition: Condition
