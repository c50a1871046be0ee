"""The small tables of usual values, notes and bending figures."""

from __future__ import annotations

import csv
from functools import cache
from math import inf

from attrs import frozen

from guardcone.documents import document_path


@frozen
class Band:
    """A stretch of temperatures in which ware is at risk, in °C.

    `low` is None where it is the local boiling point, `high` infinite where there is no end.
    """

    name: str
    low: float | None
    high: float


@frozen
class Figure:
    """A number out of a table with its unit and where it comes from."""

    value: float
    unit: str
    source: str
    confidence: str


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of rules/tables/NAME.csv as text; raises FileNotFoundError where it is missing."""
    with document_path("rules", "tables", f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


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
def usual_figure(name: str) -> Figure:
    """One line of usual_values.csv; raises KeyError for a name it lacks."""
    return _figure("usual_values", "name", name)


def usual(name: str) -> float:
    """The bare number of `usual_figure`, in the unit of its line."""
    return usual_figure(name).value


@cache
def bending_figure(name: str) -> Figure:
    """One line of bending.csv; raises KeyError for a name it lacks."""
    return _figure("bending", "what", name)


@cache
def note(name: str) -> str:
    """A published rule of thumb in words, from notes.csv; raises KeyError for a name it lacks."""
    for row in table("notes"):
        if row["note"] == name:
            return row["text"]
    raise KeyError(name)


def _figure(name: str, column: str, wanted: str) -> Figure:
    for row in table(name):
        if row[column] == wanted:
            return Figure(float(row["value"]), row["unit"], row["source"], row["confidence"])
    raise KeyError(wanted)
