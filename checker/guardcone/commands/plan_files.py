"""The plans that a person named are found and read, with the studio's own file."""

import os
import sys
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from attrs import define, field

from guardcone.commands.output import CannotWork, write_error
from guardcone.language import SourceText, UnreadablePlan, split_lines
from guardcone.language.source import decode, load_text
from guardcone.reports.page import one_line
from guardcone.rulebook.book import RuleBook, Studio, StudioFaults
from guardcone.rulebook.library import BrokenBook
from guardcone.rulebook.rule import RuleFault
from guardcone.rulebook.studio_search import STUDIO_FILE, Studios

__all__ = [
    "ENDING",
    "STANDARD_INPUT",
    "Unread",
    "is_studio_file",
    "plan_paths",
    "read_source",
    "read_text",
    "studio_of",
    "studios",
]


def studios() -> Studios:
    """The studios that plans of this run belong to; own rules are tried before they count."""

    def trial(book: RuleBook, names: Collection[str]) -> tuple[RuleFault, ...]:
        from guardcone.checking.examples import try_rules  # only a studio with rules of its own

        return try_rules(book, names)

    return Studios(trial)


def studio_of(plan: str, studios: Studios) -> Studio:
    """The studio whose file applies to a plan or a folder.

    Raises CannotWork with every fault of that file, or of the rule book, one on a line.
    """
    try:
        studio = studios.of(plan)
    except BrokenBook as broken:
        raise CannotWork(f"the rule book has faults\n{broken}") from broken
    if isinstance(studio, StudioFaults):
        faults = "\n".join(str(fault) for fault in studio.faults)
        raise CannotWork(f"the studio's own file has faults\n{faults}")
    return studio


ENDING = ".firing"
STANDARD_INPUT = "-"
# What editors and other systems make of the name of the studio's file.
_LIKE_STUDIO_FILE = {STUDIO_FILE, "studio.yml", f"{STUDIO_FILE}.txt", "studio.yml.txt"}


@define
class Unread:
    """Counts what could not be read or written; the error output names each when it is met."""

    number: int = 0
    _told: set[str] = field(factory=set)

    def add(self, reason: str) -> None:
        """One more; a reason that stands for several is told once."""
        self.number += 1
        if reason not in self._told:
            self._told.add(reason)
            write_error(f"guardcone: {reason}")

    @contextmanager
    def goes_on(self) -> Iterator[None]:
        """What can't be done in here is one more, and the work on others goes on."""
        try:
            yield
        except CannotWork as reason:
            self.add(str(reason))


def plan_paths(named: Iterable[str], unread: Unread, *, of_studios: bool = False) -> list[str]:
    """The plans that are named, and those in the folders that are named, in order, each once.

    With `of_studios`, a studio's file that is named stands for the plans it holds for, if any. A
    folder that can't be read or holds no plan is added to `unread`.
    """
    found: dict[str, None] = {}
    for name in named:
        if not name:
            unread.add("the name of a plan or folder is empty")
        elif os.path.isdir(name):
            before = unread.number
            inside = _plans_in(name, unread)
            found.update(dict.fromkeys(inside))
            if not inside and unread.number == before:
                shown = one_line(name)
                unread.add(f"no plan found: the folder {shown} has no file ending in {ENDING}")
        elif of_studios and is_studio_file(name):
            found.update(dict.fromkeys(_plans_in(os.path.dirname(name) or ".", unread)))
        else:
            found[name] = None
    return list(found)


def is_studio_file(name: str) -> bool:
    """True for a studio's own file that is there."""
    return os.path.basename(name) == STUDIO_FILE and os.path.isfile(name)


def _plans_in(folder: str, unread: Unread) -> list[str]:
    """The plans in a folder and its folders; hidden ones and links to folders are left out.

    Files that are named much like a plan or the studio's file, and so are not read, are told.
    """
    plans: list[Path] = []

    def unlisted(error: OSError) -> None:
        reason = (error.strerror or str(error)).lower()
        unread.add(
            f"the folder {one_line(str(Path(error.filename or folder)))} can't be read: {reason}"
        )

    for above, folders, files in os.walk(folder, onerror=unlisted):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(name for name in files if not name.startswith(".")):
            path = Path(above, name)
            if not name.endswith(ENDING):
                _tell_look_alike(path)
            elif _is_so(path.is_fifo):
                # Nobody may ever write into a pipe; one that is named is read.
                unread.add(f"{one_line(str(path))} can't be read: it is no file")
            else:
                plans.append(path)
    return [str(plan) for plan in sorted(plans)]


def _tell_look_alike(path: Path) -> None:
    """Say that a file is not read, if its name looks as if it were meant to be."""
    name = path.name.lower()
    if name.endswith((ENDING, f"{ENDING}.txt")):
        write_error(f"guardcone: {one_line(str(path))} was not read: plans end in {ENDING}")
    elif name in _LIKE_STUDIO_FILE and path.name != STUDIO_FILE and not _is_read(path):
        shown = one_line(str(path))
        write_error(f"guardcone: {shown} was not read: the studio's own file is {STUDIO_FILE}")


def _is_read(path: Path) -> bool:
    """True where capital and small letters are the same in names of files, and so it is read."""
    return _is_so(lambda: path.samefile(path.with_name(STUDIO_FILE)))


def _is_so(asked: Callable[[], bool]) -> bool:
    """The answer of the system about a file; False where it has none, and reading it says why."""
    try:
        return asked()
    except (OSError, ValueError):
        return False


def read_source(name: str, called: str = "standard input") -> SourceText:
    """The lines of a plan; `-` is standard input, called `called` in reports.

    Raises CannotWork, with a reason of one line, where it can't be read as a plan.
    """
    text = read_text(name, called).removeprefix("\ufeff")
    return SourceText(called if name == STANDARD_INPUT else str(Path(name)), split_lines(text))


def read_text(name: str, called: str = "standard input") -> str:
    """The text of a plan as it was saved, read once; CannotWork as `read_source`."""
    try:
        if name == STANDARD_INPUT:
            return decode(_standard_input(), called)
        if not name:
            raise UnreadablePlan("the name of the plan is empty")
        return load_text(Path(name))
    except UnreadablePlan as unreadable:
        reason = str(unreadable)
        if isinstance(unreadable.__cause__, FileNotFoundError) and not Path(name).suffix:
            reason = f"{name} is not there; plans end in {ENDING}"
        raise CannotWork(one_line(reason)) from unreadable


def _standard_input() -> bytes:
    try:
        return sys.stdin.buffer.read()
    except (AttributeError, OSError, ValueError) as error:  # there is none, or it is closed
        raise UnreadablePlan("standard input can't be read") from error
