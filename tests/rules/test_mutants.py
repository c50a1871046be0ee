"""The mutants of a condition, which the mutation run over the book (`mutation.py`) is made of."""

import pytest
from mutants import moved, mutants, shown

from guardcone.condition.kinds import LENGTH, RATE
from guardcone.condition.scope import Scope
from guardcone.condition.typing import read_condition
from guardcone.facts import VOCABULARY
from guardcone.values import Cone, ConeNumber, Length, Rate, Temperature

LIMITS = {"thick-wall": Length.of(12, "mm"), "quick-rate": Rate.of(60, "C/h")}
TYPES = {"thick-wall": LENGTH, "quick-rate": RATE}

WARE = {
    "wall is thicker than thick-wall": [
        "wall > thick-wall: > becomes <=",
        "wall > thick-wall: > becomes >=",
        "limit thick-wall: 12 mm becomes 13.2 mm",
        "limit thick-wall: 12 mm becomes 10.8 mm",
    ],
    "wall is missing": ["wall is missing: denied"],
    "not refired": ["not (refired): not taken away"],
    "state is one of damp, leather-hard and not (vented or waxed)": [
        "and state is damp or leather-hard: dropped",
        "and not (vented or waxed): dropped",
        "state is damp or leather-hard: denied",
        "state is damp or leather-hard: damp dropped",
        "state is damp or leather-hard: leather-hard dropped",
        "not (vented or waxed): not taken away",
        "or vented: dropped",
        "or waxed: dropped",
        "vented: denied",
        "waxed: denied",
    ],
    "wall is at least 5 mm and wall is at most thick-wall": [
        "and wall >= 5 mm: dropped",
        "and wall <= thick-wall: dropped",
        "wall >= 5 mm: >= becomes <",
        "wall >= 5 mm: >= becomes >",
        "wall <= thick-wall: <= becomes >",
        "wall <= thick-wall: <= becomes <",
        "limit thick-wall: 12 mm becomes 13.2 mm",
        "limit thick-wall: 12 mm becomes 10.8 mm",
    ],
    'some segment has (rate is faster than quick-rate) and name mentions "jar"': [
        "and some segment has (rate > quick-rate): dropped",
        'and name mentions "jar": dropped',
        "rate > quick-rate: > becomes <=",
        "rate > quick-rate: > becomes >=",
        'name mentions "jar": denied',
        "limit quick-rate: 60 °C/h becomes 66 °C/h",
        "limit quick-rate: 60 °C/h becomes 54 °C/h",
    ],
}


@pytest.mark.parametrize("text", WARE)
def test_the_mutants_of_a_condition(text: str) -> None:
    """Each comparison, operand, `not`, word and limit is changed by itself, and no mutant twice."""
    subject = VOCABULARY.subject("ware")
    assert subject is not None
    condition = read_condition(text, Scope(VOCABULARY, TYPES, subject))

    found = mutants(condition, LIMITS)

    told = [mutant.what.replace("(vented) or (waxed)", "vented or waxed") for mutant in found]
    assert told == WARE[text]
    assert all(mutant.condition != condition for mutant in found)


def test_a_limit_named_twice_moves_as_one() -> None:
    """A limit that a condition names in two places is moved in both at once."""
    subject = VOCABULARY.subject("ware")
    assert subject is not None
    text = "wall is thicker than thick-wall or foot-clear is wider than thick-wall"
    condition = read_condition(text, Scope(VOCABULARY, TYPES, subject))

    up, down = (one for one in mutants(condition, LIMITS) if one.what.startswith("limit"))

    assert shown(up.condition).count("13.2 mm") == 2
    assert shown(down.condition).count("10.8 mm") == 2


def test_how_far_a_limit_moves() -> None:
    """A measure moves by 10 % in the unit it is written in, a cone or a whole number by one."""
    nine = Cone(ConeNumber.read("9"))

    assert [str(value) for value in moved(Temperature.of(1000, "F"))] == ["1100 °F", "900 °F"]
    assert [str(value) for value in moved(Length.of(0, "mm"))] == ["1 mm", "-1 mm"]
    assert [str(value.number) for value in moved(nine)] == ["10", "8"]
    assert moved(3.0) == (4.0, 2.0)
    assert moved(0.5) == (0.55, 0.45)
