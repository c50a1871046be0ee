"""What looks like a slip: a unit that stands alone, a shelf that nothing else names."""

from typing import Any

from guardcone.condition.kinds import FLAG, TEMPERATURE_DIFFERENCE, TEXT
from guardcone.facts.case import Of, difference
from guardcone.facts.clay_and_glaze import used_materials
from guardcone.facts.forecast import FORECAST
from guardcone.facts.forecast_cones import other_unit
from guardcone.facts.kiln import rated_end
from guardcone.facts.ranges import degrees_of_ends
from guardcone.facts.schedule import SEGMENT, meant_in_other_unit
from guardcone.facts.ware import WARE
from guardcone.facts.witness import shelf_name
from guardcone.outlook.planned import PlannedFiring
from guardcone.plan.load import Ware
from guardcone.plan.schedule import Segment
from guardcone.span import Written
from guardcone.values import Temperature

__all__ = []

# Of other lines so many at least tell in what unit a schedule is written.
_FEWEST = 3


def _target(firing: PlannedFiring) -> Written[Temperature] | None:
    return firing.plan.target.temperature if firing.plan.target else None


@FORECAST.of_part(TEXT)
def _target_in_other_unit(firing: PlannedFiring) -> str | None:
    """The number of a target in degrees with the other unit behind it."""
    target = _target(firing)
    return str(other_unit(target.value)) if target else None


@FORECAST.of_part(TEMPERATURE_DIFFERENCE)
def _target_off_in_other_unit(firing: PlannedFiring) -> Any:
    """How far the peak is from that, either way."""
    target = _target(firing)
    return difference(abs(firing.peak - other_unit(target.value).celsius)) if target else None


@FORECAST.fact(FLAG)
def _target_is_odd(of: Of[PlannedFiring]) -> Any:
    """Yes if the kiln's rating, or a clay or glaze, goes with the peak and not with the target."""
    target, kiln = _target(of.it), of.case.plan.kiln
    if target is None:
        return False
    rated = rated_end(kiln) if kiln else None
    aim, peak = target.value.celsius, of.it.peak
    if rated is not None and peak <= rated.celsius < aim:
        return Written(True, target.span)
    told = [degrees_of_ends(one.it.maturity) for one in used_materials(of.case)]
    known = [ends for ends in told if ends is not None]
    with_peak, with_aim = (any(cool <= heat <= hot for cool, hot in known) for heat in (peak, aim))
    return Written(with_peak and not with_aim, target.span)


@SEGMENT.fact(TEXT)
def _meant_in_own_unit(of: Of[Segment]) -> str | None:
    """Its temperature in the unit of its rate and of all others, where the schedule fits that."""
    rate, to, schedule = of.it.rate, of.it.to, of.case.plan.schedule
    if rate is None or to is None or schedule is None:
        return None
    unit = other_unit(to.value).unit
    said = of.case.units_of_ends
    others = said.total() - 1
    alone = said[unit] == others >= _FEWEST
    alone = alone and rate.value.plain().endswith(f"{unit.plain}/h")
    return meant_in_other_unit(of) if alone else None


@WARE.fact(TEXT)
def _shelf_unnamed(of: Of[Ware]) -> Any:
    """The shelf it stands on, where the sets aim at several cones and none is on that shelf."""
    sets, shelf = of.case.plan.witness_sets, of.it.shelf
    aims = {one.target.value.number for one in sets if one.target}
    named = {shelf_name(one.place.value) for one in sets if one.place}
    unnamed = shelf is not None and len(aims) > 1 and shelf_name(shelf.value) not in named
    return shelf if unnamed else None
