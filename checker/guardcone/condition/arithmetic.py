"""Arithmetic on values, by their kinds; None where it has no answer."""

import operator
from collections.abc import Callable
from typing import Any

from guardcone.condition.kinds import Kind
from guardcone.values import Cone, Duration, Quantity, Rate, TemperatureDifference

__all__ = ["arithmetic", "next_cone", "steps"]

_MINUTE = Duration.unit_named("min")
_MINUTES_AN_HOUR = 60.0


def arithmetic(sign: str, left: Kind, right: Kind) -> Callable[[Any, Any], Any]:
    """The function for `left sign right`; the kinds must be a pair that `kinds.py` allows."""
    if sign == "+":
        return operator.add
    if sign == "-":
        return operator.sub
    if sign == "*":
        return operator.mul
    if left is Kind.TEMPERATURE_DIFFERENCE and right is Kind.RATE:
        return _time_taken
    return _ratio


def _ratio(one: Any, other: Any) -> Any:
    amount = other.base if isinstance(other, Quantity) else other
    return None if amount == 0 else one / other


def _time_taken(gap: TemperatureDifference, rate: Rate) -> Duration | None:
    return Duration(gap.base / rate.base * _MINUTES_AN_HOUR, _MINUTE) if rate.base else None


def steps(first: Cone, last: Cone) -> float | None:
    """Whole cones from `first` up to `last`; None for cones of two numberings."""
    return first.number.steps_to(last.number) if first.comparable(last) else None


def next_cone(hotter: bool, cone: Cone) -> Cone | None:
    """The next whole cone up or down in the same series; None past the end of the scale."""
    number = cone.number.hotter() if hotter else cone.number.cooler()
    return None if number is None else cone.numbered(number)
