"""What the computed firing lets a rule ask of a plan."""

from collections.abc import Iterable
from math import inf
from typing import Any

from guardcone.condition.kinds import (
    DURATION,
    FLAG,
    NUMBER,
    RATE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
)
from guardcone.condition.vocabulary import Fact
from guardcone.facts.amounts import at_segment, degrees, difference, hours, rate, segment_at
from guardcone.facts.case import Of, PlanCase, PlanSubject, part_fact
from guardcone.facts.forecast_clock import CLOCK_FACTS
from guardcone.facts.forecast_target import TARGET_FACTS
from guardcone.facts.forecast_ware import WARE_FACTS
from guardcone.firing.cones import kinetics_for
from guardcone.firing.curve import Passage
from guardcone.firing.tables import Band, band, usual
from guardcone.firing.uncertainty import CHART_FASTEST, thermocouple_tolerance
from guardcone.firing.ware import DRYING_FLOOR
from guardcone.outlook.planned import LAST_STRETCH, PlannedFiring
from guardcone.plan.schedule import Segment
from guardcone.span import Span, Written

__all__ = ["FORECAST"]

# A stretch of a band that is shorter than this, in °C, does nothing to ware: a plan in °F that
# turns faster at 1100 °F (593 °C) is not a fast climb to 600 °C.
_SLIVER = usual("least_stretch")


def _steepest(
    firing: PlannedFiring, low: float, high: float, way: str, sliver: float
) -> tuple[float, Segment | None] | None:
    """The fastest rate, up or down, anywhere between two temperatures, and whose segment it is."""
    best: tuple[float, Segment | None] | None = None
    for piece in firing.curve.pieces:
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


def _steepest_fact(name: str, doc: str, band: Band, way: str, sliver: float = 0.0) -> Fact:
    def get(of: Of[PlannedFiring]) -> Any:
        low = of.it.boiling if band.low is None else band.low
        found = _steepest(of.it, low, band.high, way, sliver)
        return None if found is None else at_segment(rate(found[0]), found[1])

    return Fact(name, RATE, doc, get)


def _peak_segment(firing: PlannedFiring) -> Segment | None:
    """The segment that first comes to the peak."""
    for piece in firing.curve.pieces:
        if piece.end == firing.peak:
            return firing.segment_of_leg(piece.leg)
    return None


def _peak(of: Of[PlannedFiring]) -> Any:
    """The peak as it is written, or pointing at the segment that comes to it."""
    segment = _peak_segment(of.it)
    if segment is not None and segment.to is not None and segment.kind == "climb":
        return segment.to
    return at_segment(degrees(of.it.peak), segment)


def _last_rate(of: Of[PlannedFiring]) -> Any:
    return at_segment(rate(of.it.last_rate), segment_at(of.it, of.it.curve.peak_hours[0] - 1e-6))


def _hour_of_boiling(firing: PlannedFiring) -> float:
    """The hour at which local boiling is first passed, or the end of the firing."""
    reached = [c.hour for c in firing.curve.crossings(firing.boiling) if c.rate > 0]
    return reached[0] if reached else firing.curve.end_hour


def _drying(of: Of[PlannedFiring]) -> Any:
    """Drying hours before boiling, by the kernel's own count."""
    return at_segment(hours(of.it.dried), segment_at(of.it, _hour_of_boiling(of.it)))


def _holds_to_boiling(firing: PlannedFiring) -> list[tuple[Segment, float, float]]:
    """(segment, °C, hours) of the holds before local boiling is passed."""
    end = _hour_of_boiling(firing)
    return [
        (segment, piece.start, piece.hours)
        for piece in firing.curve.pieces
        if piece.start == piece.end and piece.end_hour <= end + 1e-9
        if (segment := firing.segment_of_leg(piece.leg)) is not None
    ]


