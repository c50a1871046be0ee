"""What the computed firing does to the target and its guard."""

from collections.abc import Callable, Iterator
from typing import Any

from attrs import frozen

from guardcone.condition.kinds import (
    CONE,
    NUMBER,
    PERCENTAGE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
    Type,
)
from guardcone.condition.phrase import Phrase
from guardcone.condition.vocabulary import Fact
from guardcone.facts.amounts import degrees, difference, percent
from guardcone.facts.case import Of, part_fact
from guardcone.facts.ranges import turned
from guardcone.firing.bending import STANDING, clock_words
from guardcone.firing.cone_forecast import ConeForecast
from guardcone.firing.cones import kinetics_for
from guardcone.firing.heatwork import piece_work
from guardcone.firing.inverse import Kind
from guardcone.firing.tables import usual
from guardcone.outlook.advice import final_climb, setting_for
from guardcone.outlook.planned import PlannedFiring
from guardcone.outlook.records import Setting
from guardcone.plan.schedule import Segment
from guardcone.plan.targets import plan_target, target_of_set
from guardcone.plan.witness import WitnessSet
from guardcone.span import Written
from guardcone.values import Cone, ConeForm, Duration, Temperature

__all__ = ["TARGET_FACTS", "target_temperature"]


@frozen
class _Fate:
    """A cone, its guard if the two stand in one set, and what the firing does to the cone."""

    cone: Written[Cone]
    target: Cone
    forecast: ConeForecast


def _sets(firing: PlannedFiring) -> Iterator[tuple[WitnessSet, Written[Cone]]]:
    """The sets that watch for the plan's own target, with it; for another cone is another question.

    Small cones are made for shut-offs, and nothing is published on how they end on a shelf.
    """
    wanted = plan_target(firing.plan)
    for witness in firing.plan.witness_sets:
        own = target_of_set(witness, firing.plan)
        if own is None or witness.series.form is ConeForm.SMALL:
            continue
        if wanted is None or own.value.same_number(wanted):
            yield witness, own


def _contradicted(firing: PlannedFiring) -> bool:
    """True where every set watches for another cone than the plan's target: one is a slip."""
    own = [witness.target.value for witness in firing.plan.witness_sets if witness.target]
    wanted = plan_target(firing.plan)
    return bool(own) and wanted is not None and not any(wanted.same_number(one) for one in own)


def _targets(firing: PlannedFiring) -> list[_Fate]:
    cones = [target for _, target in _sets(firing)]
    target = firing.plan.target
    if not cones and target and target.cone and not _contradicted(firing):
        cones = [target.cone]
    return [
        _Fate(cone, cone.value, forecast)
        for cone in cones
        if (forecast := firing.forecast(cone.value))
    ]


def _guards(firing: PlannedFiring) -> list[_Fate]:
    """Guards that are hotter than their target; what stands in another order guards nothing."""
    found = []
    for witness, target in _sets(firing):
        guard = witness.guard
        if guard is None or not guard.value.comparable(target.value):
            continue
        forecast = firing.forecast(guard.value)
        if forecast and target.value < guard.value:
            found.append(_Fate(guard, target.value, forecast))
    return found


def _latest_target(firing: PlannedFiring) -> _Fate | None:
    return min(_targets(firing), key=lambda fate: fate.forecast.over, default=None)


def _weakest_guard(firing: PlannedFiring) -> _Fate | None:
    return max(_guards(firing), key=lambda fate: fate.forecast.over, default=None)


def _of_fate(
    name: str,
    kind: Type,
    doc: str,
    which: Callable[[PlannedFiring], _Fate | None],
    read: Callable[[_Fate], Any],
) -> Fact:
    def get(of: Of[PlannedFiring]) -> Any:
        found = which(of.it)
        return None if found is None else read(found)

    return Fact(name, kind, doc, get)


def _position(clock: float) -> str:
    words = clock_words(clock)
    return words if words in ("standing", "down") else f"bent to {words}"


# -- what to set otherwise ---------------------------------------------------------------------


def _last_climb(firing: PlannedFiring) -> Segment | None:
    leg = final_climb(firing)
    return None if leg is None else firing.segment_of_leg(leg)


