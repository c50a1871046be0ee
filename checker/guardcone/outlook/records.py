"""The parts a forecast of a whole plan is made of, all of it data.

Hours count from the start of the firing, temperatures are °C, rates °C/h, walls mm, exactly as
computed: nothing is rounded but what a person is told to set.
"""

from datetime import datetime
from typing import Annotated, Literal

from attrs import field, frozen

from guardcone.firing.cone_forecast import ConeForecast, EquivalentCone, clock_words
from guardcone.firing.cones import Law
from guardcone.firing.inverse import Answer
from guardcone.firing.uncertainty import (
    LEFT_OUT,
    Celsius,
    CelsiusApart,
    CelsiusPerHour,
    Hours,
    KilowattHours,
    Share,
    Shelf,
    SquareMillimetresPerSecond,
)
from guardcone.values import Cone, Length, Quantity

__all__ = [
    "Advice",
    "BandCrossing",
    "ConeOutlook",
    "Course",
    "DryingOutlook",
    "LagOutlook",
    "Moment",
    "PlanForecast",
    "ReductionOutlook",
    "Remark",
    "Scale",
    "SegmentOutlook",
    "ShelfOutlook",
    "SoakComparison",
    "SoakStep",
    "SpyHole",
    "WatchOutlook",
]

# What a person reads temperatures in.
Scale = Literal["C", "F"]
Slot = Quantity | Cone | float | str


@frozen(repr=False)
class Remark:
    """What the forecast has to say of itself: can't answer, takes for granted, or met on its way.

    `name` is a line of rules/tables/forecast_words.csv, whose text has the `slots` filled in;
    `line` is the line of the plan it is about, if it is about one.
    """

    name: str
    line: int | None = None
    slots: dict[str, Slot] = field(factory=dict)


@frozen(repr=False)
class Moment:
    """A point of the firing: `hour` from its start, and by the clock where the plan says when.

    `day` counts from 1, the day of the start. `clock` is None where the plan gives no time of day;
    its date means nothing where `dated` is False.
    """

    hour: float
    clock: datetime | None
    day: int | None
    dated: bool


@frozen(repr=False)
class ConeOutlook:
    """What becomes of one witness cone.

    `forecast` and `law` are None where no law is known for the cone. `bends` and `down` are
    the expected moments, each with the earliest and the latest of its range (None: not in it).
    `clock_peak_end` is its position as the peak ends, before it has cooled; `clock_cool_end` and
    `clock_hot_end` are those at the end, half the kiln's spread away from the middle; 0.0 is
    standing, 6.0 down.
    """

    role: str
    cone: Cone
    line: int | None
    law: Law | None
    forecast: ConeForecast | None
    bends: Annotated[tuple[Moment | None, ...], LEFT_OUT] = (None, None, None)
    down: Annotated[tuple[Moment | None, ...], LEFT_OUT] = (None, None, None)
    clock_peak_end: Annotated[float | None, LEFT_OUT] = None
    clock_cool_end: Annotated[float | None, LEFT_OUT] = None
    clock_hot_end: Annotated[float | None, LEFT_OUT] = None

    @property
    def position(self) -> str:
        """Where it stands at the end, in words; "" where no law is known."""
        return clock_words(self.forecast.clock) if self.forecast else ""

    @property
    def position_at_peak_end(self) -> str:
        """Where it stands as the peak ends, in words; "" where no law is known."""
        return "" if self.clock_peak_end is None else clock_words(self.clock_peak_end)

    @property
    def range(self) -> str:
        """Where it may stand at the end, in words; "" where no law is known."""
        if self.forecast is None:
            return ""
        first = clock_words(self.forecast.clock_least)
        last = clock_words(self.forecast.clock_most)
        return first if first == last else f"{first} to {last}"


@frozen(repr=False)
class ShelfOutlook:
    """One witness set: its place, from where it is seen, and its cones from guide to extras.

    `place` is None for a set without a place, and for the plan's own target where it has no set;
    only that is not `in_the_plan`. `stands` is where that place is in the kiln, as far as it tells.
    """

    place: str | None
    seen: str | None
    series: str
    in_the_plan: bool
    stands: Shelf
    cones: tuple[ConeOutlook, ...]


