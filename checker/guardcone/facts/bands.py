"""The stays of the computed firing in each band."""

from collections.abc import Callable, Iterable
from typing import Any

from attrs import frozen

from guardcone.condition.kinds import DURATION, RATE, TEMPERATURE, Type, words
from guardcone.condition.vocabulary import Fact
from guardcone.facts.amounts import at_segment, degrees, hours, rate, segment_at
from guardcone.facts.case import Of, PlanCase, PlanSubject
from guardcone.firing.curve import Passage
from guardcone.firing.tables import Band, bands
from guardcone.outlook.planned import PlannedFiring
from guardcone.plan.schedule import Segment
from guardcone.span import Span

__all__ = ["BAND_CROSSING"]


def _word(band: Band) -> str:
    return band.name.replace(" ", "-")


@frozen(eq=False)
class _Crossing:
    """One stay of the firing in a band."""

    band: str
    stay: Passage
    firing: PlannedFiring


def _crossings(case: PlanCase) -> Iterable[Of[_Crossing]]:
    firing = case.firing
    if not firing.fired:
        return
    for band in bands():
        low = firing.boiling if band.low is None else band.low
        for stay in firing.curve.passages(low, band.high):
            yield Of(case, _Crossing(_word(band), stay, firing))


def _of_stay(name: str, kind: Type, doc: str, read: Callable[[Passage], Any]) -> Fact:
    return Fact(name, kind, doc, lambda of: at_segment(read(of.it.stay), _crossing_segment(of)))


def _crossing_segment(of: Of[_Crossing]) -> Segment | None:
    return segment_at(of.it.firing, of.it.stay.start_hour)


def _crossing_place(of: Of[_Crossing]) -> Span | None:
    segment = _crossing_segment(of)
    return segment.span if segment else None


BAND_CROSSING = PlanSubject(
    "band crossing",
    "One stay of the firing in a band where water leaves, carbon burns or a mineral turns.",
    _crossings,
    _crossing_place,
)
BAND_CROSSING.add(
    Fact("band", words(*map(_word, bands())), "The band.", lambda of: of.it.band),
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
)
