"""The studio's own file is found by its name.

It is the nearest ``studio.yaml`` in the folder of the plan or above it. The search ends with the
folder that holds a ``.git``, so that a plan in a repository means the same on every machine;
without one it is the folder of the plan alone. A file on the way that is named much like it is not
read, and so is told.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from os.path import relpath
from pathlib import Path

__all__ = [
    "STUDIO_FILE",
    "as_opened",
    "find_studio_file",
    "is_like_studio_file",
    "is_studio_file",
]

STUDIO_FILE = "studio.yaml"
_REPOSITORY = ".git"
# What editors and other systems make of its name, in small letters.
_LIKE_IT = {STUDIO_FILE, "studio.yml", f"{STUDIO_FILE}.txt", "studio.yml.txt"}


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


def as_opened(path: Path) -> str:
    """The shorter of the path from this folder and the whole path, as a person would open it."""
    whole = str(path)
    try:
        near = relpath(whole)
    except ValueError:  # another drive
        return whole
    return near if len(near) < len(whole) else whole
