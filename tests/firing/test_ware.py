"""Lag, boiling and drying of ware against published and worked numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import table
from guardcone.firing.ware import (
    boiling_point,
    core_lag,
    drying_done,
    drying_hours,
    lag_hours,
    vapour_pressure,
)


@pytest.mark.parametrize(
    ("wall", "one_sided", "kelvin"),
    [(12.0, False, 1.67), (12.0, True, 6.67), (50.0, False, 28.9), (50.0, True, 115.7)],
)
def test_worked_lags(wall: float, one_sided: bool, kelvin: float) -> None:
    """100 C/h, 0.3 mm2/s: r L^2 / (2 alpha), worked by hand."""
    assert core_lag(100.0, wall, 0.3, one_sided=one_sided) == pytest.approx(kelvin, abs=0.06)


@given(st.floats(1.0, 100.0), st.floats(1.0, 500.0))
def test_double_the_wall_quadruples_the_lag(wall: float, rate: float) -> None:
    """The lag goes with the square of the wall and straight with the rate."""
    assert core_lag(rate, 2.0 * wall) == pytest.approx(4.0 * core_lag(rate, wall))
    assert core_lag(2.0 * rate, wall) == pytest.approx(2.0 * core_lag(rate, wall))


def test_lag_against_the_heat_equation() -> None:
    """A 24 mm slab climbing 120 C/h on both faces, solved on 41 nodes, lags as computed."""
    wall, alpha, rate, nodes = 24.0, 0.3, 120.0, 41
    step = wall / (nodes - 1)

    def flow(t: float, u):  # t in s, u in K above the start
        face = rate / 3600.0 * t
        full = [face, *u, face]
        return [
            alpha * (full[i - 1] - 2.0 * full[i] + full[i + 1]) / step**2
            for i in range(1, nodes - 1)
        ]

    end = 10.0 * lag_hours(wall, alpha) * 3600.0
    solved = solve_ivp(flow, (0.0, end), [0.0] * (nodes - 2), method="LSODA", rtol=1e-8, atol=1e-9)
    lag = rate / 3600.0 * end - solved.y[(nodes - 2) // 2][-1]

    assert core_lag(rate, wall, alpha) == pytest.approx(lag, rel=1e-3)


@pytest.mark.parametrize(
    ("altitude", "celsius"),
    [(0, 100.0), (500, 98.3), (1000, 96.7), (1500, 95.0), (2000, 93.4), (2500, 91.7), (3000, 90.0)],
)
def test_boiling_by_altitude(altitude: float, celsius: float) -> None:
    """Standard atmosphere and steam tables: 100.0, 95.0, 90.0 C at 0, 1500, 3000 m (+-0.2)."""
    assert boiling_point(altitude) == pytest.approx(celsius, abs=0.2)


def test_boiling_read_elsewhere() -> None:
    """4750 ft (1448 m): water boils near 203 F, 95.2 C (Finkelnburg, potters.org 92678)."""
    assert boiling_point(1448.0) == pytest.approx(95.2, abs=0.3)
    assert vapour_pressure(100.0) == pytest.approx(101325.0, rel=0.001)


@pytest.mark.parametrize("row", table("drying"), ids=lambda row: row["source"][:30])
def test_published_holds_meet_the_range(row: dict[str, str]) -> None:
    """Every published hold of drying.csv overlaps the range at both ends of its wall."""
    for wall in (float(row["wall_from_mm"]), float(row["wall_to_mm"])):
        drying = drying_hours(wall, "bone dry")

        assert drying.least <= float(row["hours_most"]) + 1e-9
        assert float(row["hours_least"]) <= drying.most + 1e-9


def test_disagreement_is_kept_as_a_range() -> None:
    """6 mm: 1 to 3 h; 25 mm: 4 to 12 h; nothing over the 12 h anybody publishes."""
    found = [
        (round(drying.least, 1), round(drying.most, 1))
        for drying in (drying_hours(wall, "bone dry") for wall in (6.0, 25.0, 75.0, 120.0))
    ]

    assert found == [(1.0, 3.0), (4.2, 12.0), (12.0, 12.0), (12.0, 12.0)]


def test_dampness() -> None:
    """Half for a bisqued refire, none for dry bisque, more when damper; an unknown word says so."""
    dry, refire, bone, leather = (
        drying_hours(12.0, word)
        for word in ("dry bisque", "damp bisque", "bone dry", "leather hard")
    )

    assert (dry.least, dry.most) == (0.0, 0.0)
    assert (refire.least, refire.most) == (0.5 * bone.least, 0.5 * bone.most)
    assert leather.least > bone.least
    assert not drying_hours(12.0, "soggy").known
    assert drying_hours(80.0, "wet").beyond


def test_two_hours_at_93_dry_as_much_as_three_at_82() -> None:
    """Vapour pressure makes the two published college and studio holds nearly the same drying."""
    hot, cool = (
        drying_done(curve_of([Leg("hold", hours=h)], start=at), 100.0)
        for h, at in ((2.0, 93.0), (3.0, 82.0))
    )

    assert cool == pytest.approx(3.0)
    assert hot == pytest.approx(cool, rel=0.05)


def test_only_time_before_boiling_dries() -> None:
    """A hold after boiling counts for nothing; at 3000 m a hold at 92 C comes too late."""
    late = [Leg("climb", 150.0, 100.0), Leg("hold", hours=5.0), Leg("cool", 80.0, 100.0)]
    hold = [Leg("climb", 92.0, 100.0), Leg("hold", hours=2.0)]

    assert drying_done(curve_of(late), 100.0) < 0.7
    assert drying_done(curve_of(hold), boiling_point(0.0)) > 2.0
    assert drying_done(curve_of(hold), boiling_point(3000.0)) < 0.7
