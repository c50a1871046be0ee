"""What can't be written is named and is exit status 2; what was there stays as it was."""

import errno
import io
import os
import sys
from pathlib import Path

import pytest

from guardcone.commands import start, tidy

COMMANDS = (
    "check thursday.firing",
    "check --form line thursday.firing",
    "check --form json thursday.firing",
    "forecast thursday.firing",
    "forecast --form json thursday.firing",
    "why guard-missing",
    "rules",
    "rules limits",
    "rules vocabulary",
    "rules page",
    "rules schema rules",
    "rules test our_rules.yaml",
    "start",
    "tidy thursday.firing",
    "tidy -",
)
OWN = """\
- rule: wall-thick
  concerns: ware
  advice when: wall is thicker than 7 mm
  at: wall
  finding: The wall is {wall}.
  do: Throw it thinner.
  why: Thick walls dry slowly.
  sources: common practice, no source
  passes: [{plan: target cone 9}]
  fails: [{plan: "load\\nware \\"mugs\\" 2, wall 8 mm", at: 8 mm}]
"""


# -- the screen -----------------------------------------------------------------------------------


@pytest.fixture
def prepared(studio: Path, stoneware: str) -> Path:
    """A plan with something to tell, and a file of rules."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))
    (studio / "our_rules.yaml").write_text(OWN)
    return studio


@pytest.mark.parametrize("words", COMMANDS)
def test_nobody_reads_on(guardcone, prepared, stoneware, monkeypatch, words: str) -> None:
    """Whoever closes the pipe early, as `head` does, sees no complaint; the work is not done: 2."""
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "w", encoding="utf-8") as pipe:
        monkeypatch.setattr(sys, "stdout", pipe)

        said = guardcone(*words.split(), typed=stoneware)

    assert (said.errors, said.status) == ("", 2)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs the full device of Linux")
@pytest.mark.parametrize("words", COMMANDS)
def test_no_room_for_the_report(guardcone, prepared, stoneware, monkeypatch, words: str) -> None:
    """A report that the disk has no room for is told as that by every command."""
    with open("/dev/full", "w", encoding="utf-8") as full:
        monkeypatch.setattr(sys, "stdout", full)

        said = guardcone(*words.split(), typed=stoneware)

    assert said.status == 2
    assert said.errors == "guardcone: the report could not be written: No space left on device\n"


def test_no_room_for_the_reason(guardcone, prepared, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where not even the reason can be told, the exit status says it alone."""

    class Full(io.StringIO):
        def write(self, _: str) -> int:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(sys, "stderr", Full())

    said = guardcone("why", "guard-mising")

    assert (said.screen, said.status) == ("", 2)


# -- files ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("command", ["start new.firing", "tidy --write thursday.firing"])
def test_a_folder_that_nobody_may_write_in(guardcone, close, shared, command: str) -> None:
    """Neither a new plan nor a tidied one is put there, in whole or in part."""
    close(".", 0o555)
    before = {path.name: path.read_text() for path in shared.glob("*.firing")}

    said = guardcone(*command.split())

    assert (said.screen, said.status) == ("", 2)
    name = command.split()[-1]
    assert said.errors == f"guardcone: {name} could not be written: Permission denied\n"
    assert {path.name: path.read_text() for path in shared.glob("*.firing")} == before
    assert not [path.name for path in shared.iterdir() if path.name.endswith(".new")]


def test_a_plan_that_is_write_protected_hides_no_other(
    guardcone, studio: Path, stoneware: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is named and stays as it was; the others are tidied."""
    for name in ("friday.firing", "saturday.firing", "thursday.firing"):
        (studio / name).write_text(stoneware)
    # The system is asked, so that this holds for an administrator, who may write everywhere.
    may = os.access
    monkeypatch.setattr(
        os, "access", lambda path, how: "saturday" not in str(path) and may(path, how)
    )

    said = guardcone("tidy", "--write", ".")

    assert said.screen == "friday.firing: tidied\nthursday.firing: tidied\n"
    assert said.errors == "guardcone: saturday.firing could not be written: Permission denied\n"
    assert said.status == 2
    assert (studio / "saturday.firing").read_text() == stoneware


@pytest.mark.parametrize(
    ("command", "module"),
    [("start new.firing", start), ("tidy --write thursday.firing", tidy)],
    ids=["start", "tidy"],
)
def test_a_disk_that_is_full(guardcone, studio, stoneware, monkeypatch, command, module) -> None:
    """The reason of the system is told with the name of the file."""

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    (studio / "thursday.firing").write_text(stoneware)
    monkeypatch.setattr(module, "write_whole", full)

    said = guardcone(*command.split())

    name = command.split()[-1]
    assert said.errors == f"guardcone: {name} could not be written: No space left on device\n"
    assert (said.screen, said.status) == ("", 2)
    assert (studio / "thursday.firing").read_text() == stoneware


@pytest.mark.parametrize("command", ["check", "forecast", "tidy"])
def test_no_standard_input(guardcone, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    """Where nothing can be typed, `-` is told to be unreadable."""
    monkeypatch.setattr(sys, "stdin", None)

    said = guardcone(command, "-")

    assert (said.screen, said.status) == ("", 2)
    assert said.errors == "guardcone: standard input can't be read\n"
