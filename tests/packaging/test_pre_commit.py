"""The hook, run by the pre-commit framework itself on a studio's repository."""

import re
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from subprocess import CompletedProcess

import pytest

ROOT = Path(__file__).resolve().parents[2]
Run = Callable[..., CompletedProcess[str]]

# The file and the commands that the README gives to studios, word for word.
CHAPTER = (ROOT / "README.md").read_text(encoding="utf-8").partition("## A check before every")[2]
CONFIG, COMMANDS = re.findall(r"```\n(.*?)```", CHAPTER, re.DOTALL)[:2]


SOMEBODY = ("-c", "user.name=Duty potter", "-c", "user.email=duty@studio.example")


@pytest.fixture(scope="module")
def git(run: Run) -> Iterator[Callable[..., str]]:
    """Run git as somebody, without the settings of whoever runs the tests."""
    with pytest.MonkeyPatch.context() as settings:
        settings.setenv("GIT_CONFIG_GLOBAL", "/dev/null")
        for name in ("GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE"):
            settings.delenv(name, raising=False)
        yield lambda *words, cwd: run("git", *SOMEBODY, *words, cwd=cwd).stdout.strip()


@pytest.fixture(scope="module")
def repository(
    project: Path, tmp_path_factory: pytest.TempPathFactory, git: Callable[..., str]
) -> Iterator[Path]:
    """The repository of guardcone, with what the framework has installed of it beside it."""
    folder = tmp_path_factory.mktemp("source")
    source = folder / "guardcone"
    shutil.copytree(project, source, ignore=shutil.ignore_patterns("dist", "tests"))
    git("init", "--quiet", cwd=source)
    git("add", "--all", cwd=source)
    git("commit", "--quiet", "--message", "guardcone", cwd=source)
    with pytest.MonkeyPatch.context() as settings:
        settings.setenv("PRE_COMMIT_HOME", str(folder / "pre-commit"))
        yield source


@pytest.fixture
def studio(repository: Path, tmp_path: Path, run: Run, git: Callable[..., str]) -> Path:
    """A studio's repository of plans that takes guardcone, by path, as its pre-commit check."""
    plans = tmp_path / "plans"
    plans.mkdir()
    git("init", "--quiet", cwd=plans)
    config = CONFIG.replace("/path/to/guardcone", str(repository))
    (plans / ".pre-commit-config.yaml").write_text(config)
    for command in COMMANDS.splitlines():
        assert command.startswith("pre-commit ")
        run(sys.executable, "-m", "pre_commit", *command.split()[1:], cwd=plans)
    return plans


@pytest.fixture
def commit(studio: Path, run: Run, git: Callable[..., str]) -> Callable[[], tuple[int, str]]:
    """Try to commit everything in the studio's repository; the status and what was said."""

    def try_it() -> tuple[int, str]:
        git("add", "--all", cwd=studio)
        words = ("git", *SOMEBODY, "commit", "--message", "a plan")
        done = run(*words, cwd=studio, check=False)
        return done.returncode, done.stdout + done.stderr

    return try_it


def test_hook_refuses_a_plan_without_guard_and_lets_the_mended_one_through(
    studio: Path, project: Path, commit: Callable[[], tuple[int, str]], git: Callable[..., str]
) -> None:
    """A commit with a faulty plan is refused with the finding; mended, it goes through."""
    sound = (project / "rules" / "sound_plans" / "stoneware.firing").read_text()
    plan = studio / "thursday.firing"

    plan.write_text(sound.replace("  guard  10\n", "", 1))
    refused, said = commit()

    assert refused != 0
    assert "guard-missing" in said

    plan.write_text(sound)
    passed, said = commit()

    assert passed == 0, said
    assert git("log", "--oneline", cwd=studio).endswith("a plan")


VENT = "  vent         downdraft, on throughout\n"
ACCEPT = (
    'accept vent-missing because "the hood over this kiln always draws by itself" by "R. Teal"\n'
)


def test_an_acknowledged_danger_is_seen_in_a_commit_that_goes_through(
    studio: Path, project: Path, commit: Callable[[], tuple[int, str]]
) -> None:
    """Somebody else than who fires answers for it, so the commit is let through, and it is told."""
    sound = (project / "rules" / "sound_plans" / "stoneware.firing").read_text()
    (studio / "thursday.firing").write_text(sound.replace(VENT, "  vent         off\n") + ACCEPT)

    refused, _ = commit()
    (studio / "studio.yaml").write_text('may accept: ["R. Teal"]\n')
    let_through, said = commit()

    assert refused != 0
    assert let_through == 0, said
    assert "▲▲▲▲ danger, line 66: vent-missing" in said
    assert "Acknowledged by R. Teal" in said
    assert "Before any firing" in said


