"""What the computed firing lets a rule ask of a plan, also above a faulty line.

One line that can't be read must not hide what the lines above it say: damp ware that climbs too
fast to 600 °C does so whatever the lines after it were to be.
"""

from collections.abc import Callable, Iterable
from typing import Any

from guardcone.condition.kinds import (
    DURATION,
    FLAG,
    RATE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
)
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import (
    Of,
    PlanCase,
    PlanSubject,
    at_segment,
    degrees,
    difference,
    hours,
    rate,
    segment_at,
)
from guardcone.firing.tables import Band, band, usual
from guardcone.firing.ware import DRYING_FLOOR
from guardcone.outlook.planned import LAST_STRETCH, PlannedFiring
from guardcone.plan.schedule import Segment
from guardcone.span import Span, Written

__all__ = ["FORECAST", "drying_holds", "peak"]


# Facts of the forecast that the lines above the faulty one settle, once they are past drying.
_EARLY = frozenset(
    (
        "boiling passes-boiling drying held-below-boiling candling hold-at-boiling rate-to-600 "
        "rate-through-boiling chemical-water-rate quartz-up-rate cristobalite-up-rate is-raku "
        "damp-ware dry-raw-ware raw-ware thickest-ware thickest-fired-ware "
        "thickest-refired-ware has-raw-ware"
    ).split()
)
# What the schedule says outright, whatever its other lines say.
_OUTRIGHT = frozenset(("opening",))


def _gated(fact: Fact) -> Fact:
    read: Callable[[Any], Any] = fact.get

    def get(of: Of[PlannedFiring]) -> Any:
        if of.it is of.case.firing:
            return read(of)
        if fact.name in _OUTRIGHT:
            return read(Of(of.case, of.case.firing))
        if fact.name in _EARLY and of.it.peak > usual("dry_above"):
            return read(of)
        return UNREADABLE

    return fact.asked_by(get)


class _Forecast(PlanSubject):
    """The forecast, which of a faulty schedule knows what the lines above the fault settle."""

    def add(self, *facts: Fact) -> None:
        """Make the facts known, each kept to what is settled."""
        super().add(*map(_gated, facts))


def _forecasts(case: PlanCase) -> Iterable[Of[PlannedFiring]]:
    firing = case.firing if case.firing.fired else case.beginning
    return [Of(case, firing)] if firing else []


def _place(of: Of[PlannedFiring]) -> Span | None:
    return of.case.plan.schedule.heading if of.case.plan.schedule else None


FORECAST = _Forecast(
    "forecast",
    "The firing as it is computed from the schedule; only there if the schedule could be read.",
    _forecasts,
    _place,
    single=True,
)

# -- the fastest climb or cooling through a band -----------------------------------------------

# A stretch of a wide band that is shorter than this, in °C, does nothing to ware: a plan in °F that
# turns faster at 1100 °F (593 °C) is not a fast climb to 600 °C.
_SLIVER = usual("least_stretch")


def _steepest(
    firing: PlannedFiring, low: float, high: float, way: str
) -> tuple[float, Segment | None] | None:
    """The fastest rate, up or down, anywhere between two temperatures, and whose segment it is."""
    best: tuple[float, Segment | None] | None = None
    sliver = _SLIVER if high - low > 2 * _SLIVER else 0.0
    for piece in firing.known_to_go(way).pieces:
        rising = piece.end > piece.start
        bottom, top = max(low, min(piece.start, piece.end)), min(high, max(piece.start, piece.end))
        if piece.hours <= 0 or rising != (way == "up") or bottom > top or piece.start == piece.end:
            continue
        if top - bottom < sliver or (bottom == top and low != high):
            continue
        fastest = max(abs(piece.rate_at(bottom)), abs(piece.rate_at(top)))
        if best is None or fastest > best[0]:
            best = fastest, firing.segment_of_leg(piece.leg)
    return best


