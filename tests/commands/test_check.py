"""`guardcone check` on whole plans: what a potter reads, and the exit status."""

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion


def test_sound_plan(guardcone, studio, stoneware, snapshot: SnapshotAssertion) -> None:
    """A sound plan gives nothing but the summary and the reminder, and status 0."""
    (studio / "thursday.firing").write_text(stoneware)

    said = guardcone("check", "thursday.firing")

    assert said.status == 0
    assert str(said) == snapshot


def test_no_guard(guardcone, studio, stoneware, snapshot: SnapshotAssertion) -> None:
    """A missing guard is a doubt, points at the set's target, and stops the check."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))

    said = guardcone("check", "thursday.firing")

    assert said.status == 1
    assert str(said) == snapshot


def test_several_faults_worst_first(guardcone, studio, stoneware, snapshot) -> None:
    """Findings are grouped by plan, the worst first; a faulty line does not hide the others."""
    plan = stoneware.replace("guide  8", "giude  8", 1).replace(
        "climb 100 C/h to 600 C", "climb 100 to 600 C"
    )
    plan = plan.replace("cone 8 to cone 10, stoneware", "cone 04 to cone 1, earthenware")
    plan = plan.replace("  vent         downdraft, on throughout\n", "")
    (studio / "mixed.firing").write_text(plan)
    (studio / "thursday.firing").write_text(stoneware)

    said = guardcone("check", ".")

    assert said.status == 1
    assert str(said) == snapshot


def test_one_line_form(guardcone, studio, stoneware, snapshot) -> None:
    """The one-line form is file:line:column: consequence: rule: finding."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))

    assert str(guardcone("check", "--form", "line", "thursday.firing")) == snapshot


def test_json_form(guardcone, studio, stoneware, snapshot) -> None:
    """The JSON form carries the same finding with its place from start to end."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))

    assert str(guardcone("check", "--form", "json", "thursday.firing")) == snapshot


def test_teach(guardcone, studio, stoneware, snapshot) -> None:
    """With --teach the reason of a rule is told once, with its first finding."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", ""))

    said = guardcone("check", "--teach", "thursday.firing")

    assert said.screen.count("     Why ") == 1
    assert str(said) == snapshot


def test_standard_input(guardcone, stoneware) -> None:
    """A plan from standard input is checked like a file, under the name it is given."""
    said = guardcone(
        *("check", "-", "--called", "draft", "--form", "line"),
        typed=stoneware.replace("  guard  10\n", "", 1),
    )

    assert said.status == 1
    assert said.screen.startswith("draft:")


@pytest.mark.parametrize(
    ("stop_at", "status"),
    [("danger", 0), ("loss", 0), ("doubt", 1), ("advice", 1), ("nothing", 0)],
)
def test_stop_at(guardcone, studio, stoneware, stop_at: str, status: int) -> None:
    """The mildest consequence that fails the check is the person's choice."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))

    assert guardcone("check", "--stop-at", stop_at, "thursday.firing").status == status


def test_unreadable_line_fails_whatever_the_choice(guardcone, studio, stoneware) -> None:
    """A plan that can't be read whole never passes."""
    (studio / "thursday.firing").write_text(stoneware.replace("hold  10 min", "hold  10"))

    assert guardcone("check", "--stop-at", "nothing", "thursday.firing").status == 1


def nothing(folder: Path) -> None:
    """An empty folder."""


COULD_NOT_WORK = {
    "missing file": (nothing, ("check", "missing.firing")),
    "missing folder": (nothing, ("check", "no-such-folder")),
    "folder without plans": (lambda folder: (folder / "empty").mkdir(), ("check", "empty")),
    "not UTF-8": (lambda folder: write(folder, b"plan \xff\xfe"), ("check", "a.firing")),
    "UTF-16": (lambda folder: write(folder, b"\xff\xfep\0"), ("check", "a.firing")),
    "too large": (lambda folder: write(folder, b"#" * 10_000_001), ("check", "a.firing")),
    "folder named like a plan": (
        lambda folder: (folder / "a.firing").mkdir(),
        ("tidy", "a.firing"),
    ),
    "device": (nothing, ("check", "/dev/null")),
    "unknown rule": (nothing, ("why", "guard-mising")),
    "faulty studio file": (
        lambda folder: (folder / "studio.yaml").write_text("limmits:\n  x: 3\n"),
        ("check", "-"),
    ),
}


def write(folder: Path, content: bytes) -> None:
    """A file a.firing with this content."""
    (folder / "a.firing").write_bytes(content)


