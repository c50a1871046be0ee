"""`guardcone forecast`: the computed firing in each form, and the exit status."""

import json
from pathlib import Path
from textwrap import indent

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone import forecast
from guardcone.reports.forecast import forecast_for_people

FORMS = ("people", "json")


@pytest.fixture
def thursday(studio: Path, stoneware: str) -> str:
    """A sound plan in the folder that the program runs in."""
    (studio / "thursday.firing").write_text(stoneware)
    return "thursday.firing"


def test_a_sound_plan(guardcone, thursday: str, stoneware: str) -> None:
    """The page for people is on the screen, whole and with nothing beside it: exit status 0."""
    said = guardcone("forecast", thursday)

    assert said.screen.startswith('Forecast of "Saturday stoneware" in the kiln "Heron"\n')
    assert said.screen == forecast_for_people(forecast(stoneware, thursday))
    assert (said.errors, said.status) == ("", 0)


def test_people_is_the_form_without_a_word(guardcone, thursday: str) -> None:
    """`--form people` says the same as no form."""
    assert guardcone("forecast", "--form", "people", thursday) == guardcone("forecast", thursday)


def test_json(guardcone, thursday: str) -> None:
    """The same firing as one JSON document, which names the plan and has numbers."""
    said = guardcone("forecast", "--form", "json", thursday)

    told = json.loads(said.screen)
    assert (said.errors, said.status) == ("", 0)
    assert (told["file"], told["name"]) == (thursday, "Saturday stoneware")
    assert told["equivalent_cone"]["text"] == "9.1"


@pytest.mark.parametrize("form", FORMS)
def test_standard_input(guardcone, thursday: str, stoneware: str, form: str) -> None:
    """`-` forecasts what is typed as it does a file, under the name of standard input."""
    typed = guardcone("forecast", "--form", form, "-", typed=stoneware)
    of_file = guardcone("forecast", "--form", form, thursday)

    assert typed.status == of_file.status == 0
    assert typed.screen.replace("standard input", thursday) == of_file.screen


@pytest.mark.parametrize("form", FORMS)
def test_a_line_that_can_not_be_read_is_status_1(
    guardcone, studio: Path, stoneware: str, form: str, snapshot: SnapshotAssertion
) -> None:
    """Nothing is forecast where a line of the schedule is anybody's guess; the line is named."""
    plan = stoneware.replace("climb 60 C/h to 1246 C", "climb 60 to 1246 C")
    (studio / "thursday.firing").write_text(plan)

    said = guardcone("forecast", "--form", form, "thursday.firing")

    assert said.status == 1
    if form == "json":
        told = json.loads(said.screen)
        assert (told["firing"], told["bands"], told["advice"]) == (None, [], [])
        assert "This line of the schedule can't be read" in str(told["gaps"])
    else:
        assert str(said) == snapshot


def test_a_faulty_line_elsewhere_is_status_1_too(guardcone, studio: Path, stoneware: str) -> None:
    """The firing is forecast all the same, and the exit status says that not all was read."""
    (studio / "thursday.firing").write_text(stoneware.replace("clearance    1 m", "clearance 1"))

    said = guardcone("forecast", "thursday.firing")

    assert said.screen == guardcone("forecast", "-", typed=stoneware).screen
    assert said.status == 1


def test_what_a_check_would_find_changes_no_status(guardcone, stoneware: str) -> None:
    """A forecast judges nothing: without a guard, which is a doubt, the exit status is 0."""
    plan = stoneware.replace("  guard  10\n", "")

    assert guardcone("check", "-", typed=plan).status == 1
    assert guardcone("forecast", "-", typed=plan).status == 0


def test_a_plan_without_a_firing(guardcone, snapshot: SnapshotAssertion) -> None:
    """What is missing is said, with a line to write; all lines were read, so it is status 0."""
    assert str(guardcone("forecast", "-", typed='plan "Thursday"\n')) == snapshot


def test_the_kiln_of_the_studio(guardcone, studio: Path, stoneware: str) -> None:
    """What studio.yaml knows of a kiln is fired with, and its file is named in both forms."""
    before, heading, after = stoneware.partition('kiln "Heron"\n')
    lines, target, after = after.partition("target cone 9")
    (studio / "thursday.firing").write_text(before + heading + target + after)
    without = guardcone("forecast", "thursday.firing")
    (studio / "studio.yaml").write_text(f"kilns:\n  Heron: |\n{indent(lines, '    ')}")

    people = guardcone("forecast", "thursday.firing")
    told = json.loads(guardcone("forecast", "--form", "json", "thursday.firing").screen)

    assert people.status == without.status == 0
    assert "studio.yaml" in people.screen
    assert "studio.yaml" not in without.screen
    assert told["studio"] == "studio.yaml"
    whole = json.loads(guardcone("forecast", "--form", "json", "-", typed=stoneware).screen)
    assert told["firing"] == whole["firing"]


def test_colour_only_when_asked(guardcone, thursday: str) -> None:
    """In colour it says the same words, and without a terminal there is none."""
    plain = guardcone("forecast", thursday).screen
    coloured = guardcone("--colour", "always", "forecast", thursday).screen

    assert "\x1b[" not in plain
    assert "\x1b[1m" in coloured
