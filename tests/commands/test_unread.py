"""What can't be read is named and is exit status 2; it hides no other plan."""

import os
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion


@pytest.mark.parametrize("rights", [0o000, 0o444, 0o111], ids=["none", "list only", "enter only"])
@pytest.mark.parametrize("command", ["check", "tidy"])
def test_a_closed_folder(guardcone, close, command: str, rights: int, snapshot) -> None:
    """A folder that can't be listed, or a plan in one that can't be entered, is named."""
    close("closed", rights)

    said = guardcone(command, ".")

    assert said.status == 2
    assert "thursday.firing" in said.screen
    assert said.errors == snapshot


def test_a_closed_file_does_not_hide_the_others(guardcone, close, snapshot) -> None:
    """The other plans are reported whole, and the last line says that something is missing."""
    close("closed/friday.firing", 0o000)

    said = guardcone("check", ".")

    assert said.status == 2
    assert str(said) == snapshot


@pytest.mark.parametrize(
    "words",
    [
        ("check", "closed"),
        ("check", "closed/friday.firing"),
        ("check", "closed/deeper"),
        ("tidy", "--write", "closed/friday.firing"),
        ("forecast", "closed/friday.firing"),
    ],
    ids=" ".join,
)
def test_a_closed_path_that_is_named(guardcone, close, words: tuple[str, ...]) -> None:
    """Whatever is asked about a plan behind a closed door, the answer is the door."""
    close("closed", 0o000)

    said = guardcone(*words)

    assert (said.screen, said.status) == ("", 2)
    assert said.errors.startswith("guardcone: ")
    assert said.errors.endswith("can't be read: permission denied\n")
    assert said.errors.count("\n") == 1


def test_a_closed_folder_beside_others(guardcone, close) -> None:
    """Of several that are named, those that can be read are checked."""
    close("closed", 0o000)

    said = guardcone("check", "--form", "line", "closed", "thursday.firing", "")

    assert said.screen.startswith("thursday.firing:19:")
    assert said.errors == (
        "guardcone: the folder closed can't be read: permission denied\n"
        "guardcone: the name of a plan or folder is empty\n"
    )
    assert said.status == 2


@pytest.mark.parametrize("command", ["check", "tidy", "forecast"])
def test_an_empty_name(guardcone, command: str) -> None:
    """An empty name is no folder, above all not this one."""
    said = guardcone(command, "")

    assert (said.screen, said.status) == ("", 2)
    assert said.errors.count("\n") == 1
    assert "is empty" in said.errors


def test_links_and_pipes(guardcone, stoneware) -> None:
    """A link that leads nowhere and a pipe are named; a folder behind a link is not gone into."""
    Path("sub").mkdir()
    Path("thursday.firing").write_text(stoneware)
    Path("gone.firing").symlink_to("nowhere.firing")
    Path("sub/round").symlink_to("..")
    os.mkfifo("pipe.firing")

    said = guardcone("check", ".")

    assert said.status == 2
    assert said.errors == (
        "guardcone: pipe.firing can't be read: it is no file\n"
        "guardcone: gone.firing can't be read: no such file or directory\n"
    )
    assert "1 plan checked: nothing found." in said.screen


def test_a_folder_without_plans_beside_one_with(guardcone, stoneware):
    """A folder that holds no plan is told, and the plans of the other are checked."""
    Path("empty").mkdir()
    Path("thursday.firing").write_text(stoneware)

    said = guardcone("check", "--form", "line", "empty", "thursday.firing")

    assert said.errors == (
        "guardcone: no plan found: the folder empty has no file ending in .firing\n"
    )
    assert said.status == 2


def test_a_faulty_studio_file_hides_no_plan_of_another(
    guardcone, stoneware, snapshot: SnapshotAssertion
) -> None:
    """The plans that it holds for are not checked, which is told once; the others are."""
    Path("faulty").mkdir()
    Path("faulty/studio.yaml").write_text("limmits:\n  x: 3\n")
    for name in ("thursday.firing", "faulty/one.firing", "faulty/two.firing"):
        Path(name).write_text(stoneware)

    said = guardcone("check", ".")

    assert said.status == 2
    assert str(said) == snapshot


LIKE_THEM = ("a.firing.txt", "B.FIRING", "c.txt", "studio.yml", "Studio.yaml", ".d.FIRING")


