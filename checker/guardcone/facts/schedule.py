"""What a rule may ask of a segment and of a firing cone."""

from bisect import bisect_right
from collections.abc import Iterable
from math import floor
from typing import Any

from guardcone.condition.kinds import (
    DURATION,
    FLAG,
    NUMBER,
    RATE,
    TEMPERATURE,
    TEXT,
    many,
    words,
)
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of, PlanCase, PlanSubject, degrees, hours, rate, single
from guardcone.facts.forecast import peak
from guardcone.facts.forecast_cones import other_unit, target_temperature
from guardcone.firing.curve import Problem
from guardcone.firing.tables import usual
from guardcone.plan.schedule import Schedule, Segment
from guardcone.span import Written
from guardcone.values import Temperature

__all__ = ["SCHEDULE", "SEGMENT", "meant_in_other_unit"]


def _segments(case: PlanCase) -> Iterable[Of[Segment]]:
    schedule = case.plan.schedule
    return [Of(case, segment) for segment in schedule.segments] if schedule else []


def _problem(of: Of[Segment], *kinds: str) -> Problem | None:
    return of.case.firing.problem(of.it, kinds)


def _problem_flag(name: str, doc: str, *kinds: str) -> None:
    def get(of: Of[Segment]) -> Any:
        if not of.case.firing.complete:
            return None
        return Written(True, of.it.span) if _problem(of, *kinds) else False

    SEGMENT.add(Fact(name, FLAG, doc, get))


_TOO_FAST = ("faster than full power", "faster than free cooling")


def _lossless(of: Of[Segment]) -> float | None:
    """°C/h that full power would give if the kiln lost no heat, with the kernel's own doubt."""
    kiln = of.case.firing.kiln
    power, capacity = kiln.full_power, kiln.heat_capacity
    if not kiln.own_power or power is None or not capacity:
        return None
    return usual("kiln_power_doubt") * power / capacity


def _asks_too_much(of: Of[Segment]) -> bool:
    possible, asked = _lossless(of), _rate(of)
    if possible is None or asked is None or of.it.kind != "climb":
        return False
    return bool(asked.value.celsius_per_hour > possible)


SEGMENT = PlanSubject(
    "segment",
    "One line of the schedule: a climb, a hold or a cooling.",
    _segments,
    lambda of: of.it.span,
)
SEGMENT.written("number", NUMBER, "Its place in the schedule, from 1.")
SEGMENT.written("kind", words("climb", "hold", "cool"), "What it does.")
_PACES = words("rate", "duration", "full-power", "freely", "crash")
SEGMENT.written("pace", _PACES, "How its speed is given.")


@SEGMENT.fact(RATE)
def _rate(of: Of[Segment]) -> Any:
    """Its rate, as written or by its duration."""
    segment = of.it
    if segment.rate:
        return segment.rate
    if segment.to is None or segment.duration is None or segment.duration.value.hours <= 0:
        return None
    change = abs(segment.to.value.celsius - of.case.firing.segment_start(segment))
    return Written(rate(change / segment.duration.value.hours), segment.span)


@SEGMENT.fact(DURATION)
def _duration(of: Of[Segment]) -> Any:
    """Its length, as written or computed."""
    if of.it.duration:
        return of.it.duration
    spent = of.case.firing.segment_hours(of.it)
    return hours(spent[1] - spent[0]) if spent else None


@SEGMENT.fact(TEMPERATURE)
def _from(of: Of[Any]) -> Any:
    """Where it begins."""
    return degrees(of.case.firing.segment_start(of.it))


SEGMENT.written("to", TEMPERATURE, "Where it ends, as written.")
_problem_flag(
    "goes-the-wrong-way",
    "Yes for a climb to a cooler or a cooling to a hotter temperature.",
    "climb to a cooler temperature",
    "cool to a hotter temperature",
)


@SEGMENT.fact(TEXT)
def meant_in_other_unit(of: Of[Segment]) -> str | None:
    """Its temperature with the other unit behind the number, where that fits the schedule.

    The number with the other unit, where the climb would then go on as the schedule does.
    """
    to, schedule, firing = of.it.to, of.case.plan.schedule, of.case.firing
    if of.it.kind != "climb" or to is None or schedule is None or not firing.complete:
        return None
    other = other_unit(to.value)
    begins = firing.segment_start(of.it)
    climbs = of.case.climbs
    behind = bisect_right(climbs, of.it.number, key=lambda one: one.number)
    following = climbs[behind].to if behind < len(climbs) else None
    later = following.value.celsius if following else None
    same = of.case.units_of_climbs[other.unit.plain]  # of which this one is none
    target = target_temperature(firing)
    most = later
    if later is None and target is not None:
        most = target + usual("slipped_unit_reach")
    fits = other.celsius > begins and (most is None or other.celsius <= most)
    return str(other) if fits and 2 * same > len(climbs) - 1 else None


# In words, for in a sentence both would turn into the unit of the line.
@SEGMENT.fact(TEXT)
def _from_in_other_unit(of: Of[Segment]) -> str | None:
    """Where it begins, in °C where it ends in °F and the other way round."""
    return _converted(of.it, of.case.firing.segment_start(of.it))


@SEGMENT.fact(TEXT)
def _to_in_other_unit(of: Of[Segment]) -> str | None:
    """Where it ends, likewise."""
    return _converted(of.it, of.it.to.value.base) if of.it.to else None


def _converted(segment: Segment, celsius: float) -> str | None:
    return str(Temperature(celsius, other_unit(segment.to.value).unit)) if segment.to else None


