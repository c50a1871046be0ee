"""Room: the vocabulary of plans; here who is there when the kiln is hottest, and until when."""

from datetime import datetime, time
from typing import Any

from guardcone.plan.model import Safety, Watch
from guardcone.rulebook.facts.case import Of, part_fact
from guardcone.rulebook.kinds import FLAG, NUMBER, TEXT
from guardcone.rulebook.reasons import says_nobody, says_none
from guardcone.rulebook.vocabulary import UNREADABLE, Fact
from guardcone.span import Written

__all__ = ["WATCH_FACTS"]

# A watch that seems to last longer than this past the end is one whose times are swapped.
_LONGEST_AFTER_END = 12.0


def _ends(of: Of[Safety]) -> datetime | None:
    """When the kiln needs no more power by the clock, as far as that can be known."""
    firing = of.case.firing
    return firing.clock(firing.powered_hours) if firing.fired else None


def _still_on(of: Of[Safety]) -> datetime | None:
    """Until when a schedule with a faulty line is on at least: by the lines above that one."""
    beginning = of.case.beginning
    return beginning.clock(beginning.curve.end_hour) if beginning else None


def _over_while_on(of: Of[Safety], watch: Watch) -> bool:
    """True for a watch to a time of day at which the lines above the faulty one are still going."""
    still_on, starts = _still_on(of), of.case.firing.starts
    if still_on is None or starts is None or watch.to_time is None or watch.to_date:
        return False
    lasts = (still_on - starts).total_seconds() / 3600
    return lasts < 24 and _hours_between(starts.time(), watch.to_time.value) < lasts


def _ends_at(of: Of[Safety]) -> Any:
    ends, still_on = _ends(of), _still_on(of)
    if ends is None:
        return f"{still_on:%H:%M}, or later" if still_on else None
    return f"{ends:%H:%M}"


def _hours_between(one: time, other: time) -> float:
    """Hours from a time of day to the next time it is another."""
    seconds = (other.hour - one.hour) * 3600 + (other.minute - one.minute) * 60
    return seconds / 3600 % 24


def _is_nobody(watch: Watch) -> bool:
    return watch.nobody is not None or (watch.who is not None and says_nobody(watch.who.value))


def _watches(safety: Safety) -> list[Watch]:
    """The watches that somebody keeps."""
    return [watch for watch in safety.watches if not _is_nobody(watch)]


def _begins_in_time(of: Of[Safety], watch: Watch, ends: datetime) -> bool:
    """False for a watch that begins when the firing is over.

    One that names its day begins at that moment. Without a day, a time of day at which the firing
    is on is such a time; any other is before the start or after the end, whichever is nearer. A
    temperature above the peak never comes.
    """
    firing = of.case.firing
    if watch.from_temperature:
        return bool(watch.from_temperature.value.celsius <= firing.peak)
    if watch.from_time is None:
        return True
    if watch.from_date:
        begins = datetime.combine(watch.from_date.value, watch.from_time.value, ends.tzinfo)
        return begins < ends
    starts = firing.starts
    if starts is None or (ends - starts).total_seconds() >= 24 * 3600:
        return True
    if _hours_between(watch.from_time.value, ends.time()) <= _hours_between(
        starts.time(), ends.time()
    ):
        return True
    before = _hours_between(watch.from_time.value, starts.time())
    return before <= _hours_between(ends.time(), watch.from_time.value)


def _covers(watch: Watch, ends: datetime) -> bool:
    """True if a watch to a time of day may well last to the end of the firing.

    A watch that names its last day lasts to that moment. Without a day, one that begins at a time
    of day lasts to the next time it is `to_time`. That time comes within 12 hours of the end, else
    the watch ends before it.
    """
    assert watch.to_time is not None
    if watch.to_date:
        return datetime.combine(watch.to_date.value, watch.to_time.value, ends.tzinfo) >= ends
    if _hours_between(ends.time(), watch.to_time.value) >= _LONGEST_AFTER_END:
        return False
    if watch.from_time is None or watch.from_date:
        return True
    length = _hours_between(watch.from_time.value, watch.to_time.value)
    return _hours_between(watch.from_time.value, ends.time()) <= length


def _lasts_to_end(of: Of[Safety], watch: Watch, ends: datetime) -> bool:
    if not _begins_in_time(of, watch, ends):
        return False
    return watch.to_time is None or _covers(watch, ends)


def _watched_to_end(of: Of[Safety]) -> Any:
    """Yes, pointing at the line, if somebody is there to the end of the firing.

    Missing where no watch is said; unreadable where a watch ends at a time of day and the clock of
    the firing is not known well enough to tell.
    """
    safety = of.it
    if "watches" in safety.unreadable:
        return UNREADABLE
    watches, ends = _watches(safety), _ends(of)
    for watch in watches:
        if watch.throughout or (watch.to_end and ends is None):
            return Written(True, watch.span)
        if ends is not None and _lasts_to_end(of, watch, ends):
            return Written(True, watch.span)
    if ends is None and watches and not all(_over_while_on(of, watch) for watch in watches):
        return UNREADABLE
    return Written(False, watches[-1].span) if watches else None


def _number_of_watches(safety: Safety) -> Any:
    return UNREADABLE if "watches" in safety.unreadable else float(len(safety.watches))


def _last_watch(of: Of[Safety]) -> Any:
    """How the last watch falls short: when it ends, or that it begins too late."""
    watches, ends = _watches(of.it), _ends(of)
    if not watches:
        return None
    last = watches[-1]
    if ends and not _begins_in_time(of, last, ends):
        begins = last.from_time or last.from_temperature
        if begins:
            said = begins.value if last.from_temperature else f"{begins.value:%H:%M}"
            return Written(f"begins at {said}", begins.span)
    return (
        Written(f"ends at {last.to_time.value:%H:%M}", last.to_time.span) if last.to_time else None
    )


def _nobody(safety: Safety) -> Any:
    """Yes where the plan says so, or gives every watch to nobody."""
    said = next((watch for watch in safety.watches if watch.nobody), None)
    if said is None and safety.watches and not _watches(safety):
        said = safety.watches[0]
    return Written(True, said.span) if said else False


def _watcher_named(safety: Safety) -> Any:
    """The first name among the watches; `?` and the like are none."""
    if "watches" in safety.unreadable:
        return UNREADABLE
    names = [watch.who for watch in _watches(safety) if watch.who]
    return next((name for name in names if not says_none(name.value)), None)


WATCH_FACTS = (
    part_fact("number-of-watches", NUMBER, "How many watches the plan has.", _number_of_watches),
    Fact("watched-to-end", FLAG, "Yes if somebody is there to the end.", _watched_to_end),
    Fact(
        "last-watch",
        TEXT,
        "How the last watch falls short: the time of day it ends, or begins after the firing.",
        _last_watch,
    ),
    Fact("firing-ends", TEXT, "The time of day at which the kiln needs no more power.", _ends_at),
    part_fact("nobody-watches", FLAG, "Yes if the plan says that nobody watches.", _nobody),
    part_fact("watcher", TEXT, "Who watches first.", _watcher_named),
)
