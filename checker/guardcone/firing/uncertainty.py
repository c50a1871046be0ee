"""How far a forecast may be out, and what that is worth.

Parts taken as independent are added as root-sum-square of standard deviations. A limit given
without a distribution (tolerance, rounding, a spread from top to bottom) counts as rectangular:
its half-width over the square root of three (GUM, JCGM 100:2008, 4.3.7).
Not counted: ageing and drift of the thermocouple, where it sits, the set of the cone, the air in
the kiln, a controller off its curve.
"""

from __future__ import annotations

from functools import lru_cache
from math import erf, log, sqrt
from typing import Annotated, Final

from attrs import frozen

from guardcone.firing.cones import ConeKinetics
from guardcone.firing.tables import table, usual

# The words are the units of keys in JSON; those of temperatures stand for °C and °F.
Celsius = Annotated[float, "temperature"]
CelsiusApart = Annotated[float, "difference"]
CelsiusPerHour = Annotated[float, "rate"]
Hours = Annotated[float, "h"]
KilowattHours = Annotated[float, "kwh"]
OClock = Annotated[float, "oclock"]
Share = Annotated[float, "share"]
SquareMillimetresPerSecond = Annotated[float, "mm2_per_s"]

# Marks a field that other programs are not told, or under another name.
LEFT_OUT: Final = "left out"

# °C/h; the rates that every fitted series is published at.
CHART_SLOWEST, CHART_FASTEST = usual("chart_slowest"), usual("chart_fastest")
_ROOT_THREE = sqrt(3.0)
MOST_FOLDS = 5.0  # beyond this the cone is so far from moving that the figure means nothing


@frozen
class Tolerance:
    """Half-width in C of a thermocouple's tolerance; `defined` False outside the standard's span.

    Outside, `celsius` carries the same percentage on, as an estimate.
    """

    celsius: float
    defined: bool


@frozen
class Measuring:
    """How the kiln is measured; None is not known and a usual value stands in.

    `thermocouple` is a letter type; its `grade` picks the tolerance: standard or special by ASTM
    E230, class 1 or class 2 by IEC 60584-1;
    `top_to_bottom` is the whole difference between the hottest and coolest shelf in C.
    """

    thermocouple: str | None = None
    grade: str = "standard"
    top_to_bottom: float | None = None


@frozen
class Part:
    """One source of doubt: its standard deviation in C, and whether it was assumed, not given."""

    name: str
    standard_deviation: CelsiusApart
    assumed: bool
    basis: str


@frozen
class Spread:
    """All parts, and `celsius`, their root-sum-square: one standard deviation in C."""

    parts: tuple[Part, ...]
    celsius: float


@lru_cache(maxsize=1024)
def thermocouple_tolerance(
    thermocouple: str, celsius: float, grade: str = "standard"
) -> Tolerance | None:
    """Tolerance of a new thermocouple at a temperature; None for a type the table lacks."""
    rows = _spans(thermocouple, grade)

    def away(row: dict[str, str]) -> float:
        return max(float(row["from_c"]) - celsius, celsius - float(row["to_c"]), 0.0)

    if not rows:
        return None
    row = min(rows, key=away)
    fixed, share = float(row["fixed_c"]), float(row["percent"]) / 100.0
    if row["above_c"]:
        width = fixed + share * max(0.0, celsius - float(row["above_c"]))
    else:
        width = max(fixed, share * abs(celsius))
    return Tolerance(width, away(row) == 0.0)


def thermocouple_limit(thermocouple: str, grade: str = "standard") -> float | None:
    """C up to which the table gives a type a tolerance; None for a type it lacks."""
    return max((float(row["to_c"]) for row in _spans(thermocouple, grade)), default=None)


def _spans(thermocouple: str, grade: str) -> list[dict[str, str]]:
    """The rows of a type and grade; each grade belongs to one standard."""
    wanted = (thermocouple.upper(), grade)
    return [row for row in table("thermocouples") if (row["type"], row["grade"]) == wanted]


