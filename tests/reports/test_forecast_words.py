"""The sentences of the forecast: there is one for everything it may say, and none for nothing."""

import csv
import re
from pathlib import Path
from typing import get_args

import pytest
from attrs import evolve

import guardcone.firing
import guardcone.outlook
import guardcone.reports
from guardcone.documents import document_path
from guardcone.firing.curve import ProblemKind
from guardcone.outlook.records import Moment, Remark
from guardcone.reports.forecast_words import Units, text_of
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
BUILT = (
    "problem: ",
    "outcome: ",
    "then: ",
    "set: ",
    "drying: ",
    "no law but ",
    "target temperature ",
)


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

    units = Units("C")

    assert units.when(Moment(16.4, clock, 1, True)) == "Sun 4 Oct 00:00"
    assert units.when(Moment(16.4, clock, 1, False)) == "day 2 00:00"
    assert units.when(Moment(16.4, None, None, False)) == "16 h 24"
    assert units.clock(Moment(0.999, None, None, False)) == (0, "1 h 00")
    assert Units("C", dates=False).when(Moment(16.4, clock, 1, True)) == "day 2 00:00"
    assert Units("C", from_start=True).when(Moment(16.4, clock, 1, True)) == "16 h 24"


def test_two_moments_of_one_day_name_it_once() -> None:
    """The day of the second is told only where it is another."""
    import datetime

    evening, night = (datetime.datetime(2026, 10, 3, hour, 30) for hour in (20, 23))
    next_day = datetime.datetime(2026, 10, 4, 0, 15)
    first, second = Moment(13.0, evening, 1, True), Moment(16.0, night, 1, True)
    third = Moment(16.75, next_day, 2, True)

    assert Units("C").span(first, second) == "20:30 to 23:30"
    assert Units("C").span(first, third) == "20:30 to Sun 4 Oct 00:15"
    assert Units("C").span(third, evolve(third, hour=17.0)) == "Sun 4 Oct 00:15 to 00:15"
    assert Units("C").minutes(third) - Units("C").minutes(first) == 225


def test_people_get_whole_degrees() -> None:
    """No kiln is set to a tenth; `fine`, for programs, keeps a decimal of what is little."""
    people, program = Units("C"), Units("C", fine=True)

    assert people.difference(3.4) == "3 °C"
    assert people.difference(0.4) == "under 1 °C"
    assert (people.rate(16.7), people.duration(7.5 / 60)) == ("17 °C/h", "8 min")
    assert (people.rate(5.4), people.rate(0.3)) == ("5 °C/h", "under 1 °C/h")
    assert people.rate(33.3, exact=True) == "33.3 °C/h"  # as somebody wrote it
    assert people.duration(35.7 / 3600) == "under 1 min"
    assert people.duration(30 / 3600) == "30 s"
    assert (program.difference(3.4), program.rate(16.7)) == ("3.4 °C", "16.7 °C/h")
    assert program.duration(7.5 / 60) == "7.5 min"