@pytest.mark.parametrize("words", ["check --form line .", "tidy --form diff ."])
def test_files_that_look_as_if_they_were_read(guardcone, stoneware, words: str) -> None:
    """A plan or studio file under nearly the right name is told, and changes no exit status."""
    Path("thursday.firing").write_text(stoneware)
    guardcone("tidy", "--write", "thursday.firing")
    for name in LIKE_THEM:
        Path(name).write_text("")

    said = guardcone(*words.split())

    assert said.errors == (
        "guardcone: B.FIRING was not read: rename it to B.firing\n"
        "guardcone: Studio.yaml was not read: rename it to studio.yaml\n"
        "guardcone: a.firing.txt was not read: rename it to a.firing\n"
        "guardcone: studio.yml was not read: rename it to studio.yaml\n"
    )
    assert (said.screen, said.status) == ("", 0)


def test_people_read_last_what_was_not_read(guardcone, stoneware, snapshot) -> None:
    """However long the report is, it ends with the files that it is not about."""
    Path("thursday.firing").write_text(stoneware)
    Path("friday.firing").write_bytes(b"\xff\xfep\0")
    for name in LIKE_THEM:
        Path(name).write_text("")

    assert str(guardcone("check", ".")) == snapshot


def test_a_plan_under_another_name_that_is_named(guardcone, stoneware, snapshot) -> None:
    """It is checked, and told that its folder is checked without it."""
    Path("Thursday.FIRING.txt").write_text(stoneware)

    assert str(guardcone("check", "Thursday.FIRING.txt")) == snapshot


def test_a_studio_file_under_another_name_that_is_named(guardcone, stoneware) -> None:
    """It is not taken for a plan, and what it says is not in force: the work is not done."""
    Path("thursday.firing").write_text(stoneware)
    Path("studio.yml").write_text('emergency: "the duty phone at the door"\n')

    said = guardcone("check", "--form", "line", "studio.yml")

    assert (said.screen, said.status) == ("", 2)
    assert said.errors == "guardcone: studio.yml was not read: rename it to studio.yaml\n"


def test_a_name_that_is_taken(guardcone, stoneware) -> None:
    """Nobody is told to rename a file over another."""
    Path("thursday.firing").write_text(stoneware)
    Path("thursday.firing.txt").write_text(stoneware)

    said = guardcone("check", "--form", "line", ".")

    assert said.errors == (
        "guardcone: thursday.firing.txt was not read: there is thursday.firing beside it\n"
    )


@pytest.mark.parametrize(
    "words", ["check --form line", "forecast --form json", "why guard-missing"]
)
def test_a_studio_file_under_another_name_above_a_plan(guardcone, stoneware, words: str) -> None:
    """Up to where the studio's own file is looked for, one that is not read is told, once."""
    for folder in (".git", "plans/friday"):
        Path(folder).mkdir(parents=True)
    Path("studio.yml").write_text("")
    Path("plans/friday/a.firing").write_text(stoneware)
    Path("plans/friday/b.firing").write_text(stoneware)
    plans = {"check": ["plans/friday"], "forecast": ["plans/friday/a.firing"], "why": []}

    said = guardcone(*words.split(), *plans[words.split()[0]])

    assert said.errors == "guardcone: studio.yml was not read: rename it to studio.yaml\n"
    assert said.status == 0


def test_a_studio_file_stands_for_its_plans(guardcone, stoneware) -> None:
    """Named, it has all plans beside and below it checked; without any it is only read itself."""
    Path("plans/sub").mkdir(parents=True)
    Path("plans/studio.yaml").write_text('emergency: "the duty phone at the door"\n')

    none_yet = guardcone("check", "plans/studio.yaml")
    Path("plans/sub/thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))
    found = guardcone("check", "--form", "line", "plans/studio.yaml", "plans/sub/thursday.firing")
    Path("plans/sub/thursday.firing").unlink()
    Path("plans/studio.yaml").write_text("limmits: 3\n")
    faulty = guardcone("check", "plans/studio.yaml")

    assert (none_yet.screen, none_yet.status) == ("", 0)
    assert none_yet.errors == (
        "guardcone: the studio's file has no plan beside it, so none was checked\n"
    )
    assert (found.screen.count("\n"), found.status) == (1, 1)
    assert "limmits" in faulty.errors
    assert faulty.status == 2
