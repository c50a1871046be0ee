"""The wheel and the sdist hold what the program needs, and work far from the checkout."""

import tarfile
import zipfile
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

Run = Callable[..., CompletedProcess[str]]


def test_wheel_from_sdist_is_wheel_from_checkout(
    distributions: Path, wheel_from_checkout: Path
) -> None:
    """Nothing is lost on the way through the sdist."""
    through_sdist = next(distributions.glob("*.whl"))

    files = {
        wheel: sorted(zipfile.ZipFile(wheel).namelist())
        for wheel in (through_sdist, wheel_from_checkout)
    }

    assert files[through_sdist] == files[wheel_from_checkout]


def test_wheel_holds_documents_and_types(distributions: Path) -> None:
    """Grammar, rule book, tables and the marker of typed packages are in the wheel."""
    names = set(zipfile.ZipFile(next(distributions.glob("*.whl"))).namelist())

    assert {
        "guardcone/py.typed",
        "guardcone/grammar/plan.lark",
        "guardcone/grammar/condition.lark",
        "guardcone/rules/witness.yaml",
        "guardcone/rules/limits.yaml",
        "guardcone/rules/reminder.txt",
        "guardcone/rules/tables/cones.csv",
        "guardcone/rules/sound_plans/stoneware.firing",
    } <= names
    assert not [name for name in names if name.startswith(("tests", "sample_plans"))]


def test_the_wheel_brings_the_book_as_it_is_kept(installed: Path, tmp_path: Path, run: Run) -> None:
    """The installed program need not read its documents: what was kept at the build has its key."""
    told = run(
        installed,
        "-c",
        "from guardcone.kept import kept\n"
        "names = 'grammar', 'rules', 'sentences', 'background', 'text_faults'\n"
        "print([kept(name) is not None for name in names])",
        cwd=tmp_path,
    )

    assert told.stdout == f"{[True] * 5}\n"


def test_sdist_holds_tests_and_samples(distributions: Path) -> None:
    """Whoever has the sdist can run the tests and read the samples."""
    with tarfile.open(next(distributions.glob("*.tar.gz"))) as sdist:
        names = {name.partition("/")[2] for name in sdist.getnames()}

    assert {"README.md", "DEVELOPERS.md", "pyproject.toml", ".pre-commit-hooks.yaml"} <= names
    assert any(name.startswith("tests/") for name in names)
    assert any(name.startswith("sample_plans/") for name in names)


def test_installed_program_checks_a_plan_from_another_folder(
    installed: Path, project: Path, tmp_path: Path, run: Run
) -> None:
    """The command and `python -m guardcone` say the same, with only the runtime dependencies."""
    plan = tmp_path / "bisque.firing"
    plan.write_text((project / "rules" / "sound_plans" / "bisque.firing").read_text())

    command = run(installed.parent / "guardcone", "check", plan.name, cwd=tmp_path, check=False)
    module = run(installed, "-m", "guardcone", "check", plan.name, cwd=tmp_path, check=False)

    assert command.returncode == 0, command.stdout + command.stderr
    assert "1 plan checked" in command.stdout
    assert (module.returncode, module.stdout) == (command.returncode, command.stdout)
