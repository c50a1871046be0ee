"""What a rule may ask of the watches, and of the computed firing on the clock."""

from math import inf
from typing import Any

from guardcone.condition.kinds import DURATION, FLAG, MOMENT, NUMBER, TEXT
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts.case import Of, hours
from guardcone.facts.forecast import FORECAST
from guardcone.facts.safety import SAFETY
from guardcone.language.meanings import names_nobody
from guardcone.outlook.planned import PlannedFiring
from guardcone.outlook.shifts import (
    DAY,
    Shift,
    Watching,
    guide_hour,
    is_empty,
    is_nobody,
    kept_watches,
    watching_of,
)
from guardcone.plan.plan import target_of_set
from guardcone.plan.safety import Safety
from guardcone.span import Written

__all__ = []


def _watching(of: Of[Safety]) -> Watching:
    """Of the whole schedule, or with a faulty line in it of the lines above that one."""
    firing, beginning = of.case.firing, of.case.beginning
    if not firing.fired and beginning is not None:
        return watching_of(beginning, of.it, None)
    return watching_of(firing, of.it, firing.powered_hours if firing.fired else None)


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


def _time(day: Written[Any] | None, time: Written[Any] | None) -> str:
    told = f"{time.value:%H:%M}" if time else ""
    return f"{day.value:%Y-%m-%d} {told}" if day else told


@SAFETY.of_part(NUMBER)
def _number_of_watches(safety: Safety) -> Any:
    """How many watches the plan has.

    Those that name nobody at all are none; a watch that is kept by nobody is told as that.
    """
    if "watches" in safety.unreadable:
        return UNREADABLE
    return float(sum(is_nobody(one) or not is_empty(one) for one in safety.watches))


@SAFETY.fact(FLAG)
def _watched_to_end(of: Of[Safety]) -> Any:
    """Yes if somebody is there to the end.

    Yes, pointing at the line, if somebody is there to the end of the firing.  Missing where no
    watch is said; unreadable where a watch ends at a time of day and the clock of the firing is not
    known well enough to tell.
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
        over = on_until < DAY and watching.over_by(on_until)
        return Written(False, last.span) if over else UNREADABLE
    covers = watching.covers(watching.ends)
    if covers is None:
        return UNREADABLE
    if not covers and watching.over_a_day and watching.covers(watching.ends, daily=True):
        return UNREADABLE  # that a watch names no day is what is told
    return Written(covers, last.span)


@SAFETY.fact(FLAG)
def _burning_watched(of: Of[Safety]) -> Any:
    """Yes if somebody is there from the start on without a break, up to the last watch's end.

    Yes if somebody is there from lighting to shut-off, apart from a watch that ends too early.  Of
    a watch whose hours can't be told nobody can say so.
    """
    if "watches" in of.it.unreadable or {"starts_at", "starts_on"} & of.case.plan.unreadable:
        return UNREADABLE
    watching, schedule = _watching(of), of.case.plan.schedule
    if not watching.known and schedule is not None and schedule.unreadable:
        return UNREADABLE
    return _early_gap(of) is None if watching.watches else None


@SAFETY.fact(TEXT)
def _alone_from(of: Of[Safety]) -> Any:
    """From when on nobody is there before the last watch, where its times tell."""
    gap = _early_gap(of)
    return _by_clock(_watching(of), gap.begins, gap.ends) if gap else None


@SAFETY.fact(TEXT)
def _alone_until(of: Of[Safety]) -> Any:
    """Until when; missing where only that nobody is there at lighting is known."""
    gap = _early_gap(of)
    return _by_clock(_watching(of), gap.ends, gap.ends) if gap and gap.ends < inf else None


def _by_clock(watching: Watching, hour: float, ends: float) -> str | None:
    return _clock_text(watching.firing, hour, ends) if watching.known else None


def _clock_text(firing: PlannedFiring, hour: float, ends: float) -> str | None:
    """The hour by the clock, with its day where what `ends` then lasts over a day."""
    moment = firing.clock(hour)
    form = "%Y-%m-%d %H:%M" if DAY <= ends < inf else "%H:%M"
    return f"{moment:{form}}" if moment else None


@SAFETY.fact(FLAG)
def _watch_day_wanted(of: Of[Safety]) -> Any:
    """Yes if the firing lasts over a day and a watch by the clock names no day."""
    watching = _watching(of)
    undated = watching.undated()
    if "watches" in of.it.unreadable or not watching.over_a_day or undated is None:
        return False
    return Written(True, undated.span)


@SAFETY.fact(FLAG)
def _watch_day_decides(of: Of[Safety]) -> Any:
    """Yes if it hangs on the day of such a watch whether somebody is there when it matters."""
    wanted = _watch_day_wanted(of)
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


@SAFETY.fact(DURATION)
def _watch_early(of: Of[Safety]) -> Any:
    """How long before the firing its first watch by the clock begins, where it does."""
    watching = _watching(of)
    timed = [one for one in watching.watches if one.from_time]
    begun = ((watching.begins(one), one.span) for one in timed)
    early = [(hour, span) for hour, span in begun if hour is not None and hour < 0]
    return Written(hours(-min(early)[0]), min(early)[1]) if early else None


@SAFETY.fact(TEXT)
def _last_watch_begins(of: Of[Safety]) -> Any:
    """When the last watch begins, where that is after the firing."""
    watching = _watching(of)
    last = watching.watches[-1] if watching.watches else None
    begins = watching.begins(last) if last else None
    if last is None or watching.ends is None or begins is None or begins <= watching.ends:
        return None
    if last.from_temperature:
        return Written(str(last.from_temperature.value), last.from_temperature.span)
    time = last.from_time
    return Written(_time(last.from_date, time), time.span) if time else None


@SAFETY.fact(TEXT)
def _last_watch_ends(of: Of[Safety]) -> Any:
    """The time of day at which the last watch ends."""
    last = next(reversed(_watching(of).watches), None)
    if last is None or last.to_time is None:
        return None
    return Written(_time(last.to_date, last.to_time), last.to_time.span)


@SAFETY.fact(TEXT)
def _firing_ends(of: Of[Safety]) -> Any:
    """When the kiln needs no more power, with its day where the watch names one."""
    firing = of.case.firing
    hour = firing.powered_hours
    dated = any(one.from_date or one.to_date for one in of.it.watches)
    return _clock_text(firing, hour, DAY if dated else hour) if firing.fired else None


@SAFETY.fact(TEXT)
def _fires_on_past(of: Of[Safety]) -> Any:
    """Until when it fires at least, by the lines above one that can't be read."""
    beginning = None if of.case.firing.fired else of.case.beginning
    return _clock_text(beginning, beginning.curve.end_hour, 0.0) if beginning else None


