"""Room: the command line; here the plans that a person named are found and read."""

import os
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from guardcone.commands.output import CannotWork
from guardcone.language import SourceText, UnreadablePlan, load_source, split_lines
from guardcone.language.source import decode

__all__ = ["ENDING", "plan_paths", "read_source"]

ENDING = ".firing"
STANDARD_INPUT = "-"


def plan_paths(named: Iterable[str]) -> list[str]:
    """The plans that are named, and those in the folders that are named, in order, each once.

    Raises CannotWork where a path is not there, or a folder holds no plan.
    """
    found: dict[str, None] = {}
    for name in named:
        if name == STANDARD_INPUT:
            found[name] = None
            continue
        path = Path(name)
        if not path.is_dir():
            found[name] = None
            continue
        if not os.access(path, os.R_OK | os.X_OK):
            raise CannotWork(f"the folder {name} can't be read: permission denied")
        inside = [str(plan) for plan in _plans_in(path)]
        if not inside:
            raise CannotWork(f"no plan found: the folder {name} has no file ending in {ENDING}")
        found.update(dict.fromkeys(inside))
    return list(found)


def _plans_in(folder: Path) -> Iterator[Path]:
    """The plans in a folder and its folders, those in hidden folders left out."""
    for path in sorted(folder.rglob(f"*{ENDING}")):
        hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
        if path.is_file() and not hidden:
            yield path


def read_source(name: str, called: str = "standard input") -> SourceText:
    """The text of a plan; `-` is standard input, called `called` in reports.

    Raises UnreadablePlan where it can't be read as a plan.
    """
    if name == STANDARD_INPUT:
        return SourceText(called, split_lines(decode(sys.stdin.buffer.read(), called)))
    path = Path(name)
    if not path.exists() and path.suffix == "":
        raise UnreadablePlan(f"{name} is not there; plans end in {ENDING}")
    return load_source(path)
