"""Runs guardcone as a person would, in a folder of its own, and gives all that it says."""

import io
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from attrs import frozen

from guardcone.commands import main
from guardcone.documents import document_text

NOBODY = 65534


@frozen
class Said:
    """What a run said, on the screen and on the error output, and its exit status."""

    screen: str
    errors: str
    status: int

    def __str__(self) -> str:
        parts = [self.screen.rstrip("\n")]
        parts += [f"--- error output ---\n{self.errors.rstrip()}"] if self.errors else []
        return "\n".join([*parts, f"--- exit status {self.status} ---"])


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder that the program runs in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def guardcone(
    studio: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Callable[..., Said]:
    """Run the program with these words; `typed` is what stands on standard input."""
    del studio

    def run(*words: str, typed: str | bytes | None = None) -> Said:
        if typed is not None:
            content = typed if isinstance(typed, bytes) else typed.encode()
            monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(content)))
        try:
            status = main(words)
        except SystemExit as left:
            status = int(left.code or 0)
        captured = capsys.readouterr()
        return Said(captured.out, captured.err, status)

    return run


@pytest.fixture
def stoneware() -> str:
    """The text of a sound stoneware plan."""
    return document_text("rules", "sound_plans", "stoneware.firing")


@pytest.fixture
def shared(monkeypatch: pytest.MonkeyPatch, guardcone, stoneware: str) -> Iterator[Path]:
    """A folder with two plans, seen by somebody who is not root and has to ask for permission."""
    # In a folder of its own: those of pytest are closed to everybody but who runs it.
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    monkeypatch.chdir(folder)
    (folder / "closed").mkdir()
    for name in ("thursday.firing", "closed/friday.firing"):
        (folder / name).write_text(stoneware.replace("  guard  10\n", "", 1))
    # Once with all rights: the program itself may stand where nobody else can read.
    guardcone("check", "thursday.firing")
    guardcone("forecast", "thursday.firing")
    guardcone("tidy", "thursday.firing")
    is_root = os.geteuid() == 0
    if is_root:
        os.seteuid(NOBODY)
    try:
        yield folder
    finally:
        if is_root:
            os.seteuid(0)
        for one in (folder, folder / "closed"):
            one.chmod(0o755)
        shutil.rmtree(folder)


@pytest.fixture
def close(shared: Path):
    """Take rights away from a file or folder, as whoever it belongs to."""

    def take(name: str, rights: int) -> None:
        dropped = os.geteuid()
        if os.getuid() == 0:
            os.seteuid(0)
        (shared / name).chmod(rights)
        os.seteuid(dropped)

    return take