@frozen(repr=False)
class Course:
    """Times and temperatures of the whole firing.

    `heating` lasts to the end of the peak; `power_needed_until` is later than that where the kiln
    holds or cools at a rate. `last_stretch_rate` is the mean over the last 100 °C below the peak,
    None where it is not climbed through. `opening` is where the plan opens the kiln, `cool_enough`
    when it is down to `cool_enough_at`, computed on from the end of the schedule by free cooling
    where it must be. `energy` is None where it can't be said. `strained_from` is the moment from
    which the kiln's power does not bring it on: no later moment can be relied on, and no energy.
    """

    start: Moment
    begins: Celsius
    peak: Celsius
    peak_reached: Moment
    peak_ends: Moment
    heating: Hours
    power_needed_until: Moment
    last_stretch_rate: CelsiusPerHour | None
    opening: Moment | None
    opening_at: Celsius | None
    cool_enough: Moment
    cool_enough_at: Celsius
    schedule_ends: Moment
    schedule_ends_at: Celsius
    energy: KilowattHours | None
    basis: tuple[str, ...]
    strained_from: Moment | None = None


@frozen(repr=False)
class SpyHole:
    """From when to when somebody must be at the spy hole.

    From the earliest that a guide or target may begin to bend, to the end of the peak, or until the
    guide and target are down, as far as they go down at all.
    """

    begins: Moment
    ends: Moment


@frozen(repr=False)
class SegmentOutlook:
    """One climb, hold or cooling as it is fired, with the line it is written in.

    `rate` is None where it is none, or not written as one; `pace` is as the plan says.
    """

    line: int
    kind: str
    pace: str
    begins: Moment
    ends: Moment
    begins_at: Celsius
    ends_at: Celsius
    rate: CelsiusPerHour | None


@frozen(repr=False)
class ReductionOutlook:
    """From where on the kiln is to be reduced, and when it comes to where that ends.

    `ends` is None where the plan names no end, or the kiln does not come by it after.
    """

    line: int
    begins: Moment
    begins_at: Celsius
    ends: Moment | None
    ends_at: Celsius | None


@frozen(repr=False)
class WatchOutlook:
    """Who is at the kiln by the plan, and from when to when.

    `ends` is None for a watch that lasts to the end.
    """

    who: str | None
    line: int
    begins: Moment
    ends: Moment | None


@frozen(repr=False)
class BandCrossing:
    """One stay in a band (bands.csv): `way` is up, down or part; `high` None is without end.

    `mean_rate` counts holds and is None where the band is not gone right through;
    `steepest_up` and `steepest_down` are the fastest climb and cooling in it, 0.0 for none.
    """

    band: str
    low: Celsius
    high: Celsius | None
    way: str
    enters: Moment
    leaves: Moment
    time: Hours
    mean_rate: CelsiusPerHour | None
    steepest_up: CelsiusPerHour
    steepest_down: CelsiusPerHour


@frozen(repr=False)
class LagOutlook:
    """How far the core of the thickest wall lags at the quartz inversion; an estimate.

    Heated from one side is a wall that stands on a shelf. A lag heated from both `evens_out`.
    """

    ware: str
    wall: Length
    way: str
    rate: CelsiusPerHour
    heated_from_both_sides: CelsiusApart
    heated_from_one_side: CelsiusApart
    diffusivity: SquareMillimetresPerSecond
    evens_out: Hours


@frozen(repr=False)
class DryingOutlook:
    """Hours of drying below local boiling that the schedule gives a ware, and what it needs."""

    ware: str
    wall: Length
    state: str
    given: Hours
    needed_least: Hours
    needed_most: Hours
    thicker_than_published: bool


