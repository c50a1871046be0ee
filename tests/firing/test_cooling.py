"""Free cooling against conduction in a brick wall, and what it does to cones."""

from itertools import pairwise
from math import log

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from guardcone.firing.cone_forecast import forecast_cone
from guardcone.firing.cones import fold_degrees, kinetics_of
from guardcone.firing.kiln import Kiln
from guardcone.firing.schedule import Leg, curve_of

HERON = Kiln(volume=230.0, power=11.0, cools=(1000.0, 100.0, 15.0))
Floats = NDArray[np.float64]


def wall_cooling(litres: float, thick: float, load: float, peak: float) -> tuple[Floats, Floats]:
    """Hours and C of a kiln that is switched off after a climb at 100 C/h, by conduction alone.

    One wall of insulating brick around a cube, in 30 shells, `thick` in m, with `load` kg of ware
    of 1.05 kJ/(kg K) at its face. Brick of 600 kg/m3, 0.15 W/mK cold and 0.30 at 1000 C: sensible
    values of insulating brick, nothing measured.
    """
    shells = 30
    depth = thick / shells
    side = (litres / 1000.0) ** (1.0 / 3.0)
    faces = 6.0 * (side + 2.0 * depth * np.arange(shells + 1)) ** 2
    store = 600.0 * 1050.0 * depth * 6.0 * (side + 2.0 * depth * (np.arange(shells) + 0.5)) ** 2

    def flow(face: float, wall: Floats) -> Floats:
        """W through each face."""
        k = 0.15 + 0.15 * wall / 1000.0
        inside = 0.5 * (k[1:] + k[:-1]) * (wall[:-1] - wall[1:]) / depth
        first = k[0] * (face - wall[0]) / (0.5 * depth)
        last = (wall[-1] - 20.0) / (0.5 * depth / k[-1] + 0.1)
        return np.concatenate(([first], inside, [last])) * faces

    def heated(hour: float, wall: Floats) -> Floats:
        through = flow(20.0 + 100.0 * hour, wall)
        return -np.diff(through) / store * 3600.0

    def cooled(_: float, state: Floats) -> Floats:
        through = flow(state[0], state[1:])
        ware = -through[0] / (load * 1050.0) * 3600.0
        return np.concatenate(([ware], -np.diff(through) / store * 3600.0))

    up = solve_ivp(heated, (0.0, (peak - 20.0) / 100.0), np.full(shells, 20.0), method="BDF")
    hours = np.linspace(0.0, 60.0, 6001)
    down = solve_ivp(
        cooled, (0.0, 60.0), np.append(peak, up.y[:, -1]), method="BDF", t_eval=hours, rtol=1e-6
    )
    return hours, down.y[0]


@pytest.mark.parametrize(
    ("litres", "thick", "load", "peak", "cone"),
    [
        (230.0, 0.076, 57.0, 1246.0, "9"),
        (230.0, 0.076, 120.0, 1246.0, "9"),
        (283.0, 0.115, 100.0, 1222.0, "6"),
        (74.0, 0.076, 18.0, 1000.0, "06"),
        (60.0, 0.050, 15.0, 1040.0, "05"),
    ],
)
def test_what_cooling_does_to_a_cone_is_what_a_wall_makes_it(
    litres: float, thick: float, load: float, peak: float, cone: str
) -> None:
    """Within half of it; one exponential through the same cooling figure makes it about double.

    Against conduction in a wall of brick, whose time from 1000 to 100 C is all the kiln says.
    """
    hours, celsius = wall_cooling(litres, thick, load, peak)
    law = kinetics_of("large_regular", cone)
    assert law is not None

    def work(falling: Floats) -> float:
        return float(np.trapezoid(np.exp(law.log_a - law.theta / (falling + 273.15)), hours))

    at = {to: float(np.interp(-to, -celsius, hours)) for to in (min(1000.0, peak), 100.0)}
    hot, cool = at
    kiln = Kiln(cools=(hot, cool, at[cool] - at[hot]))
    curve = curve_of([Leg("cool freely", 21.0)], kiln, start=peak)
    tau = (at[cool] - at[hot]) / log((hot - 20.0) / (cool - 20.0))

    real = work(celsius)
    ours = work(np.array([curve.temperature_at(hour) for hour in hours]))
    single = work(20.0 + (peak - 20.0) * np.exp(-hours / tau))

    assert 0.5 < ours / real < 1.5
    assert single / real > 1.5
    assert at[cool] == pytest.approx(curve.crossings(cool)[0].hour, rel=0.1)