@SAFETY.of_part(FLAG)
def _nobody_watches(safety: Safety) -> Any:
    """Yes if the plan says that nobody watches, or only a thing, or somebody who is not there.

    Yes where the plan says so, or gives a watch to nobody, to a thing, to somebody elsewhere.
    Beside a person who is there a thing may well run along.
    """
    said = next((watch for watch in safety.watches if watch.nobody), None)
    if said is None and not kept_watches(safety):
        said = next((watch for watch in safety.watches if is_nobody(watch)), None)
    return Written(True, said.span) if said else False


@SAFETY.of_part(TEXT)
def _watcher(safety: Safety) -> Any:
    """Who watches first.

    The first name among the watches; `somebody` and the like are none.
    """
    if "watches" in safety.unreadable:
        return UNREADABLE
    names = [watch.who for watch in kept_watches(safety) if watch.who]
    return next((name for name in names if not names_nobody(name.value)), None)


@FORECAST.of_part(MOMENT)
def _ends(firing: PlannedFiring) -> Any:
    """When the kiln needs no more power, by the clock."""
    return firing.clock(firing.powered_hours)


@FORECAST.of_part(MOMENT)
def _guide_due(firing: PlannedFiring) -> Any:
    """When the first guide is due to bend."""
    return firing.clock(guide_hour(firing))


@FORECAST.fact(DURATION)
def _notice(of: Of[PlannedFiring]) -> Any:
    """The time from the guide's bending to the target's.

    The shortest of all sets, pointing at the guide.
    """
    gaps = []
    for witness in of.case.plan.witness_sets:
        aim = target_of_set(witness, of.case.plan)
        if witness.guide is None or aim is None:
            continue
        guide = of.it.forecast(witness.guide.value)
        target = of.it.forecast(aim.value)
        if guide and target and guide.start_hour is not None and target.start_hour is not None:
            gaps.append((target.start_hour - guide.start_hour, witness.guide.span))
    # A guide that bends after its target stands in a set whose order is wrong: no notice at all.
    if not gaps or min(gaps)[0] < 0:
        return None
    shortest, span = min(gaps)
    return Written(hours(shortest), span)


@FORECAST.fact(FLAG)
def _guide_unwatched(of: Of[PlannedFiring]) -> Any:
    """Yes if no watch covers the time the guide is due.

    Points at the first watch; missing where no watch is said or the time can't be told.
    """
    safety, hour = of.case.plan.safety, guide_hour(of.it)
    if safety is None or "watches" in safety.unreadable or not safety.watches:
        return None
    if hour is None or not of.it.fired:
        return None
    covered = watching_of(of.it, safety, of.it.powered_hours).covers(hour)
    return None if covered is None else Written(not covered, safety.watches[0].span)
