"""Room: the vocabulary of plans; here the computed firing on the clock, and who watches when."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

from guardcone.firing.of_plan import PlannedFiring
from guardcone.plan.model import Watch
from guardcone.rulebook.facts.amounts import hours
from guardcone.rulebook.facts.case import Of
from guardcone.rulebook.kinds import DURATION, FLAG, MOMENT, NUMBER
from guardcone.rulebook.vocabulary import Fact
from guardcone.span import Written

__all__ = ["CLOCK_FACTS"]


def _power_ends(firing: PlannedFiring) -> float:
    return firing.powered_hours


def _due(role: str) -> Callable[[PlannedFiring], float | None]:
    """The hour at which the first guide, or target, of all the sets is due to bend."""

    def hour(firing: PlannedFiring) -> float | None:
        cones = (getattr(witness, role) for witness in firing.plan.witness_sets)
        due = [forecast.start_hour for c in cones if c and (forecast := firing.forecast(c.value))]
        return min((hour for hour in due if hour is not None), default=None)

    return hour


_guide_hour, _target_hour = _due("guide"), _due("target")


def _notice(of: Of[PlannedFiring]) -> Any:
    """The shortest time from guide to target in one set, pointing at the guide."""
    gaps = []
    for witness in of.case.plan.witness_sets:
        if witness.guide is None or witness.target is None:
            continue
        guide = of.it.forecast(witness.guide.value)
        target = of.it.forecast(witness.target.value)
        if guide and target and guide.start_hour is not None and target.start_hour is not None:
            gaps.append((target.start_hour - guide.start_hour, witness.guide.span))
    # A guide that bends after its target stands in a set whose order is wrong: no notice at all.
    if not gaps or min(gaps)[0] < 0:
        return None
    shortest, span = min(gaps)
    return Written(hours(shortest), span)


def _covers(watch: Watch, starts: datetime, moment: datetime) -> bool | None:
    """Whether a watch covers a moment of the firing; None where the clock can't tell."""
    if watch.nobody:
        return False
    if watch.throughout:
        return True
    if watch.from_word or watch.from_temperature or watch.from_time is None:
        return None
    day = watch.from_date.value if watch.from_date else starts.date()
    begin = datetime.combine(day, watch.from_time.value, starts.tzinfo)
    # A firing that lasts past midnight may be watched from an early hour of the next day on.
    if not watch.from_date and begin < starts - timedelta(hours=12):
        begin += timedelta(days=1)
    if moment < begin:
        return False
    if watch.to_end:
        return True
    if watch.to_time is None:
        return None
    last = watch.to_date.value if watch.to_date else begin.date()
    end = datetime.combine(last, watch.to_time.value, starts.tzinfo)
    if watch.to_date:
        return moment <= end
    return moment <= (end if end > begin else end + timedelta(days=1))


def _unwatched(
    hour_of: Callable[[PlannedFiring], float | None],
) -> Callable[[Of[PlannedFiring]], Any]:
    def get(of: Of[PlannedFiring]) -> Any:
        """Yes, at the first watch, if watches are said by the clock and none covers the hour."""
        safety = of.case.plan.safety
        moment, starts = of.it.clock(hour_of(of.it)), of.it.starts
        if safety is None or "watches" in safety.unreadable or not safety.watches:
            return None
        if moment is None or starts is None:
            return None
        covered = [_covers(watch, starts, moment) for watch in safety.watches]
        if True in covered:
            return Written(False, safety.watches[0].span)
        return None if None in covered else Written(True, safety.watches[0].span)

    return get


def _moment(hour_of: Callable[[PlannedFiring], float | None]) -> Callable[[Of[PlannedFiring]], Any]:
    return lambda of: of.it.clock(hour_of(of.it))


def _end_hour(of: Of[PlannedFiring]) -> float | None:
    end = of.it.clock(_power_ends(of.it))
    return end.hour + end.minute / 60 if end else None


CLOCK_FACTS = (
    Fact("ends", MOMENT, "When the kiln needs no more power, by the clock.", _moment(_power_ends)),
    Fact(
        "end-hour", NUMBER, "The hour of the day at which the kiln needs no more power.", _end_hour
    ),
    Fact("guide-due", MOMENT, "When the first guide is due to bend.", _moment(_guide_hour)),
    Fact("target-due", MOMENT, "When the first target is due to bend.", _moment(_target_hour)),
    Fact("notice", DURATION, "The time from the guide's bending to the target's.", _notice),
    Fact(
        "guide-unwatched",
        FLAG,
        "Yes if no watch covers the time the guide is due.",
        _unwatched(_guide_hour),
    ),
    Fact(
        "end-unwatched",
        FLAG,
        "Yes if no watch covers the moment when the kiln needs no more power.",
        _unwatched(_power_ends),
    ),
)
