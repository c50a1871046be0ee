"""Room: the command line; here everything that is written to the terminal, and how."""

import os
import re
import sys
from typing import TextIO

from attrs import define

from guardcone.reports.style import Style

__all__ = ["CannotWork", "Output"]


class CannotWork(Exception):
    """The program can't do what was asked; the message says why, for people."""


@define
class Output:
    """Where the reports go, and what the place can show."""

    stream: TextIO
    style: Style

    @classmethod
    def of_terminal(cls, colour: str) -> "Output":
        """Standard output; colour only on a terminal, and not where NO_COLOR is set.

        (https://no-color.org: set and not empty means no colour.)
        """
        stream = sys.stdout
        on_terminal = stream.isatty()
        wanted = colour == "always" or (
            colour == "auto"
            and on_terminal
            and not os.environ.get("NO_COLOR")
            and os.environ.get("TERM") != "dumb"
        )
        return cls(stream, Style(wanted, _can_show(stream)))

    def write(self, text: str) -> None:
        """Write text; letters the output can't show are replaced, never an error.

        A plan may hold control characters; only our own colours reach the terminal as such.
        """
        encoding = self.stream.encoding or "utf-8"
        text = (_NOT_OUR_COLOUR if self.style.colour else _CONTROL).sub(
            "\N{REPLACEMENT CHARACTER}", text
        )
        self.stream.write(text.encode(encoding, "replace").decode(encoding))

    def flush(self) -> None:
        """Hand everything over, so that an error is an error now."""
        self.stream.flush()

    def give_up(self) -> None:
        """Nobody reads any more: let the rest go nowhere, without a second error at exit."""
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, self.stream.fileno())


# Marks that turn the direction of writing round could make a line read as another (UAX #9).
_TURNING = r"\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
_CONTROL = re.compile(rf"[\x00-\x08\x0b-\x1f\x7f-\x9f{_TURNING}]")
_NOT_OUR_COLOUR = re.compile(
    rf"[\x00-\x08\x0b-\x1a\x1c-\x1f\x7f-\x9f{_TURNING}]|\x1b(?!\[[0-9;]*m)"
)


def _can_show(stream: TextIO) -> bool:
    try:
        "▲‹›°½…".encode(stream.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
