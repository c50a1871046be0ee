"""Room: the computed firing; here the ware: lag of its core, local boiling, time to dry.

Walls in mm, diffusivity in mm2/s, altitude in m above the sea, pressure in Pa.
"""

from __future__ import annotations

from math import isfinite, log10

from attrs import frozen

from guardcone.firing.curve import Curve
from guardcone.firing.tables import table, usual

SECONDS_PER_HOUR = 3600.0

# Water, Antoine constants for mmHg and C, 1 to 100 C (recalled; checked against 100.0, 95.0 and
# 90.0 C at 0, 1500 and 3000 m).
_A, _B, _C = 8.07131, 1730.63, 233.426
_MMHG = 133.322  # Pa

THICK_FROM, THICK_TO = 12.5, 25.0  # mm; see drying.csv
DRYING_REFERENCE = 82.0  # C; where the longer published holds are held
DRYING_FLOOR = 40.0  # C; cooler than this nothing is counted as drying in the kiln


def core_lag(
    rate: float, wall: float, diffusivity: float | None = None, *, one_sided: bool = False
) -> float:
    """K by which the middle (or the far side) of a wall lags a steady climb at `rate` C/h.

    r L^2 / (2 alpha), L half the wall heated from both sides, the whole wall from one
    (Carslaw and Jaeger, Conduction of Heat in Solids; recalled). An estimate: no source measured a
    dry pottery body, so alpha (usual 0.3 mm2/s) may be out by three either way.
    """
    alpha = _diffusivity(diffusivity)
    path = wall if one_sided else 0.5 * wall
    return rate / SECONDS_PER_HOUR * path * path / (2.0 * alpha)


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


@frozen
class Drying:
    """Hours needed below local boiling: the least and the most that published advice gives.

    `known` is False where the dampness is not one of dampness.csv; bone dry is taken then.
    `beyond` is True where the wall is thicker than any a hold is published for (75 mm).
    """

    least: float
    most: float
    known: bool
    beyond: bool


def drying_hours(wall: float, dampness: str) -> Drying:
    """Hours to hold below local boiling by wall in mm and dampness (a word of dampness.csv).

    Drawn between published holds (drying.csv), whose disagreement is kept as the range:
    least is 1 h per 6 mm, up to the 12 h a forum has for 75 mm; most is 3 h up to 12.5 mm, then
    with the square of the wall to 12 h at 25 mm. Nobody publishes more than 12 h.
    Dampness multiplies both; its factors above 1 are estimates.
    A number of hours is no guarantee: thick ware has burst after 12.
    """
    factor, known = 1.0, False
    for row in table("dampness"):
        if row["dampness"] == dampness:
            factor, known = float(row["factor"]), True
    thick = max(0.0, wall) if isfinite(wall) else 0.0
    least = min(12.0, thick / 6.0)
    most = 3.0 * (min(THICK_TO, max(THICK_FROM, thick)) / THICK_FROM) ** 2
    return Drying(least * factor, most * factor, known, thick > 75.0)


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
