"""What a rule may ask of a segment and of a firing cone."""

from collections.abc import Callable, Iterable
from typing import Any

from guardcone.condition.kinds import (
    DURATION,
    FLAG,
    MOMENT,
    NUMBER,
    PERCENTAGE,
    RATE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
    many,
    words,
)
from guardcone.condition.phrase import Phrase
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.amounts import degrees, difference, hours, percent, rate
from guardcone.facts.case import Of, PlanCase, PlanSubject, single, written_fact
from guardcone.facts.forecast_target import target_temperature
from guardcone.facts.witness import WITNESS_CONE, WitnessCone
from guardcone.firing.cone_forecast import ConeForecast
from guardcone.firing.curve import Problem
from guardcone.firing.tables import usual
from guardcone.plan.schedule import Schedule, Segment
from guardcone.span import Written
from guardcone.values import Rate, Temperature

__all__ = ["FIRED_WITNESS_CONE", "SCHEDULE", "SEGMENT"]


def _segments(case: PlanCase) -> Iterable[Of[Segment]]:
    schedule = case.plan.schedule
    return [Of(case, segment) for segment in schedule.segments] if schedule else []


def _asked_rate(of: Of[Segment]) -> Any:
    """The rate of the segment as written, or as its duration makes it."""
    segment = of.it
    if segment.rate:
        return segment.rate
    if segment.to is None or segment.duration is None or segment.duration.value.hours <= 0:
        return None
    change = abs(segment.to.value.celsius - of.case.firing.segment_start(segment))
    return Written(rate(change / segment.duration.value.hours), segment.span)


def _problem(of: Of[Segment], *kinds: str) -> Problem | None:
    return of.case.firing.problem(of.it, kinds)


def _problem_flag(name: str, doc: str, *kinds: str) -> Fact:
    def get(of: Of[Segment]) -> Any:
        if not of.case.firing.complete:
            return None
        return Written(True, of.it.span) if _problem(of, *kinds) else False

    return Fact(name, FLAG, doc, get)


_TOO_FAST = ("faster than full power", "faster than free cooling")


def _possible(of: Of[Segment]) -> Any:
    found = _problem(of, *_TOO_FAST)
    return rate(round(found.possible)) if found and found.possible is not None else None


def _estimated(of: Of[Segment]) -> Any:
    found = _problem(of, *_TOO_FAST)
    return found.estimated if found else False


def _lossless(of: Of[Segment]) -> float | None:
    """°C/h that full power would give if the kiln lost no heat, with the kernel's own doubt."""
    kiln = of.case.firing.kiln
    power, capacity = kiln.full_power, kiln.heat_capacity
    if not kiln.own_power or power is None or not capacity:
        return None
    return usual("kiln_power_doubt") * power / capacity


def _lossless_rate(of: Of[Segment]) -> Any:
    possible = _lossless(of)
    return None if possible is None else rate(round(possible))


def _asks_too_much(of: Of[Segment]) -> bool:
    possible, asked = _lossless(of), _asked_rate(of)
    if possible is None or asked is None or of.it.kind != "climb":
        return False
    return bool(asked.value.celsius_per_hour > possible)


def _after_all_power(of: Of[Segment]) -> bool:
    """Whether an earlier climb asks too much: one weak kiln is one finding, at its first line."""
    earlier = (other for other in _segments(of.case) if other.it.number < of.it.number)
    return any(_asks_too_much(other) for other in earlier)


def _beyond_all_power(of: Of[Segment]) -> Any:
    if not _asks_too_much(of) or _after_all_power(of):
        return False
    return Written(True, _asked_rate(of).span)


def _power_mended(of: Of[Segment]) -> str | None:
    """What to do about a climb that the kiln's power can't give."""
    found = _problem(of, *_TOO_FAST)
    if found is None or found.possible is None or of.it.to is None:
        return None
    to = of.it.to.value
    if found.possible < usual("crawl"):
        return Phrase(
            "By our estimate this kiln does not reach ",
            to,
            " at all. Look at its power and its volume, or choose a cooler firing.",
        )
    possible = Rate.of(round(found.possible), "C/h")
    told = "Write a rate of ", possible, " or less up to ", to
    return Phrase(*told, ", or the rate the kiln is known to do.")


def _within_reach(of: Of[Segment]) -> Any:
    found = _problem(of, "out of the kiln's power")
    return degrees(round(found.possible)) if found and found.possible is not None else None


def _possible_from(of: Of[Segment]) -> Any:
    found = _problem(of, *_TOO_FAST)
    return degrees(round(found.at)) if found and found.at is not None else None


