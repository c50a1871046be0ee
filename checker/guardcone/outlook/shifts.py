"""Who is at the kiln at each moment of the firing.

All moments are hours from the start of the firing. There is one answer to whether somebody is
there: `Watching`. Whatever asks about the guide, the end or a burning kiln asks it.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from math import inf

from attrs import define, frozen

from guardcone.firing.tables import usual
from guardcone.language.meanings import is_not_there, is_place_holder, is_thing, says_nobody
from guardcone.outlook.planned import PlannedFiring
from guardcone.plan.safety import Safety, Watch

__all__ = [
    "DAY",
    "Shift",
    "Watching",
    "guide_hour",
    "is_empty",
    "is_nobody",
    "kept_watches",
    "watching_of",
]

DAY = 24.0
# Closer than this two moments are one: a minute, the least that a plan can say.
_MINUTE = 1 / 60


@frozen(repr=False)
class Shift:
    """From which to which hour of the firing one watch lasts."""

    begins: float
    ends: float


@define(repr=False)
class Watching:
    """Who is there when, in one firing.

    `ends` is the hour at which the kiln needs no more power, None where the schedule does not tell.
    A watch that names no day is taken for the first such time of the firing; `daily` takes it for
    every day of a firing that lasts longer than one.
    """

    watches: tuple[Watch, ...]
    firing: PlannedFiring
    ends: float | None

    @property
    def over_a_day(self) -> bool:
        """True where the same time of day comes twice, so that a watch must name its day."""
        return self.ends is not None and self.ends > DAY

    def covers(self, hour: float, daily: bool = False) -> bool | None:
        """Whether somebody is there at an hour; None where the plan's clock can't tell."""
        shifts, known = self._shifts(daily)
        if any(shift.begins <= hour <= shift.ends + _MINUTE for shift in shifts):
            return True
        return False if known else None

    def first_gap(self, daily: bool = False) -> Shift | None:
        """The first time between lighting and shut-off at which nobody is there by this plan.

        Where the end is not known, only that somebody is there at lighting and stays is asked.
        """
        shifts, _ = self._shifts(daily)
        there = 0.0
        for shift in sorted(shifts, key=lambda shift: shift.begins):
            if shift.begins > there + _MINUTE:
                return Shift(there, shift.begins)
            there = max(there, shift.ends)
        if self.ends is None:
            return Shift(there, inf) if there == 0 else None
        return Shift(there, self.ends) if there + _MINUTE < self.ends else None

    @property
    def known(self) -> bool:
        """True if the hours of every watch can be told."""
        return self._shifts()[1]

    def over_by(self, hour: float) -> bool:
        """True if every watch is known to have ended by this hour."""
        shifts, known = self._shifts()
        return known and all(shift.ends < hour for shift in shifts)

    def undated(self) -> Watch | None:
        """The first watch to a time of day that names no day."""
        return next(
            (one for one in self.watches if one.to_time and not (one.to_date or one.from_date)),
            None,
        )

    def _shifts(self, daily: bool = False) -> tuple[list[Shift], bool]:
        """When somebody is there, and whether the hours of every watch are known."""
        shifts: list[Shift] = []
        known = True
        for watch in self.watches:
            shift = self.shift(watch)
            if shift is None:
                known = False
                lasts = watch.to_end or watch.throughout
                if lasts and self.ends is not None and self.begins(watch) is None:
                    # Whenever it begins, it lasts to the end.
                    shifts.append(Shift(self.ends, inf))
            elif shift.begins < shift.ends:
                shifts.append(shift)
                if daily and watch.to_time and not (watch.from_date or watch.to_date):
                    shifts += self._repeated(shift.begins, shift.ends)
        return shifts, known

    def shift(self, watch: Watch) -> Shift | None:
        """From when to when a watch lasts; None where that can't be told."""
        begins = self.begins(watch)
        ends = None if begins is None else self._ends(watch, begins)
        return None if begins is None or ends is None else Shift(begins, ends)

    def _repeated(self, begins: float, ends: float) -> Iterator[Shift]:
        days = 1
        while self.ends is not None and begins + days * DAY <= self.ends:
            yield Shift(begins + days * DAY, ends + days * DAY)
            days += 1

    def begins(self, watch: Watch) -> float | None:
        """The hour at which a watch begins; None where that can't be told."""
        firing = self.firing
        if watch.throughout:
            return 0.0
        if watch.from_word:
            return 0.0 if watch.from_word.value == "start" else guide_hour(firing)
        if watch.from_temperature:
            celsius = watch.from_temperature.value.celsius
            if not firing.fired:
                return None
            if celsius <= firing.curve.start:
                return 0.0
            crossings = firing.curve.crossings(celsius)
            return crossings[0].hour if crossings else inf
        starts = firing.starts
        if starts is None or watch.from_time is None:
            return None
        if watch.from_date:
            if firing.plan.starts_on is None:
                return None
            return _hours(starts, datetime.combine(watch.from_date.value, watch.from_time.value))
        time = datetime.combine(starts.date(), watch.from_time.value)
        if time < starts:
            time += timedelta(days=1)
        after = _hours(starts, time)
        if self.ends is None:
            # How long it burns is not known: an earlier hour is rather one before the start.
            return after if after < DAY / 2 else after - DAY
        if after <= self.ends:
            return after
        # Not while the kiln is on: before the start or after the end, whichever is nearer.
        return after - DAY if DAY - after <= after - self.ends else after

    def _ends(self, watch: Watch, begins: float) -> float | None:
        """The hour at which a watch that begins at this hour ends."""
        if watch.throughout or watch.to_end:
            return inf
        starts = self.firing.starts
        if starts is None or watch.to_time is None:
            return None
        if watch.to_date:
            if self.firing.plan.starts_on is None:
                return None
            return _hours(starts, datetime.combine(watch.to_date.value, watch.to_time.value))
        if begins == inf:
            return inf
        try:
            first = starts + timedelta(hours=begins)
            time = datetime.combine(first.date(), watch.to_time.value)
            if time <= first:
                time += timedelta(days=1)
        except OverflowError:  # past the end of the calendar
            return None
        ends = _hours(starts, time)
        # Long past the end: the times are swapped, and nobody knows what is meant.
        swapped = self.ends is not None and ends - self.ends >= usual("longest_watch_after_end")
        return begins if swapped else ends


