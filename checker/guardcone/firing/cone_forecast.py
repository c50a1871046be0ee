"""What a curve does to cones: progress, clock position, times, chances.

The clock position from a cone's progress W:
Published are temperatures, not W: how many degrees of a steady 60 C/h climb lie between a clock
position and 6 o'clock (rules/tables/bending.csv). So W is first turned into degrees short of it,
    short = (T^2 / theta) * ln(1 / W), T the cone's own end at 60 C/h,
and the position follows from
    short = slope * (6 - clock) + curve * (6 - clock)^2,
the one parabola through the two published steps: 8 F from 4 to 6 o'clock and 35 F from 1 to 6.
An estimate, and this is how it stands to the published figures it was not drawn through:
- ten angular degrees (two thirds of an hour) cost 4.4 C early and 0.7 C late; published 5 and 1;
- "usually under 40 F" (22.2 C) from start to end is taken as the start: the clock then stands at
  0.6, 9 degrees on a scale of 15 degrees an hour, where a cone leaning its 8 degrees begins;
- start to end takes 22 minutes at 60 C/h; published 15 to 25.
The chart text's 1 to 2 degrees from 4 o'clock to touching contradicts the 8 F and is not followed.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from functools import cache, cached_property
from math import ceil, exp, inf, log, sqrt
from operator import attrgetter
from typing import Annotated, Any

from attrs import evolve, field, frozen

from guardcone.firing.cones import ConeKinetics, fold_degrees, ladder, laws_of
from guardcone.firing.curve import Curve
from guardcone.firing.heatwork import (
    ZERO_CELSIUS,
    hours_to_work,
    log_steady_work,
    running_work,
    work_of,
)
from guardcone.firing.tables import bending_figure, usual
from guardcone.firing.uncertainty import (
    LEFT_OUT,
    MOST_FOLDS,
    Measuring,
    Share,
    Shelf,
    Spread,
    spread_of,
    verdict,
)

__all__ = []


DOWN = 6.0  # o'clock
STANDING = 0.0  # o'clock, said as 12


@cache
def _shape() -> tuple[float, float, float]:
    """Slope (C an hour of the clock), curve (C an hour squared), whole bend (C)."""
    one = bending_figure("one_to_six")
    four = bending_figure("four_to_six")
    # slope * 5 + curve * 25 = one and slope * 2 + curve * 4 = four
    curve = (one / 5.0 - four / 2.0) / 3.0
    slope = four / 2.0 - 2.0 * curve
    return slope, curve, bending_figure("whole_bend")


def degrees_short(kinetics: ConeKinetics, work: float) -> float:
    """Degrees C of a 60 C/h climb still missing to 6 o'clock; negative once past, inf at W = 0."""
    if work <= 0.0:
        return float("inf")
    return -kinetics.degrees_per_fold * log(work)


def start_work(kinetics: ConeKinetics) -> float:
    """The heat-work at which a cone visibly starts to bend."""
    return exp(-_shape()[2] / kinetics.degrees_per_fold)


def work_at_clock(kinetics: ConeKinetics, clock: float) -> float:
    """Heat-work at a clock position from just started to 6; the inverse of `clock_position`."""
    slope, curve, whole = _shape()
    left = DOWN - min(DOWN, clock)
    return exp(-min(whole, slope * left + curve * left * left) / kinetics.degrees_per_fold)


def clock_position(kinetics: ConeKinetics, work: float) -> float:
    """0.0 while the cone stands (12 o'clock), then about 0.6 to 6.0; 6.0 is down and stays so."""
    short = degrees_short(kinetics, work)
    slope, curve, whole = _shape()
    if short >= whole:
        return STANDING
    if short <= 0.0:
        return DOWN
    return DOWN - (sqrt(slope * slope + 4.0 * curve * short) - slope) / (2.0 * curve)


def clock_words(clock: float) -> str:
    """A clock position as a person reads it: "standing", "half past 3", "down"."""
    if clock >= DOWN:
        return "down"
    if clock <= STANDING:
        return "standing"
    # As near as it may be, it is not down, and before half-way not half-way.
    halves = min(round(clock * 2.0), 11)
    half_way = usual("guard_limit_clock")
    if clock < half_way <= 0.5 * halves:
        halves = ceil(2.0 * half_way) - 1
    hour, half = divmod(halves, 2)
    name = hour or 12
    return f"half past {name}" if half else f"{name} o'clock"


