"""Room: the vocabulary of plans; here what the computed firing lets a rule ask of a plan."""

from collections.abc import Callable, Iterable
from datetime import datetime
from math import isfinite
from typing import Any

from guardcone.firing.curve import Passage, usual_bands
from guardcone.firing.of_plan import PlannedFiring, kinetics_for
from guardcone.firing.uncertainty import thermocouple_tolerance
from guardcone.plan.model import Segment
from guardcone.rulebook.facts.case import Of, PlanCase
from guardcone.rulebook.kinds import (
    DURATION,
    FLAG,
    MOMENT,
    NUMBER,
    RATE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
    Type,
    words,
)
from guardcone.rulebook.vocabulary import Fact, Subject
from guardcone.span import Span, Written
from guardcone.values import Duration, Quantity, Rate, Temperature, TemperatureDifference

__all__ = ["BAND_CROSSING", "FORECAST", "degrees", "difference", "hours", "rate"]

# The last stretch of a climb, whose rate the cone tables are published for (chart text).
LAST_STRETCH = 100.0
# Up to here the published ramps of a first firing count (practice tables: bisque to 600 °C).
FIRST_FIRING_TO = 600.0


def degrees(celsius: float | None) -> Temperature | None:
    """A temperature to show, None for none or none finite."""
    return None if celsius is None or not isfinite(celsius) else Temperature.of(celsius, "C")


def difference(celsius: float | None) -> TemperatureDifference | None:
    """A temperature difference to show."""
    usable = celsius is not None and isfinite(celsius)
    return TemperatureDifference.of(celsius, "C") if celsius is not None and usable else None


def rate(celsius_per_hour: float | None) -> Rate | None:
    """A rate to show."""
    usable = celsius_per_hour is not None and isfinite(celsius_per_hour)
    return Rate.of(celsius_per_hour, "C/h") if celsius_per_hour is not None and usable else None


def hours(count: float | None) -> Duration | None:
    """A length of time to show."""
    return None if count is None or not isfinite(count) else Duration.of(count, "h")


def _at(value: Any, segment: Segment | None) -> Any:
    """The value, pointing at the segment it comes from."""
    return Written(value, segment.span) if value is not None and segment is not None else value


def _segment_at(firing: PlannedFiring, hour: float) -> Segment | None:
    """The segment under way just after an hour of the firing."""
    for piece in firing.curve.pieces:
        if piece.start_hour <= hour < piece.end_hour:
            return firing.segment_of_leg(piece.leg)
    return firing.segments[-1] if firing.segments else None


def _steepest(
    firing: PlannedFiring, low: float, high: float, way: str
) -> tuple[float, Segment | None] | None:
    """The fastest rate, up or down, anywhere between two temperatures, and whose segment it is."""
    best: tuple[float, Segment | None] | None = None
    for piece in firing.curve.pieces:
        rising = piece.end > piece.start
        bottom, top = max(low, min(piece.start, piece.end)), min(high, max(piece.start, piece.end))
        if piece.hours <= 0 or rising != (way == "up") or bottom > top or piece.start == piece.end:
            continue
        if bottom == top and low != high:
            continue
        fastest = max(abs(piece.rate_at(bottom)), abs(piece.rate_at(top)))
        if best is None or fastest > best[0]:
            best = fastest, firing.segment_of_leg(piece.leg)
    return best


def _steepest_fact(name: str, doc: str, low: float, high: float, way: str) -> Fact:
    def get(of: Of[PlannedFiring]) -> Any:
        floor = of.it.boiling if low == BOILING else low
        found = _steepest(of.it, floor, high, way)
        return None if found is None else _at(rate(found[0]), found[1])

    return Fact(name, RATE, doc, get)


# Stands for the local boiling point in a band.
BOILING = -1.0


def _peak(of: Of[PlannedFiring]) -> Any:
    firing = of.it
    first, _ = firing.curve.peak_hours
    before = [p for p in firing.curve.pieces if p.end_hour <= first + 1e-9]
    return _at(degrees(firing.peak), firing.segment_of_leg(before[-1].leg) if before else None)


def _last_rate(of: Of[PlannedFiring]) -> Any:
    """Mean rate of the last 100 °C below the peak; with a hold on the way it counts the hold."""
    curve = of.it.curve
    first = curve.peak_hours[0]
    low = curve.peak - LAST_STRETCH
    passed = [crossing.hour for crossing in curve.crossings(low) if crossing.hour < first]
    if low <= curve.start or not passed or first <= passed[-1]:
        return None
    return _at(rate(LAST_STRETCH / (first - passed[-1])), _segment_at(of.it, first - 1e-6))


