"""The kinds of measure that are in °C or in °F."""

from typing import Literal

from guardcone.values.quantity import Quantity, Rate, Temperature, TemperatureDifference

__all__ = ["IN_DEGREES", "scale_of"]

IN_DEGREES = (Temperature, TemperatureDifference, Rate)


def scale_of(measure: Quantity) -> Literal["C", "F"] | None:
    """The scale a temperature, a difference or a rate is in, None for any other measure."""
    if not isinstance(measure, IN_DEGREES):
        return None
    return "F" if measure.unit.plain[0] == "F" else "C"