def _held_below_boiling(of: Of[PlannedFiring]) -> Any:
    """How long all holds warm enough to dry take, pointing at the longest; 0 h where none is."""
    holds = [hold for hold in _holds_to_boiling(of.it) if DRYING_FLOOR <= hold[1] < of.it.boiling]
    longest = max(holds, key=lambda hold: hold[2], default=None)
    if longest is None:
        return at_segment(hours(0.0), segment_at(of.it, _hour_of_boiling(of.it)))
    return at_segment(hours(sum(hold[2] for hold in holds)), longest[0])


def _hottest_candling(of: Of[PlannedFiring]) -> Any:
    """The hottest hold below boiling."""
    holds = [hold for hold in _holds_to_boiling(of.it) if DRYING_FLOOR <= hold[1] < of.it.boiling]
    hottest = max(holds, key=lambda hold: hold[1], default=None)
    return None if hottest is None else at_segment(degrees(hottest[1]), hottest[0])


def _first_hold(of: Of[PlannedFiring]) -> Any:
    for piece in of.it.curve.pieces:
        if piece.start == piece.end:
            return at_segment(degrees(piece.start), of.it.segment_of_leg(piece.leg))
    return None


def _carbon_passage(firing: PlannedFiring) -> Passage | None:
    carbon = band("carbon")
    for stay in firing.curve.passages(carbon.low or 0.0, carbon.high):
        if stay.way == "up" and stay.mean_rate is not None:
            return stay
    return None


def _carbon_rate(of: Of[PlannedFiring]) -> Any:
    stay = _carbon_passage(of.it)
    return at_segment(rate(stay.mean_rate), segment_at(of.it, stay.start_hour)) if stay else None


def _carbon_time(of: Of[PlannedFiring]) -> Any:
    stay = _carbon_passage(of.it)
    return hours(stay.hours) if stay else None


def _opening(of: Of[PlannedFiring]) -> Any:
    schedule = of.case.plan.schedule
    opening = of.it.curve.opening
    if schedule is None or opening is None or schedule.opens is None:
        return None
    return Written(schedule.opens.value, schedule.opens.span)


def _raku(of: Of[PlannedFiring]) -> bool:
    firing = of.case.plan.firing
    return firing is not None and firing.value == "raku"


def _thermocouple_limit(of: Of[PlannedFiring]) -> Any:
    """Bisected, because the tables give spans by standard and grade."""
    kiln = of.case.plan.kiln
    if kiln is None or kiln.thermocouple is None:
        return None
    letter = kiln.thermocouple.value
    low, high = 1000.0, 3000.0
    found = thermocouple_tolerance(letter, low)
    if found is None or not found.defined:
        return None
    while high - low > 0.1:
        middle = (low + high) / 2
        found = thermocouple_tolerance(letter, middle)
        low, high = (middle, high) if found and found.defined else (low, middle)
    return degrees(round(low))


def _rated_end(of: Of[PlannedFiring]) -> Any:
    """Of a rated cone, where it ends at the fastest climb of the chart: a slower one is cooler."""
    kiln = of.case.plan.kiln
    if kiln is None:
        return None
    if kiln.rated_temperature:
        return kiln.rated_temperature.value
    law = kinetics_for(kiln.rated_cone.value) if kiln.rated_cone else None
    return degrees(round(law.end_temperature(CHART_FASTEST))) if law else None


def _cools(of: Of[PlannedFiring]) -> bool:
    firing = of.it
    return any(s.kind == "cool" for s in firing.segments) or firing.curve.opening is not None


def _forecasts(case: PlanCase) -> Iterable[Of[PlannedFiring]]:
    return [Of(case, case.firing)] if case.firing.fired else []


def _place(of: Of[PlannedFiring]) -> Span | None:
    return of.case.plan.schedule.heading if of.case.plan.schedule else None


