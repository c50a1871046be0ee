"""Room: the vocabulary of plans; here who is at the kiln at each moment of the firing.

All moments are hours from the start of the firing. There is one answer to whether somebody is
there: `Watching`. Rules about the guide, the end and a burning kiln ask it.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from math import inf
from typing import Any

from attrs import define, frozen

from guardcone.firing.of_plan import PlannedFiring
from guardcone.plan.model import Safety, Watch
from guardcone.rulebook.facts.case import Of, part_fact
from guardcone.rulebook.kinds import FLAG, NUMBER, TEXT
from guardcone.rulebook.people import is_not_there, is_place_holder, is_thing, names_nobody
from guardcone.rulebook.reasons import says_nobody
from guardcone.rulebook.vocabulary import UNREADABLE, Fact
from guardcone.span import Written

__all__ = ["WATCH_FACTS", "Watching", "watching_of"]

# A watch without a day that seems to last longer than this past the end: its times are swapped.
_LONGEST_AFTER_END = 12.0
_DAY = 24.0
# Closer than this two moments are one: a minute, the least that a plan can say.
_MINUTE = 1 / 60


@frozen
class Shift:
    """From which to which hour of the firing one watch lasts."""

    begins: float
    ends: float


@define
class Watching:
    """Who is there when, in one firing.

    `ends` is the hour at which the kiln needs no more power, None where the schedule does not tell.
    A watch that names no day is taken for the first such time of the firing; `daily` takes it for
    every day of a firing that lasts longer than one.
    """

    watches: tuple[Watch, ...]
    firing: PlannedFiring
    ends: float | None
    guide: float | None

    @property
    def over_a_day(self) -> bool:
        """True where the same time of day comes twice, so that a watch must name its day."""
        return self.ends is not None and self.ends > _DAY

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
        return self._shifts(daily=False)[1]

    def over_by(self, hour: float) -> bool:
        """True if every watch is known to have ended by this hour."""
        shifts, known = self._shifts(daily=False)
        return known and all(shift.ends < hour for shift in shifts)

    def undated(self) -> Watch | None:
        """The first watch to a time of day that names no day."""
        return next(
            (one for one in self.watches if one.to_time and not (one.to_date or one.from_date)),
            None,
        )

    def _shifts(self, daily: bool) -> tuple[list[Shift], bool]:
        """When somebody is there, and whether the hours of every watch are known."""
        shifts: list[Shift] = []
        known = True
        for watch in self.watches:
            begins = self.begins(watch)
            ends = None if begins is None else self._ends(watch, begins)
            if begins is None or ends is None:
                known = False
                if begins is None and (watch.to_end or watch.throughout) and self.ends is not None:
                    # Whenever it begins, it lasts to the end.
                    shifts.append(Shift(self.ends, inf))
                continue
            if begins < ends:
                shifts.append(Shift(begins, ends))
                if daily and watch.to_time and not (watch.from_date or watch.to_date):
                    shifts += self._repeated(begins, ends)
        return shifts, known

    def _repeated(self, begins: float, ends: float) -> Iterator[Shift]:
        days = 1
        while self.ends is not None and begins + days * _DAY <= self.ends:
            yield Shift(begins + days * _DAY, ends + days * _DAY)
            days += 1

    def begins(self, watch: Watch) -> float | None:
        """The hour at which a watch begins; None where that can't be told."""
        firing = self.firing
        if watch.throughout:
            return 0.0
        if watch.from_word:
            return 0.0 if watch.from_word.value == "start" else self.guide
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
            return after if after < _DAY / 2 else after - _DAY
        if after <= self.ends:
            return after
        # Not while the kiln is on: before the start or after the end, whichever is nearer.
        return after - _DAY if _DAY - after <= after - self.ends else after

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
        first = starts + timedelta(hours=begins)
        time = datetime.combine(first.date(), watch.to_time.value)
        if time <= first:
            time += timedelta(days=1)
        ends = _hours(starts, time)
        # Long past the end: the times are swapped, and nobody knows what is meant.
        swapped = self.ends is not None and ends - self.ends >= _LONGEST_AFTER_END
        return begins if swapped else ends


def watching_of(firing: PlannedFiring, safety: Safety | None, ends: float | None) -> Watching:
    """Who is there when in a firing; `ends` is the hour at which the kiln needs no more power."""
    cones = (witness.guide for witness in firing.plan.witness_sets)
    due = [told.start_hour for cone in cones if cone and (told := firing.forecast(cone.value))]
    guide = min((hour for hour in due if hour is not None), default=None)
    return Watching(kept_watches(safety) if safety else (), firing, ends, guide)