def _other_unit(written: Temperature) -> Temperature:
    """The same number with the other letter behind it."""
    return Temperature.of(written.amount(), "C" if written.unit.plain == "F" else "F")


def _meant_in_other_unit(of: Of[Segment]) -> str | None:
    """The number with the other unit, where the climb would then go on as the schedule does."""
    to, schedule, firing = of.it.to, of.case.plan.schedule, of.case.firing
    if of.it.kind != "climb" or to is None or schedule is None or not firing.complete:
        return None
    other = _other_unit(to.value)
    begins = firing.segment_start(of.it)
    climbs = [s for s in schedule.segments if s.kind == "climb" and s.to and s is not of.it]
    same = sum(s.to.value.unit.plain == other.unit.plain for s in climbs if s.to)
    later = next((s.to.value.celsius for s in climbs if s.to and s.number > of.it.number), None)
    target = target_temperature(firing)
    most = later
    if later is None and target is not None:
        most = target + usual("slipped_unit_reach")
    fits = other.celsius > begins and (most is None or other.celsius <= most)
    return str(other) if fits and 2 * same > len(climbs) else None


def _wrong_way_said(of: Of[Segment]) -> str | None:
    """In the units that the plan has elsewhere, or the two numbers could not be compared."""
    if of.it.to is None or not of.case.firing.complete:
        return None
    to = of.it.to.value
    usual_unit = _other_unit(to).unit
    at = Temperature(of.case.firing.segment_start(of.it), usual_unit)
    return f"{to} is {Temperature(to.base, usual_unit)}, and the schedule is at {at} by then"


def _hold_elsewhere(of: Of[Segment]) -> Any:
    """Yes for `hold 2 h at 95 C` where the schedule is not at 95 °C then."""
    segment = of.it
    if segment.kind != "hold" or segment.to is None or not of.case.firing.complete:
        return False
    apart = abs(segment.to.value.celsius - of.case.firing.segment_start(segment))
    return Written(apart > usual("hold_elsewhere"), segment.to.span)


def _duration(of: Of[Segment]) -> Any:
    if of.it.duration:
        return of.it.duration
    spent = of.case.firing.segment_hours(of.it)
    return hours(spent[1] - spent[0]) if spent else None


SEGMENT = PlanSubject(
    "segment",
    "One line of the schedule: a climb, a hold or a cooling.",
    _segments,
    lambda of: of.it.span,
)
SEGMENT.add(
    Fact("number", NUMBER, "Its place in the schedule, from 1.", lambda of: of.it.number),
    Fact("kind", words("climb", "hold", "cool"), "What it does.", lambda of: of.it.kind),
    Fact(
        "pace",
        words("rate", "duration", "full-power", "freely", "crash"),
        "How its speed is given.",
        lambda of: of.it.pace,
    ),
    Fact("rate", RATE, "Its rate, as written or by its duration.", _asked_rate),
    Fact("duration", DURATION, "Its length, as written or computed.", _duration),
    Fact(
        "from",
        TEMPERATURE,
        "Where it begins.",
        lambda of: degrees(of.case.firing.segment_start(of.it)),
    ),
    Fact("to", TEMPERATURE, "Where it ends, as written.", lambda of: of.it.to),
    _problem_flag(
        "goes-the-wrong-way",
        "Yes for a climb to a cooler or a cooling to a hotter temperature.",
        "climb to a cooler temperature",
        "cool to a hotter temperature",
    ),
    Fact(
        "meant-in-other-unit",
        TEXT,
        "Its temperature with the other unit behind the number, where that fits the schedule.",
        _meant_in_other_unit,
    ),
    Fact(
        "wrong-way-said",
        TEXT,
        "In words: where it ends, in °C and °F, and where the schedule is by then.",
        _wrong_way_said,
    ),
    _problem_flag("changes-nothing", "Yes if it ends where it begins.", "leg changes nothing"),
    _problem_flag(
        "takes-no-time",
        "Yes for a length or a rate of nothing.",
        "duration not positive",
        "rate not positive",
    ),
    _problem_flag(
        "beyond-power", "Yes if full power can't climb so fast.", "faster than full power"
    ),
    Fact(
        "beyond-all-power",
        FLAG,
        "Yes for the first climb that the kiln's own power could not do even without any loss.",
        _beyond_all_power,
    ),
    Fact(
        "after-all-power",
        FLAG,
        "Yes if an earlier climb is beyond all power.",
        _after_all_power,
    ),
    Fact(
        "power-mended",
        TEXT,
        "In words: the climb to write instead, or that the kiln does not come so far.",
        _power_mended,
    ),
    Fact(
        "lossless-rate",
        RATE,
        "What its own power would climb if it lost no heat, an estimate.",
        _lossless_rate,
    ),
    _problem_flag(
        "beyond-reach",
        "Yes for a climb at full power to where full power doesn't come.",
        "out of the kiln's power",
    ),
    Fact("within-reach", TEMPERATURE, "Where full power comes to, an estimate.", _within_reach),
    _problem_flag(
        "below-room",
        "Yes if it cools freely to below the room.",
        "cool to below the room",
    ),
    Fact(
        "possible-is-estimated",
        FLAG,
        "Yes if what the kiln can do is not from its own figures.",
        _estimated,
    ),
    _problem_flag(
        "beyond-free-cooling",
        "Yes if it cools faster than the kiln can.",
        "faster than free cooling",
    ),
    Fact("possible-rate", RATE, "What the kiln can do.", _possible),
    Fact("possible-to", TEMPERATURE, "From where on it can't follow.", _possible_from),
    Fact(
        "holds-elsewhere",
        FLAG,
        "Yes for a hold at a temperature not reached by then.",
        _hold_elsewhere,
    ),
)