# Not slotted: its range is looked for only where somebody asks.
@frozen(slots=False, repr=False)
class ConeForecast:
    """What one cone does in one firing.

    `work` is W at the end of the curve (1.0 is down), `over` the degrees C of peak by which it is
    past its end (negative: short), `clock` 0.0 standing to 6.0 down, hours count from the start of
    the firing (None: it never comes to it), `effective_rate` the steady climb in C/h that would do
    the same work by the same peak, `kelvin` is the peak. Range and chances are those of the shelf
    of its `spread`; the range lies no lower than those of hotter cones `beside` it.
    """

    kinetics: ConeKinetics
    work: float
    over: float
    clock: float
    start_hour: float | None
    down_hour: float | None
    effective_rate: float | None
    kelvin: float
    spread: Spread
    chance_down: float
    chance_moved: float
    verdict: str
    beside: tuple[ConeForecast, ...] = field(default=(), eq=False)

    @cached_property
    def clock_least(self) -> float:
        """The cooler end of its range."""
        cooler, _ = self._factors
        own = clock_position(self.kinetics, self.work / cooler)
        return max((own, *(one.clock_least for one in self.beside)))

    @cached_property
    def clock_most(self) -> float:
        """The hotter end of its range."""
        _, hotter = self._factors
        own = clock_position(self.kinetics, min(1e300, self.work) * hotter)
        return max((own, *(one.clock_most for one in self.beside)))

    @cached_property
    def _factors(self) -> tuple[float, float]:
        return range_factors(self.kinetics, self.kelvin, self.spread)


@frozen(repr=False)
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


def work_done(curve: Curve, cone: ConeKinetics) -> float:
    """Heat-work of a cone at the end of the curve; 1.0 is down."""
    laws = laws_of(cone)
    return max([_as_of(cone, law, work_of(curve.raw, law.theta, law.log_a)) for law in laws])


def _as_of(cone: ConeKinetics, law: ConeKinetics, work: float) -> float:
    """Heat-work by the law of a hotter cone as that of a cone which is as far from its end, in C.

    At 1, down, the two are one.
    """
    if law is cone or work <= 0.0:
        return work
    return exp(min(600.0, log(work) * law.degrees_per_fold / cone.degrees_per_fold))


@frozen(repr=False)
class Progress:
    """How far a cone has come by the end of each piece of a curve.

    By each of its laws; what the furthest says is so.
    """

    curve: Curve
    cone: ConeKinetics
    by_law: tuple[tuple[ConeKinetics, list[float]], ...]

    @property
    def works(self) -> list[float]:
        """Heat-work by the end of each piece, never falling."""
        by_law = [[_as_of(self.cone, law, one) for one in works] for law, works in self.by_law]
        return [max(works) for works in zip(*by_law, strict=True)]

    def hour_of(self, wanted: float) -> float | None:
        """Hour at which the heat-work reaches `wanted` (> 0), or None where it never does."""
        hours = (
            self._hour_by(law, works, _as_of(law, self.cone, wanted)) for law, works in self.by_law
        )
        return min((hour for hour in hours if hour is not None), default=None)

    def _hour_by(self, law: ConeKinetics, works: list[float], wanted: float) -> float | None:
        index = bisect_left(works, wanted)  # it never falls
        if index == len(works):
            return None
        left = wanted - (works[index - 1] if index else 0.0)
        into = hours_to_work(self.curve.raw[index], law.theta, law.log_a, left)
        return self.curve.worked[index].start_hour + into


def progress_of(curve: Curve, cone: ConeKinetics) -> Progress:
    """How far a cone comes, piece by piece."""
    laws = laws_of(cone)
    by_law = [(law, running_work(curve.raw, law.theta, law.log_a)) for law in laws]
    return Progress(curve, cone, tuple(by_law))


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
    progress = progress_of(curve, kinetics)
    running = progress.works
    work = running[-1] if running else 0.0
    peak = curve.peak
    started = start_work(kinetics)
    rate = effective_rate(kinetics, peak, work)
    kelvin = peak + ZERO_CELSIUS
    fold = fold_degrees(kinetics, kelvin)
    cooling = fold * _folds_by_cooling(curve, running)
    spread = spread_of(kinetics, peak, rate, measuring or Measuring(), cooling)
    over = fold * log(work) if work > 0.0 else -inf
    return ConeForecast(
        kinetics=kinetics,
        work=work,
        over=over,
        clock=clock_position(kinetics, work),
        start_hour=progress.hour_of(started),
        down_hour=progress.hour_of(1.0),
        effective_rate=rate,
        kelvin=kelvin,
        **_judged(kinetics, work, kelvin, spread),
    )


