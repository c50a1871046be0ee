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

from guardcone.checking.plans import check_plan
from guardcone.firing.uncertainty import LIKELIHOODS
from guardcone.outlook.outlook import forecast_of
from guardcone.reports.forecast import forecast_for_people
from guardcone.reports.page import Style, for_terminal, reminder
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence

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


THURSDAY_WATCHED = f'{THURSDAY}safety\n  watch "duty potter" from 18:00 to 22:00\n'


def page_of(text: str, width: int = 80, colour: bool = False, whole: bool = False) -> str:
    style = Style(colour, width=width)
    return forecast_for_people(forecast_of(plan_of(text)), style, whole=whole)


@pytest.mark.parametrize("name", ALL)
def test_whole_page(name: str, snapshot: object) -> None:
    """Every plan of the collection gets the page that was read and found right.

    The reminder has tests of its own below, and its words are the rule book's to change.
    """
    page, _, end = page_of(ALL[name]).rpartition("\n\n")

    assert " ".join(end.split()) == " ".join(reminder().split())
    assert page == snapshot


@pytest.mark.parametrize("name", ["thursday", "bisque in fahrenheit", "two sets", "too weak"])
def test_all_of_it(name: str, snapshot: object) -> None:
    """What `--all` tells besides, from the scale of likelihood to what is assumed."""
    _, more, told = page_of(ALL[name], whole=True).partition("How likely, and how far")

    assert more + told.rpartition("\n\nBefore any firing")[0] == snapshot


@pytest.mark.parametrize("name", ["thursday", "two sets"])
def test_narrow_page(name: str, snapshot: object) -> None:
    """On a terminal of 40 columns cones are told in words, one after the other."""
    page, _, _ = page_of(ALL[name], 40).partition("The firing")

    assert page == snapshot


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_width(name: str, width: int) -> None:
    """No line is wider than asked."""
    for whole in (False, True):
        assert max(map(len, page_of(ALL[name], width, whole=whole).splitlines())) <= width


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
    """When to be there, what to set, how target and guard fare, when to open: before all else."""
    page = " ".join(page_of(THURSDAY).split())

    assert page.startswith(
        'Forecast of "Thursday stoneware" in the kiln "Heron" starts Sat 3 Oct 2026, 07:30 '
        "In short Spy hole be there from 20:17 to 21:23 "
        "Set 60 °C/h to 1244 °C (not 1252 °C), hold 10 min; or "
    )
    assert "the guard, cone 10, begins to lean: it is less likely than not to stand." in page
    assert (
        "Open not before Sun 4 Oct 15:07, and only when the instrument shows 90 °C. The cones"
        in page
    )


def test_each_target_has_its_own_answer() -> None:
    """Two sets without a name are told apart by their cones, and neither hides the other."""
    one = THURSDAY.replace('witness "bottom shelf"', "witness")
    second = "witness\n  large cones\n  guide 8\n  target 9\n  guard 11\nload\n"
    page = " ".join(page_of(one.replace("load\n", second, 1)).split())
    answer = page.partition("The cones")[0].partition("Target ")[2]

    assert answer.startswith(
        "cone 9, guard cone 10: As written, cone 9 is likely to go down, but the guard, cone 10, "
        "begins to lean: it is less likely than not to stand. "
        "cone 9, guard cone 11: As written, cone 9 is likely to go down, and the guard, cone 11, "
        "is likely to stand."
    )


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


def test_one_scale_of_likelihood() -> None:
    """Each word stands once with its bounds, and no forecast speaks of likelihood in another."""
    page = " ".join(page_of(THURSDAY, whole=True).split())
    told = page.split(
        "The words for a chance, each set on its own shelf, of 100 kilns like this: "
    )[1]
    words = sorted((word for _, word in LIKELIHOODS), key=len, reverse=True)

    assert told.startswith(
        "almost certain 95 or more likely 80 to 95 more likely than not 50 to 80 "
        "less likely than not 20 to 50 unlikely 5 to 20 very unlikely fewer than 5"
    )
    for text in ALL.values():
        left = " ".join(page_of(text, whole=True).split()).lower()
        for word in words:
            left = left.replace(word, "")
        assert re.findall(r"\b\w*(?:likely|certain|chance|expected|perhaps|probabl)\w*", left) in (
            ["chance"],  # in the sentence before the scale
            ["expected", "chance"],  # what a kiln is not expected to climb faster than
            [],
        )


def test_all_adds_and_takes_nothing_away() -> None:
    """With `--all` all of the shorter page stands there too, but for the line that offers it."""
    for text in ALL.values():
        short, offered, _ = page_of(text).partition("\nWith `--all`")
        whole = page_of(text, whole=True)

        assert whole.startswith(short.rstrip("\n")) if offered else whole == short


def test_the_clock_is_one_column_in_order() -> None:
    """Whatever a moment comes from, it stands in the one list, and the list goes by time."""
    page = page_of(THURSDAY_WATCHED)
    clock = page.split("The firing by the clock\n")[1].split("  It takes")[0]
    days = re.split(r"(?m)^  (?:Sat|Sun) \d Oct$", clock)[1:]
    times = [
        (day, time)
        for day, text in enumerate(days)
        for time in re.findall(r"^    (\d\d:\d\d)", text, re.M)
    ]

    assert times == sorted(times)
    for moment in (
        "climb 60 °C/h to 95 °C",
        "quartz, 573 °C, going up",
        "be at the spy hole",
        '"duty potter" is to be at the kiln',
        "guide, cone 8, is down",
        "opened",
    ):
        assert moment in clock
    assert len(re.findall(r"\d\d:\d\d", page.split("The firing by the clock")[0])) == 4


def test_a_danger_stands_above_everything() -> None:
    """What a check finds of danger or loss comes before what is asked first; a doubt does not."""
    plan = plan_of(TOO_COOL)
    checked = check_plan(plan, built_in_book())
    page = forecast_for_people(forecast_of(plan), Style(), checked=checked)
    grave = [one for one in checked.findings if one.consequence.at_least(Consequence.LOSS)]
    above, below = page.split("In short\n")

    assert {one.consequence.value for one in grave} == {"danger", "loss"}
    for finding in grave:
        assert f"{finding.consequence.value}, line {finding.span.line}: {finding.rule}" in above
        assert finding.text in " ".join(above.split())
    assert "doubt" not in page
    assert above.index("danger") < above.index("loss")
    assert "▲" not in below