def watching_of(firing: PlannedFiring, safety: Safety | None, ends: float | None) -> Watching:
    """Who is there when in a firing; `ends` is the hour at which the kiln needs no more power."""
    watches = kept_watches(safety) if safety else ()
    return Watching(watches, firing, ends)


def guide_hour(firing: PlannedFiring) -> float | None:
    """The hour at which the first guide of all the sets is due to bend."""
    guides = [witness.guide.value for witness in firing.plan.witness_sets if witness.guide]
    due = [told.start_hour for guide in guides if (told := firing.forecast(guide))]
    return min((hour for hour in due if hour is not None), default=None)


def kept_watches(safety: Safety) -> tuple[Watch, ...]:
    """The watches that somebody keeps who is there."""
    return tuple(one for one in safety.watches if not is_nobody(one) and not is_empty(one))


def is_nobody(watch: Watch) -> bool:
    """True where the plan says nobody, a thing, or somebody who is elsewhere."""
    if watch.nobody is not None:
        return True
    who = watch.who.value if watch.who else ""
    return says_nobody(who) or is_thing(who) or is_not_there(who)


def is_empty(watch: Watch) -> bool:
    """True where something stands in place of a name that says nothing: `?`, `name`."""
    return watch.who is not None and is_place_holder(watch.who.value)


def _hours(starts: datetime, moment: datetime) -> float:
    return (moment - starts).total_seconds() / 3600
