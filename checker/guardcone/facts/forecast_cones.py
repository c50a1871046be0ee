"""What the computed firing does to the cones of each set, and to the target and its guard."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from attrs import frozen

from guardcone.condition.kinds import (
    CONE,
    DURATION,
    MOMENT,
    NUMBER,
    PERCENTAGE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
)
from guardcone.facts.case import Of, at_segment, degrees, difference, hours, percent
from guardcone.facts.forecast import FORECAST
from guardcone.facts.ranges import turned
from guardcone.facts.witness import WITNESS_CONE, WitnessCone
from guardcone.firing.cone_forecast import ConeForecast, clock_words
from guardcone.firing.cones import kinetics_for
from guardcone.firing.heatwork import piece_work
from guardcone.firing.tables import usual
from guardcone.firing.uncertainty import Shelf
from guardcone.language.nearest import listed
from guardcone.outlook.planned import PlannedFiring
from guardcone.outlook.written import shelf_of
from guardcone.plan.plan import plan_target, target_of_set
from guardcone.plan.schedule import Segment
from guardcone.plan.witness import WitnessSet
from guardcone.span import Written
from guardcone.values import (
    Cone,
    ConeForm,
    Duration,
    Percentage,
    Temperature,
    TemperatureDifference,
)

if TYPE_CHECKING:
    from guardcone.firing.inverse import Answer, Kind

__all__ = [
    "as_set",
    "hold_of",
    "last_climb_to",
    "other_unit",
    "setting",
    "target_temperature",
]


@frozen(repr=False)
class _Fate:
    """A cone of the plan and what the firing does to it."""

    cone: Written[Cone]
    forecast: ConeForecast

    @property
    def chance_down(self) -> Percentage:
        """How likely it goes down."""
        return percent(self.forecast.chance_down)

    @property
    def chance_moved(self) -> Percentage:
        """How likely it moves."""
        return percent(self.forecast.chance_moved)

    @property
    def short(self) -> TemperatureDifference | None:
        """By how much of peak the firing stops short of it."""
        return difference(-self.forecast.over)

    @property
    def clock(self) -> float:
        """Where it points at the end."""
        return round(self.forecast.clock, 1)

    @property
    def position(self) -> str:
        """How far it bends, in words."""
        return _position(self.forecast.clock)


def _fate(firing: PlannedFiring, cone: Written[Cone], shelf: Shelf = "anywhere") -> _Fate | None:
    forecast = firing.forecast(cone.value, shelf) if firing.fired else None
    return _Fate(cone, forecast) if forecast else None


def _position(clock: float) -> str:
    words = clock_words(clock)
    return words if words in ("standing", "down") else f"bent to {words}"


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
    return [fate for cone in cones if (fate := _fate(firing, cone))]


def _guards(firing: PlannedFiring) -> list[_Fate]:
    """Guards that are hotter than their target; what stands in another order guards nothing."""
    return [
        fate
        for witness, target in _sets(firing)
        if (guard := witness.guard) and guard.value.comparable(target.value)
        if target.value < guard.value and (fate := _fate(firing, guard))
    ]


def _latest_target(firing: PlannedFiring) -> _Fate | None:
    return min(_targets(firing), key=lambda fate: fate.forecast.over, default=None)


def _weakest_guard(firing: PlannedFiring) -> _Fate | None:
    return max(_guards(firing), key=lambda fate: fate.forecast.over, default=None)


_LATEST = "The target, of the set where it is least likely to go down."
_SHORT = "By how much of peak the firing stops short of it; below 0 °C where it is down."
FORECAST.of_found(
    lambda of: _latest_target(of.it),
    ("target-cone", CONE, "cone", _LATEST),
    ("target-chance-down", PERCENTAGE, "chance_down", "How likely that target goes down."),
    ("target-short", TEMPERATURE_DIFFERENCE, "short", _SHORT),
    ("target-position", TEXT, "position", "How far that target bends, in words."),
)
_CLOCK = "Where that guard points at the end: 0 up, 3 level, 6 down."
FORECAST.of_found(
    lambda of: _weakest_guard(of.it),
    ("guard-cone", CONE, "cone", "The guard, of the set where it is likeliest to move."),
    ("guard-chance-down", PERCENTAGE, "chance_down", "How likely that guard goes down."),
    ("guard-clock", NUMBER, "clock", _CLOCK),
    ("guard-position", TEXT, "position", "The same in words."),
)


# -- what to set otherwise ---------------------------------------------------------------------


def _last_climb(firing: PlannedFiring) -> Segment | None:
    leg = firing.final_climb
    return None if leg is None else firing.segment_of_leg(leg)


def _unit(firing: PlannedFiring) -> str:
    """That of the line whose peak is to be set otherwise."""
    climb = _last_climb(firing)
    return climb.to.value.unit.plain if climb and climb.to else "C"


def _setting(firing: PlannedFiring, kind: "Kind") -> "Answer | None":
    """A peak or hold that puts the target down and leaves its guard standing, if there is one."""
    fate = _weakest_guard(firing)
    target = _latest_target(firing)
    if target is None:
        return None
    guard = fate.cone.value if fate else None
    return setting(firing, kind, target.cone.value, guard)


def setting(
    firing: PlannedFiring, kind: "Kind", target: Cone, guard: Cone | None
) -> "Answer | None":
    """A peak or hold that puts the one cone down and leaves the other standing, if there is one."""
    # Only where a rule has found something is it asked what to set otherwise.
    from guardcone.outlook.advice import setting_for

    found = setting_for(firing, kind, target, guard, _unit(firing))
    return found if found and found.value is not None else None


@FORECAST.of_part(TEMPERATURE)
def _better_peak(firing: PlannedFiring) -> Temperature | None:
    """A peak that puts the target down and not the guard."""
    return as_set(firing, _setting(firing, "peak"))


def as_set(firing: PlannedFiring, peak: "Answer | None") -> Temperature | None:
    """A peak in the unit of the line that climbs to it."""
    if peak is None or peak.value is None:
        return None
    unit = _unit(firing)
    return Temperature.of(round(Temperature.of(peak.value, "C").amount(unit), 1), unit)


@FORECAST.of_part(DURATION)
def _better_hold(firing: PlannedFiring) -> Duration | None:
    """A hold at the peak that does that, in minutes; longer than anybody holds is none."""
    return hold_of(_setting(firing, "hold"))


def hold_of(hold: "Answer | None") -> Duration | None:
    """A hold in minutes; None where it is none, or longer than anybody would hold."""
    if hold is None or hold.value is None or not 0 < hold.value <= usual("hold_offered"):
        return None
    return Duration.of(round(60 * hold.value), "min")


@FORECAST.of_part(DURATION)
def _peak_hold(firing: PlannedFiring) -> Any:
    """The hold at the end of the climb to the peak, pointing at its line."""
    climb = firing.final_climb
    legs = firing.legs[climb + 1 : climb + 2] if climb is not None else ()
    if climb is None or not legs or legs[0].kind != "hold":
        return None
    return at_segment(hours(legs[0].hours), firing.segment_of_leg(climb + 1))


@FORECAST.of_part(TEXT)
def _guard_then(firing: PlannedFiring) -> str | None:
    """How far the guard bends by that peak or hold, in words."""
    settings = (_setting(firing, "peak"), _setting(firing, "hold"))
    clocks = [one.guard_clock for one in settings if one and one.guard_clock is not None]
    return _position(max(clocks)) if clocks else None


@FORECAST.of_part(TEXT)
def _heated_by(firing: PlannedFiring) -> str:
    """Which parts of the schedule give the guard, or else the target, its heat."""
    fate = _weakest_guard(firing) or _latest_target(firing)
    if fate is None or fate.forecast.work <= 0.0:
        return "climb"
    law, held, cooled = fate.forecast.kinetics, 0.0, 0.0
    for piece in firing.curve.worked:
        if piece.end == piece.start:
            held += piece_work(piece.raw, law.theta, law.log_a)
        elif piece.end < piece.start and piece.asymptote is None:
            cooled += piece_work(piece.raw, law.theta, law.log_a)
    least = usual("work_worth_a_word") * fate.forecast.work
    return listed(["climb", *["hold"] * (held > least), *["slow cooling"] * (cooled > least)])


@FORECAST.of_part(TEXT)
def _better_last_climb(firing: PlannedFiring) -> str | None:
    """The last climb as a line of the plan, to the peak that does that.

    Only for one that says its rate.
    """
    return last_climb_to(firing, _better_peak(firing))


def last_climb_to(firing: PlannedFiring, peak: Temperature | None) -> str | None:
    """The last climb with another peak, as a line; None for one that does not say its rate."""
    segment = _last_climb(firing)
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


@FORECAST.of_part(TEMPERATURE, "target-temperature")
def _target_heat(firing: PlannedFiring) -> Any:
    """The target as a temperature; of a cone, where it ends at 60 °C/h."""
    return degrees(target_temperature(firing))


@FORECAST.of_part(TEMPERATURE_DIFFERENCE)
def _peak_off_target(firing: PlannedFiring) -> Any:
    """How far the peak is from that temperature, either way."""
    wanted = target_temperature(firing)
    return None if wanted is None else difference(abs(firing.peak - wanted))


@FORECAST.of_part(CONE)
def _slipped_cone(firing: PlannedFiring) -> Cone | None:
    """The target with its leading zero added or taken away."""
    target = plan_target(firing.plan)
    return turned(target) if target else None


@FORECAST.of_part(TEMPERATURE_DIFFERENCE)
def _peak_off_slip(firing: PlannedFiring) -> Any:
    """How far the peak is from the end of that cone, either way."""
    twin = _slipped_cone(firing)
    law = kinetics_for(twin) if twin else None
    return difference(abs(firing.peak - law.end_60)) if law else None


def other_unit(written: Temperature) -> Temperature:
    """The same number with the other letter behind it."""
    return Temperature.of(written.amount(), "C" if written.unit.plain == "F" else "F")


def _in_other_unit(firing: PlannedFiring) -> Temperature | None:
    written = [segment.to.value for segment in firing.segments if segment.to]
    at_peak = (one for one in written if abs(one.celsius - firing.peak) < 1e-6)
    return next(map(other_unit, at_peak), None)


@FORECAST.of_part(TEXT)
def _peak_in_other_unit(firing: PlannedFiring) -> Any:
    """The number of the peak with the other unit behind it."""
    found = _in_other_unit(firing)
    return found and str(found)


@FORECAST.of_part(TEMPERATURE_DIFFERENCE)
def _peak_off_in_other_unit(firing: PlannedFiring) -> Any:
    """How far that is from the target's temperature, either way."""
    wanted, other = target_temperature(firing), _in_other_unit(firing)
    return None if wanted is None or other is None else difference(abs(other.celsius - wanted))


# -- each cone of a set ------------------------------------------------------------------------


def _of_cone(of: Of[WitnessCone]) -> _Fate | None:
    return _fate(of.case.firing, of.it.cone, shelf_of(of.it.witness))


WITNESS_CONE.of_found(
    _of_cone,
    ("chance-down", PERCENTAGE, "chance_down", "How likely it goes down."),
    ("chance-moved", PERCENTAGE, "chance_moved", "How likely it moves."),
)


@WITNESS_CONE.fact(MOMENT)
def _due(of: Of[WitnessCone]) -> Any:
    """When it starts to bend."""
    found = _of_cone(of)
    return found and of.case.firing.clock(found.forecast.start_hour)


_OWN_CLOCK = "Where it points at the end: 0 up, 3 level, 6 down."
WITNESS_CONE.of_found(_of_cone, ("clock", NUMBER, "clock", _OWN_CLOCK))
