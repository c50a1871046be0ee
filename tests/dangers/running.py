"""Runs guardcone as a studio would, and gives the dangers that it tells.

The tests of this folder know the program by its command, the language of plans and its forms of
report only: a plan, what lies beside it, and the words of the danger. They hold whatever is rebuilt
behind the command.
"""

import io
import json
import re
import sys
from collections.abc import Mapping, Sequence
from contextlib import redirect_stderr, redirect_stdout
from importlib.metadata import entry_points
from itertools import pairwise
from pathlib import Path
from typing import Any
from unittest import mock

from attrs import field, frozen

PLANS = Path(__file__).parent / "plans"
GUARDCONE = next(one for one in entry_points(group="console_scripts") if one.name == "guardcone")

# A finding in the form of the GNU Coding Standards, section 4.4: file, line, column, message.
LINE = re.compile(
    r"^(?P<file>.+?):(?P<line>\d+):\d+: (?P<weight>\w+): (?P<name>[\w-]+): (?P<text>.*)$"
)

Lines = str | Sequence[str]


@frozen
class Finding:
    """One line of a report in line form."""

    weight: str
    name: str
    line: str
    text: str


@frozen
class Told:
    """What a run told: everything on the screen, on the error output, and the exit status."""

    screen: str
    errors: str
    status: int
    plan: str = ""

    @property
    def findings(self) -> list[Finding]:
        """The findings of a report in line form, each with the line of the plan it points at."""
        lines = ["", *self.plan.splitlines()]
        found = [LINE.match(line) for line in self.screen.splitlines()]
        return [
            Finding(one["weight"], one["name"], _even(lines[int(one["line"])]), one["text"])
            for one in found
            if one and one["file"].endswith(".firing") and int(one["line"]) < len(lines)
        ]

    @property
    def dangers(self) -> list[Finding]:
        """The findings that are dangers."""
        return [one for one in self.findings if one.weight == "danger"]

    @property
    def everything(self) -> str:
        """The report and the error output with one blank for each run of them."""
        return _even(f"{self.screen} {self.errors}")


def _even(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()


def run(*words: str, typed: str = "") -> Told:
    """Run the command in this process; what a person would see."""
    out, errors = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8") for _ in range(2))
    typed_in = io.TextIOWrapper(io.BytesIO(typed.encode()), encoding="utf-8")
    with (
        redirect_stdout(out),
        redirect_stderr(errors),
        mock.patch.object(sys, "stdin", typed_in),
        mock.patch.object(sys, "argv", ["guardcone", *words]),
    ):
        try:
            status = GUARDCONE.load()()
        except SystemExit as left:
            status = left.code
    for stream in (out, errors):
        stream.flush()
    screen, said = (one.buffer.getvalue().decode() for one in (out, errors))  # type: ignore[attr-defined]
    return Told(screen, said, int(status or 0))


def sound(name: str) -> str:
    """A plan of this folder in which no danger is known."""
    return (PLANS / f"{name}.firing").read_text(encoding="utf-8")


def changed(text: str, lines: Mapping[str, Lines]) -> str:
    """The plan with other lines in the place of some; an empty one leaves a line out.

    Lines are named as they are written, blanks apart; every one of them must be there. A line that
    begins with `section:` stands for all sections of that word.
    """
    found = text.splitlines()
    for old, new in lines.items():
        put = [new] if isinstance(new, str) else [*new]
        put = [f"  {line}" if line[:1] != "+" else line[1:] for line in put if line]
        if old.startswith("section:"):
            for start, end in reversed(_sections(found, old.removeprefix("section:"))):
                found[start:end] = []
            found += put
        else:
            start = next(at for at, line in enumerate(found) if _even(line) == _even(old))
            found[start : start + 1] = put
    return "\n".join(found) + "\n"


def _sections(lines: list[str], word: str) -> list[tuple[int, int]]:
    """First line and the line after the last of each section of this word."""
    starts = [at for at, line in enumerate(lines) if re.match(r"\w", line)] + [len(lines)]
    return [(start, end) for start, end in pairwise(starts) if re.match(rf"{word}\b", lines[start])]


@frozen
class Folder:
    """A studio's folder of plans."""

    path: Path

    def check(
        self,
        plan: str,
        studio: str | None = None,
        beside: Mapping[str, str] | None = None,
        form: str = "line",
        words: Sequence[str] = (),
    ) -> Told:
        """Check one plan with these files beside it."""
        texts = {"plan.firing": plan, **(beside or {})}
        if studio is not None:
            texts["studio.yaml"] = studio
        for name in ("studio.yaml", "house.yaml"):
            (self.path / name).unlink(missing_ok=True)
        for name, text in texts.items():
            (self.path / name).write_text(text, encoding="utf-8")
        told = run("check", *words, str(self.path / "plan.firing"), "--form", form)
        return Told(told.screen, told.errors, told.status, plan)


@frozen
class Danger:
    """A plan with a danger in it, as changed lines of a sound one, and the words of the danger.

    `at` is the line of the plan that it is told at, `weight` how bad it is.
    """

    claim: str
    change: Mapping[str, Lines]
    words: str
    plan: str = "electric"
    at: str = ""
    weight: str = "danger"
    studio: str | None = None
    beside: Mapping[str, str] = field(factory=dict)

    def __str__(self) -> str:
        return self.claim


def assert_told(told: Told, danger: Danger) -> None:
    """The danger is told in these words, at its line, and the plan is stopped."""
    met = [
        one
        for one in told.findings
        if one.weight == danger.weight
        and re.search(danger.words, one.text, re.IGNORECASE)
        and (not danger.at or one.line.startswith(danger.at))
    ]
    assert met, f"{danger.claim}\n{told.screen}{told.errors}"
    assert told.status == 1, told.screen


def as_json(told: Told) -> Any:
    """The report of a run with `--form json`."""
    return json.loads(told.screen)
