"""The small tables of usual values, bands, notes and bending figures."""

from __future__ import annotations

from functools import cache
from math import inf

from attrs import frozen

from guardcone.documents import document_rows


@frozen(repr=False)
class Band:
    """A stretch of temperatures in which ware is at risk, in °C.

    `low` is None where it is the local boiling point, `high` infinite where there is no end.
    """

    name: str
    low: float | None
    high: float


def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of rules/tables/NAME.csv as text; raises FileNotFoundError where it is missing."""
    return document_rows("rules", "tables", f"{name}.csv")


@cache
def column(name: str, of: str) -> dict[str, str]:
    """One column of a table by what stands first in each row."""
    return {next(iter(row.values())): row[of] for row in table(name)}


@cache
def bands() -> tuple[Band, ...]:
    """The lines of bands.csv, in its order."""
    return tuple(
        Band(
            row["band"],
            None if row["low_c"] == "boiling" else float(row["low_c"]),
            float(row["high_c"] or inf),
        )
        for row in table("bands")
    )


@cache
def band(name: str) -> Band:
    """One line of bands.csv; raises KeyError for a name it lacks."""
    return {one.name: one for one in bands()}[name]


@cache
def usual(name: str) -> float:
    """The number of a line of usual_values.csv, in its unit; raises KeyError for a name it lacks.

    Where it comes from and how sure it is, the line says.
    """
    return float(column("usual_values", "value")[name])


@cache
def bending_figure(name: str) -> float:
    """The number of a line of bending.csv, in its unit; raises KeyError for a name it lacks."""
    return float(column("bending", "value")[name])


def note(name: str) -> str:
    """A published rule of thumb in words, from notes.csv; raises KeyError for a name it lacks."""
    return column("notes", "text")[name]
