"""The file as a person saved it: decoded, cut into lines; and what a fault of its text is."""

import re
import stat
from codecs import BOM_UTF8
from pathlib import Path

from attrs import define, frozen

from guardcone.span import Span

__all__ = [
    "ENDING",
    "MAXIMUM_BYTES",
    "OutOfSense",
    "SourceLine",
    "SourceText",
    "TextFault",
    "UnreadablePlan",
    "begins_at",
    "decode",
    "load_source",
    "load_text",
    "split_lines",
]


# The name of a plan ends so.
ENDING = ".firing"
# A plan is a page; ten megabytes is a whole studio's plans in one file, and anything larger is
# some other file given by mistake.
MAXIMUM_BYTES = 10_000_000

# What closes a name that one of these opens. A double quote of any shape closes one of any other:
# word processors turn them this way and that.
_CLOSING = {"«": "»", "‘": "’"} | dict.fromkeys('"“”„', '"“”')
_DOUBLE_QUOTES = '"“”'
_BYTE_ORDER_MARK = "\ufeff"
_LINE_END = re.compile(r"\r\n|\r|\n")
# Blanks, with the ones that have no width: people paste them without seeing. Then the mark or the
# number of a list, which says nothing: `- climb ...`, `2) hold ...`, `step 1: ...`, `3 hold 2 h`.
_BEGINNING = re.compile(
    r"[\s\u200b\ufeff]*(?:(?:[-*•–]|\(?[0-9]{1,2}[.)]|(?:step|segment|seg|ramp)\s*[0-9]{1,2}"
    r"(?:\s*[:.)]|(?=\s+[0-9])))\s+(?=\S)"
    r"|[0-9]{1,2}\s+(?=(?:climb|ramp|heat|full power|hold|soak|cool|crash|open)\s"
    r"(?:(?:at|to|for|from|freely|crash|below)\s)*[0-9]"
    r"|[0-9.]+\s?°?[CF]\s?(?:/|per)\s?h))?",
    re.IGNORECASE,
)


class UnreadablePlan(Exception):
    """The file can't be read as a plan at all; the message says why, for people."""


@frozen(repr=False)
class SourceLine:
    """One line: its whole text, and how much of it is plan rather than comment and blanks."""

    number: int
    text: str
    code_start: int
    code_end: int
    open_quote: int | None = None

    @property
    def code(self) -> str:
        """The text up to the comment, with its indentation and without trailing blanks."""
        return self.text[: self.code_end]

    @property
    def comment(self) -> str:
        """The comment with its `#`, without trailing blanks; empty if there is none."""
        start = self.text.find("#", self.code_end)
        return self.text[start:].rstrip() if start >= 0 else ""

    @property
    def blank(self) -> bool:
        """True if nothing but blanks and perhaps a comment stands here."""
        return self.code_start == self.code_end

    @property
    def span(self) -> Span:
        """The place of the plan text of this line."""
        return Span(self.number, self.code_start + 1, self.code_end + 1)


@frozen(repr=False)
class SourceText:
    """A plan's file: the name it is called by in findings, and its lines."""

    name: str
    lines: tuple[SourceLine, ...]

    def line(self, number: int) -> str:
        """The text of a line counted from 1; empty past the end."""
        return self.lines[number - 1].text if 0 < number <= len(self.lines) else ""


def load_source(path: Path) -> SourceText:
    """Read the file at `path`.

    Raises UnreadablePlan where it is missing, no ordinary file, too large, or not UTF-8 text.
    """
    return SourceText(str(path), split_lines(load_text(path).removeprefix(_BYTE_ORDER_MARK)))


def load_text(path: Path) -> str:
    """The text of the file at `path` as it was saved, with its byte order mark if it has one.

    Raises UnreadablePlan as `load_source` does.
    """
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise UnreadablePlan(f"{path} is a folder, not a plan")
        if not (stat.S_ISREG(status.st_mode) or stat.S_ISFIFO(status.st_mode)):
            raise UnreadablePlan(f"{path} is a device or socket, not a plan")
        with path.open("rb") as file:
            content = file.read(MAXIMUM_BYTES + 1)
    except (OSError, ValueError) as error:  # ValueError: a path that no file can have
        reason = getattr(error, "strerror", None) or str(error)
        raise UnreadablePlan(f"{path} can't be read: {reason[:1].lower()}{reason[1:]}") from error
    text = decode(content, str(path))
    return f"{_BYTE_ORDER_MARK}{text}" if content.startswith(BOM_UTF8) else text


