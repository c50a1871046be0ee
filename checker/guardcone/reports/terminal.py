"""Text is made fit for a terminal: no plan can steer it or hide on it.

A report says which of its text is strong or coloured with a mark that nobody outside this run of
the program can know; all else that a terminal would act on or not show is replaced by U+FFFD.
"""

import re
import secrets

__all__ = ["cleaned", "for_terminal", "one_line", "painted"]

_REPLACED = "\N{REPLACEMENT CHARACTER}"
# The zero can't stand in a plan or a file name, and the rest can't be guessed.
_MARK = f"\0{secrets.token_hex(16)}"
_PAINT = re.compile(rf"{_MARK}(\[[0-9;]*m)")
# Control characters but for tab and line feed (DEL and C1 among them), what turns the direction of
# writing round (UAX #9), what has no width or no ink (default-ignorable, UAX #44; tags; fillers),
# other line ends, and halves of characters.
_ACTS_OR_HIDES = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f"
    "\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ud800-\udfff\ufe00-\ufe0f\ufeff\uffa0"
    "\ufff0-\ufffb\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)


def painted(text: str, codes: str) -> str:
    """The text marked to be shown with these codes (ECMA-48, SGR), as `1` for bold."""
    return f"{_MARK}[{codes}m{text}{_MARK}[0m"


def cleaned(text: str) -> str:
    """The text letter for letter, with U+FFFD for each that acts on a terminal or hides."""
    # Every second piece is a mark of ours.
    return "".join(
        f"{_MARK}{piece}" if number % 2 else _ACTS_OR_HIDES.sub(_REPLACED, piece)
        for number, piece in enumerate(_PAINT.split(text))
    )


def one_line(text: str) -> str:
    """The text cleaned, and kept on one line: the name of a file may hold line ends."""
    return cleaned(text).replace("\n", _REPLACED)


def for_terminal(text: str) -> str:
    """The text cleaned, and our own marks as the sequences that a terminal colours by."""
    return _PAINT.sub("\033\\1", cleaned(text))
