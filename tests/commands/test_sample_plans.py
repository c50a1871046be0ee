"""The sample plans and the README: what a newcomer tries first."""

import re
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone.firing.uncertainty import LIKELIHOODS

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = sorted((ROOT / "sample_plans").glob("*.firing"))
README = (ROOT / "README.md").read_text(encoding="utf-8")
# Each of these teaches what a sound plan looks like.
SOUND = {"sound_bisque", "sound_stoneware", "sound_low_fire", "fahrenheit"}


@pytest.fixture
def at_home(monkeypatch: pytest.MonkeyPatch) -> None:
    """The program runs in the checkout, as the README's commands do."""
    monkeypatch.chdir(ROOT)


@pytest.mark.parametrize("plan", SAMPLES, ids=[plan.stem for plan in SAMPLES])
def test_sample_plan(guardcone, at_home, plan: Path, snapshot: SnapshotAssertion) -> None:
    """Each sample plan says what it is there to teach, and the sound ones say nothing."""
    said = guardcone("check", f"sample_plans/{plan.name}")

    assert said.status == (0 if plan.stem in SOUND else 1)
    assert str(said) == snapshot


def test_samples_are_tidy(guardcone, at_home) -> None:
    """The sample plans are in the one canonical layout."""
    assert guardcone("tidy", "--form", "diff", "sample_plans").screen == ""


def test_readme_shows_what_the_program_says(guardcone, at_home) -> None:
    """The walk through a faulty plan in the README is what its first command prints."""
    command = re.search(r"guardcone (check sample_plans/\S+)$", README, re.MULTILINE)
    assert command

    said = guardcone(*command[1].split())

    assert said.screen in README.replace("```\n", "")


def test_readme_shows_how_a_forecast_begins(guardcone, at_home) -> None:
    """The answers in the README are the beginning of what that command prints, and its scale is."""
    command = re.search(r"`guardcone (forecast sample_plans/\S+)` begins", README)
    shown = re.search(r"```\n(Forecast of .*?)```", README, re.DOTALL)
    assert command
    assert shown

    said = guardcone(*command[1].split())

    assert said.screen.startswith(f"{shown[1]}\nThe cones\n")
    told = " ".join(README.split()).partition("Likelihood is told by one scale")[2]
    steps = [f"{words} ({round(100 * least)}" for least, words in LIKELIHOODS[:-1]]
    places = [told.index(one) for one in (*steps, LIKELIHOODS[-1][1])]
    assert places == sorted(places)


def test_plan_in_readme_is_sound(guardcone, at_home) -> None:
    """The plan that the README shows gives no finding of doubt or worse."""
    plan = re.search(r"```\n(plan \"Saturday stoneware\".*?)```", README, re.DOTALL)
    assert plan

    said = guardcone("check", "-", typed=plan[1])

    assert said.status == 0, said.screen


def test_studio_file_in_readme_is_right(guardcone, studio: Path, stoneware: str) -> None:
    """The studio.yaml that the README shows is read without a fault."""
    example = re.search(r"```yaml\n(.*?)```", README, re.DOTALL)
    assert example
    (studio / "studio.yaml").write_text(example[1])
    (studio / "plan.firing").write_text(stoneware)

    said = guardcone("check", "plan.firing")

    assert (said.status, said.errors) == (0, "")
