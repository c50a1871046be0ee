"""The kiln as one lump, against an ODE solver and against published energy figures."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from guardcone.firing.kiln import Kiln
from guardcone.firing.schedule import Leg, curve_of

HERON = Kiln(volume=230.0, power=11.0, cools=(1000.0, 100.0, 15.0))


@given(st.floats(60.0, 600.0), st.floats(45.0, 80.0), st.floats(0.0, 30.0))
@settings(max_examples=20)
def test_full_power_is_the_energy_balance(volume: float, density: float, room: float) -> None:
    """A full-power climb to 800 C agrees with scipy's answer to C dT/dt = P - C (T - room)/tau."""
    kiln = Kiln(volume=volume, power=density * volume / 1000.0, room=room)
    capacity, power = kiln.heat_capacity, kiln.full_power
    assert capacity is not None
    assert power is not None
    curve = curve_of([Leg("climb at full power", 800.0)], kiln)
    hours = curve.end_hour
    solved = solve_ivp(
        lambda _, t: (power - capacity * (t - room) / kiln.time_constant) / capacity,
        (0.0, hours),
        [room],
        rtol=1e-10,
        atol=1e-8,
    )

    assert solved.y[0][-1] == pytest.approx(800.0, abs=1e-3)
    assert curve.energy == pytest.approx(power * hours)


def test_energy_of_a_published_firing() -> None:
    """2.6 cubic feet (73.6 L): 26 to 29 kWh for cone 06, 34 to 36 for cone 9 (hobby-kiln table).

    The stored heat was chosen by these two figures, so this checks the sums, not the physics.
    """
    kiln = Kiln(volume=73.6)
    bisque = curve_of([Leg("climb", 998.0, hours=8.0)], kiln)
    glaze = curve_of([Leg("climb", 1260.0, hours=9.0)], kiln)

    assert bisque.energy == pytest.approx(27.5, abs=2.5)
    assert glaze.energy == pytest.approx(35.0, abs=2.5)


@pytest.mark.parametrize(("peak", "hours", "share"), [(1222.0, 12.0, 0.65), (1000.0, 12.0, 0.50)])
def test_a_larger_kiln_has_its_elements_on_for_the_published_share(
    peak: float, hours: float, share: float
) -> None:
    """50 % of the time to bisque, 65 % to cone 6 (Lakeside), for a kiln it was not drawn through.

    10 cubic feet with its maker's 11.5 kW. Store of heat that grew with the volume, not with the
    wall, made it 0.88 for cone 6.
    """
    curve = curve_of([Leg("climb", peak, hours=hours)], Kiln(volume=283.0, power=11.5))
    assert curve.energy is not None

    assert curve.energy / (11.5 * hours) == pytest.approx(share, abs=0.1)


@pytest.mark.parametrize(
    ("volume", "power", "hours"), [(230.0, 11.0, 12.0), (74.0, 3.6, 8.0), (283.0, 11.5, 9.0)]
)
def test_full_power_brings_a_kiln_to_what_it_is_rated_to(
    volume: float, power: float, hours: float
) -> None:
    """A kiln made for cone 10 comes there with its own power, however fast it cools."""
    kiln = Kiln(volume=volume, power=power, cools=(1000.0, 100.0, hours), rated=1285.0)
    curve = curve_of([Leg("climb at full power", 1285.0)], kiln)

    assert curve.problems == ()
    assert curve.energy == pytest.approx(power * curve.end_hour)
    rest = kiln.fastest_climb_at(1285.0)
    assert rest is not None
    assert rest >= 40.0


def test_an_hour_of_energy_is_the_same_however_it_is_cut() -> None:
    """A climb written in two legs costs the same; free cooling costs nothing."""
    whole = curve_of([Leg("climb", 1000.0, 100.0)], HERON)
    halves = curve_of([Leg("climb", 400.0, 100.0), Leg("climb", 1000.0, 100.0)], HERON)
    cooled = curve_of([Leg("climb", 1000.0, 100.0), Leg("cool freely", 100.0)], HERON)
    switched_off = curve_of([Leg("cool", 500.0, 400.0)], HERON, start=1000.0)

    assert halves.energy == pytest.approx(whole.energy)
    assert cooled.energy == pytest.approx(whole.energy)
    assert switched_off.energy == 0.0


def test_power_that_is_switched_off_half_way_through_a_leg() -> None:
    """Cooling that is first faster, then slower than free: only the second part is paid for."""
    rate = HERON.cooling_rate_at(600.0)
    curve = curve_of([Leg("cool", 200.0, rate)], HERON, start=1000.0)
    paid = curve_of([Leg("cool", 200.0, rate)], HERON, start=600.0)
    # Above 600 C the kiln loses more than the climb down needs, so it must be heated there.
    heated = curve_of([Leg("cool", 600.0, rate)], HERON, start=1000.0)

    assert paid.energy == pytest.approx(0.0, abs=1e-9)
    assert curve.energy == pytest.approx(heated.energy)


def test_usual_cooling_by_volume() -> None:
    """10 cubic feet from 998 to 66 C in 24 h (potters.org 11740); larger kilns cool more slowly."""
    curve = curve_of([Leg("cool freely", 66.0)], Kiln(volume=283.0), start=998.0)

    assert curve.end_hour == pytest.approx(24.0, abs=0.2)
    assert Kiln(volume=100.0).time_constant < Kiln(volume=400.0).time_constant


def test_a_kiln_that_says_nothing() -> None:
    """No volume: full power is the usual 150 C/h, energy is None, and the basis says so."""
    kiln = Kiln()
    curve = curve_of([Leg("climb at full power", 1020.0)], kiln)

    assert curve.end_hour == pytest.approx(1000.0 / 150.0)
    assert curve.energy is None
    assert "not computed" in kiln.basis[0]


@pytest.mark.parametrize(
    "cools", [(100.0, 1000.0, 15.0), (1000.0, 10.0, 15.0), (1000.0, 100.0, 0.0)]
)
def test_a_cooling_figure_that_makes_no_sense_is_not_used(
    cools: tuple[float, float, float],
) -> None:
    """Upward, to below the room, or in no time: the usual figure stands in."""
    kiln = Kiln(volume=230.0, cools=cools)

    assert not kiln.cools_usable
    assert kiln.time_constant == Kiln(volume=230.0).time_constant