def spread_of(
    kinetics: ConeKinetics,
    peak: float,
    effective_rate: float | None,
    measuring: Measuring,
    cooling: float = 0.0,
) -> Spread:
    """How far the forecast of one cone may be out, in C at the peak.

    `effective_rate` in C/h is the steady climb that would do the same work by the same peak,
    `cooling` what cooling freely does to the cone, in C of peak.
    """
    kind = measuring.thermocouple
    found = thermocouple_tolerance(kind, peak, measuring.grade) if kind else None
    tolerance = found or thermocouple_tolerance("K", peak)
    assert tolerance is not None
    named = f"type {kind}" if found else "type K assumed"
    beyond = "" if tolerance.defined else ", beyond the span of its standard"
    making, rounding = usual("cone_making_tolerance"), usual("cone_chart_rounding") / _ROOT_THREE
    fit = sqrt(kinetics.residual * kinetics.residual + rounding * rounding)
    folds = rate_folds(effective_rate)
    given = measuring.top_to_bottom
    usable = given is not None and 0.0 <= given < 1000.0
    whole = given if given is not None and usable else usual_spread(peak)
    ends = "given" if usable else "usual value"
    misses = f"misses of the law at the published rates; energy from {kinetics.energy_from}"
    grows = "grows with every e-fold of rate outside 60 to 150 C/h"
    outside = Part("rate outside the chart", kinetics.spread_per_fold * folds, False, grows)
    shape = "half of what free cooling is worth; how fast a kiln falls at first is estimated"
    falling = Part("cooling freely", usual("cooling_doubt") * cooling, True, shape)
    parts = (
        Part("thermocouple", tolerance.celsius / _ROOT_THREE, not found, named + beyond),
        Part("making of cones", making / _ROOT_THREE, True, "usual value"),
        Part("chart and fit", fit, False, misses),
        *([outside] if folds > 0.0 else []),
        *([falling] if cooling > 0.0 else []),
        Part("top to bottom", 0.5 * whole / _ROOT_THREE, not usable, ends),
    )
    total = 0.0
    for part in parts:
        total += part.standard_deviation * part.standard_deviation
    return Spread(parts, sqrt(total))


def usual_spread(peak: float) -> float:
    """C from the hottest shelf to the coolest where a kiln says nothing: wider at low heat."""
    high, low = usual("top_to_bottom_spread"), usual("top_to_bottom_spread_low")
    cool, hot = usual("spread_low_at"), usual("spread_high_at")
    share = min(1.0, max(0.0, (hot - peak) / (hot - cool)))
    return high + share * (low - high)


def rate_folds(effective_rate: float | None) -> float:
    """How many e-folds a heating rate lies outside the chart's 60 to 150 C/h; 0.0 inside.

    0.0 too where no rate can be told, because the cone has done no work worth counting.
    """
    if effective_rate is None:
        return 0.0
    if effective_rate < CHART_SLOWEST:
        ratio = CHART_SLOWEST / effective_rate if effective_rate > 0.0 else float("inf")
    else:
        ratio = effective_rate / CHART_FASTEST
    return 0.0 if ratio <= 1.0 else min(MOST_FOLDS, log(ratio))


def chance(degrees: float, spread: float) -> float:
    """Probability that a value `degrees` above a limit really is above it (normal distribution)."""
    if spread <= 0.0:
        return 1.0 if degrees >= 0.0 else 0.0
    return 0.5 * (1.0 + erf(degrees / (spread * sqrt(2.0))))


# From which chance on each word is said; the words mirror each other about one half.
LIKELIHOODS = (
    (0.95, "almost certain"),
    (0.80, "likely"),
    (0.50, "more likely than not"),
    (0.20, "less likely than not"),
    (0.05, "unlikely"),
    (0.0, "very unlikely"),
)


def likelihood(chance: float) -> str:
    """The words for a chance, the same wherever a forecast speaks of likelihood.

    Almost certain from 0.95, likely from 0.80, more likely than not from 0.50, less likely than not
    from 0.20, unlikely from 0.05, very unlikely below that.
    """
    return next(words for least, words in LIKELIHOODS if chance >= least)


def verdict(chance_down: float, chance_moved: float) -> str:
    """What becomes of a cone, from the chances that it is down and that it moved.

    Of going down, bending and standing it says the one that is more likely than not.
    """
    if chance_down >= 0.5:
        return f"{likelihood(chance_down)} to go down"
    if chance_moved >= 0.5:
        return f"{likelihood(chance_moved)} to bend"
    return f"{likelihood(1.0 - chance_moved)} to stand"