def _dried_for(of: Of[PlannedFiring]) -> Any:
    """Hours between 60 °C and local boiling before boiling is first reached."""
    curve, boiling = of.it.curve, of.it.boiling
    reached = [crossing.hour for crossing in curve.crossings(boiling) if crossing.rate > 0]
    end = reached[0] if reached else curve.end_hour
    spent = sum(
        max(0.0, min(stay.end_hour, end) - stay.start_hour)
        for stay in curve.passages(min(60.0, boiling - 1), boiling + 1e-6)
        if stay.start_hour < end
    )
    return _at(hours(spent), _segment_at(of.it, end))


def _time_in(low: float, high: float) -> Callable[[Of[PlannedFiring]], Any]:
    def get(of: Of[PlannedFiring]) -> Any:
        stays = [stay for stay in of.it.curve.passages(low, high) if stay.way != "down"]
        return hours(sum(stay.hours for stay in stays)) if stays else None

    return get


def _mean_up(low: float, high: float) -> Callable[[Of[PlannedFiring]], Any]:
    def get(of: Of[PlannedFiring]) -> Any:
        for stay in of.it.curve.passages(low, high):
            if stay.way == "up" and stay.mean_rate is not None:
                return _at(rate(stay.mean_rate), _segment_at(of.it, stay.start_hour))
        return None

    return get


def _opening(of: Of[PlannedFiring]) -> Any:
    schedule = of.case.plan.schedule
    opening = of.it.curve.opening
    if schedule is None or opening is None or schedule.opens is None:
        return None
    return Written(schedule.opens.value, schedule.opens.span)


def _target_temperature(firing: PlannedFiring) -> float | None:
    """°C at which the target cone ends at 60 °C/h by the law, or the target temperature."""
    target = firing.plan.target
    if target is None:
        return None
    if target.temperature:
        return target.temperature.value.celsius
    law = kinetics_for(target.cone.value) if target.cone else None
    return law.end_60 if law else None


def _peak_over_target(of: Of[PlannedFiring]) -> Any:
    wanted = _target_temperature(of.it)
    return None if wanted is None else difference(of.it.peak - wanted)


def _slip_peak(of: Of[PlannedFiring]) -> Any:
    """How far the peak is from the cone that a leading-zero slip would have meant."""
    target = of.case.plan.target
    if target is None or target.cone is None:
        return None
    twin = target.cone.value.number.zero_twin
    law = kinetics_for(target.cone.value.numbered(twin)) if twin else None
    return difference(abs(of.it.peak - law.end_60)) if law else None


def _twin(of: Of[PlannedFiring]) -> Any:
    target = of.case.plan.target
    twin = target.cone.value.number.zero_twin if target and target.cone else None
    return f"cone {twin}" if twin else None


def _other_unit(of: Of[PlannedFiring]) -> Any:
    """How far the peak's number, read in the other unit, is from the target's temperature."""
    wanted = _target_temperature(of.it)
    hottest = [s.to for s in of.it.segments if s.to and s.to.value.celsius == of.it.peak]
    if wanted is None or not hottest:
        return None
    written = hottest[0].value
    other = "F" if written.unit.plain == "C" else "C"
    return difference(abs(Temperature.of(written.amount(), other).celsius - wanted))


def _moment(hour_of: Callable[[PlannedFiring], float | None]) -> Callable[[Of[PlannedFiring]], Any]:
    def get(of: Of[PlannedFiring]) -> datetime | None:
        return of.it.clock(hour_of(of.it))

    return get


def _heating_hours(firing: PlannedFiring) -> float:
    return firing.curve.peak_hours[1]


def _guide_hour(firing: PlannedFiring) -> float | None:
    """The hour at which the first guide of the plan is due to bend."""
    due = [
        forecast.start_hour
        for witness in firing.plan.witness_sets
        if witness.guide and (forecast := firing.forecast(witness.guide.value))
    ]
    known = [hour for hour in due if hour is not None]
    return min(known) if known else None


def _unwatched_guide(of: Of[PlannedFiring]) -> Any:
    """Yes if watches are said by the clock and none covers the time the guide is due."""
    safety = of.case.plan.safety
    due = of.it.clock(_guide_hour(of.it))
    if safety is None or "watches" in safety.unreadable or not safety.watches or due is None:
        return None
    starts = of.it.starts
    assert starts is not None
    for watch in safety.watches:
        if watch.throughout or watch.from_word or watch.from_temperature:
            return False
        if watch.from_time is None:
            continue
        begin = datetime.combine(starts.date(), watch.from_time.value)
        since = (due - begin).total_seconds() / 3600
        if watch.to_end and since >= 0:
            return False
        if watch.to_time:
            length = (
                (datetime.combine(starts.date(), watch.to_time.value) - begin).total_seconds()
                / 3600
                % 24
            )
            if 0 <= since % 24 <= length:
                return False
    return Written(True, safety.watches[0].span)