@pytest.mark.parametrize("to", [1150.0, 900.0, 100.0])
def test_a_cooling_figure_is_passed_through(to: float) -> None:
    """Cooling that begins where the kiln's own figure does ends where and when it does."""
    kiln = Kiln(cools=(1200.0, to, 0.6 if to > 1000.0 else 9.0))
    curve = curve_of([Leg("cool freely", to)], kiln, start=1200.0)

    assert curve.end_hour == pytest.approx(0.6 if to > 1000.0 else 9.0)


def test_cooling_falls_ever_more_slowly_and_has_no_corner() -> None:
    """The parts of a fall meet at one temperature and one rate, and it falls ever more slowly."""
    curve = curve_of([Leg("climb", 1222.0, 100.0), Leg("cool freely", 90.0)], HERON)
    first, second = curve.pieces[1:]

    assert first.end == second.start
    assert first.rate_at(first.end) == pytest.approx(second.rate_at(second.start))
    hours = [curve.pieces[0].end_hour + 0.1 * step for step in range(100)]
    left = [log(curve.temperature_at(hour) - 20.0) for hour in hours]
    falls = [before - after for before, after in pairwise(left)]
    assert falls[0] > 2.0 * falls[-1]
    assert all(sooner >= later - 1e-9 for sooner, later in pairwise(falls))


def test_a_fall_written_in_two_lines_is_one_fall() -> None:
    """Cooling freely to 1100 and then to 90 C takes as long as cooling freely to 90 C."""
    peak = Leg("climb", 1222.0, 100.0)
    one = curve_of([peak, Leg("cool freely", 90.0)], HERON)
    two = curve_of([peak, Leg("cool freely", 1100.0), Leg("cool freely", 90.0)], HERON)

    assert two.end_hour == pytest.approx(one.end_hour)
    assert two.temperature_at(14.0) == pytest.approx(one.temperature_at(14.0))


def test_a_kiln_that_comes_down_slowly_has_had_the_first_of_its_fall() -> None:
    """Let go as it comes down as fast as it can, it goes on so; after a hold, faster at first."""
    rate = HERON.cooling_rate_at(900.0)
    down = [Leg("climb", 1222.0, 100.0), Leg("cool", 900.0, rate)]
    at_once = curve_of([*down, Leg("cool freely", 90.0)], HERON)
    held = curve_of([*down, Leg("hold", hours=1.0), Leg("cool freely", 90.0)], HERON)

    assert [piece.rate_at(piece.start) for piece in at_once.pieces[2:]] == pytest.approx([-rate])
    assert held.pieces[3].rate_at(900.0) < -2.0 * rate


def states(*after: Leg) -> list[tuple[float, float]]:
    """Degrees past the end and how far in doubt, of cones after a climb and what comes next."""
    curve = curve_of([Leg("climb", 1222.0, 100.0), *after], HERON)
    laws = [kinetics_of("large_regular", name) for name in ("5", "6", "7")]
    found = [forecast_cone(curve, law) for law in laws if law]
    return [(one.over, one.spread.celsius) for one in found]


def test_a_plan_that_does_not_say_it_cools_cools_freely() -> None:
    """No line, `cool freely`, and an opening at 90 C are one firing, in which cones do the same."""
    said = np.array(states(Leg("cool freely", 90.0)))

    for other in (states(), states(Leg("open", 90.0)), states(Leg("cool freely", 600.0))):
        assert np.array(other) == pytest.approx(said)


def test_a_kiln_opened_at_its_peak_does_not_cool_shut() -> None:
    """Raku is drawn at the peak: cones do no more then, and no cooling is in doubt."""
    for opened, shut in zip(states(Leg("open")), states(), strict=True):
        assert shut[0] - opened[0] > 2.0
        assert shut[1] > opened[1]


def test_doubt_of_the_cooling_is_half_of_what_it_is_worth() -> None:
    """In degrees of peak, named among the parts of the range."""
    law = kinetics_of("large_regular", "6")
    assert law is not None
    climb, opened = Leg("climb", 1222.0, 100.0), Leg("open")
    drawn = forecast_cone(curve_of([climb, opened], HERON), law)
    cooled = forecast_cone(curve_of([climb], HERON), law)
    parts = {part.name: part.standard_deviation for part in cooled.spread.parts}

    worth = fold_degrees(law, cooled.kelvin) * log(cooled.work / drawn.work)
    assert parts["cooling freely"] == pytest.approx(0.5 * worth)
    assert "cooling freely" not in {part.name for part in drawn.spread.parts}


def test_what_is_not_in_the_schedule_is_not_of_it() -> None:
    """The cooling that no line says is no stretch of the schedule, which ends at its peak."""
    curve = curve_of([Leg("climb", 1222.0, 100.0)], HERON)

    assert (curve.end_hour, curve.end) == (pytest.approx(12.02), 1222.0)
    assert curve.passages(450.0, 700.0)[-1].way == "up"
    assert curve.left_alone[-1].end == 93.0
