"""What a forecast costs, counted in firings and in integrals of heat-work, never in seconds."""

import sys
from collections.abc import Callable
from types import FrameType

import pytest

from guardcone.documents import document_text
from guardcone.firing.cone_forecast import forecast_cone
from guardcone.firing.cones import kinetics_of
from guardcone.firing.heatwork import piece_work
from guardcone.firing.schedule import Leg, curve_of
from guardcone.language import SourceText, split_lines
from guardcone.outlook.outlook import forecast_of
from guardcone.plan import Plan, read_plan

STONEWARE = document_text("rules", "sound_plans", "stoneware.firing")


def calls(function: Callable[..., object], work: Callable[[], object]) -> int:
    """How often `function` is called while `work` is done."""
    code, counted = function.__code__, 0

    def count(frame: FrameType, event: str, _: object) -> None:
        nonlocal counted
        counted += event == "call" and frame.f_code is code

    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(None)
    return counted


def read(text: str) -> Plan:
    plan = read_plan(SourceText("plan", split_lines(text)))
    assert plan.faults == ()
    return plan


def plan_of_climbs(number: int) -> Plan:
    """The sound stoneware plan with so many climbs in its schedule, each a little slower."""
    before, heading, rest = STONEWARE.partition("schedule\n")
    climbs = "".join(
        f"  climb {150 - 80 * step / number:.2f} C/h to {20 + 1226 * step / number:.2f} C\n"
        for step in range(1, number + 1)
    )
    end = "  cool freely to 90 C\n  open at 90 C\n\n"
    return read(f"{before}{heading}{climbs}{end}{rest[rest.index('safety') :]}")


@pytest.mark.parametrize("legs", [10, 40, 160])
def test_a_cone_is_integrated_once_over_each_leg(legs: int) -> None:
    """Its work, when it starts and when it is down take one integral a leg and at most 20 more."""
    curve = curve_of([Leg("climb", 100.0 + 1160.0 * k / legs, 60.0) for k in range(1, legs + 1)])
    cone = kinetics_of("large_regular", "8")
    assert cone is not None
    assert forecast_cone(curve, cone).down_hour is not None

    assert legs <= calls(piece_work, lambda: forecast_cone(curve, cone)) <= legs + 20


def test_more_legs_take_no_more_firings() -> None:
    """Four times the legs: about as many firings to find peak, hold and rate, four times the work.

    Twice the firings and five times the integrals would be refused here.
    """
    few, many = plan_of_climbs(10), plan_of_climbs(40)

    firings = [calls(curve_of, lambda plan=plan: forecast_of(plan)) for plan in (few, many)]
    integrals = [calls(piece_work, lambda plan=plan: forecast_of(plan)) for plan in (few, many)]

    assert 0 < firings[1] < 2 * firings[0]
    assert 0 < integrals[1] < 5 * integrals[0]


def test_a_cone_in_three_sets_is_forecast_once() -> None:
    """Three sets of the same cones, one beside the other, take as many cones as two of them."""
    last, load = STONEWARE.index('witness "top shelf"'), STONEWARE.index("load\n")
    two_sets = read(STONEWARE[:last] + STONEWARE[load:])

    several = calls(forecast_cone, lambda: forecast_of(read(STONEWARE)))

    assert several == calls(forecast_cone, lambda: forecast_of(two_sets)) > 0
