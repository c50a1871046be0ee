"""`guardcone check --for-commit`, as a hook asks it: which plans a commit touches, by git."""

import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

WITHOUT_GUARD = ("  guard  10\n", "", 1)
SOMEBODY = ("-c", "user.name=Duty potter", "-c", "user.email=duty@studio.example")
OWN = """\
- rule: wall-thick
  concerns: ware
  advice when: wall is thicker than 7 mm
  at: wall
  finding: The wall is {wall}.
  do: Throw it thinner.
  why: Thick walls dry slowly.
  sources: common practice, no source
  passes: {wall 6 mm: wall 5 mm}
  fails: {wall 6 mm: wall 8 mm}
"""
NOTHING = (
    "guardcone: the commit has no plan, and changes nothing that one leans on, "
    "so none was checked\n"
)


@pytest.fixture
def git(studio: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Run git in the studio's folder, without the settings of whoever runs the tests."""
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", "/dev/null")
    for name in ("GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE"):
        monkeypatch.delenv(name, raising=False)

    def run(*words: str) -> None:
        subprocess.run(["git", *SOMEBODY, *words], cwd=studio, check=True, capture_output=True)

    return run


@pytest.fixture
def plans(studio: Path, stoneware: str, git: Callable[..., None]) -> Path:
    """Two plans without a guard and a studio's file for one of them, all committed."""
    for name in ("top.firing", "class/thursday.firing"):
        Path(name).parent.mkdir(exist_ok=True)
        Path(name).write_text(stoneware.replace(*WITHOUT_GUARD))
    Path("class/studio.yaml").write_text("own rules: rules/ours.yaml\n")
    Path("class/rules").mkdir()
    Path("class/rules/ours.yaml").write_text(OWN)
    Path("notes.yaml").write_text("lime: 5\n")
    git("init", "--quiet")
    git("add", "--all")
    git("commit", "--quiet", "--message", "plans")
    return studio


def checked(screen: str) -> set[str]:
    """The plans that something is found in."""
    return {line.split(":")[0] for line in screen.splitlines() if "guard-missing" in line}


def named_by_a_hook(guardcone, *names: str):
    """What a hook is told of these files that a commit leaves."""
    return guardcone("check", "--for-commit", "--form", "line", *names)


CHANGES = {
    "a plan": (["edit top.firing"], ["top.firing"], {"top.firing"}),
    "a studio's file": (
        ["edit class/studio.yaml"],
        ["class/studio.yaml"],
        {"class/thursday.firing"},
    ),
    "a studio's file goes": (["rm class/studio.yaml"], [], {"class/thursday.firing"}),
    "a studio's file is moved up": (
        ["rm class/studio.yaml", "edit studio.yaml"],
        ["studio.yaml"],
        {"class/thursday.firing", "top.firing"},
    ),
    "a file of own rules": (["edit class/rules/ours.yaml"], [], {"class/thursday.firing"}),
    "the folder goes": (["rm class/studio.yaml", "rm class/thursday.firing"], [], set()),
    "something else": (["edit notes.yaml"], [], set()),
    "nothing": ([], [], set()),
}


@pytest.mark.parametrize("change", CHANGES)
def test_the_plans_of_a_commit(guardcone, plans, git, change: str) -> None:
    """Those in it, and those that lean on what it changes or takes away; no others."""
    done, told, found = CHANGES[change]
    for one in done:
        what, name = one.split()
        if what == "rm":
            git("rm", "--quiet", name)
        else:
            with open(name, "a", encoding="utf-8") as file:
                file.write("# changed\n")
            git("add", name)

    said = named_by_a_hook(guardcone, *told)

    assert checked(said.screen) == found
    assert said.status == (1 if found else 0)
    assert said.errors == ("" if found else NOTHING)


def test_a_file_of_rules_that_goes_is_missed(guardcone, plans, git) -> None:
    """The studio's file that names it can't be used, so the commit does not go through."""
    git("rm", "--quiet", "class/rules/ours.yaml")

    said = named_by_a_hook(guardcone)

    assert said.status == 2
    assert "class/studio.yaml:1:12: the file 'rules/ours.yaml' can't be read" in said.errors


def test_a_draft_that_nobody_added_is_no_part_of_a_commit(
    guardcone, plans, git, stoneware: str
) -> None:
    """It lies beside the studio's file, and the commit is not held up by it."""
    Path("class/draft.firing").write_text(stoneware.replace(*WITHOUT_GUARD))
    Path("class/studio.yaml").write_text("")
    git("add", "class/studio.yaml")

    said = named_by_a_hook(guardcone, "class/studio.yaml")

    assert checked(said.screen) == {"class/thursday.firing"}


def test_a_stretch_of_history(guardcone, plans, git, monkeypatch: pytest.MonkeyPatch) -> None:
    """Asked about commits that are made, the hook looks between their ends."""
    git("rm", "--quiet", "class/studio.yaml")
    git("commit", "--quiet", "--message", "no studio")
    now = named_by_a_hook(guardcone)
    monkeypatch.setenv("PRE_COMMIT_FROM_REF", "HEAD~1")
    monkeypatch.setenv("PRE_COMMIT_TO_REF", "HEAD")

    then = named_by_a_hook(guardcone)

    assert (checked(now.screen), now.errors) == (set(), NOTHING)
    assert checked(then.screen) == {"class/thursday.firing"}


def test_where_git_can_not_tell(guardcone, studio, stoneware: str) -> None:
    """The plans that are named are checked all the same, and the work is not done."""
    Path("top.firing").write_text(stoneware.replace(*WITHOUT_GUARD))

    said = named_by_a_hook(guardcone, "top.firing")

    assert checked(said.screen) == {"top.firing"}
    assert said.errors.startswith("guardcone: git can't tell what the commit changes: ")
    assert said.status == 2
