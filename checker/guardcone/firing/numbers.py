"""Kinds of number in the records of a forecast: each field says what it is measured in."""

from typing import Annotated, Final

__all__ = [
    "LEFT_OUT",
    "Celsius",
    "CelsiusApart",
    "CelsiusPerHour",
    "Hours",
    "KilowattHours",
    "OClock",
    "Share",
    "SquareMillimetresPerSecond",
]

# The words are the units of keys in JSON; those of temperatures stand for °C and °F.
Celsius = Annotated[float, "temperature"]
CelsiusApart = Annotated[float, "difference"]
CelsiusPerHour = Annotated[float, "rate"]
Hours = Annotated[float, "h"]
KilowattHours = Annotated[float, "kwh"]
OClock = Annotated[float, "oclock"]
Share = Annotated[float, "share"]
SquareMillimetresPerSecond = Annotated[float, "mm2_per_s"]

# Marks a field that other programs are not told.
LEFT_OUT: Final = "left out"
