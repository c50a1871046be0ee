"""The forecast of a whole plan as data: the figures put together from curve, cones and ware."""

from math import exp, log

import pytest
from scipy.integrate import quad

from guardcone.firing.cones import ladder
from guardcone.language import SourceText, split_lines
from guardcone.outlook.outlook import forecast_of
from guardcone.plan import read_plan

TEXT = """plan "Thursday stoneware"
  starts 2026-10-03 07:30
kiln "Heron"
  electric, 230 L, 11 kW
  rated to cone 10
  cools from 1000 C to 100 C in 15 h
target cone 6, oxidation
witness "bottom shelf"
  self-supporting cones
  guide  5
  target 6
  guard  7
load
  clay "Marsh buff" matures cone 5 to cone 7
  ware "mugs"  24 of "Marsh buff", leather-hard, wall 6 mm
  ware "tiles" 10 of "Marsh buff", leather-hard, wall 12 mm
schedule
  climb 60 C/h to 90 C
  hold 3 h
  climb 100 C/h to 1100 C
  climb 60 C/h to 1210 C
  cool freely to 90 C
  open at 90 C
"""


def forecast_of_text(text: str = TEXT):
    return forecast_of(read_plan(SourceText("plan.firing", split_lines(text))))


def test_course() -> None:
    """Times of a schedule added up by hand: 7/6 h, 3 h, 10.1 h, 11/6 h, then free cooling."""
    course = forecast_of_text().course

    assert course is not None
    assert course.peak == 1210.0
    assert course.heating == pytest.approx(7 / 6 + 3 + 10.1 + 11 / 6, rel=1e-12)
    assert course.last_stretch_rate == pytest.approx(60.0, rel=1e-9)
    assert course.opening_at == 90.0
    assert course.opening is not None
    # 1210 to 90 °C with the kiln's own time constant, by exp(-t / tau) to a room of 20 °C.
    tau = 15.0 / log(980.0 / 80.0)
    cooling = course.opening.hour - course.heating
    assert 20.0 + 1190.0 * exp(-cooling / tau) == pytest.approx(90.0, abs=1e-6)


def test_lag_of_the_thickest_wall() -> None:
    """12 mm at 100 °C/h lag 1.67 K from both sides and 6.67 K from one (r L²/2α, α 0.3 mm²/s)."""
    forecast = forecast_of_text()
    up = forecast.lags[0]

    assert (up.ware, up.wall.millimetres, up.way) == ("tiles", 12.0, "up")
    assert up.heated_from_both_sides == pytest.approx(1.67, abs=0.005)
    assert up.heated_from_one_side == pytest.approx(6.67, abs=0.005)


def test_drying_is_for_what_goes_in_wet() -> None:
    """Leather-hard ware is judged, bisque is not; both wares get the same hours of the schedule."""
    damp = forecast_of_text().drying
    fired = forecast_of_text(TEXT.replace("leather-hard", "bisque")).drying

    assert [one.ware for one in damp] == ["mugs", "tiles"]
    assert damp[0].given == damp[1].given > 3.0
    assert fired == ()


def test_soak_against_quadrature() -> None:
    """Hours of holding that drop cones 7 and 8 agree with scipy's quadrature of the same law."""
    soak = forecast_of_text().soak

    assert soak is not None
    laws = {law.cone: law for law in ladder("ss_regular")}
    for step in soak.next_cones:
        law = laws[step.cone]

        def rate(celsius: float, law=law) -> float:
            return exp(law.log_a - law.theta / (celsius + 273.15))

        fast = quad(lambda at: rate(at) / 100.0, 90.0, 1100.0, epsabs=0, epsrel=1e-10)[0]
        slow = quad(lambda at: rate(at) / 60.0, 1100.0, soak.held_at, epsabs=0, epsrel=1e-10)[0]
        assert step.down_after == pytest.approx((1.0 - fast - slow) / rate(soak.held_at), rel=1e-6)


def test_the_spread_moves_the_ends_apart() -> None:
    """The cooler end never reads further down than the middle, nor that than the hotter end."""
    forecast = forecast_of_text(TEXT.replace("rated to cone 10", "spread 2 cone"))

    assert (forecast.spread, forecast.spread_given) == (42.0, True)
    for outlook in forecast.shelves[0].cones:
        assert outlook.forecast
        assert outlook.clock_cool_end is not None
        assert outlook.clock_hot_end is not None
        assert outlook.clock_cool_end <= outlook.forecast.clock <= outlook.clock_hot_end
    assert forecast.shelves[0].cones[1].clock_cool_end < forecast.shelves[0].cones[1].clock_hot_end


def test_the_target_of_the_plan_takes_the_series_of_its_set() -> None:
    """`target cone 6` of a plan whose set is self-supporting means the self-supporting cone."""
    without = forecast_of_text(TEXT.replace("  target 6\n", ""))

    assert without.target is not None
    assert str(without.target.series) == "self-supporting"
    assert [str(one.target) for one in without.advice] == ["cone 6"]


def test_advice_stays_within_the_rated_cone() -> None:
    """A kiln rated to cone 6 has no peak for cone 8, though more than its limit would do it."""
    text = TEXT.replace("rated to cone 10", "rated to cone 6")
    text = text.replace("target 6", "target 8").replace("guard  7", "guard 9")
    (advice,) = forecast_of_text(text).advice
    free = forecast_of_text(text.replace("  rated to cone 6\n", "")).advice[0]

    peak = {one.kind: one for one in advice.settings}["peak"]
    assert peak.value is None
    assert "kiln's limits" in peak.reason
    assert advice.kiln_limit == pytest.approx(1220.0, abs=1.0)  # chart: large 6 at 60 °C/h
    assert {one.kind: one for one in free.settings}["peak"].value is not None
