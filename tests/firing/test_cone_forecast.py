"""The forecast of cones: equivalent cone and whole outputs."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardcone.firing.cone_forecast import clock_position, equivalent_cone, forecast_cone, work_done
from guardcone.firing.cones import KINETIC_SERIES, ConeKinetics, kinetics_of, ladder
from guardcone.firing.kiln import Kiln
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.uncertainty import Measuring
from guardcone.values import ConeNumber

LEGS = [
    Leg("climb", 95.0, 60.0),
    Leg("hold", hours=2.0),
    Leg("climb", 600.0, 100.0),
    Leg("climb", 1160.0, 150.0),
    Leg("climb", 1240.0, 60.0),
    Leg("hold", hours=0.25),
    Leg("cool", 1000.0, 150.0),
    Leg("hold", hours=1.0),
    Leg("cool freely", 300.0),
    Leg("cool freely", 90.0),
]
KILN = Kiln(volume=230.0, power=11.0, cools=(1000.0, 100.0, 15.0))


def test_a_stoneware_firing_to_cone_9(snapshot: object) -> None:
    """Guide 8, target 9 and guard 10 of a whole firing, with times, positions and chances."""
    curve = curve_of(LEGS, KILN)
    lines = [f"equivalent cone {equivalent_cone(curve, 'large_regular').text}"]
    for name in ("8", "9", "10"):
        cone = kinetics_of("large_regular", name)
        assert cone is not None
        one = forecast_cone(curve, cone, Measuring("S"))
        hours = ["never" if h is None else f"{h:.2f} h" for h in (one.start_hour, one.down_hour)]
        lines.append(
            f"cone {name}: W {one.work:.3f}, starts {hours[0]}, down {hours[1]}, "
            f"clock {one.clock:.1f} ({one.clock_least:.1f} to {one.clock_most:.1f}), "
            f"{one.over:+.1f} C, spread {one.spread.celsius:.1f} C, "
            f"rate {one.effective_rate:.0f} C/h, {one.verdict}"
        )

    assert lines == snapshot


@pytest.mark.parametrize("name", ["020", "06", "05½", "05", "01", "1", "5½", "6", "10", "13"])
def test_equivalent_of_a_plain_climb_is_its_cone(name: str) -> None:
    """A steady 60 C/h climb to a cone's own end is that cone, also beside the half cones and 01.

    As it is read while heating; what cones do while the kiln cools is left out by opening it.
    """
    cone = kinetics_of("ss_regular", name)
    assert cone is not None
    curve = curve_of([Leg("climb", cone.end_temperature(60.0) + 0.2, 60.0), Leg("open")])
    found = equivalent_cone(curve, "ss_regular")

    assert found.below == name
    assert found.text == name
    assert found.axis == pytest.approx(ConeNumber.read(name).axis, abs=0.05)


@pytest.mark.parametrize(
    ("peak", "text"),
    [
        (500.0, "below 022"),
        (1005.0, "06 and 0.4 of the way to 05½"),
        (1128.0, "01 and 0.5 of the way to 1"),
        (1190.0, "5.1"),
        (1210.0, "5.7"),
        (1500.0, "past 14"),
    ],
)
def test_equivalent_between_cones_cannot_be_misread(peak: float, text: str) -> None:
    """Between whole cones a plain number; below cone 1 in words, because 06.4 reads either way."""
    curve = curve_of([Leg("climb", peak, 60.0), Leg("open")])

    assert equivalent_cone(curve, "ss_regular").text == text


def test_equivalent_rises_with_the_peak() -> None:
    """Ever hotter peaks give an ever higher equivalent cone, through every gap of the ladder."""
    axes = [
        equivalent_cone(curve_of([Leg("climb", 590.0 + 5.0 * k, 60.0)]), "ss_regular").axis
        for k in range(156)
    ]

    assert None not in axes
    assert axes == sorted(axes, key=lambda axis: axis or 0.0)


def test_a_series_without_a_law_says_so() -> None:
    """Numbers of another system are never given the large cones' law."""
    found = equivalent_cone(curve_of(LEGS), "seger_a_large")

    assert ladder("seger_a_large") == ()
    assert "no cone of this series" in found.text


@given(
    st.sampled_from([cone for series in KINETIC_SERIES for cone in ladder(series)]),
    st.floats(5.0, 600.0),
    st.floats(-40.0, 30.0),
    st.floats(0.01, 24.0),
)
def test_no_cone_falls_after_a_hotter_one(
    near: ConeKinetics, rate: float, over: float, hold: float
) -> None:
    """At any rate, after any hold, each cone of a ladder has bent as far as the next at least."""
    peak = near.end_temperature(rate) + over
    curve = curve_of([Leg("climb", peak, rate), Leg("hold", hours=hold)])
    clocks = [clock_position(cone, work_done(curve, cone)) for cone in ladder(near.series)]

    assert all(hotter <= cooler + 1e-9 for cooler, hotter in pairwise(clocks))


def test_a_guide_022_is_down_when_its_target_021_is() -> None:
    """The chart has 022 rise 4 C from 60 to 150 C/h, 021 17: their laws cross below 20 C/h.

    A long hold at 588 C put the target down by its law and left the guide half-way.
    """
    curve = curve_of([Leg("climb", 588.0, 60.0), Leg("hold", hours=3.0), Leg("open")])
    laws = [kinetics_of("ss_regular", name) for name in ("022", "021")]
    guide, target = (forecast_cone(curve, law) for law in laws if law)

    assert target.clock == 6.0
    assert guide.clock == 6.0
    assert guide.down_hour is not None
    assert target.down_hour is not None
    assert guide.down_hour <= target.down_hour
