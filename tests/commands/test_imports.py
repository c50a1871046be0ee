"""A command loads what it needs and no more, so that a check is there at once."""

import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

PLAN = Path(__file__).resolve().parents[2] / "rules" / "sound_plans" / "stoneware.firing"
# What a clean check can do without: the maker of parsers, YAML, and what tells the version.
HEAVY = {"lark", "ruamel.yaml", "importlib.metadata", "multiprocessing", "concurrent.futures"}
# The readers of rule files and conditions, whose work was done when the book was made.
READERS = {
    "guardcone.condition.grammar",
    "guardcone.condition.typing",
    "guardcone.rulebook.book_files",
    "guardcone.rulebook.studio_file",
    "guardcone.rulebook.yaml_text",
}
PROGRAM = """
import sys
from guardcone.commands import main
status = main(sys.argv[1:])
print(status, *sorted(sys.modules), file=sys.stderr)
"""


def loaded(*arguments: str) -> tuple[str, set[str]]:
    """The exit status of a command, and every module that was loaded by its end."""
    told = subprocess.run(
        [sys.executable, "-c", PROGRAM, *arguments], capture_output=True, text=True, check=True
    )
    status, *modules = told.stderr.split()
    return status, set(modules)


@pytest.mark.parametrize("form", ["people", "line", "json"])
def test_a_clean_check_reads_no_rule_file(form: str, tmp_path: Path) -> None:
    """The book and the grammar come as they were kept; only a studio's file would be read."""
    plan = tmp_path / "thursday.firing"
    plan.write_text(PLAN.read_text(encoding="utf-8"), encoding="utf-8")
    loaded("check", str(plan))  # what is not kept yet is kept now
    status, modules = loaded("check", "--form", form, str(plan))

    assert all(find_spec(name) for name in READERS)
    assert status == "0"
    assert modules & (HEAVY | READERS) == set()


def test_tidy_reads_no_rule_file(tmp_path: Path) -> None:
    """A plan is laid out by the grammar as it was kept."""
    plan = tmp_path / "thursday.firing"
    plan.write_text(PLAN.read_text(encoding="utf-8"), encoding="utf-8")
    loaded("tidy", str(plan))
    _, modules = loaded("tidy", str(plan))

    assert modules & (HEAVY | READERS) == set()
