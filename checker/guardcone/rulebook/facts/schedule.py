"""Room: the vocabulary of plans; here what a rule may ask of a segment, a firing cone, a ware."""

from collections.abc import Callable, Iterable
from typing import Any

from guardcone.firing.curve import Problem
from guardcone.firing.forecast import ConeForecast
from guardcone.firing.ware import core_lag, drying_hours
from guardcone.plan.model import Clay, Load, Schedule, Segment, Ware
from guardcone.rulebook.facts.case import Of, PlanCase, single, written_fact
from guardcone.rulebook.facts.firing import degrees, difference, hours, rate
from guardcone.rulebook.facts.load import CLAY, ware_facts
from guardcone.rulebook.facts.witness import WITNESS_CONE, WitnessCone
from guardcone.rulebook.kinds import (
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
from guardcone.rulebook.vocabulary import UNREADABLE, Fact, Subject
from guardcone.span import Written
from guardcone.values import Percentage, Quantity

__all__ = ["FIRED_CLAY", "FIRED_WARE", "FIRED_WITNESS_CONE", "SCHEDULE", "SEGMENT"]


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
    for problem in of.case.firing.curve.problems:
        if problem.leg == of.it.number - 1 and problem.kind in kinds:
            return problem
    return None


def _problem_flag(name: str, doc: str, *kinds: str) -> Fact:
    def get(of: Of[Segment]) -> Any:
        if not of.case.firing.complete:
            return None
        return Written(True, of.it.span) if _problem(of, *kinds) else False

    return Fact(name, FLAG, doc, get)


def _possible(of: Of[Segment]) -> Any:
    found = _problem(of, "faster than full power", "faster than free cooling")
    return rate(found.possible) if found else None


def _possible_from(of: Of[Segment]) -> Any:
    found = _problem(of, "faster than full power", "faster than free cooling")
    return degrees(found.at) if found else None


def _hold_elsewhere(of: Of[Segment]) -> Any:
    """Yes for `hold 2 h at 95 C` where the schedule is not at 95 °C then."""
    segment = of.it
    if segment.kind != "hold" or segment.to is None or not of.case.firing.complete:
        return False
    apart = abs(segment.to.value.celsius - of.case.firing.segment_start(segment))
    return Written(apart > 1.0, segment.to.span)


def _duration(of: Of[Segment]) -> Any:
    if of.it.duration:
        return of.it.duration
    spent = of.case.firing.segment_hours(of.it)
    return hours(spent[1] - spent[0]) if spent else None


SEGMENT = Subject(
    "segment",
    "One line of the schedule: a climb, a hold or a cooling.",
    _segments,
    (
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
        _problem_flag("changes-nothing", "Yes if it ends where it begins.", "leg changes nothing"),
        _problem_flag("takes-no-time", "Yes for a hold of no length.", "duration not positive"),
        _problem_flag(
            "beyond-power",
            "Yes if full power can't do it.",
            "out of the kiln's power",
            "faster than full power",
        ),
        _problem_flag(
            "beyond-free-cooling",
            "Yes if it cools faster than the kiln can.",
            "faster than free cooling",
        ),
        Fact("possible-rate", RATE, "What the kiln can do, an estimate.", _possible),
        Fact("possible-to", TEMPERATURE, "From where on it can't follow.", _possible_from),
        Fact(
            "holds-elsewhere",
            FLAG,
            "Yes for a hold at a temperature not reached by then.",
            _hold_elsewhere,
        ),
    ),
    lambda of: of.it.span,
    units=lambda of: _quantities(of.it),
)


def _quantities(segment: Segment) -> Iterable[Quantity]:
    return [written.value for written in (segment.rate, segment.to) if written]


def _reduction_start(of: Of[Schedule]) -> Any:
    reductions = of.it.reductions
    return reductions[0].start if reductions else None


def _segments_of(of: Of[Schedule]) -> list[Of[Segment]]:
    return [Of(of.case, segment) for segment in of.it.segments]


def _number_of_segments(of: Of[Schedule]) -> Any:
    if "segments" in of.it.unreadable and not of.it.segments:
        return UNREADABLE
    return len(of.it.segments)


SCHEDULE = Subject(
    "schedule",
    "The schedule as it is written.",
    single("schedule"),
    (
        Fact("segments", many("segment"), "Its segments.", _segments_of),
        Fact("number-of-segments", NUMBER, "How many segments it has.", _number_of_segments),
        written_fact("begins", TEMPERATURE, "Where it begins, if said."),
        written_fact("opens", TEMPERATURE, "Where the kiln is opened."),
        Fact("reduces-from", TEMPERATURE, "Where reduction starts.", _reduction_start),
    ),
    lambda of: of.it.heading,
    single=True,
)


# -- cones, clays and ware in the computed firing ----------------------------------------------


def _forecast(of: Of[WitnessCone]) -> ConeForecast | None:
    return of.case.firing.forecast(of.it.cone.value) if of.case.firing.fired else None


def _of_forecast(
    name: str, kind: Any, doc: str, read: Callable[[Of[Any], ConeForecast], Any]
) -> Fact:
    def get(of: Of[WitnessCone]) -> Any:
        found = _forecast(of)
        return None if found is None else read(of, found)

    return Fact(name, kind, doc, get)


def percent(share: float) -> Percentage:
    """A probability to show."""
    return Percentage.of(round(100 * share), "%")


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

FIRED_WITNESS_CONE = Subject(
    WITNESS_CONE.name,
    WITNESS_CONE.doc,
    WITNESS_CONE.each,
    (*WITNESS_CONE.facts, *_FORECAST_OF_CONE),
    WITNESS_CONE.place,
)


def _beyond_clay(of: Of[Clay]) -> ConeForecast | None:
    """The forecast of the cone one step above the hottest that the clay bears."""
    maturity = of.it.maturity
    if maturity is None or maturity.hottest is None or not of.case.firing.fired:
        return None
    above = maturity.hottest.value.number.hotter()
    return of.case.firing.forecast(maturity.hottest.value.numbered(above)) if above else None


def _chance_overfired(of: Of[Clay]) -> Any:
    found = _beyond_clay(of)
    return None if found is None else percent(found.chance_moved)


def _peak_over_highest(of: Of[Clay]) -> Any:
    maturity = of.it.maturity
    if maturity is None or maturity.highest is None or not of.case.firing.fired:
        return None
    return difference(of.case.firing.peak - maturity.highest.value.celsius)


FIRED_CLAY = Subject(
    CLAY.name,
    CLAY.doc,
    CLAY.each,
    (
        *CLAY.facts,
        Fact(
            "chance-overfired",
            PERCENTAGE,
            "How likely the cone above its range bends in this firing.",
            _chance_overfired,
        ),
        Fact(
            "peak-over-highest",
            TEMPERATURE_DIFFERENCE,
            "The peak less the end of its range, where that is a temperature.",
            _peak_over_highest,
        ),
    ),
    CLAY.place,
    title=CLAY.title,
)

# Words of a plan to the words of rules/tables/dampness.csv.
_DAMPNESS = {
    "damp": "wet",
    "leather-hard": "leather hard",
    "bone-dry": "bone dry",
    "dry": "bone dry",
    "greenware": "bone dry",
}


def _drying(which: str) -> Callable[[Of[Ware]], Any]:
    def get(of: Of[Ware]) -> Any:
        ware = of.it
        dampness = _DAMPNESS.get(ware.state.value) if ware.state else None
        if dampness is None or ware.wall is None:
            return None
        needed = drying_hours(ware.wall.value.millimetres, dampness)
        return hours(getattr(needed, which))

    return get


def _lag(direction: str) -> Callable[[Of[Ware]], Any]:
    """The computed lag of the core at 573 °C, heated from both sides."""

    def get(of: Of[Ware]) -> Any:
        ware = of.it
        if ware.wall is None or not of.case.firing.fired:
            return None
        rates = [
            abs(c.rate)
            for c in of.case.firing.curve.crossings(573.0)
            if (c.rate > 0) == (direction == "up")
        ]
        return difference(core_lag(max(rates), ware.wall.value.millimetres)) if rates else None

    return get


FIRED_WARE = Subject(
    "ware",
    "Pieces of one sort.",
    lambda case: [Of(case, ware) for ware in (case.plan.load or Load(case.plan.heading)).wares],
    (
        *ware_facts(),
        Fact(
            "drying-least",
            DURATION,
            "The least time below boiling that practice gives its wall and dampness.",
            _drying("least"),
        ),
        Fact(
            "drying-most",
            DURATION,
            "The most time below boiling that practice gives them.",
            _drying("most"),
        ),
        Fact(
            "core-lag-up",
            TEMPERATURE_DIFFERENCE,
            "The lag of its core going up through 573 °C, an estimate.",
            _lag("up"),
        ),
        Fact(
            "core-lag-down",
            TEMPERATURE_DIFFERENCE,
            "The lag of its core cooling through 573 °C, an estimate.",
            _lag("down"),
        ),
    ),
    lambda of: of.it.span,
    title=lambda of: f"the {of.it.name.value}",
)
