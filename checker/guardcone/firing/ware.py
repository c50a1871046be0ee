"""The ware: lag of its core, local boiling, time to dry.

Walls in mm, diffusivity in mm2/s, altitude in m above the sea, pressure in Pa.
"""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import pairwise
from math import isfinite, log, log10

from attrs import frozen

from guardcone.firing.curve import Curve
from guardcone.firing.tables import column, table, usual

SECONDS_PER_HOUR = 3600.0

# Water, Antoine constants for mmHg and C, 1 to 100 C (recalled; checked against 100.0, 95.0 and
# 90.0 C at 0, 1500 and 3000 m).
_A, _B, _C = 8.07131, 1730.63, 233.426
_MMHG = 133.322  # Pa

# °C where the longer published holds are held, and below which nothing counts as drying.
DRYING_REFERENCE = usual("drying_reference")
DRYING_FLOOR = usual("drying_floor")


def core_lag(
    rate: float, wall: float, diffusivity: float | None = None, *, one_sided: bool = False
) -> float:
    """K by which the middle (or the far side) of a wall lags a steady climb at `rate` C/h.

    r L^2 / (2 alpha), L half the wall heated from both sides, the whole wall from one
    (Carslaw and Jaeger, Conduction of Heat in Solids; recalled). An estimate: no source measured a
    dry pottery body, so alpha (usual 0.3 mm2/s) may be out by three either way.
    """
    path = wall if one_sided else 0.5 * wall
    return rate / SECONDS_PER_HOUR * path * path / (2.0 * _diffusivity(diffusivity))


def lag_hours(wall: float, diffusivity: float | None = None, *, one_sided: bool = False) -> float:
    """Hours L^2 / alpha after which `core_lag` holds, and in which a lag evens out."""
    path = wall if one_sided else 0.5 * wall
    return path * path / _diffusivity(diffusivity) / SECONDS_PER_HOUR


def air_pressure(altitude: float) -> float:
    """Pa at an altitude in m, International Standard Atmosphere, kept within -500 to 9000 m."""
    height = min(9000.0, max(-500.0, altitude)) if isfinite(altitude) else 0.0
    return 101325.0 * float((1.0 - 2.25577e-5 * height) ** 5.25588)


def boiling_point(altitude: float = 0.0) -> float:
    """C at which water boils at an altitude in m."""
    return _B / (_A - log10(air_pressure(altitude) / _MMHG)) - _C


def vapour_pressure(celsius: float) -> float:
    """Pa of water vapour over water, by Antoine's equation; meant for 1 to 100 C."""
    return float(10.0 ** (_A - _B / (_C + celsius))) * _MMHG


@frozen(repr=False)
class Drying:
    """Hours needed below local boiling: the least and the most that published advice gives.

    `known` is False where the dampness is not one of dampness.csv; bone dry is taken then.
    `beyond` is True where the wall is thicker than any a hold is published for (75 mm).
    """

    least: float
    most: float
    known: bool
    beyond: bool


@lru_cache(maxsize=256)
def drying_hours(wall: float, dampness: str) -> Drying:
    """Hours to hold below local boiling by wall in mm and dampness (a word of dampness.csv).

    Drawn between published holds (drying.csv), whose disagreement is kept as the range: least is a
    thumb rule of 1 h per 6 mm, most is 3 h for ordinary ware, and from there rises with the square
    of the wall to the 12 h of thick ware. Nobody publishes more.
    Dampness multiplies both; its factors above 1 are estimates.
    A number of hours is no guarantee: thick ware has burst after 12.
    """
    factors = column("dampness", "factor")
    factor = float(factors.get(dampness, 1.0))
    thick = max(0.0, wall) if isfinite(wall) else 0.0
    first, *_, last = _published("least")
    least = min(last[1], first[1] * thick / first[0])
    most = _between(_published("most"), thick)
    return Drying(least * factor, most * factor, dampness in factors, thick > _thickest())


@cache
def _published(bound: str) -> tuple[tuple[float, float], ...]:
    """(mm, hours) of the holds that bound the range on one side, thinnest wall first."""
    rows = [row for row in table("drying") if row["bound"] == bound]
    ends = ("wall_from_mm", "wall_to_mm")
    return tuple(
        sorted((float(row[end]), float(row["hours_most"])) for row in rows for end in ends)
    )


@cache
def _thickest() -> float:
    """mm of the thickest wall that a hold is published for."""
    return max(float(row["wall_to_mm"]) for row in table("drying"))


def _between(points: tuple[tuple[float, float], ...], wall: float) -> float:
    """Hours for a wall in mm between published ones, by the power law through its neighbours."""
    hours = points[0][1]
    for (thin, short), (thick, long) in pairwise(points):
        if wall > thin:
            power = round(log(long / short) / log(thick / thin), 9)
            hours = short * (min(wall, thick) / thin) ** power
    return hours


def drying_done(curve: Curve, boiling: float) -> float:
    """Hours of drying a firing gives before it first reaches local boiling (C).

    Each hour counts by how hard water pushes out at its temperature: vapour pressure against that
    at 82 C, where the longer published holds are held (so an hour at 93 C counts 1.5, as 2 h there
    stand beside 3 h at 82 C). Nothing counts under 40 C.
    """
    done = 0.0
    for piece in curve.pieces:
        if piece.hours <= 0.0:
            continue
        end = piece.end_hour
        if piece.start >= boiling:
            break
        if piece.end >= boiling:
            end = piece.hour_at(boiling)
        steps = max(1, min(200, int(abs(piece.end - piece.start) / 2.0)))
        width = (end - piece.start_hour) / steps
        for step in range(steps):
            celsius = piece.temperature_at(piece.start_hour + (step + 0.5) * width)
            if celsius >= DRYING_FLOOR:
                done += width * vapour_pressure(celsius) / vapour_pressure(DRYING_REFERENCE)
    return done


def _diffusivity(given: float | None) -> float:
    usable = given is not None and isfinite(given) and given > 0.0
    return given if given is not None and usable else usual("diffusivity_dry_clay")