_problem_flag("changes-nothing", "Yes if it ends where it begins.", "leg changes nothing")
_problem_flag(
    "takes-no-time",
    "Yes for a length or a rate of nothing.",
    "duration not positive",
    "rate not positive",
)
_problem_flag("beyond-power", "Yes if full power can't climb so fast.", "faster than full power")


@SEGMENT.fact(FLAG)
def _beyond_all_power(of: Of[Segment]) -> Any:
    """Yes for the first climb that the kiln's own power could not do even without any loss."""
    if not _asks_too_much(of) or _after_all_power(of):
        return False
    return Written(True, _rate(of).span)


@SEGMENT.fact(FLAG)
def _after_all_power(of: Of[Segment]) -> bool:
    """Yes if an earlier climb is beyond all power.

    Whether an earlier climb asks too much: one weak kiln is one finding, at its first line.
    """
    earlier = (other for other in _segments(of.case) if other.it.number < of.it.number)
    return any(_asks_too_much(other) for other in earlier)


@SEGMENT.fact(RATE)
def _lossless_rate(of: Of[Segment]) -> Any:
    """What its own power would climb if it lost no heat, an estimate."""
    possible = _lossless(of)
    return None if possible is None else rate(round(possible))


_problem_flag(
    "beyond-reach",
    "Yes for a climb at full power to where full power doesn't come.",
    "out of the kiln's power",
)


@SEGMENT.fact(TEMPERATURE)
def _within_reach(of: Of[Segment]) -> Any:
    """Where full power comes to, an estimate."""
    found = _problem(of, "out of the kiln's power")
    return degrees(round(found.possible)) if found and found.possible is not None else None


_problem_flag("below-room", "Yes if it cools freely to below the room.", "cool to below the room")


@SEGMENT.fact(FLAG)
def _possible_is_estimated(of: Of[Segment]) -> Any:
    """Yes if what the kiln can do is not from its own figures."""
    found = _problem(of, *_TOO_FAST)
    return found.estimated if found else False


_problem_flag(
    "beyond-free-cooling",
    "Yes if it cools faster than the kiln can.",
    "faster than free cooling",
)


@SEGMENT.fact(RATE)
def _possible_rate(of: Of[Segment]) -> Any:
    """What the kiln can do."""
    found = _problem(of, *_TOO_FAST)
    return rate(floor(found.possible)) if found and found.possible is not None else None


@SEGMENT.fact(RATE)
def _believable_rate(_: Of[Segment]) -> Any:
    """What a kiln is taken to climb still at what it is rated to; less is a wrong estimate."""
    return rate(usual("kiln_climb_at_rating"))


@SEGMENT.fact(TEMPERATURE)
def _possible_to(of: Of[Segment]) -> Any:
    """From where on it can't follow."""
    found = _problem(of, *_TOO_FAST)
    return degrees(round(found.at)) if found and found.at is not None else None


@SEGMENT.fact(FLAG)
def _holds_elsewhere(of: Of[Segment]) -> Any:
    """Yes for a hold at a temperature not reached by then.

    Yes for `hold 2 h at 95 C` where the schedule is not at 95 °C then.
    """
    segment = of.it
    if segment.kind != "hold" or segment.to is None or not of.case.firing.complete:
        return False
    apart = abs(segment.to.value.celsius - of.case.firing.segment_start(segment))
    return Written(apart > usual("hold_elsewhere"), segment.to.span)


SCHEDULE = PlanSubject(
    "schedule",
    "The schedule as it is written.",
    single("schedule"),
    lambda of: of.it.heading,
    single=True,
)


@SCHEDULE.fact(many("segment"), "segments")
def _segments_of(of: Of[Schedule]) -> list[Of[Segment]]:
    """Its segments."""
    return [Of(of.case, segment) for segment in of.it.segments]


@SCHEDULE.fact(NUMBER)
def _number_of_segments(of: Of[Schedule]) -> Any:
    """How many segments it has."""
    if "segments" in of.it.unreadable and not of.it.segments:
        return UNREADABLE
    return len(of.it.segments)


@SCHEDULE.fact(TEMPERATURE)
def _hottest(of: Of[Schedule]) -> Any:
    """The peak of the firing; of a schedule with a line that can't be read the hottest it goes to.

    What can be read of it goes there whatever the other lines are to say.
    """
    if of.case.firing.fired:
        return peak(of.case.firing)
    ends = [one.to for one in of.it.segments if one.to]
    return max(ends, key=lambda one: one.value, default=UNREADABLE)


SCHEDULE.written("begins", TEMPERATURE, "Where it begins, if said.")
SCHEDULE.written("opens", TEMPERATURE, "Where the kiln is opened.")


def _coolest(of: Of[Schedule], said: Iterable[Written[Temperature] | None]) -> Any:
    temperatures = [one for one in said if one is not None]
    if not temperatures:
        return UNREADABLE if "reductions" in of.it.unreadable else None
    return min(temperatures, key=lambda one: one.value)


@SCHEDULE.fact(TEMPERATURE)
def _reduces_from(of: Of[Schedule]) -> Any:
    """Where reduction starts."""
    return _coolest(of, (one.start for one in of.it.reductions))


@SCHEDULE.fact(TEMPERATURE)
def _reduces_coolest(of: Of[Schedule]) -> Any:
    """The coolest that it is reduced at."""
    reductions = of.it.reductions
    return _coolest(of, [*(one.start for one in reductions), *(one.end for one in reductions)])