def test_a_commit_of_the_studio_file_alone_checks_every_plan(
    studio: Path, project: Path, commit: Callable[[], tuple[int, str]]
) -> None:
    """Without plans it goes through; with a plan that it no longer holds for it is refused."""
    sound = (project / "rules" / "sound_plans" / "stoneware.firing").read_text()
    studio_file = studio / "studio.yaml"
    studio_file.write_text('may accept: ["R. Teal"]\n')

    without_plans, said = commit()
    assert without_plans == 0, said
    assert "no plan beside it" in said

    (studio / "thursday.firing").write_text(sound.replace(VENT, "  vent         off\n") + ACCEPT)
    with_plan, said = commit()
    assert with_plan == 0, said

    studio_file.write_text('may accept: ["head of school"]\n')
    refused, said = commit()
    assert refused != 0
    assert "danger, line 66: vent-missing" in said


def test_the_way_in_the_readme_takes_what_is_newest(
    studio: Path, repository: Path, run: Run, git: Callable[..., str]
) -> None:
    """As long as there is no release, a commit stands where the README has HEAD; then its tag."""
    config = studio / ".pre-commit-config.yaml"
    update = COMMANDS.splitlines()[0].split()[1:]

    before = config.read_text()
    git("tag", "v9.9.9", cwd=repository)
    run(sys.executable, "-m", "pre_commit", *update, cwd=studio)
    git("tag", "--delete", "v9.9.9", cwd=repository)

    assert f"rev: {git('rev-parse', 'HEAD', cwd=repository)}\n" in before
    assert "rev: v9.9.9\n" in config.read_text()


def test_a_studio_file_that_goes_or_moves_has_its_plans_checked(
    studio: Path, project: Path, commit: Callable[[], tuple[int, str]], git: Callable[..., str]
) -> None:
    """No hook is told of a file that goes; the plans that leaned on it are checked all the same."""
    sound = (project / "rules" / "sound_plans" / "stoneware.firing").read_text()
    for folder in ("class", "rooms"):
        (studio / folder).mkdir()
    (studio / "class" / "studio.yaml").write_text('may accept: ["R. Teal"]\n')
    plan = sound.replace(VENT, "  vent         off\n") + ACCEPT
    (studio / "class" / "thursday.firing").write_text(plan)
    accepted, said = commit()
    assert accepted == 0, said

    (studio / "class" / "studio.yaml").unlink()
    gone, said_gone = commit()
    (studio / "rooms" / "studio.yaml").write_text('may accept: ["R. Teal"]\n')
    moved_beside, said_moved = commit()
    (studio / "rooms" / "studio.yaml").rename(studio / "studio.yaml")
    moved_above, said = commit()

    for status, told in ((gone, said_gone), (moved_beside, said_moved)):
        assert status != 0
        assert "danger, line 66: vent-missing" in told
    assert moved_above == 0, said
    assert "Acknowledged by R. Teal" in said


def test_what_is_only_named_like_them_is_not_passed_over(
    studio: Path, project: Path, commit: Callable[[], tuple[int, str]]
) -> None:
    """A plan under another name is checked; a studio file under one holds the commit up."""
    sound = (project / "rules" / "sound_plans" / "stoneware.firing").read_text()
    plan = studio / "New plan.firing.txt"
    plan.write_text(sound.replace("  guard  10\n", "", 1))
    faulty, said_faulty = commit()
    plan.write_text(sound)
    sound_one, said_sound = commit()
    (studio / "Studio.yml").write_text('may accept: ["R. Teal"]\n')
    like_a_studio_file, said = commit()

    assert faulty != 0
    assert "guard-missing" in said_faulty
    assert sound_one == 0, said_sound
    assert "rename it to New plan.firing" in " ".join(said_sound.split())
    assert like_a_studio_file != 0
    assert "Studio.yml was not read: rename it to studio.yaml" in said


def test_a_commit_of_something_else_says_that_no_plan_was_checked(
    studio: Path, commit: Callable[[], tuple[int, str]]
) -> None:
    """The framework says that the hook passed, so the hook says that there was nothing to check."""
    (studio / "notes.txt").write_text("buy kiln wash\n")

    status, said = commit()

    assert status == 0, said
    assert "so none was checked" in said


def test_a_link_to_a_plan_is_a_plan(
    studio: Path, project: Path, tmp_path: Path, commit: Callable[[], tuple[int, str]]
) -> None:
    """Who fires by the link fires by what it leads to."""
    sound = (project / "rules" / "sound_plans" / "stoneware.firing").read_text()
    (tmp_path / "elsewhere.txt").write_text(sound.replace("  guard  10\n", "", 1))
    (studio / "thursday.firing").symlink_to(tmp_path / "elsewhere.txt")

    status, said = commit()

    assert status != 0
    assert "guard-missing" in said
