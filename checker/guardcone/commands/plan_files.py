"""The plans that a person named are found and read, with the studio's own file."""

import os
import sys
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from attrs import define, field

from guardcone.commands.output import CannotWork, write_error
from guardcone.language import ENDING, SourceText, UnreadablePlan, split_lines
from guardcone.language.source import decode, load_text
from guardcone.reports.page import one_line
from guardcone.rulebook.studio_names import (
    STUDIO_FILE,
    as_opened,
    is_like_studio_file,
    is_studio_file,
)

if TYPE_CHECKING:
    from guardcone.rulebook.book import RuleBook, Studio
    from guardcone.rulebook.rule import RuleFault
    from guardcone.rulebook.studio_search import Studios

__all__ = [
    "STANDARD_INPUT",
    "Unread",
    "plan_paths",
    "plans_in",
    "read_source",
    "read_text",
    "studio_of",
    "studios",
]


STANDARD_INPUT = "-"


def _tell(sentence: str) -> None:
    write_error(f"guardcone: {sentence}")


def studios(pass_over: Callable[[Path], None] = lambda file: _tell(_not_read(file))) -> "Studios":
    """The studios that plans of this run belong to; own rules are tried before they count.

    `pass_over` is told of each file that looks like the studio's own and is not read.
    """

    from guardcone.rulebook.studio_search import Studios  # who only lays out a plan needs no book

    def trial(book: "RuleBook", names: Collection[str]) -> "tuple[RuleFault, ...]":
        from guardcone.checking.examples import try_rules  # only a studio with rules of its own

        return try_rules(book, names)

    return Studios(trial, pass_over)


def studio_of(plan: str, studios: "Studios") -> "Studio":
    """The studio whose file applies to a plan or a folder.

    Raises CannotWork with every fault of that file, or of the rule book, one on a line.
    """
    from guardcone.rulebook.book import StudioFaults
    from guardcone.rulebook.library import BrokenBook

    try:
        studio = studios.of(plan)
    except BrokenBook as broken:
        raise CannotWork(f"the rule book has faults\n{broken}") from broken
    if isinstance(studio, StudioFaults):
        faults = "\n".join(str(fault) for fault in studio.faults)
        raise CannotWork(f"the studio's own file has faults\n{faults}")
    return studio


@define(repr=False)
class Unread:
    """Counts what could not be read or written; the error output names each when it is met.

    Files that are named much like a plan or the studio's file are no fault. What is to be said of
    each stands in `passed_over`, to be told last, where it is seen.
    """

    number: int = 0
    _told: set[str] = field(factory=set)
    _passed_over: dict[Path, str] = field(factory=dict)

    def add(self, reason: str) -> None:
        """One more; a reason that stands for several is told once."""
        self.number += 1
        if reason not in self._told:
            self._told.add(reason)
            _tell(reason)

    def pass_over(self, file: Path, told: str = "") -> None:
        """A file of such a name, and what is said of it if it is read all the same."""
        place = file.parent.resolve() / file.name
        if told or place not in self._passed_over:
            self._passed_over[place] = told or _not_read(file)

    @property
    def passed_over(self) -> list[str]:
        """A sentence for each file that is named otherwise than it should be."""
        return [*self._passed_over.values()]

    def tell_passed_over(self) -> None:
        """Tell them on the error output, where no report does."""
        for sentence in self.passed_over:
            _tell(sentence)

    @contextmanager
    def goes_on(self) -> Iterator[None]:
        """What can't be done in here is one more, and the work on others goes on."""
        try:
            yield
        except CannotWork as reason:
            self.add(str(reason))


def plan_paths(named: Iterable[str], unread: Unread, *, of_studios: bool = False) -> list[str]:
    """The plans that are named, and those in the folders that are named, in order, each once.

    With `of_studios`, a studio's file that is named stands for the plans it holds for, if any, and
    one that only looks like it is added to `unread`, as is a folder that can't be read or holds no
    plan.
    """
    found: dict[str, None] = {}
    for name in named:
        path = Path(name)
        if not name:
            unread.add("the name of a plan or folder is empty")
        elif os.path.isdir(name):
            before = unread.number
            inside = plans_in(name, unread)
            found.update(dict.fromkeys(inside))
            if not inside and unread.number == before:
                shown = one_line(name)
                unread.add(f"no plan found: the folder {shown} has no file ending in {ENDING}")
        elif of_studios and is_studio_file(path):
            found.update(dict.fromkeys(plans_in(os.path.dirname(name) or ".", unread)))
        elif of_studios and is_like_studio_file(path):
            unread.add(_not_read(path))
        else:
            found[name] = None
            if (right := _plan_name(path.name)) != path.name and _is_so(path.is_file):
                told = "was read as it is named here, but no check of its folder reads it"
                unread.pass_over(path, f"{one_line(name)} {told}: {_rename(path, right)}")
    return list(found)


def _plan_name(name: str) -> str:
    """What a file should be called whose name is much like one of a plan; else the name it has.

    `MONDAY.FIRING` is one, and `monday.firing.txt`, which some editors make of it.
    """
    stem = name[:-4] if name.lower().endswith(".txt") else name
    return stem[: -len(ENDING)] + ENDING if stem.lower().endswith(ENDING) else name


def _not_read(path: Path) -> str:
    right = STUDIO_FILE if is_like_studio_file(path) else _plan_name(path.name)
    return f"{one_line(as_opened(path))} was not read: {_rename(path, right)}"


def _rename(path: Path, right: str) -> str:
    is_there = _is_so(path.with_name(right).exists)
    return one_line(f"there is {right} beside it" if is_there else f"rename it to {right}")


def plans_in(folder: str, unread: Unread) -> list[str]:
    """The plans in a folder and its folders; hidden ones and links to folders are left out.

    Files that are named much like a plan or the studio's file are passed over.
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
                if _plan_name(name) != name or is_like_studio_file(path):
                    unread.pass_over(path)
            elif _is_so(path.is_fifo):
                # Nobody may ever write into a pipe; one that is named is read.
                unread.add(f"{one_line(str(path))} can't be read: it is no file")
            else:
                plans.append(path)
    return [str(plan) for plan in sorted(plans)]


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
