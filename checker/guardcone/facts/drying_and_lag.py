"""What the computed firing does to clays and ware."""

from collections.abc import Callable
from math import ceil
from typing import Any

from guardcone.condition.kinds import DURATION, PERCENTAGE, TEMPERATURE_DIFFERENCE
from guardcone.condition.vocabulary import Fact
from guardcone.facts.amounts import difference, hours, percent
from guardcone.facts.case import Of
from guardcone.facts.clay_and_glaze import CLAY
from guardcone.facts.ranges import ends_of
from guardcone.facts.ware import WARE
from guardcone.firing.tables import band, usual
from guardcone.firing.ware import DRYING_REFERENCE, core_lag, drying_hours, vapour_pressure
from guardcone.outlook.planned import DAMPNESS
from guardcone.plan.load import Clay, Ware
from guardcone.values import Cone, Temperature

__all__: list[str] = []


def _chance_down(of: Of[Clay], cone: Cone) -> float | None:
    found = of.case.firing.forecast(cone) if of.case.firing.fired else None
    return None if found is None else found.chance_down


@CLAY.fact(PERCENTAGE)
def _chance_overfired(of: Of[Clay]) -> Any:
    """How likely the cone above its range goes down in this firing."""
    ends = ends_of(of.it.maturity)
    if ends is None or not isinstance(ends[1].value, Cone):
        return None
    above = ends[1].value.number.hotter()
    chance = _chance_down(of, ends[1].value.numbered(above)) if above else None
    return None if chance is None else percent(chance)


@CLAY.fact(PERCENTAGE)
def _chance_underfired(of: Of[Clay]) -> Any:
    """How likely the coolest cone of its range does not go down in this firing."""
    ends = ends_of(of.it.maturity)
    if ends is None or not isinstance(ends[0].value, Cone):
        return None
    chance = _chance_down(of, ends[0].value)
    return None if chance is None else percent(1.0 - chance)


@CLAY.fact(TEMPERATURE_DIFFERENCE)
def _peak_over_highest(of: Of[Clay]) -> Any:
    """The peak less the hot end of its range, where that is a temperature."""
    ends = ends_of(of.it.maturity)
    if ends is None or not of.case.firing.fired or not isinstance(ends[1].value, Temperature):
        return None
    return difference(of.case.firing.peak - ends[1].value.celsius)


@CLAY.fact(TEMPERATURE_DIFFERENCE)
def _peak_under_lowest(of: Of[Clay]) -> Any:
    """The cool end of its range, where that is a temperature, less the peak."""
    ends = ends_of(of.it.maturity)
    if ends is None or not of.case.firing.fired or not isinstance(ends[0].value, Temperature):
        return None
    return difference(ends[0].value.celsius - of.case.firing.peak)


def _drying(which: str) -> Callable[[Of[Ware]], Any]:
    def get(of: Of[Ware]) -> Any:
        ware = of.it
        dampness = DAMPNESS.get(ware.state.value) if ware.state else None
        if dampness is None or ware.wall is None:
            return None
        needed = drying_hours(ware.wall.value.millimetres, dampness)
        return hours(getattr(needed, which))

    return get


def _lag(direction: str) -> Callable[[Of[Ware]], Any]:
    """The computed lag of the core at the quartz inversion, heated from both sides."""

    def get(of: Of[Ware]) -> Any:
        wall, firing = of.it.wall, of.case.firing
        rate = firing.fastest_through(band("quartz").high, direction) if firing.fired else None
        return difference(core_lag(rate, wall.value.millimetres)) if wall and rate else None

    return get


WARE.add(
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
)


@WARE.fact(DURATION)
def _drying_hold(of: Of[Ware]) -> Any:
    """How long the plan's longest hold below boiling, or one of its own, must be for that.

    How long one hold must be so that, with all else as written, the most is reached.
    """
    ware, firing = of.it, of.case.firing
    dampness = DAMPNESS.get(ware.state.value) if ware.state else None
    if dampness is None or ware.wall is None or not firing.fired:
        return None
    needed = drying_hours(ware.wall.value.millimetres, dampness).most
    missing = needed - firing.dried
    held, celsius = 0.0, firing.boiling - usual("hold_below_boiling")
    for piece in firing.curve.pieces:
        if piece.end >= firing.boiling:
            break
        if piece.start == piece.end and piece.hours > held:
            held, celsius = piece.hours, piece.start
    hour_counts = vapour_pressure(celsius) / vapour_pressure(DRYING_REFERENCE)
    step = usual("drying_step")
    return hours(ceil((held + missing / hour_counts) / step) * step)


WARE.add(
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
)
