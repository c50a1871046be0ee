"""The ware that the computed firing must take most care of: its drying, and how its core lags."""

from collections.abc import Callable, Iterable
from functools import wraps
from math import ceil
from typing import TYPE_CHECKING, Any

from guardcone.condition.kinds import (
    DURATION,
    FLAG,
    PERCENTAGE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
    one,
)
from guardcone.condition.vocabulary import Fact
from guardcone.facts.case import Of, difference, hours, percent
from guardcone.facts.clay_and_glaze import CLAY
from guardcone.facts.forecast import FORECAST, drying_holds
from guardcone.facts.forecast_cones import as_set, hold_of, last_climb_to, setting
from guardcone.facts.ranges import body_of, end_in
from guardcone.facts.ware import WARE, unfired
from guardcone.firing.tables import usual
from guardcone.firing.ware import DRYING_REFERENCE, core_lag, drying_hours, vapour_pressure
from guardcone.outlook.planned import (
    PlannedFiring,
    dampness_of,
    diffusivity_of,
    drying_needed,
    is_damp,
)
from guardcone.plan.load import Clay, Ware
from guardcone.plan.plan import Plan, plan_target
from guardcone.values import Cone, Numbering, Temperature

if TYPE_CHECKING:
    from guardcone.firing.inverse import Answer, Kind

__all__: list[str] = []


def _wares(of: Of[PlannedFiring]) -> Iterable[Ware]:
    load = of.case.plan.load
    return load.wares if load else ()


def _wall(ware: Ware) -> float:
    return ware.wall.value.millimetres if ware.wall else 0.0


# What a plan calls ware that is flat without saying so.
_FLAT_NAMES = ("plate", "platter", "tile", "slab")


def _is_flat(ware: Ware) -> bool:
    if any(form.value == "flat-form" for form in ware.form):
        return True
    return any(name in ware.name.value.lower() for name in _FLAT_NAMES)


def _drying_least(ware: Ware) -> float:
    return drying_hours(_wall(ware), dampness_of(ware) or "").least


Fits = Callable[[Plan, Ware], bool]


def _with_most(key: Callable[[Ware], float]) -> Callable[[Fits], Fits]:
    """Lets rules go on to the ware for which `key` is highest, of those that fit."""

    def keep(fits: Fits) -> Fits:
        @FORECAST.fact(one("ware"))
        @wraps(fits)
        def get(of: Of[PlannedFiring]) -> Any:
            fitting = [ware for ware in _wares(of) if fits(of.case.plan, ware)]
            return Of(of.case, max(fitting, key=key)) if fitting else None

        return fits

    return keep


@_with_most(_drying_least)
def _damp_ware(_: Plan, ware: Ware) -> bool:
    """The damp or leather-hard ware that needs the longest drying."""
    return is_damp(ware)


@_with_most(_wall)
def _dry_raw_ware(plan: Plan, ware: Ware) -> bool:
    """The thickest unfired ware that is neither damp nor leather-hard."""
    return unfired(plan, ware) and not is_damp(ware)


@_with_most(_wall)
def _raw_ware(plan: Plan, ware: Ware) -> bool:
    """The thickest unfired ware, damp or dry."""
    return unfired(plan, ware)


@_with_most(_wall)
def _thickest_ware(_: Plan, __: Ware) -> bool:
    """The thickest ware."""
    return True


@_with_most(_wall)
def _thickest_fired_ware(plan: Plan, ware: Ware) -> bool:
    """The thickest ware that was fired before."""
    return not unfired(plan, ware)


@_with_most(_wall)
def _thickest_refired_ware(plan: Plan, ware: Ware) -> bool:
    """The thickest ware that was glaze-fired before."""
    return _was_glaze_fired(plan, ware)


@_with_most(_wall)
def _flat_refired_ware(plan: Plan, ware: Ware) -> bool:
    """The thickest flat ware, tiles or plates, that was glaze-fired before."""
    return _was_glaze_fired(plan, ware) and _is_flat(ware)


def _was_glaze_fired(plan: Plan, ware: Ware) -> bool:
    """True for ware that says so, and for glazed ware under lustre, enamel or decals."""
    over_a_glaze = plan.firing is not None and plan.firing.value == "overglaze"
    glazed = ware.state is not None and ware.state.value == "glazed"
    return ware.refired is not None or (over_a_glaze and glazed)


@_with_most(_wall)
def _high_fired_ware(_: Plan, ware: Ware) -> bool:
    """The thickest ware of a stoneware or porcelain body."""
    return body_of(ware.clay) in ("stoneware", "porcelain")


@FORECAST.fact(FLAG)
def _has_raw_ware(of: Of[PlannedFiring]) -> bool:
    """Yes if some ware was never fired."""
    return any(unfired(of.case.plan, ware) for ware in _wares(of))


def _chance_down(of: Of[Clay], cone: Cone) -> float | None:
    found = of.case.firing.forecast(cone) if of.case.firing.fired else None
    return None if found is None else found.chance_down


@CLAY.fact(PERCENTAGE)
def _chance_overfired(of: Of[Clay]) -> Any:
    """How likely the cone above its range goes down in this firing."""
    hottest = end_in(of.it.maturity, 1, Cone)
    above = hottest.value.number.hotter() if hottest else None
    chance = _chance_down(of, hottest.value.numbered(above)) if hottest and above else None
    return None if chance is None else percent(chance)


