"""What a curve does to cones: progress, times, chances."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from math import exp, inf, log
from typing import Annotated

from attrs import frozen

from guardcone.firing.bending import clock_position, start_work
from guardcone.firing.cones import ConeKinetics, ladder
from guardcone.firing.curve import Curve
from guardcone.firing.heatwork import (
    ZERO_CELSIUS,
    hours_to_work,
    log_steady_work,
    running_work,
    work_of,
)
from guardcone.firing.uncertainty import (
    LEFT_OUT,
    Measuring,
    Share,
    Spread,
    chance,
    spread_of,
    verdict,
)

COVERAGE = 2.0  # the range of a position is this many standard deviations either way, about 95 %


@frozen
class ConeForecast:
    """What one cone does in one firing.

    `work` is W at the end of the curve (1.0 is down), `over` the degrees C of peak by which it is
    past its end (negative: short), `clock` 0.0 standing to 6.0 down, `clock_least` and
    `clock_most` its range, hours count from the start of the firing (None: it never comes to it),
    `effective_rate` the steady climb in C/h that would do the same work by the same peak.
    """

    kinetics: ConeKinetics
    work: float
    over: float
    clock: float
    clock_least: float
    clock_most: float
    start_hour: float | None
    down_hour: float | None
    effective_rate: float | None
    spread: Spread
    chance_down: float
    chance_moved: float
    verdict: str


@frozen
class EquivalentCone:
    """The firing as a number between cones of one series.

    `below` is the hottest cone that goes down, `above` the next one, `fraction` how far between
    them in degrees (0.0 to 1.0). `axis` is the same on the straight `axis` of ConeNumber
    (6.4 between 6 and 7; -4.6 between 06 and 05). `text` says it so that it cannot be misread:
    "8.4", but "06 and 0.4 of the way to 05½", because 06.4 could be hotter or cooler than 06.
    """

    series: str
    text: str
    below: str | None = None
    above: str | None = None
    fraction: Share = 0.0
    axis: Annotated[float | None, LEFT_OUT] = None


def works(curve: Curve, cones: Iterable[ConeKinetics]) -> list[float]:
    """Heat-work of each cone at the end of the curve; 1.0 is down."""
    raw = curve.raw
    return [work_of(raw, cone.theta, cone.log_a) for cone in cones]


def hour_of_work(
    curve: Curve, kinetics: ConeKinetics, wanted: float, running: Sequence[float] | None = None
) -> float | None:
    """Hour at which a cone's heat-work reaches `wanted` (> 0), or None where it never does."""
    done = running_work(curve.raw, kinetics.theta, kinetics.log_a) if running is None else running
    if not done or done[-1] < wanted:
        return None
    before = 0.0
    for index, total in enumerate(done):
        if total >= wanted:
            into = hours_to_work(curve.raw[index], kinetics.theta, kinetics.log_a, wanted - before)
            return curve.pieces[index].start_hour + into
        before = total
    return None


def effective_rate(kinetics: ConeKinetics, peak: float, work: float) -> float | None:
    """Steady climb from cold, C/h, that does `work` by `peak` C; None where no work was done."""
    if work <= 1e-12:
        return None
    steady = log_steady_work(peak + ZERO_CELSIUS, kinetics.theta)
    return exp(min(700.0, max(-700.0, kinetics.log_a + steady - log(work))))


def forecast_cone(
    curve: Curve, kinetics: ConeKinetics, measuring: Measuring | None = None
) -> ConeForecast:
    """Everything the curve says about one cone."""
    running = running_work(curve.raw, kinetics.theta, kinetics.log_a)
    work = running[-1] if running else 0.0
    peak = curve.peak
    started = start_work(kinetics)
    rate = effective_rate(kinetics, peak, work)
    spread = spread_of(kinetics, peak, rate, measuring or Measuring())
    kelvin = peak + ZERO_CELSIUS
    fold = kelvin * kelvin / kinetics.theta  # degrees of peak that multiply the work by e
    over = fold * log(work) if work > 0.0 else -inf
    moved = over - fold * log(started)
    factor = exp(min(600.0, COVERAGE * spread.celsius / fold))
    down = chance(over, spread.celsius)
    bending = chance(moved, spread.celsius)
    return ConeForecast(
        kinetics=kinetics,
        work=work,
        over=over,
        clock=clock_position(kinetics, work),
        clock_least=clock_position(kinetics, work / factor),
        clock_most=clock_position(kinetics, min(1e300, work) * factor),
        start_hour=hour_of_work(curve, kinetics, started, running),
        down_hour=hour_of_work(curve, kinetics, 1.0, running),
        effective_rate=rate,
        spread=spread,
        chance_down=down,
        chance_moved=bending,
        verdict=verdict(down, bending),
    )


def equivalent_cone(curve: Curve, series: str) -> EquivalentCone:
    """The firing as a number between cones of a series; below or past its ladder it says so."""
    cones = ladder(series)
    if not cones:
        return EquivalentCone(series, "no cone of this series has a law")
    raw = curve.raw

    def work(index: int) -> float:
        return work_of(raw, cones[index].theta, cones[index].log_a)

    # From the cone that ends near the peak up to one that hardly moves, then down to one that
    # went down: neighbours differ in energy, so the hottest that went down is what counts.
    top = min(len(cones) - 1, bisect_right(cones, curve.peak, key=_end_60))
    above_work = work(top)
    while top < len(cones) - 1 and above_work > 1e-4:
        top += 1
        above_work = work(top)
    index = top
    below_work = above_work
    while index >= 0 and below_work < 1.0:
        above_work = below_work
        index -= 1
        below_work = work(index) if index >= 0 else 0.0
    if index < 0:
        return EquivalentCone(series, f"below {cones[0].cone}", above=cones[0].cone)
    below = cones[index]
    if index == len(cones) - 1:
        text = below.cone if below_work < 1.0 + 1e-9 else f"past {below.cone}"
        return EquivalentCone(series, text, below.cone, axis=below.axis)
    above = cones[index + 1]
    past = below.degrees_per_fold * log(below_work)
    short = -above.degrees_per_fold * log(above_work) if above_work > 0.0 else inf
    fraction = 0.0 if short == inf else past / (past + short)
    axis = below.axis + fraction * (above.axis - below.axis)
    text = _text(below, above, fraction, axis)
    return EquivalentCone(series, text, below.cone, above.cone, fraction, axis)


def _text(below: ConeKinetics, above: ConeKinetics, fraction: float, axis: float) -> str:
    if round(fraction, 1) == 0.0:
        return below.cone
    if round(fraction, 1) == 1.0:
        return above.cone
    if below.axis >= 1.0:
        return f"{axis:.1f}"
    return f"{below.cone} and {fraction:.1f} of the way to {above.cone}"


def _end_60(kinetics: ConeKinetics) -> float:
    return kinetics.end_60
