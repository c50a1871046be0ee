"""`guardcone forecast`: the computed firing in each form, and the exit status."""

import json
from pathlib import Path
from textwrap import indent

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone import forecast
from guardcone.outlook.planned import PlannedFiring, fire
from guardcone.plan.plan import Plan
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
    assert told["equivalent_cone"]["text"] == "9"


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


def test_what_stands_of_danger_is_above_everything(
    guardcone, stoneware: str, snapshot: SnapshotAssertion
) -> None:
    """A danger and a loss come before what is asked first, and what somebody accepts does too."""
    plan = stoneware.replace("  vent         downdraft, on throughout\n", "").replace(
        "climb 60 C/h to 1246 C", "climb 60 C/h to 1200 C"
    )
    plan += 'accept target-not-reached as loss because "a trial at half the heat" by "R. Teal"\n'

    said = guardcone("forecast", "-", typed=plan)

    assert said.status == 0
    assert said.screen.partition("The cones")[0] == snapshot


def test_json_has_dangers_and_losses_too(guardcone, stoneware: str) -> None:
    """Each with its weight, its line and its words; of a sound plan none."""
    plan = stoneware.replace("  vent         downdraft, on throughout\n", "")

    told = json.loads(guardcone("forecast", "--form", "json", "-", typed=plan).screen)
    none = json.loads(guardcone("forecast", "--form", "json", "-", typed=stoneware).screen)

    assert [(one["name"], one["consequence"]) for one in told["dangers_and_losses"]] == [
        ("vent-missing", "danger")
    ]
    assert none["dangers_and_losses"] == []


def test_all(guardcone, thursday: str) -> None:
    """`--all` tells besides what it rests on; without it a line says that there is more."""
    plain, whole = guardcone("forecast", thursday), guardcone("forecast", "--all", thursday)

    assert "What is assumed" in whole.screen
    assert "What is assumed" not in plain.screen
    assert "With `--all` it tells besides" in plain.screen
    assert plain.status == whole.status == 0


@pytest.mark.parametrize("words", [(), ("--all",), ("--form", "json")], ids=" ".join)
def test_one_firing_serves_forecast_and_check(
    guardcone, thursday: str, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The plan is fired once as it is written, though it is forecast and checked."""
    fired = []

    def counted(plan: Plan) -> PlannedFiring:
        fired.append(plan)
        return fire(plan)

    for room in ("guardcone.facts.case", "guardcone.outlook.outlook"):
        monkeypatch.setattr(f"{room}.fire", counted)
    guardcone("forecast", *words, thursday)

    assert len(fired) == 1


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


# -- two plans ----------------------------------------------------------------------------------


def test_against_an_older_plan(
    guardcone, studio: Path, thursday: str, stoneware: str, snapshot: SnapshotAssertion
) -> None:
    """What was and what is, only where they differ; the plan behind `--against` is the older."""
    longer = stoneware.replace("hold  10 min", "hold  20 min")
    (studio / "friday.firing").write_text(longer)

    said = guardcone("forecast", "friday.firing", "--against", thursday)

    assert str(said) == snapshot


def test_against_itself(guardcone, thursday: str) -> None:
    """Nothing changes, and it is said so."""
    said = guardcone("forecast", thursday, "--against", thursday)

    assert "Nothing of the firing changes" in said.screen
    assert said.status == 0


def test_against_as_json(guardcone, thursday: str, stoneware: str) -> None:
    """Both forecasts are in it as each has it by itself, and what differs."""
    plan = stoneware.replace("freely to 90 C", "freely to 100 C").replace("at 90 C", "at 100 C")
    alone = json.loads(guardcone("forecast", "--form", "json", thursday).screen)

    words = ("forecast", "--form", "json", "-", "--against", thursday)
    told = json.loads(guardcone(*words, typed=plan).screen)

    assert told["was"] == alone
    assert (told["is"]["file"], round(told["is"]["firing"]["opening_c"])) == ("standard input", 100)
    assert [one["name"] for one in told["differences"]][:1] == ["Open"]


@pytest.mark.parametrize("faulty", ["newer", "older"])
def test_a_line_that_can_not_be_read_in_either(
    guardcone, thursday: str, stoneware: str, faulty: str
) -> None:
    """Which of the two can't be fired is said, with the line, and it is status 1."""
    plan = stoneware.replace("climb 60 C/h to 1246 C", "climb 60 to 1246 C")
    words = ("-", "--against", thursday) if faulty == "newer" else (thursday, "--against", "-")

    said = guardcone("forecast", *words, typed=plan)

    assert f"The {faulty} plan can't be fired: standard input" in said.screen
    assert "Line 60: This line of the schedule can't be read" in said.screen
    assert said.status == 1


def test_only_one_from_standard_input(guardcone, stoneware: str) -> None:
    """There is one standard input, so there are no two plans in it."""
    said = guardcone("forecast", "-", "--against", "-", typed=stoneware)

    assert (said.screen, said.status) == ("", 2)
    assert said.errors == "guardcone: only one of the two plans can come from standard input\n"


def test_each_plan_has_the_kiln_of_its_own_studio(
    guardcone, studio: Path, thursday: str, stoneware: str
) -> None:
    """A plan in another folder is filled in by the file of that folder, and it is named."""
    before, heading, after = stoneware.partition('kiln "Heron"\n')
    lines, target, after = after.partition("target cone 9")
    (studio / "egret").mkdir()
    (studio / "egret" / "old.firing").write_text(before + heading + target + after)
    slower = lines.replace("in 15 h", "in 20 h")
    (studio / "egret" / "studio.yaml").write_text(f"kilns:\n  Heron: |\n{indent(slower, '    ')}")

    said = guardcone("forecast", thursday, "--against", "egret/old.firing")

    assert "opened (" in said.screen
    told = " ".join(said.screen.split())
    assert "What egret/old.firing leaves unsaid comes from the studio's own file" in told
    assert told.count("comes from the studio's own file") == 1
