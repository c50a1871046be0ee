"""The forecast of a whole plan as data: the figures put together from curve, cones and ware."""

from itertools import pairwise
from math import exp, log

import pytest
from scipy.integrate import quad

from guardcone.firing.cones import ladder
from guardcone.language import SourceText, split_lines
from guardcone.outlook.outlook import forecast_of
from guardcone.outlook.records import Moment
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
    # 1210 to 90 °C as the kiln goes from 1000 to 100 °C in 15 h, each share of the way to a room
    # of 20 °C in the same time, but for the first part; later by exp(-t / tau).
    cooling = course.opening.hour - course.heating
    tau = 15.0 / (log(980.0 / 80.0) - 0.062)
    assert cooling == pytest.approx(tau * (log(1190.0 / 70.0) - 0.062), abs=0.001)


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
    assert peak.reason == "no peak that the kiln is made for brings the target down"
    assert advice.kiln_limit == pytest.approx(1220.0, abs=1.0)  # chart: large 6 at 60 °C/h
    assert {one.kind: one for one in free.settings}["peak"].value is not None


def test_at_the_spy_hole() -> None:
    """From the earliest bend of guide or target to the latest that the target goes down."""
    forecast = forecast_of_text()
    guide, target, guard = forecast.shelves[0].cones

    assert forecast.spy_hole is not None
    assert forecast.course is not None
    assert guide.bends[1] == forecast.spy_hole.begins
    assert target.bends[1] is not None
    assert forecast.spy_hole.begins.hour < target.bends[1].hour
    down = [one.down[2] or one.down[0] for one in (guide, target)]
    ends = max(one.hour for one in (*down, forecast.course.peak_ends) if one is not None)
    assert forecast.spy_hole.ends.hour == ends
    assert guard.bends[1] is not None


def test_nobody_need_be_at_a_spy_hole() -> None:
    """Not where no guide or target can move, and not for a target that nobody sees."""
    cold = forecast_of_text(TEXT.replace("to 1210 C", "to 1101 C"))
    head, _, rest = TEXT.partition('witness "bottom shelf"\n')
    unseen = forecast_of_text(head + rest[rest.index("load\n") :])

    assert cold.spy_hole is None
    assert unseen.spy_hole is None
    assert unseen.shelves[0].cones[0].forecast is not None


def test_a_cone_as_the_peak_ends() -> None:
    """It stands no further on than at the last, and just so where the kiln is opened there."""
    slow = TEXT.replace("climb 60 C/h to 1210 C", "climb 60 C/h to 1219 C")
    opened = TEXT.replace("  cool freely to 90 C\n  open at 90 C\n", "  open at 1210 C\n")

    for text in (TEXT, slow):
        target = forecast_of_text(text).shelves[0].cones[1]
        assert target.forecast is not None
        assert target.clock_peak_end is not None
        assert 0.0 < target.clock_peak_end < target.forecast.clock
    for cone in forecast_of_text(opened).shelves[0].cones:
        assert cone.forecast is not None
        assert cone.clock_peak_end == cone.forecast.clock


def test_segments_follow_each_other() -> None:
    """Each begins where and when the one before it ends; those that take no time are left out."""
    segments = forecast_of_text(TEXT.replace("hold 3 h", "climb 60 C/h to 90 C")).segments

    assert [(one.line, one.kind) for one in segments] == [
        *((18, "climb"), (20, "climb"), (21, "climb"), (22, "cool")),
    ]
    assert (segments[0].rate, segments[3].rate, segments[3].pace) == (60.0, None, "freely")
    for one, after in pairwise(segments):
        assert one.ends.hour == after.begins.hour
        assert one.ends_at == after.begins_at


@pytest.mark.parametrize(
    ("watch", "told"),
    [
        ('"A. Teal" from 18:00 to end', [("A. Teal", "18:00", None)]),
        ('"A. Teal" from 18:00 to 02:30', [("A. Teal", "18:00", "02:30")]),
        ('"A. Teal" from 06:00 to 12:00', [("A. Teal", "07:30", "12:00")]),
        ('"A. Teal" throughout', [("A. Teal", "07:30", None)]),
        ("nobody", []),
    ],
)
def test_watches(watch: str, told: list[tuple[str, str, str | None]]) -> None:
    """Who is there from when to when; who comes before the start is there at the start."""
    found = forecast_of_text(f"{TEXT}safety\n  watch {watch}\n").watches

    def time(moment: Moment | None) -> str | None:
        return f"{moment.clock:%H:%M}" if moment and moment.clock else None

    assert [(one.who, time(one.begins), time(one.ends)) for one in found] == told


def test_the_unit_may_be_another() -> None:
    """All is the same firing, but what is to be set is whole in that unit."""
    celsius, fahrenheit = (
        forecast_of(read_plan(SourceText("plan.firing", split_lines(TEXT))), unit=unit)
        for unit in ("C", "F")
    )

    assert (celsius.unit, fahrenheit.unit) == ("C", "F")
    assert celsius.course == fahrenheit.course
    peak = next(one.value for one in fahrenheit.advice[0].settings if one.kind == "peak")
    assert peak is not None
    assert (peak * 9 / 5 + 32) == pytest.approx(round(peak * 9 / 5 + 32), abs=1e-6)