def _thermocouple_limit(of: Of[PlannedFiring]) -> Any:
    """The end of the span in which the standard gives this thermocouple a tolerance."""
    kiln = of.case.plan.kiln
    if kiln is None or kiln.thermocouple is None:
        return None
    letter = kiln.thermocouple.value
    tolerance = thermocouple_tolerance(letter, of.it.peak)
    if tolerance is None:
        return None
    if tolerance.defined:
        return degrees(of.it.peak)
    low, high = 0.0, of.it.peak
    while high - low > 0.5:
        middle = (low + high) / 2
        found = thermocouple_tolerance(letter, middle)
        low, high = (middle, high) if found and found.defined else (low, middle)
    return degrees(round(low))


def _rated_end(of: Of[PlannedFiring]) -> Any:
    """The hottest the kiln is made for, in °C; of a rated cone its end at 60 °C/h."""
    kiln = of.case.plan.kiln
    if kiln is None:
        return None
    if kiln.rated_temperature:
        return kiln.rated_temperature.value
    law = kinetics_for(kiln.rated_cone.value) if kiln.rated_cone else None
    return degrees(law.end_60) if law else None


def _get(read: Callable[[PlannedFiring], Any]) -> Callable[[Of[PlannedFiring]], Any]:
    return lambda of: read(of.it)


def _units(of: Of[PlannedFiring]) -> Iterable[Quantity]:
    return [s.to.value for s in of.it.segments if s.to]


def _forecasts(case: PlanCase) -> Iterable[Of[PlannedFiring]]:
    return [Of(case, case.firing)] if case.firing.fired else []


def _place(of: Of[PlannedFiring]) -> Span | None:
    return of.case.plan.schedule.heading if of.case.plan.schedule else None


FORECAST = Subject(
    "forecast",
    "The firing as it is computed from the schedule; only there if the schedule could be read.",
    _forecasts,
    (
        Fact("peak", TEMPERATURE, "The hottest temperature of the schedule.", _peak),
        Fact(
            "equivalent-cone",
            TEXT,
            "The firing as a number between cones.",
            _get(lambda f: f.equivalent.text),
        ),
        Fact("last-rate", RATE, "The mean rate of the last 100 °C below the peak.", _last_rate),
        Fact(
            "boiling",
            TEMPERATURE,
            "Where water boils at the kiln.",
            _get(lambda f: degrees(f.boiling)),
        ),
        Fact("dried-for", DURATION, "Time from 60 °C to local boiling.", _dried_for),
        _steepest_fact(
            "rate-through-boiling",
            "The fastest climb from local boiling to 120 °C.",
            BOILING,
            120.0,
            "up",
        ),
        _steepest_fact(
            "rate-to-600", "The fastest climb from 120 to 600 °C.", 120.0, FIRST_FIRING_TO, "up"
        ),
        _steepest_fact("rate-to-100", "The fastest climb below 100 °C.", -50.0, 100.0, "up"),
        _steepest_fact(
            "chemical-water-rate", "The fastest climb from 450 to 700 °C.", 450.0, 700.0, "up"
        ),
        Fact(
            "carbon-rate",
            RATE,
            "The mean climb from 650 to 900 °C, holds counted.",
            _mean_up(650.0, 900.0),
        ),
        Fact(
            "carbon-time",
            DURATION,
            "Time from 650 to 900 °C on the way up.",
            _time_in(650.0, 900.0),
        ),
        _steepest_fact("quartz-up-rate", "The climb through 573 °C.", 573.0, 573.0, "up"),
        _steepest_fact("quartz-down-rate", "The cooling through 573 °C.", 573.0, 573.0, "down"),
        _steepest_fact(
            "cristobalite-down-rate",
            "The fastest cooling from 226 to 220 °C.",
            220.0,
            226.0,
            "down",
        ),
        _steepest_fact(
            "cristobalite-up-rate", "The fastest climb from 220 to 226 °C.", 220.0, 226.0, "up"
        ),
        _steepest_fact("cooling-rate", "The fastest cooling above 100 °C.", 100.0, 2000.0, "down"),
        Fact("opening", TEMPERATURE, "Where the kiln is opened.", _opening),
        Fact("end", TEMPERATURE, "Where the schedule ends.", _get(lambda f: degrees(f.curve.end))),
        Fact(
            "has-cooling",
            FLAG,
            "Yes if the schedule says how the kiln cools.",
            _get(
                lambda f: any(s.kind == "cool" for s in f.segments) or f.curve.opening is not None
            ),
        ),
        Fact(
            "heating-time",
            DURATION,
            "Time from the start to the end of the peak.",
            _get(lambda f: hours(_heating_hours(f))),
        ),
        Fact(
            "total-time",
            DURATION,
            "Time from the start to the last line of the schedule.",
            _get(lambda f: hours(f.curve.end_hour)),
        ),
        Fact("ends", MOMENT, "When the peak ends, by the clock.", _moment(_heating_hours)),
        Fact(
            "end-hour",
            NUMBER,
            "The hour of the day at which the peak ends.",
            lambda of: (end := of.it.clock(_heating_hours(of.it))) and end.hour + end.minute / 60,
        ),
        Fact("guide-due", MOMENT, "When the first guide is due to bend.", _moment(_guide_hour)),
        Fact(
            "guide-unwatched",
            FLAG,
            "Yes if no watch covers the time the guide is due.",
            _unwatched_guide,
        ),
        Fact(
            "target-temperature",
            TEMPERATURE,
            "Where the target cone ends at 60 °C/h.",
            _get(lambda f: degrees(_target_temperature(f))),
        ),
        Fact(
            "peak-over-target",
            TEMPERATURE_DIFFERENCE,
            "The peak less that temperature.",
            _peak_over_target,
        ),
        Fact(
            "peak-off-slip",
            TEMPERATURE_DIFFERENCE,
            "How far the peak is from the cone with the leading zero slipped.",
            _slip_peak,
        ),
        Fact("slipped-cone", TEXT, "The target with its leading zero added or taken away.", _twin),
        Fact(
            "peak-off-in-other-unit",
            TEMPERATURE_DIFFERENCE,
            "How far the peak's number in the other unit is from the target's temperature.",
            _other_unit,
        ),
        Fact("rated-end", TEMPERATURE, "The hottest the kiln is made for.", _rated_end),
        Fact(
            "thermocouple-limit",
            TEMPERATURE,
            "Up to where the standard gives its thermocouple a tolerance, or the peak.",
            _thermocouple_limit,
        ),
        Fact(
            "energy",
            NUMBER,
            "The energy of the firing in kWh, an estimate.",
            _get(lambda f: f.curve.energy),
        ),
    ),
    _place,
    single=True,
    units=_units,
)


