"""The units of grammar/units.csv, and how a number is kept and written."""

from functools import cache
from math import floor, isfinite, log10

from attrs import evolve, frozen

from guardcone.documents import document_rows

__all__ = [
    "Unit",
    "every_digit",
    "few_digits",
    "one_decimal",
    "settle",
    "shortened",
    "spellings_of",
    "to_places",
    "to_whole",
    "unit_named",
    "units_of",
]

_LONGEST = 40


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
        from decimal import Decimal

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


def to_whole(amount: float, *, down: bool = False) -> str:
    """A number to the whole, or down to it, but as it stands where it is on a tenth, as written.

    More digits below 1.
    """
    size = abs(amount)
    # A rate that went through the other scale comes out a hair beside what is written.
    if size < 1.0 or abs(10.0 * size - round(10.0 * size)) < 1e-4:
        return one_decimal(amount)
    return to_places(floor(amount) if down else amount, 0)


def to_places(amount: float, places: int) -> str:
    """A number without trailing zeros and never as `-0` or `1e+03`."""
    text = f"{amount:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@frozen(repr=False)
class Unit:
    """A unit of one kind of measure: `base = amount * factor + offset`.

    `plain` is how a plan spells it (`C/h`), `symbol` how a sentence prints it (`°C/h`).
    """

    plain: str
    symbol: str
    factor: float = 1.0
    offset: float = 0.0


@cache
def _table() -> dict[str, dict[Unit, tuple[str, ...]]]:
    """The units of each dimension with their spellings, in the order of the document."""
    found: dict[str, dict[Unit, tuple[str, ...]]] = {}
    for row in document_rows("grammar", "units.csv"):
        unit = Unit(row["unit"], row["symbol"], _number(row["factor"]), _number(row["offset"]))
        found.setdefault(row["dimension"], {})[unit] = tuple(row["spellings"].split(", "))
    return found


def _number(text: str) -> float:
    """The value of `25.4` or `5/9`."""
    over, _, under = text.partition("/")
    return float(over) / float(under or 1)


@cache
def units_of(dimension: str) -> tuple[Unit, ...]:
    """The units of a dimension, the likeliest first; KeyError for one that the table lacks.

    A `temperature difference` has those of the temperature without their zero, a `rate` is any of
    them for an hour or a minute.
    """
    if dimension == "temperature difference":
        return tuple(evolve(unit, offset=0.0) for unit in units_of("temperature"))
    if dimension == "rate":
        times = {unit.plain: unit.factor for unit in units_of("duration")}
        return tuple(
            Unit(
                f"{unit.plain}/{time}",
                f"{unit.symbol}/{time}",
                unit.factor * times["h"] / times[time],
            )
            for time in ("h", "min")
            for unit in units_of("temperature")
        )
    return tuple(_table()[dimension])


def spellings_of(dimension: str, unit: str) -> tuple[str, ...]:
    """How people spell a unit of the table; KeyError for one that it lacks.

    A full stop may be left out, a blank behind one too; `per` stands for all that says so.
    """
    return next(words for one, words in _table()[dimension].items() if one.plain == unit)


@cache
def unit_named(dimension: str, plain: str) -> Unit:
    """The unit of a dimension with this plain spelling; KeyError for one that it lacks."""
    for unit in units_of(dimension):
        if unit.plain == plain:
            return unit
    raise KeyError(f"{dimension} has no unit {plain!r}")


def shortened(text: str) -> str:
    """A piece of what a person wrote, cut where it is too long for a sentence."""
    return text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
