"""Progress to clock position against the published figures on how cones bend."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardcone.firing.cone_forecast import (
    clock_position,
    clock_words,
    degrees_short,
    forecast_cone,
    start_work,
    work_at_clock,
)
from guardcone.firing.cones import KINETIC_SERIES, ladder
from guardcone.firing.schedule import Leg, curve_of

EVERY = [cone for series in KINETIC_SERIES for cone in ladder(series)]


@given(st.sampled_from(EVERY), st.floats(0.6, 6.0))
def test_clock_and_work_are_inverse(cone, clock: float) -> None:
    """A clock position turned into heat-work and back is the same position."""
    assert clock_position(cone, work_at_clock(cone, clock)) == pytest.approx(clock, abs=1e-6)


@given(st.sampled_from(EVERY), st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_more_work_never_stands_a_cone_up(cone, a: float, b: float) -> None:
    """The position never falls with heat-work; at W = 1 it is 6 o'clock, at 0 it stands."""
    low, high = sorted((a, b))

    assert clock_position(cone, low) <= clock_position(cone, high)
    assert clock_position(cone, 1.0) == 6.0
    assert clock_position(cone, 0.0) == 0.0


def test_published_steps() -> None:
    """8 F from 4 to 6 o'clock and 35 F from 1 to 6 (Frederich, potters.org 60350, 2003)."""
    for cone in EVERY:
        assert degrees_short(cone, work_at_clock(cone, 4.0)) == pytest.approx(8.0 / 1.8, abs=0.05)
        assert degrees_short(cone, work_at_clock(cone, 1.0)) == pytest.approx(35.0 / 1.8, abs=0.05)


def test_slow_at_first_fast_after_half_way() -> None:
    """Ten angular degrees cost near 5 C early and near 1 C late (maker's brochure, fig. 5)."""
    cone = next(c for c in EVERY if (c.series, c.cone) == ("large_regular", "10"))
    hour = 10.0 / 15.0  # a quarter turn is six hours of the clock

    def cost(first: float) -> float:
        return degrees_short(cone, work_at_clock(cone, first)) - degrees_short(
            cone, work_at_clock(cone, first + hour)
        )

    assert cost(0.7) == pytest.approx(5.0, abs=1.0)
    assert cost(6.0 - hour) == pytest.approx(1.0, abs=0.5)
    assert cost(0.7) > cost(2.0) > cost(3.0) > cost(5.0)


@pytest.mark.parametrize("cone", EVERY, ids=lambda cone: f"{cone.series}-{cone.cone}")
def test_bending_takes_15_to_25_minutes_at_60_c_an_hour(cone) -> None:
    """From start to down on a 60 C/h climb: 15 to 25 minutes and not over 22.5 C (chart text)."""
    forecast = forecast_cone(curve_of([Leg("climb", cone.end_60 + 30.0, 60.0)]), cone)
    assert forecast.start_hour is not None
    assert forecast.down_hour is not None
    minutes = 60.0 * (forecast.down_hour - forecast.start_hour)

    assert 15.0 <= minutes <= 25.0
    assert start_work(cone) < 0.75


def test_words() -> None:
    """Positions read as a person says them."""
    assert [clock_words(c) for c in (0.0, 0.6, 1.0, 3.0, 3.4, 5.6, 5.8, 6.0)] == [
        "standing",
        "half past 12",
        "1 o'clock",
        "3 o'clock",
        "half past 3",
        "half past 5",
        "half past 5",
        "down",
    ]
