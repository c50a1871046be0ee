"""Every kind of measure that the tests of this folder go through."""

from guardcone.values import (
    Angle,
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

KINDS: tuple[type[Quantity], ...] = (
    Angle,
    Duration,
    Length,
    Mass,
    Percentage,
    Power,
    Rate,
    Temperature,
    TemperatureDifference,
    Volume,
)