@CLAY.fact(TEXT)
def _cones_over(of: Of[Clay]) -> str | None:
    """How many cones the firing goes beyond the hot end of its range."""
    hottest, reached = end_in(of.it.maturity, 1, Cone), of.case.firing.equivalent.axis
    if hottest is None or reached is None or hottest.value.series.numbering is not Numbering.ORTON:
        return None
    over = round(reached - hottest.value.number.axis, 1)
    return None if over <= 0 else f"{over:g} cone{'s' * (over != 1)}"


def _of_clay(of: Of[Clay], kind: "Kind") -> "Answer | None":
    """What puts the target down and leaves the cone above its range standing."""
    hottest, firing = end_in(of.it.maturity, 1, Cone), of.case.firing
    above = hottest.value.number.hotter() if hottest else None
    if hottest is None or above is None or not firing.fired:
        return None
    guard = hottest.value.numbered(above)
    return setting(firing, kind, plan_target(of.case.plan) or hottest.value, guard)


def _clay_peak_of(of: Of[Clay]) -> Temperature | None:
    """A cooler peak by which it stays within its range.

    Where the target or the hot end of the range is a temperature, that.
    """
    highest, aim = end_in(of.it.maturity, 1, Temperature), of.case.suiting.aim
    said = [one.value for one in (aim, highest) if one and isinstance(one.value, Temperature)]
    if said:
        peak: Temperature | None = min(said, key=lambda one: one.celsius)
    else:
        peak = as_set(of.case.firing, _of_clay(of, "peak"))
    return peak if peak and peak.celsius < of.case.firing.peak else None


@CLAY.fact(TEMPERATURE)
def _clay_peak(of: Of[Clay]) -> Any:
    """A cooler peak by which the firing stays within its range."""
    return _clay_peak_of(of)


@CLAY.fact(DURATION)
def _clay_hold(of: Of[Clay]) -> Any:
    """A shorter hold at the peak that does the same."""
    return hold_of(_of_clay(of, "hold"))


@CLAY.fact(TEXT)
def _clay_last_climb(of: Of[Clay]) -> Any:
    """The last climb as a line of the plan, to that peak."""
    return last_climb_to(of.case.firing, _clay_peak_of(of))


@CLAY.fact(PERCENTAGE)
def _chance_underfired(of: Of[Clay]) -> Any:
    """How likely the coolest cone of its range does not go down in this firing."""
    coolest = end_in(of.it.maturity, 0, Cone)
    chance = _chance_down(of, coolest.value) if coolest else None
    return None if chance is None else percent(1.0 - chance)


@CLAY.fact(TEMPERATURE_DIFFERENCE)
def _peak_over_highest(of: Of[Clay]) -> Any:
    """The peak less the hot end of its range, where that is a temperature."""
    highest, firing = end_in(of.it.maturity, 1, Temperature), of.case.firing
    return difference(firing.peak - highest.value.celsius) if highest and firing.fired else None


@CLAY.fact(TEMPERATURE_DIFFERENCE)
def _peak_under_lowest(of: Of[Clay]) -> Any:
    """The cool end of its range, where that is a temperature, less the peak."""
    lowest, firing = end_in(of.it.maturity, 0, Temperature), of.case.firing
    return difference(lowest.value.celsius - firing.peak) if lowest and firing.fired else None


def _drying(which: str) -> Callable[[Of[Ware]], Any]:
    def get(of: Of[Ware]) -> Any:
        needed = drying_needed(of.it)
        return hours(getattr(needed, which)) if needed else None

    return get


def _lag(way: str) -> Callable[[Of[Ware]], Any]:
    """The computed lag of the core at the quartz inversion, heated from both sides."""

    def get(of: Of[Ware]) -> Any:
        firing = of.case.firing
        rate = firing.rate_at_quartz(way) if firing.fired else None
        if not of.it.wall or not rate:
            return None
        return difference(core_lag(rate, _wall(of.it), diffusivity_of(firing, of.it, way)))

    return get


for _which, _it in (("least", "its wall and dampness"), ("most", "them")):
    _doc = f"The {_which} time below boiling that practice gives {_it}."
    WARE.add(Fact(f"drying-{_which}", DURATION, _doc, _drying(_which)))


@WARE.fact(DURATION)
def _drying_hold(of: Of[Ware]) -> Any:
    """How long the plan's longest hold below boiling, or one of its own, must be for that.

    How long one hold must be so that, with all else as written, the most is reached.
    """
    needed, firing = drying_needed(of.it), of.case.beginning or of.case.firing
    if needed is None or not firing.fired:
        return None
    missing = needed.most - firing.dried
    own = [(held, celsius) for _, celsius, held in drying_holds(firing)]
    near_boiling = (0.0, firing.boiling - usual("hold_below_boiling"))
    held, celsius = max(own, key=lambda one: one[0], default=near_boiling)
    hour_counts = vapour_pressure(celsius) / vapour_pressure(DRYING_REFERENCE)
    step = usual("drying_step")
    return hours(ceil((held + missing / hour_counts) / step) * step)


@WARE.fact(DURATION)
def _drying_alone(of: Of[Ware]) -> Any:
    """How long one hold a little below local boiling must be to dry it by itself."""
    needed, firing = drying_needed(of.it), of.case.beginning or of.case.firing
    if needed is None:
        return None
    hour_counts = vapour_pressure(firing.boiling - usual("hold_below_boiling"))
    step, most = usual("drying_step"), needed.most * vapour_pressure(DRYING_REFERENCE)
    return hours(ceil(most / hour_counts / step) * step)


for _way, _passing in (("up", "going up"), ("down", "cooling")):
    _doc = f"The lag of its core {_passing} through 573 °C, an estimate."
    WARE.add(Fact(f"core-lag-{_way}", TEMPERATURE_DIFFERENCE, _doc, _lag(_way)))
