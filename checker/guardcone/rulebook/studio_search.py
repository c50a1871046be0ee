"""The studio's own file that applies to a plan is found.

It is the nearest ``studio.yaml`` in the folder of the plan or above it. The search ends with the
folder that holds a ``.git``, so that a plan in a repository means the same on every machine;
without one it is the folder of the plan alone. A file that somebody else put into a folder where
anybody may write is refused: it would decide what is told to others. A file on the way that is
named much like it is not read, and so is told.
"""

import os
import stat
from collections.abc import Callable, Iterator
from contextlib import suppress
from os.path import relpath
from pathlib import Path

from attrs import define, field

from guardcone.language import UnreadablePlan
from guardcone.language.source import MAXIMUM_BYTES, decode
from guardcone.rulebook.book import Studio, StudioFaults, Trial
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import BookFile, RuleFault
from guardcone.span import Span

__all__ = [
    "STUDIO_FILE",
    "Studios",
    "as_opened",
    "book_file",
    "find_studio_file",
    "is_like_studio_file",
    "is_studio_file",
    "studio_for",
]

STUDIO_FILE = "studio.yaml"
STANDARD_INPUT = "-"
_REPOSITORY = ".git"
# What editors and other systems make of its name, in small letters.
_LIKE_IT = {STUDIO_FILE, "studio.yml", f"{STUDIO_FILE}.txt", "studio.yml.txt"}


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


def find_studio_file(
    folder: Path, pass_over: Callable[[Path], None] = lambda _: None
) -> Path | None:
    """The studio.yaml that applies in a folder, None if there is none.

    Links to folders are followed before the way up begins. `pass_over` is told of what looks like
    it on the way.
    """
    for above in _up_to_repository(folder.resolve()):
        file = above / STUDIO_FILE
        for like_it in _like_studio_file(above):
            pass_over(like_it)
        # Something of that name which is no file is told when it is read, not passed over.
        if os.path.lexists(file):
            return file
    return None


def is_studio_file(path: Path) -> bool:
    """True for a studio's own file that is there.

    Where capital and small letters are the same in names of files, it may be named in capitals.
    """
    with suppress(OSError, ValueError):
        return _is_named_like_it(path) and path.samefile(path.with_name(STUDIO_FILE))
    return False


def is_like_studio_file(path: Path) -> bool:
    """True for a file that is named much like the studio's, and so is not read."""
    with suppress(OSError, ValueError):
        return _is_named_like_it(path) and not is_studio_file(path)
    return False


def _is_named_like_it(path: Path) -> bool:
    return path.name.lower() in _LIKE_IT and path.is_file()


def _like_studio_file(folder: Path) -> Iterator[Path]:
    """The files in a folder that are named much like the studio's, if it can be listed."""
    with suppress(OSError):
        yield from filter(is_like_studio_file, sorted(folder.iterdir()))


def _up_to_repository(start: Path) -> tuple[Path, ...]:
    """This folder and those above it up to the top of its repository; without one this alone."""
    above = (start, *start.parents)
    for number, folder in enumerate(above, 1):
        if os.path.lexists(folder / _REPOSITORY):
            return above[:number]
    return (start,)


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


def as_opened(path: Path) -> str:
    """The shorter of the path from this folder and the whole path, as a person would open it."""
    whole = str(path)
    try:
        near = relpath(whole)
    except ValueError:  # another drive
        return whole
    return near if len(near) < len(whole) else whole
