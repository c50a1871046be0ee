"""How far a forecast may be out, and what that is worth.

Of 100 kilns like this one each has its own thermocouple, whose error is the same in every firing
and on every shelf, and its own hotter end. A limit given without a distribution (tolerance,
rounding) counts as rectangular (GUM, JCGM 100:2008, 4.3.7): all values within it are as likely.
Chances and the range are those of the sum of three:
- the thermocouple, rectangular within its tolerance;
- the shelf: a set at the top or the bottom is as likely at the hotter end as at the cooler, half
  the spread from the middle; one in the middle, or of which no place is said, is anywhere within
  a part of the spread, or all of it;
- cone, chart, law and rate: normal, from the root-sum-square of their standard deviations.
Kilns show too little more often than too much (usual_values.csv, `shown_too_low`): that widens the
hot end of the range and, for want of figures, no chance.
Not counted: where the thermocouple sits, the set of the cone, the air in the kiln, a controller off
its curve.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property, lru_cache
from itertools import product
from math import ceil, erf, exp, hypot, log, nextafter, pi, sqrt
from typing import Annotated, Final, Literal

from attrs import evolve, frozen

from guardcone.firing.cones import ConeKinetics, is_recalled
from guardcone.firing.root import root
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
# The range leaves out 5 of 100 kilns at its cool end, so that a cone which is almost certain to go
# down is down in all of it; and at its hot end fewer, as many as lie beyond two standard deviations
# of a normal distribution, for there it has to hold a firing that ruins ware.
COOL_END, HOT_END = 0.95, 0.5 * (1.0 + erf(2.0 / sqrt(2.0)))
_MOST_PLACES = 64
_UNDER_HALF = nextafter(0.5, 0.0)


@frozen(repr=False)
class Tolerance:
    """Half-width in C of a thermocouple's tolerance; `defined` False outside the standard's span.

    Outside, `celsius` carries the same percentage on, as an estimate.
    """

    celsius: float
    defined: bool


@frozen(repr=False)
class Measuring:
    """How the kiln is measured; None is not known and a usual value stands in.

    `thermocouple` is a letter type; its `grade` picks the tolerance: standard or special by ASTM
    E230, class 1 or class 2 by IEC 60584-1;
    `top_to_bottom` is the whole difference between the hottest and coolest shelf in C.
    """

    thermocouple: str | None = None
    grade: str = "standard"
    top_to_bottom: float | None = None


# Where a cone stands in the kiln, as far as the plan says.
Shelf = Literal["top", "middle", "bottom", "anywhere"]
# An end is hotter or cooler than the middle, and the other end the other way.
_ENDS: dict[Shelf, float] = {"top": 1.0, "bottom": -1.0}


@frozen(repr=False)
class Part:
    """One source of doubt: its standard deviation in C, and whether it was assumed, not given.

    `of` is what has the same error: the kiln in each firing, the shelf, or the single cone.
    """

    name: str
    standard_deviation: CelsiusApart
    assumed: bool
    basis: str
    of: str = "cone"


@frozen(repr=False)
class Spread:
    """All parts of the doubt about a cone on a shelf.

    In C, `tolerance` is the half-width of the thermocouple's, `half` how far each end of the kiln
    is from its middle.
    """

    parts: tuple[Part, ...]
    tolerance: float
    half: float
    shelf: Shelf = "anywhere"

    @cached_property
    def celsius(self) -> float:
        """One standard deviation of all parts, C."""
        return _root_sum_square(self.parts)

    @cached_property
    def rest(self) -> float:
        """One standard deviation of what is neither the kiln's nor the shelf's, C."""
        return _root_sum_square(part for part in self.parts if part.of == "cone")

    def on(self, shelf: Shelf) -> Spread:
        """The same cone on another shelf."""
        own = [part for part in self.parts if part.of == "shelf"]
        width = _standard_deviation(shelf, self.half)
        moved = (evolve(part, standard_deviation=width) for part in own)
        kept = (part for part in self.parts if part.of != "shelf")
        return Spread((*kept, *moved), self.tolerance, self.half, shelf)

    def chance(self, degrees: float) -> float:
        """Probability that what is computed `degrees` above a limit really is above it.

        The errors are as likely one way as the other, so it is a half or more just where that is
        above. Between two ends far apart it is a half over several degrees, where rounding would
        tip it.
        """
        found = _mean(self._blurred(degrees + place) for place in self._places)
        return max(0.5, found) if degrees >= 0.0 else min(_UNDER_HALF, found)

    def chance_of_all(self, degrees: float, shelves: Iterable[Shelf]) -> float:
        """The same of one cone on each of these shelves: all of them above the limit.

        The error of the kiln is one, and if the top is cooler the bottom is hotter. So are those
        of cone and law, but for the making of each cone, which is small beside them.
        """
        found = list(shelves)
        ends = [_ENDS[one] * self.half for one in set(found) if one in _ENDS]
        loose = [(_reach(one, self.half), found.count(one)) for one in set(found) - set(_ENDS)]
        coolest = [
            min([*(way * end for end in ends), *places])
            for way in (1.0, -1.0)
            for places in product(*(_coolest(reach, count) for reach, count in loose))
        ]
        return _mean(self._blurred(degrees + place) for place in coolest)

    @cached_property
    def cooler(self) -> float:
        """How far the range goes to the cooler side, C."""
        return self.within(COOL_END)

    @cached_property
    def hotter(self) -> float:
        """How far the range goes to the hotter side, C: a kiln more often shows too little."""
        return hypot(self.within(HOT_END), usual("shown_too_low"))

    def within(self, share: float) -> float:
        """Within how many C, to one side, so many of the kilns are."""
        most = self.tolerance + self.half + 3.0 * self.rest
        if self.chance(0.0) >= share or self.chance(most) < share:
            return 0.0 if self.chance(0.0) >= share else most
        return root(lambda degrees: self.chance(degrees) - share, 0.0, most, 1e-5)

    @cached_property
    def _places(self) -> tuple[float, ...]:
        """Degrees from the middle of the kiln, each as likely."""
        if self.shelf in _ENDS:
            return (-self.half, self.half)
        reach = _reach(self.shelf, self.half)
        # So close together that the normal part leaves no steps between them.
        count = min(_MOST_PLACES, max(1, ceil(2.0 * reach / (1.5 * self.rest))))
        return tuple(reach * (2.0 * share - 1.0) for share in _shares(count))

    def _blurred(self, degrees: float) -> float:
        """The chance with the errors of kiln and cone, at one place."""
        width, limit = self.rest, self.tolerance
        if limit < 1e-3 * width:
            return chance(degrees, width)
        # The integral of the normal distribution over the tolerance, in closed form.
        degrees = min(1e4, max(-1e4, degrees))
        low, high = (degrees - limit) / width, (degrees + limit) / width
        return min(1.0, max(0.0, (_ramp(high) - _ramp(low)) * width / (2.0 * limit)))


def _ramp(value: float) -> float:
    """The integral of the normal distribution function up to a value."""
    return value * chance(value, 1.0) + exp(-0.5 * value * value) / sqrt(2.0 * pi)


def _mean(values: Iterable[float]) -> float:
    found = list(values)
    return sum(found) / len(found)


def _root_sum_square(parts: Iterable[Part]) -> float:
    return sqrt(sum(part.standard_deviation * part.standard_deviation for part in parts))


def _standard_deviation(shelf: Shelf, half: float) -> float:
    return half if shelf in _ENDS else _reach(shelf, half) / _ROOT_THREE


def _reach(shelf: Shelf, half: float) -> float:
    """How far from the middle a cone stands that is not at an end, at most, in C."""
    return half * (usual("middle_of_spread") if shelf == "middle" else 1.0)


def _shares(count: int) -> tuple[float, ...]:
    """So many equal shares of a whole, each by its middle."""
    return tuple((place + 0.5) / count for place in range(count))


def _coolest(reach: float, count: int) -> tuple[float, ...]:
    """Where the coolest stands of so many cones, each anywhere within `reach`, all as likely."""
    return tuple(
        reach * (1.0 - 2.0 * share ** (1.0 / count)) for share in _shares(_MOST_PLACES // 4)
    )


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
    """The rows of a type and grade; each grade belongs to one standard.

    Where a standard has no such grade for the type, those of its other one: type B has no class 1.
    """
    rows = [row for row in table("thermocouples") if row["type"] == thermocouple.upper()]
    own = [row for row in rows if row["grade"] == grade]
    return own or [row for row in rows if grade == "class 1" and row["grade"] == "class 2"]


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
    memory = "the chart's figures for this cone are recalled, not read"
    recalled = Part("figures from memory", usual("recalled_doubt"), True, memory)
    width = tolerance.celsius / _ROOT_THREE
    half = 0.5 * whole
    parts = (
        Part("thermocouple", width, not found, named + beyond, "kiln"),
        Part("making of cones", making / _ROOT_THREE, True, "usual value"),
        Part("chart and fit", fit, False, misses),
        *([outside] if folds > 0.0 else []),
        *([falling] if cooling > 0.0 else []),
        *([recalled] if is_recalled(kinetics) else []),
        Part("top to bottom", half / _ROOT_THREE, not usable, ends, "shelf"),
    )
    return Spread(parts, tolerance.celsius, half)


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
