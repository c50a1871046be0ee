"""The forecast as people read it: whole pages, reviewed by eye, and what must hold for all."""

import re

import pytest
from plans_to_forecast import (
    BISQUE_IN_FAHRENHEIT,
    CLOSE_CONES,
    FAULTY,
    NO_SEGMENTS,
    NO_TARGET,
    NOTHING,
    RAKU,
    SEGER,
    THURSDAY,
    TOO_COOL,
    TOO_WEAK,
    TWO_SETS,
    plan_of,
)

from guardcone.firing.uncertainty import verdict
from guardcone.outlook.outlook import forecast_of
from guardcone.reports.forecast import forecast_for_people
from guardcone.reports.forecast_words import text_of
from guardcone.reports.page import Style, for_terminal, reminder

ALL = {
    "thursday": THURSDAY,
    "bisque in fahrenheit": BISQUE_IN_FAHRENHEIT,
    "two sets": TWO_SETS,
    "raku": RAKU,
    "seger": SEGER,
    "faulty": FAULTY,
    "nothing": NOTHING,
    "no segments": NO_SEGMENTS,
    "no target": NO_TARGET,
    "too cool": TOO_COOL,
    "too weak": TOO_WEAK,
    "close cones": CLOSE_CONES,
}


def page_of(text: str, width: int = 80, colour: bool = False) -> str:
    return forecast_for_people(forecast_of(plan_of(text)), Style(colour, width=width))


@pytest.mark.parametrize("name", ALL)
def test_whole_page(name: str, snapshot: object) -> None:
    """Every plan of the collection gets the page that was read and found right.

    The reminder has tests of its own below, and its words are the rule book's to change.
    """
    page, _, end = page_of(ALL[name]).rpartition("\n\n")

    assert " ".join(end.split()) == " ".join(reminder().split())
    assert page == snapshot


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_width(name: str, width: int) -> None:
    """No line is wider than asked."""
    assert max(map(len, page_of(ALL[name], width).splitlines())) <= width


@pytest.mark.parametrize("name", ALL)
def test_reminder_ends_every_page_once(name: str) -> None:
    """The safety reminder is the end of every page and stands there once."""
    words = " ".join(page_of(ALL[name]).split())
    said = " ".join(reminder().split())

    assert words.endswith(said)
    assert words.count(said) == 1


def test_colour_changes_nothing_but_headings() -> None:
    """With the bold codes taken out the page is the plain one; a pipe gets no codes."""
    plain, bold = page_of(THURSDAY), for_terminal(page_of(THURSDAY, colour=True))

    assert "\033" not in plain
    assert "\033[1mIn short\033[0m" in bold
    assert re.sub(r"\033\[[01]m", "", bold) == plain


def test_the_lead_of_the_thursday_plan() -> None:
    """Cone 9.3 by law, the guard leans, and 1245 °C puts it right."""
    page = " ".join(page_of(THURSDAY).split())

    assert "comes to cone 9.3 (large cones); the target is cone 9." in page
    assert "the guard, cone 10, begins to lean" in page
    assert "A peak of 1245 °C instead of 1252 °C, all else as written, puts it right." in page


def test_answers_in_the_unit_of_the_plan() -> None:
    """A plan in °F is answered without a single degree Celsius, and the other way round."""
    fahrenheit, celsius = page_of(BISQUE_IN_FAHRENHEIT), page_of(THURSDAY)

    assert "°C" not in fahrenheit
    assert "°F" not in celsius


def test_hostile_names_reach_no_terminal() -> None:
    """A name with control characters, or one far too long, moves no cursor and breaks no line."""
    page = page_of(THURSDAY.replace("Thursday stoneware", "red\033[31m alarm\x9b2J" + "x" * 300))

    assert "\033" not in page
    assert "\x9b" not in page
    assert max(map(len, page.splitlines())) <= 80


def test_likelihood_words_mean_what_they_say() -> None:
    """The explanation of every likelihood word holds the very chances that earned the word."""
    steps = [step / 200 for step in range(201)]
    for down, moved in [(down, moved) for down in steps for moved in steps if moved >= down]:
        text = text_of(f"likely: {verdict(down, moved)}")
        share = 100 * (down if "goes down" in text else moved)
        if found := re.search(r"In fewer than (\d+) of 100", text):
            assert share < float(found[1])
        elif found := re.search(r"In (\d+) to (\d+) of 100", text):
            assert float(found[1]) - 1e-9 <= share < float(found[2])
        else:
            found = re.search(r"In (\d+) of 100 such firings or more", text)
            assert found
            assert share >= float(found[1]) - 1e-9
        if "in fewer than half it goes all the way down" in text:
            assert down < 0.5