def _steepest_fact(name: str, band: Band, way: str, doc: str) -> None:
    def get(of: Of[PlannedFiring]) -> Any:
        low = of.it.boiling if band.low is None else band.low
        found = _steepest(of.it, low, band.high, way)
        return None if found is None else at_segment(rate(found[0]), found[1])

    FORECAST.add(Fact(name, RATE, doc, get))


_WATER, _CHEMICAL, _QUARTZ = band("free water"), band("chemical water"), band("quartz")
_FIRST, _CRISTOBALITE = Band("first firing", None, usual("first_firing_to")), band("cristobalite")
_LONG = "stretches under 25 °C left out."
_steepest_fact("rate-through-boiling", _WATER, "up", "The climb from boiling to 120 °C.")
_steepest_fact("rate-to-600", _FIRST, "up", f"The climb from boiling to 600 °C, {_LONG}")
_steepest_fact("chemical-water-rate", _CHEMICAL, "up", f"From 450 to 700 °C, {_LONG}")
_steepest_fact("quartz-up-rate", _QUARTZ, "up", "The climb through 573 °C.")
_steepest_fact("quartz-down-rate", _QUARTZ, "down", "The cooling through 573 °C.")
_steepest_fact("cristobalite-up-rate", _CRISTOBALITE, "up", "From 220 to 226 °C.")
_steepest_fact("cristobalite-down-rate", _CRISTOBALITE, "down", "From 226 to 220 °C.")


@FORECAST.of_part(RATE)
def _carbon_rate(firing: PlannedFiring) -> Any:
    """The mean climb from 650 to 900 °C, holds counted."""
    carbon = band("carbon")
    for stay in firing.curve.passages(carbon.low or 0.0, carbon.high):
        if stay.way == "up" and stay.mean_rate is not None:
            return at_segment(rate(stay.mean_rate), segment_at(firing, stay.start_hour))
    return None


# -- below boiling -----------------------------------------------------------------------------


@FORECAST.of_part(TEMPERATURE)
def _boiling(firing: PlannedFiring) -> Any:
    """Where water boils at the kiln."""
    return degrees(round(firing.boiling, 1))


@FORECAST.of_part(FLAG)
def _passes_boiling(firing: PlannedFiring) -> bool:
    """Yes if it climbs past the boiling of water at the kiln."""
    return firing.peak > round(firing.boiling, 1)


def _hour_of_boiling(firing: PlannedFiring) -> float:
    """The hour at which local boiling is first passed, or the end of the firing."""
    reached = [c.hour for c in firing.curve.crossings(firing.boiling) if c.rate > 0]
    return reached[0] if reached else firing.curve.end_hour


@FORECAST.of_part(DURATION)
def _drying(firing: PlannedFiring) -> Any:
    """Drying time before local boiling; an hour counts by how hot it is, in full at 82 °C."""
    return at_segment(hours(firing.dried), segment_at(firing, _hour_of_boiling(firing)))


def drying_holds(firing: PlannedFiring) -> list[tuple[Segment, float, float]]:
    """(segment, °C, hours) of the holds warm enough to dry, before local boiling is passed."""
    end = _hour_of_boiling(firing)
    return [
        (segment, piece.start, piece.hours)
        for piece in firing.curve.pieces
        if piece.start == piece.end and piece.end_hour <= end + 1e-9
        if DRYING_FLOOR <= piece.start < firing.boiling
        if (segment := firing.segment_of_leg(piece.leg)) is not None
    ]


@FORECAST.of_part(DURATION)
def _held_below_boiling(firing: PlannedFiring) -> Any:
    """How long the schedule holds between 40 °C and local boiling; 0 h where it does not.

    Points at the longest of the holds.
    """
    holds = drying_holds(firing)
    if not holds:
        return at_segment(hours(0.0), segment_at(firing, _hour_of_boiling(firing)))
    longest = max(holds, key=lambda hold: hold[2])
    return at_segment(hours(sum(hold[2] for hold in holds)), longest[0])


