"""The sentences of the forecast: there is one for everything it may say, and none for nothing."""

import csv
import re
from pathlib import Path
from typing import get_args

import pytest

import guardcone.firing
import guardcone.outlook
import guardcone.reports
from guardcone.documents import document_path
from guardcone.firing.curve import ProblemKind
from guardcone.outlook.records import Moment, Remark
from guardcone.reports.forecast_words import Units, short_when, text_of, when
from guardcone.values import Rate, Temperature, TemperatureDifference

CODE = "".join(
    path.read_text(encoding="utf-8")
    for package in (guardcone.firing, guardcone.outlook, guardcone.reports)
    for folder in package.__path__
    for path in Path(folder).glob("*.py")
)


def names() -> list[str]:
    path = document_path("rules", "tables", "forecast_words.csv")
    with path.open(encoding="utf-8", newline="") as file:
        return [row["name"] for row in csv.DictReader(file)]


@pytest.mark.parametrize("kind", get_args(ProblemKind))
def test_every_problem_of_a_schedule_has_words(kind: str) -> None:
    """Each kind of problem has a sentence, and nothing in it but the numbers a problem has."""
    assert set(re.findall(r"{(\w+)}", text_of(f"problem: {kind}"))) <= {"asked", "possible", "at"}


# The code puts these before a word of its own: a verdict, an outcome, the kind of a problem.
BUILT = ("likely: ", "problem: ", "outcome: ", "drying: ", "no law but ", "target temperature ")


def test_no_sentence_is_unused() -> None:
    """Each name of the table stands in the code, whole or as a known beginning and a word."""
    assert len(names()) == len(set(names()))
    for name in names():
        begun = [name.removeprefix(start) for start in BUILT if name.startswith(start)]
        quoted = [mark + word + mark for word in [name, *begun] for mark in "\"'"]
        assert any(word in CODE for word in quoted), name


def test_slots_are_filled_in_the_unit_of_the_plan() -> None:
    """A temperature moves with the 32 of its scale, a difference and a rate without it."""
    remark = Remark(
        "problem: hold elsewhere",
        12,
        {"asked": Temperature.of(1000, "C"), "at": Temperature.of(1112, "F")},
    )

    assert Units("F").remark(remark).startswith("Line 12: The hold is written at 1832 °F,")
    assert "is at 600 °C there" in Units("C").remark(remark)
    assert Units("F").slot(TemperatureDifference.of(10, "C")) == "18 °F"
    assert Units("F").slot(Rate.of(60, "C/h")) == "108 °F/h"


def test_a_minute_before_midnight() -> None:
    """What rounds to midnight is told as the next day's 00:00."""
    import datetime

    clock = datetime.datetime(2026, 10, 3, 23, 59, 45)

    assert when(Moment(16.4, clock, 1, True)) == "Sun 4 Oct 00:00"
    assert when(Moment(16.4, clock, 1, False)) == "day 2 00:00"
    assert when(Moment(16.4, None, None, False)) == "16 h 24"
    assert short_when(Moment(0.999, None, None, False)) == "1 h 00"
