"""The kinds of value a fact may have, what may be done with them, and what is computed of them."""

import operator
from collections.abc import Callable
from enum import Enum
from functools import partial
from typing import Any

from attrs import frozen

from guardcone.values import (
    Angle,
    Cone,
    Duration,
    Length,
    Mass,
    Percentage,
    Power,
    Quantity,
    Rate,
    Temperature,
    TemperatureDifference,
    Volume,
)

__all__ = [
    "ANGLE",
    "COMPARATIVES",
    "CONE",
    "DATE",
    "DURATION",
    "FLAG",
    "LENGTH",
    "MASS",
    "MOMENT",
    "NUMBER",
    "ORDERED",
    "PERCENTAGE",
    "POWER",
    "QUANTITY_CLASS",
    "RATE",
    "TEMPERATURE",
    "TEMPERATURE_DIFFERENCE",
    "TEXT",
    "VOLUME",
    "Kind",
    "Type",
    "comparatives_of",
    "many",
    "one",
    "operation",
    "words",
]


class Kind(Enum):
    """What sort of thing a value is; its value is how a sentence names it."""

    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    RATE = "rate"
    DURATION = "duration"
    LENGTH = "length"
    VOLUME = "volume"
    POWER = "power"
    MASS = "mass"
    ANGLE = "angle"
    PERCENTAGE = "percentage"
    CONE = "cone"
    NUMBER = "number"
    TEXT = "text"
    FLAG = "yes or no"
    WORD = "word"
    DATE = "date"
    MOMENT = "date and time"
    SUBJECT = "subject"


@frozen(repr=False)
class Type:
    """The kind of a value; for a word its closed list, for a subject which one and how many."""

    kind: Kind
    words: tuple[str, ...] = ()
    subject: str = ""
    is_many: bool = False

    def __str__(self) -> str:
        if self.kind is Kind.WORD:
            return f"word ({', '.join(self.words)})"
        if self.kind is Kind.SUBJECT:
            return f"any number of {self.subject}" if self.is_many else self.subject
        return str(self.kind.value)


TEMPERATURE = Type(Kind.TEMPERATURE)
TEMPERATURE_DIFFERENCE = Type(Kind.TEMPERATURE_DIFFERENCE)
RATE = Type(Kind.RATE)
DURATION = Type(Kind.DURATION)
LENGTH = Type(Kind.LENGTH)
VOLUME = Type(Kind.VOLUME)
POWER = Type(Kind.POWER)
MASS = Type(Kind.MASS)
ANGLE = Type(Kind.ANGLE)
PERCENTAGE = Type(Kind.PERCENTAGE)
CONE = Type(Kind.CONE)
NUMBER = Type(Kind.NUMBER)
TEXT = Type(Kind.TEXT)
FLAG = Type(Kind.FLAG)
DATE = Type(Kind.DATE)
MOMENT = Type(Kind.MOMENT)


def words(*spelled: str) -> Type:
    """The type of a word out of this closed list."""
    return Type(Kind.WORD, words=spelled)


def one(subject: str) -> Type:
    """The type of a fact that leads to one instance of a subject: the clay of a ware."""
    return Type(Kind.SUBJECT, subject=subject)


def many(subject: str) -> Type:
    """The type of a fact that leads to several instances: the cones of a witness set."""
    return Type(Kind.SUBJECT, subject=subject, is_many=True)


QUANTITY_CLASS: dict[Kind, type[Quantity]] = {
    Kind(quantity.kind): quantity
    for quantity in (
        *(Temperature, TemperatureDifference, Rate, Duration, Length),
        *(Volume, Power, Mass, Angle, Percentage),
    )
}

ORDERED = frozenset({*QUANTITY_CLASS, Kind.CONE, Kind.NUMBER, Kind.DATE, Kind.MOMENT})
# What scales by a number and adds to its own kind; a temperature on its scale does neither.
_EXTENTS = frozenset({*QUANTITY_CLASS, Kind.NUMBER} - {Kind.TEMPERATURE})
_WHEN = frozenset({Kind.DATE, Kind.MOMENT})