def kept_watches(safety: Safety) -> tuple[Watch, ...]:
    """The watches that somebody keeps who is there."""
    return tuple(one for one in safety.watches if not _is_nobody(one) and not _is_empty(one))


def _is_nobody(watch: Watch) -> bool:
    """True where the plan says nobody, a thing, or somebody who is elsewhere."""
    if watch.nobody is not None:
        return True
    who = watch.who.value if watch.who else ""
    return says_nobody(who) or is_thing(who) or is_not_there(who)


def _is_empty(watch: Watch) -> bool:
    """True where something stands in place of a name that says nothing: `?`, `name`."""
    return watch.who is not None and is_place_holder(watch.who.value)


def _hours(starts: datetime, moment: datetime) -> float:
    return (moment - starts).total_seconds() / 3600


def _watching(of: Of[Safety]) -> Watching:
    """Of the whole schedule, or with a faulty line in it of the lines above that one."""
    firing, beginning = of.case.firing, of.case.beginning
    if not firing.fired and beginning is not None:
        return watching_of(beginning, of.it, None)
    return watching_of(firing, of.it, firing.powered_hours if firing.fired else None)


def _watched_to_end(of: Of[Safety]) -> Any:
    """Yes, pointing at the line, if somebody is there to the end of the firing.

    Missing where no watch is said; unreadable where a watch ends at a time of day and the clock of
    the firing is not known well enough to tell.
    """
    safety = of.it
    if "watches" in safety.unreadable:
        return UNREADABLE
    watching = _watching(of)
    if not watching.watches:
        return None
    last = watching.watches[-1]
    if watching.ends is None:
        if any(one.throughout or one.to_end for one in watching.watches):
            return Written(True, last.span)
        beginning = of.case.beginning
        on_until = beginning.curve.end_hour if beginning else 0.0
        over = on_until < _DAY and watching.over_by(on_until)
        return Written(False, last.span) if over else UNREADABLE
    covers = watching.covers(watching.ends)
    if covers is None:
        return UNREADABLE
    if not covers and watching.over_a_day and watching.covers(watching.ends, daily=True):
        return UNREADABLE  # that a watch names no day is what is told
    return Written(covers, last.span)


def _burning_watched(of: Of[Safety]) -> Any:
    """Yes if somebody is there from lighting to shut-off, apart from a watch that ends too early.

    Of a watch whose hours can't be told nobody can say so.
    """
    if "watches" in of.it.unreadable or {"starts_at", "starts_on"} & of.case.plan.unreadable:
        return UNREADABLE
    watching, schedule = _watching(of), of.case.plan.schedule
    if not watching.known and schedule is not None and schedule.unreadable:
        return UNREADABLE
    return _early_gap(of) is None if watching.watches else None


def _early_gap(of: Of[Safety]) -> Shift | None:
    """The first time nobody is there, unless it only is that the last watch ends too early."""
    watching = _watching(of)
    gap = watching.first_gap()
    if gap is None or (gap.ends == inf and gap.begins > 0):
        return None
    if watching.over_a_day and watching.first_gap(daily=True) is None:
        return None  # that a watch names no day is what is told
    is_last = watching.ends is not None and gap.begins > 0 and gap.ends >= watching.ends
    return None if is_last else gap


def _alone(of: Of[Safety]) -> Any:
    """When nobody is there, in words."""
    gap = _early_gap(of)
    if gap is None:
        return None
    firing = _watching(of).firing
    first, last = firing.clock(gap.begins), firing.clock(gap.ends if gap.ends < inf else None)
    if not _watching(of).known or first is None:
        return "for part of the firing, or its times do not tell"
    if last is None:
        return f"at {first:%H:%M}, when it is lit"
    form = "%H:%M" if gap.ends < _DAY else "%Y-%m-%d %H:%M"
    return f"from {first:{form}} to {last:{form}}"


def _day_wanted(of: Of[Safety]) -> Any:
    """Yes, at the watch, if a firing over a day is watched by times of day without their day."""
    watching = _watching(of)
    undated = watching.undated()
    if "watches" in of.it.unreadable or not watching.over_a_day or undated is None:
        return False
    return Written(True, undated.span)