def decode(content: bytes, name: str) -> str:
    """The text in `content`, without a byte order mark.

    Raises UnreadablePlan where it is too large to be a plan or not UTF-8 text.
    """
    if len(content) > MAXIMUM_BYTES:
        raise UnreadablePlan(
            f"{name} is too large to be a plan: "
            f"the limit is {MAXIMUM_BYTES // 1_000_000} MB ({MAXIMUM_BYTES:,} bytes)"
        )
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise UnreadablePlan(f"{name} is UTF-16 text; save it as UTF-8")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = _line_after(content[: error.start].decode("utf-8-sig"))
        raise UnreadablePlan(
            f"{name} is not UTF-8 text: line {line} has the byte 0x{content[error.start]:02x}; "
            "save it as UTF-8"
        ) from error
    if "\0" in text:
        line = _line_after(text[: text.index("\0")])
        raise UnreadablePlan(f"{name} is not text: line {line} has a zero byte")
    return text


def _line_after(text: str) -> int:
    return sum(1 for _ in _LINE_END.finditer(text)) + 1


def split_lines(text: str) -> tuple[SourceLine, ...]:
    """The lines of `text`; `\\n`, `\\r\\n` and `\\r` end one, and nothing else does."""
    lines = _LINE_END.split(text)
    if lines[-1] == "":
        lines.pop()
    return tuple(_source_line(number, line) for number, line in enumerate(lines, 1))


def _source_line(number: int, text: str) -> SourceLine:
    end, open_quote = _code_end(text)
    code = text[:end].rstrip()
    while code[-1:] in ("\u200b", "\ufeff"):
        code = code.rstrip("\u200b\ufeff").rstrip()
    if open_quote is None:
        code = code.rstrip("! ") or code  # `vent on!!` says no more than `vent on`
    return SourceLine(number, text, begins_at(code), len(code), open_quote)


def begins_at(code: str) -> int:
    """The column (from 0) at which a line begins to say something."""
    found = _BEGINNING.match(code)
    return found.end() if found else 0


def _code_end(text: str) -> tuple[int, int | None]:
    """Where the comment begins, and where a quote opens that is never closed.

    A `#` within quotes is part of the name. An inch sign (`1/4"`) opens no quote.
    """
    if '"' not in text and "#" not in text and text.isascii():
        return len(text), None
    closing, opened = "", 0
    for at, letter in enumerate(text):
        if closing:
            if letter in closing:
                closing = ""
        elif letter == "#":
            return at, None
        elif letter in _CLOSING and not (
            letter in _DOUBLE_QUOTES and text[max(at - 1, 0) : at].isnumeric()
        ):
            closing, opened = _CLOSING[letter], at
    if not closing:
        return len(text), None
    comment = text.find("#", opened)
    return (comment if comment >= 0 else len(text)), opened


@frozen(repr=False)
class TextFault:
    """One thing wrong with how the plan is written.

    `rule` is the name under which the rule book explains it, `found` says what is wrong,
    `repair` what may stand there, `line` is one right line (or empty). Where only one thing can be
    meant `mended` is the line as it is to be; where `line` is to be written too, it goes `below`
    that place. Of what is said twice, `first` is the place that says it first, and that is used. Of
    several lines that are told as one `until` is the last.
    """

    rule: str
    span: Span
    found: str
    repair: str
    line: str = ""
    mended: str = ""
    below: Span | None = None
    first: Span | None = None
    until: int = 0


@define(repr=False)
class OutOfSense(Exception):
    """A value that is spelled right and can't be meant: cone 00, a hold of -5 min, month 13."""

    fault: TextFault