def _unit(firing: PlannedFiring) -> str:
    """That of the line whose peak is to be set otherwise."""
    climb = _last_climb(firing)
    return climb.to.value.unit.plain if climb and climb.to else "C"


def _setting(firing: PlannedFiring, kind: Kind) -> Setting | None:
    """A peak or hold that puts the target down and leaves its guard standing, if there is one."""
    fate = _weakest_guard(firing)
    target = _latest_target(firing)
    if target is None:
        return None
    guard = fate.cone.value if fate else None
    found = setting_for(firing, kind, target.cone.value, guard, _unit(firing))
    return found if found and found.value is not None else None


def _better_peak(firing: PlannedFiring) -> Temperature | None:
    setting = _setting(firing, "peak")
    if setting is None or setting.value is None:
        return None
    unit = _unit(firing)
    return Temperature.of(round(Temperature.of(setting.value, "C").amount(unit), 1), unit)


def _better_hold(firing: PlannedFiring) -> Duration | None:
    setting = _setting(firing, "hold")
    if setting is None or setting.value is None or setting.value <= 0:
        return None
    return Duration.of(round(60 * setting.value), "min")


def _what_reaches_it(firing: PlannedFiring) -> str:
    """In words, because there may be a peak, a hold, both or neither."""
    peak, hold = _better_peak(firing), _better_hold(firing)
    if not peak and not hold:
        return "no peak or hold of this schedule, within what the kiln bears, does it"
    first = ("make the peak ", peak) if peak else ()
    between = (", or ",) if peak and hold else ()
    second = (f"hold {hold} at ", Temperature.of(firing.peak, "C")) if hold else ()
    return Phrase(*first, *between, *second, _guard_then(firing))


def _guard_then(firing: PlannedFiring) -> str:
    """What the guard does by such a setting: where two cones are close it leans."""
    settings = (_setting(firing, "peak"), _setting(firing, "hold"))
    clocks = [one.guard_clock for one in settings if one and one.guard_clock is not None]
    if not clocks:
        return ""
    if max(clocks) <= STANDING:
        return "; the guard then still stands"
    return f"; the guard then leans to about {clock_words(max(clocks))}"


def _heated_by(of: Of[PlannedFiring]) -> str:
    """What the guard, or else the target, gets its heat-work from, in words."""
    firing = of.it
    fate = _weakest_guard(firing) or _latest_target(firing)
    if fate is None or fate.forecast.work <= 0.0:
        return "the climb"
    law, held, cooled = fate.forecast.kinetics, 0.0, 0.0
    for piece, raw in zip(firing.curve.pieces, firing.curve.raw, strict=True):
        if piece.end == piece.start:
            held += piece_work(raw, law.theta, law.log_a)
        elif piece.end < piece.start:
            cooled += piece_work(raw, law.theta, law.log_a)
    least = usual("work_worth_a_word") * fate.forecast.work
    holds, cools = held > least, cooled > least
    if holds and cools:
        return "climb, hold and slow cooling together"
    return "climb and hold" if holds else "climb and slow cooling" if cools else "the climb"


def _better_climb(firing: PlannedFiring) -> str | None:
    """The last climb as a plan line with the better peak; only for one that says its rate."""
    segment, peak = _last_climb(firing), _better_peak(firing)
    if segment is None or segment.rate is None or peak is None:
        return None
    return f"climb {segment.rate.value.plain()} to {peak.plain()}"


# -- the peak against the target ---------------------------------------------------------------


def target_temperature(firing: PlannedFiring) -> float | None:
    """°C at which the target cone ends at 60 °C/h by the law, or the target temperature."""
    target = firing.plan.target
    if target is None:
        return None
    if target.temperature:
        return target.temperature.value.celsius
    if target.cone is None or _contradicted(firing):
        return None
    law = kinetics_for(target.cone.value)
    return law.end_60 if law else None


def _off_target(of: Of[PlannedFiring]) -> Any:
    wanted = target_temperature(of.it)
    return None if wanted is None else difference(abs(of.it.peak - wanted))


def _twin(firing: PlannedFiring) -> Cone | None:
    """The target cone with its leading zero added or taken away."""
    target = plan_target(firing.plan)
    return turned(target) if target else None


