"""How a number is kept and written: settled against rounding, with every digit or with few."""

from decimal import Decimal
from math import floor, isfinite, log10

__all__ = [
    "coarse",
    "every_digit",
    "few_digits",
    "one_decimal",
    "settle",
    "to_places",
]


def settle(amount: float) -> float:
    """Drop the last bits of a conversion, so that 100 °F/h of one line equals 100 °F/h of another.

    A billionth of a degree, millimetre or minute is far below anything a kiln can show. Past
    100 000 a float has no ninth decimal to spare; twelve digits are kept there.
    """
    if -1e5 < amount < 1e5:
        return round(amount, 9) + 0.0  # + 0.0 makes 0.0 of -0.0
    if not isfinite(amount):
        raise ValueError(f"{amount} is not an amount of anything")
    return float(f"{amount:.12g}")


def every_digit(amount: float) -> str:
    """All digits of a number, never as `-0`, `60.0` or `1e+16`."""
    text = repr(amount)
    if "e" in text:
        text = format(Decimal(text), "f")
    return text.removesuffix(".0")


def few_digits(amount: float) -> str:
    """A number for people: whole from 100, one decimal from 10, two below, more for a crumb."""
    size = abs(amount)
    places = 0 if size >= 100 else 1 if size >= 10 else 2
    if 0 < size < 0.1:
        places = 1 - floor(log10(size))
    return to_places(amount, places)


def one_decimal(amount: float) -> str:
    """A number with one decimal below 100, whole from there on, more digits for a crumb."""
    size = abs(amount)
    return few_digits(amount) if size < 0.1 else to_places(amount, 0 if size >= 100 else 1)


def coarse(amount: float) -> str:
    """A number whole from 10 on, with one decimal below, more digits for a crumb."""
    size = abs(amount)
    return one_decimal(amount) if size < 9.95 else to_places(amount, 0)


def to_places(amount: float, places: int) -> str:
    """A number without trailing zeros and never as `-0` or `1e+03`."""
    text = f"{amount:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