def _folds_by_cooling(curve: Curve, running: Sequence[float]) -> float:
    """What free cooling does, as the folds of heat-work that are its share of the whole."""
    whole = running[-1] if running else 0.0
    cooled, before = 0.0, 0.0
    for piece, done in zip(curve.worked, running, strict=True):
        cooled += done - before if piece.falls_freely else 0.0
        before = done
    # Where cooling does all, as from a hot start, it is in doubt as far as any.
    return -log(max(exp(-MOST_FOLDS), 1.0 - cooled / whole)) if whole > 0.0 else 0.0


def on_shelf(forecast: ConeForecast, shelf: Shelf) -> ConeForecast:
    """The same cone on a shelf of which the plan says where it is."""
    one, spread = forecast, forecast.spread.on(shelf)
    return evolve(one, **_judged(one.kinetics, one.work, one.kelvin, spread))


def _judged(kinetics: ConeKinetics, work: float, kelvin: float, spread: Spread) -> dict[str, Any]:
    """What the spread makes of a cone's work: the chances, and what is said of it."""
    down = spread.chance(_degrees_past(kinetics, kelvin, work))
    moved = spread.chance(_degrees_past(kinetics, kelvin, work / start_work(kinetics)))
    return {
        "spread": spread,
        "chance_down": down,
        "chance_moved": moved,
        "verdict": verdict(down, moved),
    }


def chance_of_all(forecast: ConeForecast, shelves: Iterable[Shelf]) -> float:
    """How likely a cone goes down on each of these shelves."""
    one = forecast
    return one.spread.chance_of_all(_degrees_past(one.kinetics, one.kelvin, one.work), shelves)


def _degrees_past(kinetics: ConeKinetics, kelvin: float, work: float) -> float:
    """By how much cooler the peak, and all else with it, would do a heat-work of 1, in C."""
    if work <= 0.0:
        return -inf
    inverse = 1.0 / kelvin + log(work) / kinetics.theta
    return kelvin - 1.0 / inverse if inverse > 0.0 else -inf


def range_factors(kinetics: ConeKinetics, kelvin: float, spread: Spread) -> tuple[float, float]:
    """What to divide a heat-work by for the cooler end of its range, and times what the hotter is.

    `kelvin` is the peak.
    """
    cool, hot = max(1.0, kelvin - spread.cooler), kelvin + spread.hotter
    folds = (
        kinetics.theta * (1.0 / cool - 1.0 / kelvin),
        kinetics.theta * (1.0 / kelvin - 1.0 / hot),
    )
    cooler, hotter = (exp(min(600.0, fold)) for fold in folds)
    return cooler, hotter


def equivalent_cone(curve: Curve, series: str) -> EquivalentCone:
    """The firing as a number between cones of a series; below or past its ladder it says so."""
    cones = ladder(series)
    if not cones:
        return EquivalentCone(series, "no cone of this series has a law")
    last = len(cones) - 1

    @cache
    def work(index: int) -> float:
        return work_done(curve, cones[index])

    # From the cone that ends near the peak up to one that hardly moves, then down to one that
    # went down: neighbours differ in energy, so the hottest that went down is what counts.
    top = min(last, bisect_right(cones, curve.peak, key=attrgetter("end_60")))
    while top < last and work(top) > 1e-4:
        top += 1
    index = next((at for at in range(top, -1, -1) if work(at) >= 1.0), None)
    if index is None:
        return EquivalentCone(series, f"below {cones[0].cone}", above=cones[0].cone)
    below = cones[index]
    if index == last:
        text = below.cone if work(last) < 1.0 + 1e-9 else f"past {below.cone}"
        return EquivalentCone(series, text, below.cone, axis=below.axis)
    above = cones[index + 1]
    past = -degrees_short(below, work(index))
    short = degrees_short(above, work(index + 1))
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
