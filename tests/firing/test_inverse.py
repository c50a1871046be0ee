"""Peak, hold and last rate for a target: every answer is fired and looked at."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guardcone.firing.cone_forecast import start_work, work_at_clock, work_done
from guardcone.firing.cones import kinetics_of, ladder
from guardcone.firing.inverse import Answer, Question
from guardcone.firing.kiln import Kiln
from guardcone.firing.schedule import Leg, curve_of

LEGS = [
    Leg("climb", 600.0, 100.0),
    Leg("climb", 1120.0, 150.0),
    Leg("climb", 1222.0, 60.0),
    Leg("hold", hours=0.25),
    Leg("cool freely", 90.0),
]


def cone(name: str):
    found = kinetics_of("large_regular", name)
    assert found is not None
    return found


def judge(answer: Answer, legs: list[Leg], target, guard) -> None:
    """Fire the legs with the answer in them and hold it to what it says."""
    done, guarded = (work_done(curve_of(legs), cone) for cone in (target, guard))
    if answer.outcome == "guard stands":
        assert done >= 1.0
        assert guarded < start_work(guard)
    elif answer.outcome == "guard leans":
        assert done >= 1.0
        assert guarded < work_at_clock(guard, 3.0)
    else:
        assert answer.value is None
        assert answer.reason


def test_peak_for_every_target() -> None:
    """For each neighbouring pair of large cones the peak found does what it says, or none does."""
    cones = ladder("large_regular")
    outcomes = set()
    for target, guard in pairwise(cones):
        answer = Question("peak", LEGS, 2).answer(target, guard)
        outcomes.add(answer.outcome)
        if answer.value is None:
            judge(answer, LEGS, target, guard)
            continue
        assert answer.least is not None
        assert answer.most is not None
        assert answer.least <= answer.value <= answer.most
        fired = [*LEGS[:2], Leg("climb", answer.value, 60.0), *LEGS[3:]]
        judge(answer, fired, target, guard)

    assert outcomes == {"guard stands", "guard leans", "none"}


def test_a_peak_stays_above_the_other_legs() -> None:
    """With a second peak of 1200 °C the first is no cooler, though that alone puts cone 6 down."""
    legs = [
        Leg("climb", 1215.0, 150.0),
        Leg("cool", 700.0, 100.0),
        Leg("climb", 1200.0, 150.0),
        Leg("hold", hours=1.0),
        Leg("cool freely", 90.0),
    ]
    alone = Question("peak", legs, 0).answer(cone("6"))
    spared = Question("peak", legs, 0).answer(cone("6"), cone("7"))

    assert alone.least == 1200.0
    assert spared.value is None or spared.value >= 1200.0


def test_cone_one_and_two_lie_too_close() -> None:
    """Cone 2 ends 6 C over cone 1 on the chart: no peak drops 1 and spares 2, and it says so."""
    answer = Question("peak", LEGS, 2).answer(cone("1"), cone("2"))

    assert answer.outcome == "none"
    assert "half-way" in answer.reason


def test_hold_and_last_rate_do_what_they_say() -> None:
    """A peak 12 C low is mended by a hold or by a slower last climb."""
    low = [*LEGS[:2], Leg("climb", 1205.0, 90.0), Leg("hold", hours=0.01), *LEGS[4:]]
    hold = Question("hold", low, 3).answer(cone("6"), cone("7"))
    rate = Question("rate", low, 2).answer(cone("6"), cone("7"))
    assert hold.value is not None
    assert rate.value is not None

    judge(hold, [*low[:3], Leg("hold", hours=hold.value), *low[4:]], cone("6"), cone("7"))
    judge(
        rate,
        [*low[:2], Leg("climb", 1205.0, rate.value), *low[3:]],
        cone("6"),
        cone("7"),
    )
    assert 0.0 < hold.value < 2.0
    assert 5.0 <= rate.value < 90.0


def test_a_kiln_that_stops_too_low_has_no_answer() -> None:
    """Under a limit of 1150 C no peak brings cone 9 down, and no hold at 1000 C does."""
    peak = Question("peak", LEGS, 2, Kiln(limit=1150.0)).answer(cone("9"), cone("10"))
    cool = [*LEGS[:2], Leg("climb", 1000.0, 60.0), *LEGS[3:]]
    hold = Question("hold", cool[1:], 2).answer(cone("9"), cone("10"))

    assert (peak.outcome, hold.outcome) == ("none", "none")
    assert peak.reason == "no peak that the kiln is made for brings the target down"
    # 24 h are the most that is looked for, and no limit of the kiln.
    assert hold.reason == "no hold of 24 h or less brings the target down"


@given(st.sampled_from(ladder("large_regular")[:-2]), st.floats(10.0, 300.0), st.floats(0.0, 3.0))
@settings(max_examples=40)
def test_any_approach_and_hold_has_its_peak(target, rate: float, hold: float) -> None:
    """Whatever the last rate and the hold, the peak found brings the target just down."""
    legs = [Leg("climb", 1000.0, rate), Leg("hold", hours=hold + 0.01)]
    answer = Question("peak", legs, 0).answer(target)
    assert answer.value is not None
    assert answer.least is not None
    at_least, below = (
        work_done(curve_of([Leg("climb", peak, rate), legs[1]]), target)
        for peak in (answer.value, answer.least - 0.01)
    )

    assert at_least >= 1.0 > below


def test_one_degree_is_never_left_to_the_reader() -> None:
    """Answers are whole degrees, whole minutes and whole degrees an hour where there is room."""
    peak = Question("peak", LEGS, 2).answer(cone("6"))
    hold = Question("hold", [*LEGS[:2], Leg("climb", 1200.0, 60.0), LEGS[3]], 3).answer(cone("6"))
    assert peak.value is not None
    assert hold.value is not None

    assert peak.value == round(peak.value)
    assert hold.value * 60.0 == pytest.approx(round(hold.value * 60.0))