_HEAT = frozenset({Kind.TEMPERATURE, Kind.CONE})
# The words that compare, each with its sign and the kinds it is said of.
COMPARATIVES: dict[str, tuple[str, frozenset[Kind]]] = {
    "hotter than": (">", _HEAT),
    "cooler than": ("<", _HEAT),
    "faster than": (">", frozenset({Kind.RATE})),
    "slower than": ("<", frozenset({Kind.RATE})),
    "longer than": (">", frozenset({Kind.DURATION})),
    "shorter than": ("<", frozenset({Kind.DURATION})),
    **dict.fromkeys(("thicker than", "wider than"), (">", frozenset({Kind.LENGTH}))),
    **dict.fromkeys(("thinner than", "closer than"), ("<", frozenset({Kind.LENGTH}))),
    "later than": (">", _WHEN),
    "earlier than": ("<", _WHEN),
    "more than": (">", ORDERED),
    "less than": ("<", ORDERED),
    "above": (">", ORDERED),
    "below": ("<", ORDERED),
    "at least": (">=", ORDERED),
    "at most": ("<=", ORDERED),
}


def comparatives_of(kind: Kind) -> list[str]:
    """The words that are said of this kind, those for it alone before the general ones."""
    fitting = {word: len(kinds) for word, (_, kinds) in COMPARATIVES.items() if kind in kinds}
    return sorted(fitting, key=fitting.__getitem__)


def operation(sign: str, *kinds: Kind) -> tuple[Kind, Callable[..., Any]] | None:
    """The kind that an operation gives of these kinds, and its function; None without a meaning."""
    plainly = _PLAINLY.get(sign, _ratio)
    match sign, *kinds:
        case "+" | "-", Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE:
            return Kind.TEMPERATURE, plainly
        case "-", Kind.TEMPERATURE, Kind.TEMPERATURE:
            return Kind.TEMPERATURE_DIFFERENCE, plainly
        case "+" | "-", one, other if one is other and one in _EXTENTS:
            return one, plainly
        case ("*", Kind.NUMBER, one) | ("*", one, Kind.NUMBER) if one in _EXTENTS:
            return one, plainly
        case "/", Kind.TEMPERATURE_DIFFERENCE, Kind.RATE:
            return Kind.DURATION, _time_taken
        case "/", one, other if one is other and one in _EXTENTS:
            return Kind.NUMBER, _ratio
        case "steps", Kind.CONE, Kind.CONE:
            return Kind.NUMBER, _steps
        case "hotter" | "cooler", Kind.CONE:
            return Kind.CONE, partial(_next_cone, sign == "hotter")
        case "not", Kind.FLAG:
            return Kind.FLAG, operator.not_
        case "one of", Kind.WORD, Kind.WORD:
            return Kind.FLAG, lambda word, chosen: word in chosen
        case "mentions", Kind.TEXT, Kind.TEXT:
            return Kind.FLAG, lambda told, sought: sought.casefold() in told.casefold()
        case _, Kind() as one, other if one is other and sign in _COMPARISONS:
            return Kind.FLAG, _comparison(_COMPARISONS[sign], one)
    return None


_COMPARISONS: dict[str, Callable[[Any, Any], bool]] = {
    "=": operator.eq,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}
_PLAINLY = {"+": operator.add, "-": operator.sub, "*": operator.mul}
_MINUTE = Duration.unit_named("min")
_MINUTES_AN_HOUR = 60.0


def _comparison(
    compare: Callable[[Any, Any], bool], kind: Kind
) -> Callable[[Any, Any], bool | None]:
    """The test of two values of one kind: cones by number, texts whatever their capitals."""
    if kind is Kind.CONE:
        return lambda one, other: (
            compare(one.number, other.number) if one.comparable(other) else None
        )
    if kind is Kind.TEXT:
        return lambda one, other: compare(one.casefold(), other.casefold())
    if kind in QUANTITY_CLASS:
        # The kinds of both are known to agree, so their amounts will do.
        return lambda one, other: compare(one.base, other.base)
    return compare


def _ratio(one: Any, other: Any) -> Any:
    amount = other.base if isinstance(other, Quantity) else other
    return None if amount == 0 else one / other


def _time_taken(gap: TemperatureDifference, rate: Rate) -> Duration | None:
    return Duration(gap.base / rate.base * _MINUTES_AN_HOUR, _MINUTE) if rate.base else None


def _steps(first: Cone, last: Cone) -> float | None:
    """Whole cones from `first` up to `last`; None for cones of two numberings."""
    return first.number.steps_to(last.number) if first.comparable(last) else None


def _next_cone(hotter: bool, cone: Cone) -> Cone | None:
    """The next whole cone up or down in the same series; None past the end of the scale."""
    number = cone.number.hotter() if hotter else cone.number.cooler()
    return None if number is None else cone.numbered(number)
