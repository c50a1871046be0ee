"""The units of grammar/units.csv: what each is worth, and how people spell it."""

import csv
from functools import cache

from attrs import evolve, frozen

from guardcone.documents import document_text

__all__ = ["Unit", "spellings_of", "units_of"]


@frozen
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
    for row in csv.DictReader(document_text("grammar", "units.csv").splitlines()):
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
