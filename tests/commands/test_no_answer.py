"""Where the program itself fails or is stopped, nothing looks like an answer about a plan."""

import subprocess
import sys
from pathlib import Path

import pytest
from attrs import evolve

from guardcone.checking.run import BrokenRule
from guardcone.commands import side_by_side

PROGRAM = (sys.executable, "-m", "guardcone")


@pytest.fixture
def thursday(studio: Path, stoneware: str) -> str:
    """A sound plan in the folder that the program runs in."""
    (studio / "thursday.firing").write_text(stoneware)
    return "thursday.firing"


def test_a_fault_of_the_program(guardcone, thursday, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error that nobody thought of is exit status 2 and one line with its place."""

    def broken(*_: object) -> None:
        raise KeyError("of\nours\x1b[8m")

    monkeypatch.setattr(side_by_side, "check_plan", broken)

    said = guardcone("check", thursday)

    assert (said.screen, said.status) == ("", 2)
    assert said.errors.startswith("guardcone: a fault of guardcone itself, so its work is not done")
    assert "KeyError" in said.errors
    assert "(test_no_answer.py, line " in said.errors
    assert said.errors.count("\n") == 1


def test_a_rule_that_could_not_be_asked(guardcone, thursday, monkeypatch) -> None:
    """What else was found is reported, and the exit status is 2 even where that is nothing."""
    whole = side_by_side.check_plan

    def with_broken(*words):
        return evolve(whole(*words), broken=(BrokenRule("vent-missing", KeyError()),))

    monkeypatch.setattr(side_by_side, "check_plan", with_broken)

    said = guardcone("check", thursday)

    assert "1 plan checked" in said.screen
    assert "could not apply its rule 'vent-missing'" in said.errors
    assert said.status == 2


def test_stopped_at_the_keyboard(guardcone, thursday, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever stops it gets one line, and the exit status that shells give (128 + SIGINT)."""

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(side_by_side, "check_plan", stopped)

    said = guardcone("check", thursday)

    assert said.errors == "guardcone: stopped at the keyboard; the work is not done\n"
    assert said.status == 130


@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_a_closed_output(guardcone, thursday, monkeypatch: pytest.MonkeyPatch, stream: str) -> None:
    """Without a place to tell what was found the work can't be done."""
    monkeypatch.setattr(sys, stream, None)

    said = guardcone("check", thursday)

    assert (said.screen, said.status) == ("", 2)
    assert "Traceback" not in said.errors


@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-", "<&-"])
def test_outputs_closed_by_the_shell(studio, thursday, closed: str) -> None:
    """No traceback, and never 0 or 1, whichever of its streams the program is started without."""
    command = (
        f'"$0" -m guardcone check - {closed}'
        if closed == "<&-"
        else (f'"$0" -m guardcone check {thursday} {closed}')
    )

    done = subprocess.run(
        ["sh", "-c", command, sys.executable], capture_output=True, text=True, check=False
    )

    assert (done.stdout, done.returncode) == ("", 2)
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs the full device of Linux")
def test_a_full_disk(studio, thursday) -> None:
    """A report that could not be written is told as that."""
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [*PROGRAM, "check", thursday],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )

    assert done.stderr == ("guardcone: the report could not be written: No space left on device\n")
    assert done.returncode == 2