@pytest.mark.parametrize(("make", "words"), COULD_NOT_WORK.values(), ids=COULD_NOT_WORK)
def test_could_not_work(guardcone, studio: Path, make, words, snapshot: SnapshotAssertion) -> None:
    """What the program can't do gives status 2 and the reason, and never a traceback."""
    make(studio)

    said = guardcone(*words, typed="")

    assert said.status == 2
    assert said.screen == ""
    assert said.errors == snapshot


@pytest.mark.parametrize("words", [("check",), ("check", "--stop-at", "never", "a")])
def test_wrong_words_of_the_command(guardcone, words: tuple[str, ...]) -> None:
    """A missing plan and an unknown consequence are status 2 with the usage."""
    said = guardcone(*words)

    assert said.status == 2
    assert said.errors.startswith("usage: guardcone")


def test_accepted(guardcone, studio, stoneware, snapshot) -> None:
    """An accepted finding stops nothing, is still told and counted, with its reason."""
    plan = stoneware.replace("  guard  10\n", "", 1)
    plan += (
        'accept guard-missing at "bottom shelf" because "the last cone 10 fell down" by "manager"\n'
    )
    (studio / "thursday.firing").write_text(plan)

    said = guardcone("check", "thursday.firing")

    assert said.status == 0
    assert str(said) == snapshot


@pytest.mark.parametrize(
    "line",
    [
        'accept guard-mising because "the last cone 10 fell down"',
        'accept guard-missing because "todo"',
        'accept guard-missing because "the last cone 10 fell down"',
        'accept unit-missing because "everybody here uses Celsius"',
        'accept guard-missing because ""',
    ],
    ids=["unknown rule", "no telling reason", "meets nothing", "fault of the text", "empty reason"],
)
def test_accept_that_does_nothing(guardcone, studio, stoneware, line: str, snapshot) -> None:
    """An accept line that can't do its work is a finding itself."""
    (studio / "thursday.firing").write_text(stoneware + line + "\n")

    said = guardcone("check", "--form", "line", "thursday.firing")

    assert said.status == 1
    assert said.screen == snapshot


def test_ascii_terminal(guardcone, studio, stoneware, monkeypatch, snapshot) -> None:
    """Where the output knows ASCII only, everything is still readable."""
    plan = stoneware.replace("matures cone 8 to cone 10, stoneware", "matures cone 04 to cone 5½")
    (studio / "thursday.firing").write_text(plan)
    monkeypatch.setattr("guardcone.commands.output._can_show", lambda stream: False)

    said = guardcone("check", "thursday.firing")

    assert said.screen.isascii()
    assert said.screen == snapshot


def test_colour_only_when_asked_or_on_a_terminal(guardcone, studio, stoneware, monkeypatch) -> None:
    """No colour into a pipe; NO_COLOR is honoured; --colour always is obeyed."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))

    assert "\033" not in guardcone("check", "thursday.firing").screen
    assert "\033" in guardcone("--colour", "always", "check", "thursday.firing").screen
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert "\033" in guardcone("check", "thursday.firing").screen
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\033" not in guardcone("check", "thursday.firing").screen


def test_eighty_columns(guardcone, studio, stoneware) -> None:
    """No line of a report but one to copy is wider than 80 columns, whatever the plan's are."""
    long_name = "a very long name " * 12
    plan = stoneware.replace('"mugs"', f'"{long_name}"').replace("  guard  10\n", "")
    (studio / "thursday.firing").write_text(plan.replace("bisque, wall 6 mm", "damp, wall 40 mm"))

    said = guardcone("check", "thursday.firing")

    lines = [line for line in said.screen.splitlines() if '"fill in' not in line]
    assert max(len(line) for line in lines if long_name[:40] not in line) <= 80


def test_the_first_for_a_class(guardcone, studio, stoneware) -> None:
    """Two things are told and how much else there is; of dangers all, however few are asked for."""
    slips = stoneware.replace("  guard  10\n", "  guard  7\n").replace("12 of", "12 off")
    (studio / "slips.firing").write_text(slips.replace("climb 100 C/h", "climb 100"))
    (studio / "dangers.firing").write_text(
        slips.replace("  vent ", "  # vent ").replace("watch", "#")
    )

    two = guardcone("check", "--first", "2", "slips.firing").screen
    none = guardcone("check", "--first", "0", "dangers.firing")

    assert [line for line in two.splitlines() if line.startswith(("▲", "Not shown"))] == [
        "▲▲   doubt, line 58: unit-missing",
        "▲▲   doubt, line 50: name-unknown",
        "Not shown: 4 doubts. Without --first all are.",
    ]
    assert "danger, line" in none.screen
    assert {"vent-missing", "watch-missing"} <= set(none.screen.replace(":", " ").split())
    assert "doubt, line" not in none.screen
    assert none.status == 1
