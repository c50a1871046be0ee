"""The hook, run by the pre-commit framework itself on a studio's repository."""

import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

import pytest

Run = Callable[..., CompletedProcess[str]]

CONFIG = """\
repos:
  - repo: {repository}
    rev: {revision}
    hooks:
      - id: guardcone
"""


SOMEBODY = ("-c", "user.name=Duty potter", "-c", "user.email=duty@studio.example")


@pytest.fixture
def git(run: Run) -> Callable[..., str]:
    """Run git as somebody, without the settings of whoever runs the tests."""
    return lambda *words, cwd: run("git", *SOMEBODY, *words, cwd=cwd).stdout.strip()


@pytest.fixture
def studio(
    project: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    run: Run,
    git: Callable[..., str],
) -> Path:
    """A studio's repository of plans that takes guardcone, by path, as its pre-commit check."""
    monkeypatch.setenv("PRE_COMMIT_HOME", str(tmp_path / "pre-commit"))
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", "/dev/null")
    for name in ("GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE"):
        monkeypatch.delenv(name, raising=False)
    source = tmp_path / "guardcone"
    shutil.copytree(project, source, ignore=shutil.ignore_patterns("dist", "tests"))
    git("init", "--quiet", cwd=source)
    git("add", "--all", cwd=source)
    git("commit", "--quiet", "--message", "guardcone", cwd=source)
    revision = git("rev-parse", "HEAD", cwd=source)
    plans = tmp_path / "plans"
    plans.mkdir()
    git("init", "--quiet", cwd=plans)
    config = CONFIG.format(repository=source, revision=revision)
    (plans / ".pre-commit-config.yaml").write_text(config)
    run(sys.executable, "-m", "pre_commit", "install", cwd=plans)
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
