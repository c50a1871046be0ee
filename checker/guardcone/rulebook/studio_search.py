"""The studio whose file applies to a plan is found and read.

A file that somebody else put into a folder where anybody may write is refused: it would decide what
is told to others.
"""

import os
import stat
from collections.abc import Callable
from pathlib import Path

from attrs import define, field

from guardcone.language import UnreadablePlan
from guardcone.language.source import MAXIMUM_BYTES, decode
from guardcone.rulebook.book import Studio, StudioFaults, Trial
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import BookFile, RuleFault
from guardcone.rulebook.studio_names import as_opened, find_studio_file
from guardcone.span import Span

__all__ = ["STANDARD_INPUT", "Studios", "book_file", "studio_for"]

STANDARD_INPUT = "-"


def studio_for(plan: str | Path, trial: Trial) -> Studio | StudioFaults:
    """The studio that applies to a plan or a folder; `-`, standard input, stands in this folder."""
    return Studios(trial).of(plan)


@define(repr=False)
class Studios:
    """The studios that plans of one run belong to; each file is read once.

    `trial` runs the examples of a studio's own rules before these rules count. `pass_over` is told
    of each file that is named much like the studio's and not read.
    """

    trial: Trial
    pass_over: Callable[[Path], None] = lambda _: None
    _in_folder: dict[Path, Path | None] = field(factory=dict)
    _by_file: dict[Path | None, Studio | StudioFaults] = field(factory=dict)

    def of(self, plan: str | Path) -> Studio | StudioFaults:
        """The studio that applies to a plan or a folder, as `studio_for`."""
        path = Path() if str(plan) == STANDARD_INPUT else Path(plan)
        folder = path if path.is_dir() else path.parent
        if folder not in self._in_folder:
            self._in_folder[folder] = find_studio_file(folder, self.pass_over)
        file = self._in_folder[folder]
        if file not in self._by_file:
            self._by_file[file] = _read(file, self.trial) if file else Studio(built_in_book())
        return self._by_file[file]


def book_file(path: Path, called: str = "") -> BookFile | str:
    """A file of rules or limits, called `called` in messages; or why it can't be read."""
    name = called or as_opened(path)
    try:
        if not path.is_file():
            return "it is not a file" if path.exists() else "it is not there"
        if _is_strangers(path):
            return "it belongs to somebody else, in a folder where anybody may write"
        with path.open("rb") as file:
            return BookFile(name, decode(file.read(MAXIMUM_BYTES + 1), "it"))
    except UnreadablePlan as reason:
        return str(reason)
    except OSError as error:
        return (error.strerror or str(error)).lower()


def _is_strangers(path: Path) -> bool:
    """True for a file of another person, root apart, in a folder in which anybody may write.

    Both the file named and, where it is a link, the one it leads to are looked at.
    """
    if not hasattr(os, "getuid"):  # Windows has neither such owners nor such folders
        return False
    return any(
        os.lstat(file).st_uid not in (os.getuid(), 0)
        and bool(os.stat(file.parent).st_mode & stat.S_IWOTH)
        for file in (path, path.resolve())
    )


def _read(path: Path, trial: Trial) -> Studio | StudioFaults:
    found = book_file(path)
    if isinstance(found, str):
        fault = RuleFault(as_opened(path), Span(1, 1, 2), "the studio's file can't be read", found)
        return StudioFaults((fault,))
    from guardcone.rulebook.studio_file import (
        read_studio,  # where there is none, YAML is not needed
    )

    return read_studio(
        found.file, found.source, built_in_book(), lambda name: book_file(path.parent / name), trial
    )