def _slip_peak(of: Of[PlannedFiring]) -> Any:
    twin = _twin(of.it)
    law = kinetics_for(twin) if twin else None
    return difference(abs(of.it.peak - law.end_60)) if law else None


def _in_other_unit(firing: PlannedFiring) -> Temperature | None:
    """The number of the peak with the other letter behind it."""
    for segment in firing.segments:
        if segment.to and abs(segment.to.value.celsius - firing.peak) < 1e-6:
            written = segment.to.value
            return Temperature.of(written.amount(), "F" if written.unit.plain == "C" else "C")
    return None


def _off_in_other_unit(of: Of[PlannedFiring]) -> Any:
    wanted, other = target_temperature(of.it), _in_other_unit(of.it)
    return None if wanted is None or other is None else difference(abs(other.celsius - wanted))


TARGET_FACTS = (
    part_fact(
        "target-temperature",
        TEMPERATURE,
        "The target as a temperature; of a cone, where it ends at 60 °C/h.",
        lambda f: degrees(target_temperature(f)),
    ),
    Fact(
        "peak-off-target",
        TEMPERATURE_DIFFERENCE,
        "How far the peak is from that temperature, either way.",
        _off_target,
    ),
    part_fact("slipped-cone", CONE, "The target with its leading zero added or taken away.", _twin),
    Fact(
        "peak-off-slip",
        TEMPERATURE_DIFFERENCE,
        "How far the peak is from the end of that cone, either way.",
        _slip_peak,
    ),
    part_fact(
        "peak-in-other-unit",
        TEXT,
        "The number of the peak with the other unit behind it.",
        lambda f: (found := _in_other_unit(f)) and str(found),
    ),
    Fact(
        "peak-off-in-other-unit",
        TEMPERATURE_DIFFERENCE,
        "How far that is from the target's temperature, either way.",
        _off_in_other_unit,
    ),
    _of_fate(
        "target-cone",
        CONE,
        "The target, of the set where it is least likely to go down.",
        _latest_target,
        lambda fate: fate.cone,
    ),
    _of_fate(
        "target-chance-down",
        PERCENTAGE,
        "How likely that target goes down.",
        _latest_target,
        lambda fate: percent(fate.forecast.chance_down),
    ),
    _of_fate(
        "target-short",
        TEMPERATURE_DIFFERENCE,
        "By how much of peak the firing stops short of it; below 0 °C where it is down.",
        _latest_target,
        lambda fate: difference(-fate.forecast.over),
    ),
    _of_fate(
        "target-clock",
        NUMBER,
        "Where that target points at the end: 0 up, 3 level, 6 down.",
        _latest_target,
        lambda fate: round(fate.forecast.clock, 1),
    ),
    _of_fate(
        "target-position",
        TEXT,
        "The same in words.",
        _latest_target,
        lambda fate: _position(fate.forecast.clock),
    ),
    _of_fate(
        "guard-cone",
        CONE,
        "The guard, of the set where it is likeliest to move.",
        _weakest_guard,
        lambda fate: fate.cone,
    ),
    _of_fate(
        "guard-chance-down",
        PERCENTAGE,
        "How likely that guard goes down.",
        _weakest_guard,
        lambda fate: percent(fate.forecast.chance_down),
    ),
    _of_fate(
        "guard-clock",
        NUMBER,
        "Where that guard points at the end: 0 up, 3 level, 6 down.",
        _weakest_guard,
        lambda fate: round(fate.forecast.clock, 1),
    ),
    _of_fate(
        "guard-position",
        TEXT,
        "The same in words.",
        _weakest_guard,
        lambda fate: _position(fate.forecast.clock),
    ),
    Fact(
        "heated-by",
        TEXT,
        "In words: the parts of the schedule that give the guard, or else the target, its heat.",
        _heated_by,
    ),
    part_fact(
        "what-reaches-target",
        TEXT,
        "In words: the peak or hold that puts the target down and not the guard, if there is one.",
        _what_reaches_it,
    ),
    part_fact(
        "better-last-climb",
        TEXT,
        "The last climb as a line of the plan, to the peak that does that.",
        _better_climb,
    ),
)