_CURVE_FACTS = (
    Fact("peak", TEMPERATURE, "The hottest temperature of the schedule.", _peak),
    part_fact(
        "equivalent-cone",
        TEXT,
        "The firing as a number between cones.",
        lambda f: f.equivalent.text,
    ),
    Fact(
        "last-stretch",
        TEMPERATURE_DIFFERENCE,
        "How far below the peak the last climb counts from: 100 °C.",
        lambda _: difference(LAST_STRETCH),
    ),
    Fact("last-rate", RATE, "The mean rate of the last 100 °C below the peak.", _last_rate),
    part_fact(
        "boiling",
        TEMPERATURE,
        "Where water boils at the kiln.",
        lambda f: degrees(round(f.boiling, 1)),
    ),
    Fact(
        "drying",
        DURATION,
        "Drying time before local boiling; an hour counts by how hot it is, in full at 82 °C.",
        _drying,
    ),
    Fact(
        "held-below-boiling",
        DURATION,
        "How long the schedule holds between 40 °C and local boiling; 0 h where it does not.",
        _held_below_boiling,
    ),
    Fact("candling", TEMPERATURE, "The hottest hold below local boiling.", _hottest_candling),
    Fact("first-hold", TEMPERATURE, "Where the schedule holds first.", _first_hold),
    _steepest_fact(
        "rate-through-boiling",
        "The fastest climb from local boiling to 120 °C.",
        band("free water"),
        "up",
    ),
    _steepest_fact(
        "rate-to-600",
        "The fastest climb from local boiling to 600 °C, stretches under 25 °C left out.",
        Band("first firing", None, usual("first_firing_to")),
        "up",
        _SLIVER,
    ),
    _steepest_fact(
        "rate-to-100", "The fastest climb below 100 °C.", Band("cold", -inf, 100.0), "up"
    ),
    _steepest_fact(
        "chemical-water-rate",
        "The fastest climb from 450 to 700 °C, stretches under 25 °C left out.",
        band("chemical water"),
        "up",
        _SLIVER,
    ),
    Fact("carbon-rate", RATE, "The mean climb from 650 to 900 °C, holds counted.", _carbon_rate),
    Fact("carbon-time", DURATION, "Time from 650 to 900 °C on the way up.", _carbon_time),
    _steepest_fact("quartz-up-rate", "The climb through 573 °C.", band("quartz"), "up"),
    _steepest_fact("quartz-down-rate", "The cooling through 573 °C.", band("quartz"), "down"),
    _steepest_fact(
        "cristobalite-down-rate",
        "The fastest cooling from 226 to 220 °C.",
        band("cristobalite"),
        "down",
    ),
    _steepest_fact(
        "cristobalite-up-rate", "The fastest climb from 220 to 226 °C.", band("cristobalite"), "up"
    ),
    _steepest_fact(
        "cooling-rate", "The fastest cooling above 100 °C.", Band("hot", 100.0, inf), "down"
    ),
    Fact("opening", TEMPERATURE, "Where the kiln is opened.", _opening),
    part_fact("end", TEMPERATURE, "Where the schedule ends.", lambda f: degrees(f.curve.end)),
    Fact("has-cooling", FLAG, "Yes if the schedule says how the kiln cools.", _cools),
    Fact("is-raku", FLAG, "Yes if the plan calls the firing raku.", _raku),
    part_fact(
        "heating-time",
        DURATION,
        "Time from the start until the kiln needs no more power: past the peak, and past any later "
        "hold or cooling at a rate.",
        lambda f: hours(f.powered_hours),
    ),
    part_fact(
        "total-time",
        DURATION,
        "Time from the start to the last line of the schedule.",
        lambda f: hours(f.curve.end_hour),
    ),
    Fact(
        "rated-end",
        TEMPERATURE,
        "The hottest the kiln is made for; of a rated cone, where it ends at 150 °C/h.",
        _rated_end,
    ),
    Fact(
        "thermocouple-limit",
        TEMPERATURE,
        "Up to where ASTM E230 gives the kiln's type of thermocouple a tolerance.",
        _thermocouple_limit,
    ),
    part_fact(
        "energy",
        NUMBER,
        "The energy of the firing in kWh, an estimate.",
        lambda f: f.curve.energy,
    ),
)

FORECAST = PlanSubject(
    "forecast",
    "The firing as it is computed from the schedule; only there if the schedule could be read.",
    _forecasts,
    _place,
    single=True,
)
FORECAST.add(*_CURVE_FACTS, *WARE_FACTS, *TARGET_FACTS, *CLOCK_FACTS)
