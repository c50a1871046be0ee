"""Everything that is written to the terminal, and how."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

from attrs import define

from guardcone.reports.page import LEAST_WIDTH, Style, cleaned, for_terminal

__all__ = ["CannotWork", "Output", "file_work", "write_error"]


class CannotWork(Exception):
    """The program can't do what was asked; the message says why, for people."""


@contextmanager
def file_work(failed: str) -> Iterator[None]:
    """What goes wrong with a file in here is a reason why the program can't work."""
    try:
        yield
    except OSError as error:
        raise CannotWork(f"{failed}: {error.strerror}") from error


@define(repr=False)
class Output:
    """Where the reports go, and what the place can show."""

    stream: TextIO
    style: Style

    @classmethod
    def of_terminal(cls, colour: str) -> "Output":
        """Standard output; colour only on a terminal, and not where NO_COLOR is set.

        (https://no-color.org: set and not empty means no colour.)
        """
        # Without the error output too: what it would say must not go unsaid.
        if sys.stdout is None or sys.stderr is None:
            raise CannotWork("standard output or error output is closed, so nothing can be told")
        stream = sys.stdout
        on_terminal = stream.isatty()
        wanted = colour == "always" or (
            colour == "auto"
            and on_terminal
            and not os.environ.get("NO_COLOR")
            and os.environ.get("TERM") != "dumb"
        )
        # A report is set for a page; only a narrow screen makes it narrower.
        page = Style().width
        width = page
        if on_terminal or os.environ.get("COLUMNS"):
            from shutil import get_terminal_size  # a file has no width

            width = min(page, max(LEAST_WIDTH, get_terminal_size((page, 24)).columns))
        return cls(stream, Style(wanted, _can_show(stream), width))

    def write(self, text: str) -> None:
        """Write text; letters the output can't show are replaced, never an error.

        A plan may hold control characters; only our own colours reach the terminal as such.
        """
        text = for_terminal(text)
        with self._writing():
            self.stream.write(_encodable(text, self.stream, "replace"))

    def write_as_it_is(self, text: str) -> None:
        """Write a text that is to be kept, such as a plan; raises CannotWork rather than change it.

        Other programs read it, and a terminal may too, so it must not act on one.
        """
        if cleaned(text) != text or _encodable(text, self.stream, "replace") != text:
            raise CannotWork("the plan has letters that this output can't take as they are")
        self.write(text)

    def flush(self) -> None:
        """Hand everything over, so that an error is an error now."""
        with self._writing():
            self.stream.flush()

    @contextmanager
    def _writing(self) -> Iterator[None]:
        try:
            yield
        except BrokenPipeError:
            self._give_up()
            raise
        except (OSError, ValueError) as error:  # ValueError: the stream was closed meanwhile
            self._give_up()
            reason = getattr(error, "strerror", None) or error
            raise CannotWork(f"the report could not be written: {reason}") from error

    def _give_up(self) -> None:
        """Nobody reads any more: let the rest go nowhere, without a second error at exit."""
        with suppress(OSError, ValueError):  # a stream without a file has nothing to redirect
            os.dup2(os.open(os.devnull, os.O_WRONLY), self.stream.fileno())


def write_error(text: str) -> None:
    """Tell something on the error output; nothing in it acts on a terminal.

    Where nobody can be told, the exit status says it alone.
    """
    if sys.stderr is not None:
        with suppress(OSError, ValueError):
            sys.stderr.write(_encodable(f"{for_terminal(text)}\n", sys.stderr, "backslashreplace"))


def _encodable(text: str, stream: TextIO, otherwise: str) -> str:
    """The text with letters that the stream has no code for replaced."""
    encoding = stream.encoding or "utf-8"
    return text.encode(encoding, otherwise).decode(encoding)


def _can_show(stream: TextIO) -> bool:
    try:
        "▲‹›°½…".encode(stream.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