_BANDS = {
    "free water": "free-water",
    "cristobalite": "cristobalite",
    "chemical water": "chemical-water",
    "quartz": "quartz",
    "carbon": "carbon",
    "high heat": "high-heat",
}


class _Crossing:
    """One stay of the firing in a band."""

    def __init__(self, band: str, stay: Passage, firing: PlannedFiring) -> None:
        self.band = band
        self.stay = stay
        self.firing = firing


def _crossings(case: PlanCase) -> Iterable[Of[_Crossing]]:
    firing = case.firing
    if not firing.fired:
        return
    for name, low, high in usual_bands():
        for stay in firing.curve.passages(firing.boiling if low is None else low, high):
            yield Of(case, _Crossing(_BANDS[name], stay, firing))


def _of_stay(name: str, kind: Type, doc: str, read: Callable[[Passage], Any]) -> Fact:
    return Fact(name, kind, doc, lambda of: _at(read(of.it.stay), _crossing_segment(of)))


def _crossing_segment(of: Of[_Crossing]) -> Segment | None:
    return _segment_at(of.it.firing, of.it.stay.start_hour)


def _crossing_place(of: Of[_Crossing]) -> Span | None:
    segment = _crossing_segment(of)
    return segment.span if segment else None


BAND_CROSSING = Subject(
    "band crossing",
    "One stay of the firing in a band where water leaves, carbon burns or a mineral turns.",
    _crossings,
    (
        Fact("band", words(*_BANDS.values()), "The band.", lambda of: of.it.band),
        _of_stay(
            "way",
            words("up", "down", "part"),
            "Through it upwards, downwards, or not all through.",
            lambda s: s.way,
        ),
        _of_stay("mean-rate", RATE, "Its mean rate, holds counted.", lambda s: rate(s.mean_rate)),
        _of_stay("fastest-climb", RATE, "The fastest climb in it.", lambda s: rate(s.steepest_up)),
        _of_stay(
            "fastest-cooling", RATE, "The fastest cooling in it.", lambda s: rate(s.steepest_down)
        ),
        _of_stay("time", DURATION, "How long it takes.", lambda s: hours(s.hours)),
        _of_stay("low", TEMPERATURE, "Where the band begins.", lambda s: degrees(s.low)),
        _of_stay("high", TEMPERATURE, "Where the band ends.", lambda s: degrees(s.high)),
    ),
    _crossing_place,
    units=lambda of: [s.to.value for s in of.it.firing.segments if s.to],
)
