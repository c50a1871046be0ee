"""A copy of the project as git would see it, built and installed away from the checkout."""

import shutil
import subprocess
import sys
import venv
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TOP_LEVEL = ("checker", "grammar", "rules", "sample_plans", "tests")
TOP_FILES = ("README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore", ".pre-commit-hooks.yaml")


def run(*command: str | Path, cwd: Path, check: bool = True) -> subprocess.CompletedProcess[str]:
    """Run a command and keep what it says."""
    done = subprocess.run(
        [str(word) for word in command], cwd=cwd, capture_output=True, text=True, check=False
    )
    assert not check or done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done


@pytest.fixture(scope="session", name="run")
def run_fixture() -> Callable[..., subprocess.CompletedProcess[str]]:
    """The function `run`, for tests."""
    return run


@pytest.fixture(scope="session")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project in a folder of its own, without caches and environments."""
    copy = tmp_path_factory.mktemp("project") / "guardcone"
    copy.mkdir()
    for name in TOP_LEVEL:
        shutil.copytree(
            ROOT / name,
            copy / name,
            ignore=shutil.ignore_patterns("__pycache__", "*.pyc", "compiled"),
        )
    for name in TOP_FILES:
        shutil.copy(ROOT / name, copy / name)
    return copy


@pytest.fixture(scope="session")
def distributions(project: Path) -> Path:
    """The folder with the sdist, and the wheel that is built from that sdist."""
    run(sys.executable, "-m", "build", "--no-isolation", "--outdir", "dist", ".", cwd=project)
    return project / "dist"


@pytest.fixture(scope="session")
def wheel_from_checkout(project: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel that is built from the checkout itself."""
    out = tmp_path_factory.mktemp("wheel")
    run(
        sys.executable,
        "-m",
        "build",
        "--no-isolation",
        "--wheel",
        "--outdir",
        out,
        ".",
        cwd=project,
    )
    return next(out.glob("*.whl"))


@pytest.fixture(scope="session")
def installed(distributions: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of a clean environment with the wheel of the sdist in it, and nothing else."""
    place = tmp_path_factory.mktemp("clean") / "environment"
    venv.create(place, with_pip=True)
    python = place / "bin" / "python"
    wheel = next(distributions.glob("*.whl"))
    run(python, "-m", "pip", "install", "--quiet", wheel, cwd=place)
    return python
