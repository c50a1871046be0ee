"""The curve of a schedule: times, bands, and schedules that make no sense."""

from math import exp, inf, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardcone.firing.kiln import Kiln
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import bands

KILN = Kiln(volume=230.0, power=11.0, cools=(1000.0, 100.0, 15.0))


def test_hours_of_a_plain_schedule() -> None:
    """20 to 95 at 60, 2 h, to 605 at 100, to 1175 in 3 h: 1.25 + 2 + 5.1 + 3 h."""
    curve = curve_of(
        [
            Leg("climb", 95.0, 60.0),
            Leg("hold", hours=2.0),
            Leg("climb", 605.0, 100.0),
            Leg("climb", 1175.0, hours=3.0),
        ]
    )

    assert [piece.end_hour for piece in curve.pieces] == pytest.approx([1.25, 3.25, 8.35, 11.35])
    assert curve.problems == ()
    assert curve.peak == 1175.0
    assert curve.peak_hours == pytest.approx((11.35, 11.35))
    assert curve.temperature_at(2.0) == 95.0
    assert curve.temperature_at(9.85) == pytest.approx(890.0)


def test_free_cooling_follows_the_kiln_own_figure() -> None:
    """A kiln that cools from 1000 to 100 C in 15 h does so, at last exponentially to the room."""
    curve = curve_of([Leg("cool freely", 100.0)], KILN, start=1000.0)
    tau = KILN.time_constant

    assert curve.end_hour == pytest.approx(15.0)
    for hour in (1.0, 5.0, 12.0):
        left = 80.0 * exp((15.0 - hour) / tau)
        assert curve.temperature_at(hour) == pytest.approx(20.0 + left)
    assert [c.hour for c in curve.crossings(573.0)] == pytest.approx(
        [15.0 - tau * log(553.0 / 80.0)]
    )


def test_a_peak_that_just_touches_a_temperature_passes_it_once() -> None:
    """Up to 573 and down again is one crossing, upward; starting at 573 and cooling is none up."""
    touched = curve_of([Leg("climb", 573.0, 100.0), Leg("cool", 400.0, 100.0)]).crossings(573.0)
    left = curve_of([Leg("cool", 400.0, 100.0)], start=573.0).crossings(573.0)

    assert [crossing.rate for crossing in touched] == pytest.approx([100.0])
    assert left == ()


def test_bands_going_up_and_down(snapshot: object) -> None:
    """Every band of a stoneware firing: hour in, hours inside, mean and steepest rates."""
    curve = curve_of(
        [
            Leg("climb", 95.0, 60.0),
            Leg("hold", hours=2.0),
            Leg("climb", 600.0, 100.0),
            Leg("climb", 1160.0, 150.0),
            Leg("climb", 1252.0, 60.0),
            Leg("hold", hours=0.25),
            Leg("cool", 1000.0, 150.0),
            Leg("cool freely", 90.0),
            Leg("open", 90.0),
        ],
        KILN,
    )
    lines = []
    for band in bands():
        for stay in curve.passages(100.0 if band.low is None else band.low, band.high):
            mean = "-" if stay.mean_rate is None else f"{stay.mean_rate:.0f} C/h"
            lines.append(
                f"{band.name}: {stay.way} at {stay.start_hour:.2f} h for {stay.hours:.2f} h, "
                f"mean {mean}, steepest {stay.steepest_up:.0f} up {stay.steepest_down:.0f} down"
            )

    assert lines == snapshot


