"""Computed numbers become amounts that point at the plan."""

from math import isfinite
from typing import Any, TypeVar

from guardcone.outlook.planned import PlannedFiring
from guardcone.plan.schedule import Segment
from guardcone.span import Written
from guardcone.values import (
    Duration,
    Percentage,
    Quantity,
    Rate,
    Temperature,
    TemperatureDifference,
)

__all__ = [
    "at_segment",
    "degrees",
    "difference",
    "hours",
    "percent",
    "rate",
    "segment_at",
]

Q = TypeVar("Q", bound=Quantity)

# Sums of hours and degrees come out a hair beside the round number that a plan means; this many
# decimals of °C, °C/h or hours are kept, so that 60 °C/h is never slower than 60 °C/h.
_DECIMALS = 6


def _settled(kind: type[Q], amount: float | None, unit: str) -> Q | None:
    if amount is None or not isfinite(amount):
        return None
    return kind.of(round(amount, _DECIMALS), unit)


def degrees(celsius: float | None) -> Temperature | None:
    """A temperature to show, None for none or none finite."""
    return _settled(Temperature, celsius, "C")


def difference(celsius: float | None) -> TemperatureDifference | None:
    """A temperature difference to show."""
    return _settled(TemperatureDifference, celsius, "C")


def rate(celsius_per_hour: float | None) -> Rate | None:
    """A rate to show."""
    return _settled(Rate, celsius_per_hour, "C/h")


def hours(count: float | None) -> Duration | None:
    """A length of time to show."""
    return _settled(Duration, count, "h")


def percent(share: float) -> Percentage:
    """A probability to show."""
    return Percentage.of(round(100 * share), "%")


def at_segment(value: Any, segment: Segment | None) -> Any:
    """The value in the units of the segment it comes from, pointing at that segment."""
    if value is None or segment is None:
        return value
    written = segment.rate or segment.to
    if written is not None and isinstance(value, Temperature | TemperatureDifference | Rate):
        value = value.like(written.value)
    return Written(value, segment.span)


def segment_at(firing: PlannedFiring, hour: float) -> Segment | None:
    """The segment under way just after an hour of the firing."""
    for piece in firing.curve.pieces:
        if piece.start_hour <= hour < piece.end_hour:
            return firing.segment_of_leg(piece.leg)
    return firing.segments[-1] if firing.segments else None