@FORECAST.of_part(TEMPERATURE)
def _candling(firing: PlannedFiring) -> Any:
    """The hottest hold below local boiling."""
    hottest = max(drying_holds(firing), key=lambda hold: hold[1], default=None)
    return None if hottest is None else at_segment(degrees(hottest[1]), hottest[0])


@FORECAST.of_part(TEMPERATURE)
def _hold_at_boiling(firing: PlannedFiring) -> Any:
    """Where it first holds at local boiling or hotter, for longer than in all holds below it."""
    below = sum(hold[2] for hold in drying_holds(firing))
    for piece in firing.curve.pieces:
        if piece.start == piece.end and piece.start >= firing.boiling and piece.hours > below:
            return at_segment(degrees(piece.start), firing.segment_of_leg(piece.leg))
    return None


# -- peak and end ------------------------------------------------------------------------------


@FORECAST.of_part(TEMPERATURE)
def peak(firing: PlannedFiring) -> Any:
    """The hottest temperature of the schedule."""
    for piece in firing.curve.pieces:
        if piece.end == firing.peak:
            segment = firing.segment_of_leg(piece.leg)
            if segment and segment.to and segment.kind == "climb":
                return segment.to
            return at_segment(degrees(firing.peak), segment)
    return degrees(firing.peak)


@FORECAST.of_part(TEXT)
def _equivalent_cone(firing: PlannedFiring) -> Any:
    """The firing as a number between cones."""
    return firing.equivalent.text


@FORECAST.of_part(TEMPERATURE_DIFFERENCE)
def _last_stretch(_: PlannedFiring) -> Any:
    """How far below the peak the last climb counts from: 100 °C."""
    return difference(LAST_STRETCH)


@FORECAST.of_part(RATE)
def _last_rate(firing: PlannedFiring) -> Any:
    """The mean rate of the last 100 °C below the peak."""
    return at_segment(rate(firing.last_rate), segment_at(firing, firing.curve.peak_hours[0] - 1e-6))


@FORECAST.fact(TEMPERATURE)
def _opening(of: Of[PlannedFiring]) -> Any:
    """Where the kiln is opened."""
    schedule = of.case.plan.schedule
    if schedule is None or of.it.curve.opening is None or schedule.opens is None:
        return None
    return Written(schedule.opens.value, schedule.opens.span)


@FORECAST.of_part(TEMPERATURE)
def _end(firing: PlannedFiring) -> Any:
    """Where the schedule ends, pointing at its last line."""
    return at_segment(degrees(firing.curve.end), firing.segments[-1] if firing.segments else None)


@FORECAST.fact(TEMPERATURE)
def _cools_to(of: Of[PlannedFiring]) -> Any:
    """Where its last line cools to, if that is cooler than the opening."""
    last, schedule = next(reversed(of.it.segments), None), of.case.plan.schedule
    if not (last and last.kind == "cool" and last.to and schedule and schedule.opens):
        return None
    return last.to.value if last.to.value < schedule.opens.value else None


@FORECAST.of_part(FLAG)
def _has_cooling(firing: PlannedFiring) -> bool:
    """Yes if the schedule says how the kiln cools."""
    return any(s.kind == "cool" for s in firing.segments) or firing.curve.opening is not None


@FORECAST.fact(FLAG)
def _is_raku(of: Of[PlannedFiring]) -> bool:
    """Yes if the plan calls the firing raku."""
    firing = of.case.plan.firing
    return firing is not None and firing.value == "raku"


@FORECAST.of_part(DURATION)
def _heating_time(firing: PlannedFiring) -> Any:
    """Time from the start until the kiln needs no more power: past the peak, and past any later
    hold or cooling at a rate.
    """
    return hours(firing.powered_hours)


@FORECAST.of_part(DURATION)
def _written_time(firing: PlannedFiring) -> Any:
    """The same by the schedule as written, where the kiln falls behind a controlled cooling."""
    return hours(firing.written_hours)