def test_a_turn_inside_a_band_is_one_part_and_two_touches_are_two() -> None:
    """Up to 600 and back is one part of 450 to 700; a hold inside slows the mean rate."""
    turned = curve_of([Leg("climb", 600.0, 100.0), Leg("cool", 300.0, 100.0)]).passages(
        450.0, 700.0
    )
    held = curve_of(
        [Leg("climb", 500.0, 100.0), Leg("hold", hours=2.5), Leg("climb", 800.0, 100.0)]
    ).passages(450.0, 700.0)
    touched = curve_of(
        [Leg("climb", 700.0, 100.0), Leg("hold", hours=1.0), Leg("cool", 400.0, 100.0)]
    ).passages(450.0, 700.0)

    met = curve_of([Leg("climb", 700.0, 100.0), Leg("cool", 400.0, 100.0)]).passages(450.0, 700.0)

    assert [stay.way for stay in met] == ["up", "down"]
    assert [stay.way for stay in turned] == ["part"]
    assert [stay.mean_rate for stay in held] == pytest.approx([50.0])
    assert [stay.way for stay in touched] == ["up", "down"]
    assert held[0].steepest_up == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("legs", "kinds", "end"),
    [
        (
            [Leg("climb", 1000.0, 100.0), Leg("climb", 500.0, 100.0)],
            ["climb to a cooler temperature"],
            500.0,
        ),
        ([Leg("cool", 500.0, 100.0)], ["cool to a hotter temperature"], 500.0),
        (
            [Leg("climb", 500.0, 100.0), Leg("cool freely", 900.0)],
            ["cool to a hotter temperature"],
            500.0,
        ),
        ([Leg("climb", 500.0, 0.0)], ["rate not positive"], 500.0),
        ([Leg("climb", 500.0, -60.0)], ["rate not positive"], 500.0),
        ([Leg("climb", 500.0)], ["no rate"], 500.0),
        ([Leg("climb", None, 100.0)], ["no temperature"], 20.0),
        ([Leg("climb", 500.0, hours=-1.0)], ["duration not positive"], 500.0),
        ([Leg("hold")], ["no duration"], 20.0),
        ([Leg("hold", hours=0.0)], ["duration not positive"], 20.0),
        ([Leg("climb", 20.0, 60.0)], ["leg changes nothing"], 20.0),
        ([Leg("climb", 12220.0, 60.0)], ["number out of reason"], 20.0),
        ([Leg("climb", float("nan"), 60.0)], ["number out of reason"], 20.0),
        ([Leg("climb", 1000.0, 1e-300)], ["longer than a year"], 1000.0),
        ([Leg("climb", 500.0, 100.0), Leg("cool freely", 5.0)], ["cool to below the room"], 21.0),
        ([Leg("open"), Leg("hold", hours=1.0)], ["leg after opening"], 20.0),
    ],
)
def test_nonsense_is_named_and_the_rest_goes_on(
    legs: list[Leg], kinds: list[str], end: float
) -> None:
    """A leg that makes no sense is a problem of its kind, and the curve goes on from its end."""
    curve = curve_of(legs)

    assert [problem.kind for problem in curve.problems] == kinds
    assert curve.end == end


def test_what_the_kiln_cannot_do_is_named_with_its_numbers() -> None:
    """Over its limit, far over its power, faster than it cools, full power that never arrives."""
    weak = Kiln(volume=200.0, power=4.0, limit=1200.0, cools=(1000.0, 100.0, 15.0))
    climb = curve_of([Leg("climb", 1250.0, 300.0)], weak)
    full = curve_of([Leg("climb at full power", 1150.0)], weak)
    cool = curve_of([Leg("cool", 100.0, 200.0)], weak, start=1000.0)

    assert [p.kind for p in climb.problems] == [
        "hotter than the kiln's limit",
        "faster than full power",
    ]
    assert [p.kind for p in full.problems] == ["out of the kiln's power"]
    assert full.end == 1150.0
    [fast] = cool.problems
    assert (fast.kind, fast.asked, fast.estimated) == ("faster than free cooling", 200.0, False)
    assert fast.possible == pytest.approx(80.0 / weak.time_constant)
    assert fast.at == pytest.approx(min(1000.0, 20.0 + 200.0 * weak.time_constant))


def test_opening_and_safe_opening() -> None:
    """`open` carries free cooling on to its temperature; safe opening is when 93 C is passed."""
    up = [Leg("climb", 1000.0, 100.0)]
    opened = curve_of([*up, Leg("open", 90.0)], KILN)
    hot = curve_of([*up, Leg("cool freely", 200.0), Leg("open")], KILN)
    assert opened.opening is not None
    assert hot.opening is not None

    assert opened.opening.celsius == 90.0
    assert hot.opening.celsius == 200.0
    assert opened.temperature_at(opened.safe_opening_hour()) == pytest.approx(93.0)
    # Where the schedule stops hot, free cooling is carried on to the same hour.
    assert hot.safe_opening_hour() == pytest.approx(opened.safe_opening_hour())
    assert curve_of([]).safe_opening_hour() == 0.0


@given(
    st.lists(
        st.builds(
            Leg,
            st.sampled_from(["climb", "cool", "cool freely", "climb at full power"]),
            st.floats(0.0, 1400.0),
            st.floats(1.0, 1000.0),
        ),
        min_size=1,
        max_size=6,
    ),
    st.floats(0.0, 1300.0),
    st.floats(1.0, 300.0),
)
def test_stays_and_crossings_agree_with_the_curve(
    legs: list[Leg], low: float, width: float
) -> None:
    """Each crossing lies on the curve; time in, below and above a band adds up to the firing."""
    curve = curve_of(legs, KILN)
    high = low + width

    for crossing in curve.crossings(low):
        assert curve.temperature_at(crossing.hour) == pytest.approx(low, abs=1e-6)
    inside, above, below = (
        sum(stay.hours for stay in curve.passages(a, b))
        for a, b in ((low, high), (high, inf), (-inf, low))
    )
    assert inside + above + below == pytest.approx(curve.end_hour, abs=1e-6)