def _day_decides(of: Of[Safety]) -> Any:
    """Yes if it hangs on that day whether somebody is there when it matters."""
    wanted = _day_wanted(of)
    if not isinstance(wanted, Written):
        return wanted
    watching = _watching(of)
    assert watching.ends is not None
    ends, kiln = watching.ends, of.case.plan.kiln
    hangs = watching.covers(ends) is not True and bool(watching.covers(ends, daily=True))
    electric = kiln is not None and kiln.fuel is not None and kiln.fuel.value == "electric"
    if not electric:
        gap = watching.first_gap()
        hangs = hangs or (gap is not None and watching.first_gap(daily=True) is None)
    return Written(hangs, wanted.span)


def _ends_at(of: Of[Safety]) -> Any:
    """When the kiln needs no more power; of a faulty schedule the lines above the faulty one."""
    firing, beginning = of.case.firing, of.case.beginning
    if firing.fired:
        ends = firing.clock(firing.powered_hours)
        day = "%Y-%m-%d %H:%M" if firing.powered_hours > _DAY else "%H:%M"
        return f"{ends:{day}}" if ends else None
    still_on = beginning.clock(beginning.curve.end_hour) if beginning else None
    return f"{still_on:%H:%M}, or later" if still_on else None


def _number_of_watches(safety: Safety) -> Any:
    """Those that name nobody at all are none; a watch that is kept by nobody is told as that."""
    if "watches" in safety.unreadable:
        return UNREADABLE
    return float(sum(_is_nobody(one) or not _is_empty(one) for one in safety.watches))


def _last_watch(of: Of[Safety]) -> Any:
    """How the last watch falls short: when it ends, or that it begins too late."""
    watching = _watching(of)
    if not watching.watches:
        return None
    last = watching.watches[-1]
    begins = watching.begins(last)
    if watching.ends is not None and begins is not None and begins > watching.ends:
        said = last.from_time or last.from_temperature
        if said:
            told = said.value if last.from_temperature else _time(last.from_date, last.from_time)
            return Written(f"begins at {told}", said.span)
    if last.to_time is None:
        return None
    return Written(f"ends at {_time(last.to_date, last.to_time)}", last.to_time.span)


def _time(day: Written[Any] | None, time: Written[Any] | None) -> str:
    told = f"{time.value:%H:%M}" if time else ""
    return f"{day.value:%Y-%m-%d} {told}" if day else told


def _nobody(safety: Safety) -> Any:
    """Yes where the plan says so, or gives a watch to nobody, to a thing, to somebody elsewhere.

    Beside a person who is there a thing may well run along.
    """
    said = next((watch for watch in safety.watches if watch.nobody), None)
    if said is None and not kept_watches(safety):
        said = next((watch for watch in safety.watches if _is_nobody(watch)), None)
    return Written(True, said.span) if said else False


def _watcher_named(safety: Safety) -> Any:
    """The first name among the watches; `somebody` and the like are none."""
    if "watches" in safety.unreadable:
        return UNREADABLE
    names = [watch.who for watch in kept_watches(safety) if watch.who]
    return next((name for name in names if not names_nobody(name.value)), None)


WATCH_FACTS = (
    part_fact("number-of-watches", NUMBER, "How many watches the plan has.", _number_of_watches),
    Fact("watched-to-end", FLAG, "Yes if somebody is there to the end.", _watched_to_end),
    Fact(
        "burning-watched",
        FLAG,
        "Yes if somebody is there from the start on without a break, up to the last watch's end.",
        _burning_watched,
    ),
    Fact("alone", TEXT, "When nobody is there before the last watch, in words.", _alone),
    Fact(
        "watch-day-wanted",
        FLAG,
        "Yes if the firing lasts over a day and a watch by the clock names no day.",
        _day_wanted,
    ),
    Fact(
        "watch-day-decides",
        FLAG,
        "Yes if it hangs on the day of such a watch whether somebody is there when it matters.",
        _day_decides,
    ),
    Fact(
        "last-watch",
        TEXT,
        "How the last watch falls short: the time it ends, or begins after the firing.",
        _last_watch,
    ),
    Fact("firing-ends", TEXT, "The time at which the kiln needs no more power.", _ends_at),
    part_fact(
        "nobody-watches",
        FLAG,
        "Yes if the plan says that nobody watches, or only a thing, or somebody who is not there.",
        _nobody,
    ),
    part_fact("watcher", TEXT, "Who watches first.", _watcher_named),
)