def _reduction_start(of: Of[Schedule]) -> Any:
    reductions = of.it.reductions
    if not reductions:
        return UNREADABLE if "reductions" in of.it.unreadable else None
    return min((reduction.start for reduction in reductions), key=lambda start: start.value)


def _coolest(of: Of[Schedule]) -> Any:
    ends = [one.end for one in of.it.reductions if one.end is not None]
    temperatures = [*(one.start for one in of.it.reductions), *ends]
    if not temperatures:
        return UNREADABLE if "reductions" in of.it.unreadable else None
    return min(temperatures, key=lambda one: one.value)


def _segments_of(of: Of[Schedule]) -> list[Of[Segment]]:
    return [Of(of.case, segment) for segment in of.it.segments]


def _number_of_segments(of: Of[Schedule]) -> Any:
    if "segments" in of.it.unreadable and not of.it.segments:
        return UNREADABLE
    return len(of.it.segments)


SCHEDULE = PlanSubject(
    "schedule",
    "The schedule as it is written.",
    single("schedule"),
    lambda of: of.it.heading,
    single=True,
)
SCHEDULE.add(
    Fact("segments", many("segment"), "Its segments.", _segments_of),
    Fact("number-of-segments", NUMBER, "How many segments it has.", _number_of_segments),
    written_fact("begins", TEMPERATURE, "Where it begins, if said."),
    written_fact("opens", TEMPERATURE, "Where the kiln is opened."),
    Fact("reduces-from", TEMPERATURE, "Where reduction starts.", _reduction_start),
    Fact("reduces-coolest", TEMPERATURE, "The coolest that it is reduced at.", _coolest),
)


# -- cones in the computed firing ---------------------------------------------------------------


def _forecast(of: Of[WitnessCone]) -> ConeForecast | None:
    return of.case.firing.forecast(of.it.cone.value) if of.case.firing.fired else None


def _of_forecast(
    name: str, kind: Any, doc: str, read: Callable[[Of[Any], ConeForecast], Any]
) -> Fact:
    def get(of: Of[WitnessCone]) -> Any:
        found = _forecast(of)
        return None if found is None else read(of, found)

    return Fact(name, kind, doc, get)


_FORECAST_OF_CONE = (
    _of_forecast("verdict", TEXT, "What the forecast says of it.", lambda _, f: f.verdict),
    _of_forecast(
        "chance-down", PERCENTAGE, "How likely it goes down.", lambda _, f: percent(f.chance_down)
    ),
    _of_forecast(
        "chance-moved", PERCENTAGE, "How likely it moves.", lambda _, f: percent(f.chance_moved)
    ),
    _of_forecast(
        "past-end",
        TEMPERATURE_DIFFERENCE,
        "By how much the firing passes its end.",
        lambda _, f: difference(f.over),
    ),
    _of_forecast(
        "short-of-end",
        TEMPERATURE_DIFFERENCE,
        "By how much the firing stops short of its end.",
        lambda _, f: difference(-f.over),
    ),
    _of_forecast(
        "due", MOMENT, "When it starts to bend.", lambda of, f: of.case.firing.clock(f.start_hour)
    ),
    _of_forecast(
        "clock",
        NUMBER,
        "Where it points at the end: 0 up, 3 level, 6 down.",
        lambda _, f: round(f.clock, 1),
    ),
)

FIRED_WITNESS_CONE = PlanSubject(
    WITNESS_CONE.name,
    WITNESS_CONE.doc,
    WITNESS_CONE.each,
    WITNESS_CONE.place,
)
FIRED_WITNESS_CONE.add(*WITNESS_CONE.facts, *_FORECAST_OF_CONE)
