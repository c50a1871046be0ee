"""Runs guardcone as a person would, in a folder of its own, and gives all that it says."""

import io
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from attrs import frozen

from guardcone.commands import main
from guardcone.documents import document_text


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