@frozen(repr=False)
class Advice:
    """What would put a target down and leave its guard standing; `as_written` is what it does so.

    `as_written`: "target down", "guard stands", "guard leans", "guard bends" (past half-way, but it
    is not likelier than not to go down), "guard goes" (it is), "target short", or
    "beyond the power" where the kiln does not come to its peak, so that nobody can say.
    The likelihoods are of both as written: that the target goes down, and the guard stands, each on
    the shelf where it is least likely, and that the guard goes down, where it is most;
    `chance_all_down` is that of the target in all `sets`, None
    for one; `likeliest` is the setting that makes it most with the guard spared. `gap_clock` is
    where the guard points as the target goes down in an even climb.
    `kiln_limit` is the hottest the kiln is made for, None if unknown, `rated_cone` the cone it is
    taken from, if it is one, climbed to at `rated_at`; `hindered` is why the firing is not to be
    set as written, "too hot" for the kiln, "too fast" a climb, "beyond the power", or "" where it
    may; `forecast_good_to_by` is the range either way that the forecast of the target has, and
    `thermocouple_good_to_by` the thermocouple's part of it.
    `whatever_the_guard_does` is what puts the target down so, for a guard that no setting spares;
    else empty. What is to set is whole in the plan's own unit.
    """

    places: tuple[str, ...]
    target: Cone
    guard: Cone | None
    as_written: str
    target_likelihood: str | None
    guard_likelihood: str | None
    guard_down_likelihood: str | None
    kiln_limit: Celsius | None
    forecast_good_to_by: CelsiusApart | None
    thermocouple_good_to_by: CelsiusApart | None
    chance_all_down: Share | None
    likeliest: Annotated[Answer | None, LEFT_OUT]
    gap_clock: Annotated[float | None, LEFT_OUT]
    sets: Annotated[int, LEFT_OUT]
    settings: Annotated[tuple[Answer, ...], LEFT_OUT]
    whatever_the_guard_does: Annotated[tuple[Answer, ...], LEFT_OUT]
    hindered: Annotated[str, LEFT_OUT]
    rated_cone: Annotated[Cone | None, LEFT_OUT]
    rated_at: Annotated[float | None, LEFT_OUT]


@frozen(repr=False)
class SoakStep:
    """A hotter cone: how far its end lies above, and how much holding drops it.

    Held where the first cone goes down, or 10 °C lower; None where it is more than `longest_hold`
    of usual_values.csv.
    """

    cone: str
    gap: CelsiusApart
    down_after: Hours | None
    down_after_held_lower: Hours | None


@frozen(repr=False)
class SoakComparison:
    """Our own figures to set beside the published soak rule, for the plan's own last climb."""

    cone: str
    series: str
    held_at: Celsius
    next_cones: tuple[SoakStep, ...]


@frozen(repr=False)
class PlanForecast:
    """The computed firing of one plan.

    `unit` is "C" or "F", the plan's own. `course`, `equivalent` and what follows from the curve
    are None or empty where the schedule can't be fired; `gaps` then says why. `starts` is None
    where the plan gives no time of day; its date means nothing where `dated` is False.
    `electric` is True where the plan says so; `raku` likewise, and `too_cool` where it only dries.
    `spread` is the difference from top to bottom in °C, `boiling` where water boils.
    """

    source: str
    name: str | None
    kiln: str | None
    starts: datetime | None
    dated: bool
    electric: bool
    raku: bool
    too_cool: bool
    unit: Scale
    target: Cone | None
    target_temperature: float | None
    gaps: tuple[Remark, ...]
    course: Course | None = None
    equivalent: EquivalentCone | None = None
    spy_hole: SpyHole | None = None
    segments: tuple[SegmentOutlook, ...] = ()
    reductions: tuple[ReductionOutlook, ...] = ()
    watches: tuple[WatchOutlook, ...] = ()
    shelves: tuple[ShelfOutlook, ...] = ()
    spread: float = 0.0
    spread_given: bool = False
    bands: tuple[BandCrossing, ...] = ()
    boiling: float = 100.0
    lags: tuple[LagOutlook, ...] = ()
    drying: tuple[DryingOutlook, ...] = ()
    advice: tuple[Advice, ...] = ()
    soak: SoakComparison | None = None
    problems: tuple[Remark, ...] = ()
    assumptions: tuple[Remark, ...] = ()
