"""A page of plain text for a terminal: signs, colours, paragraphs, tables, marked lines.

A report says which of its text is strong or coloured with a mark that nobody outside this run of
the program can know; all else that a terminal would act on or not show is replaced by U+FFFD.
"""

import os
import re
import unicodedata
from collections.abc import Iterable, Mapping
from itertools import accumulate, takewhile, zip_longest
from textwrap import wrap

from attrs import define, field, frozen

from guardcone.documents import document_text
from guardcone.rulebook.rule import Consequence
from guardcone.span import Span

__all__ = [
    "SEEN",
    "Page",
    "Style",
    "cleaned",
    "count",
    "counts",
    "for_terminal",
    "marked_line",
    "one_line",
    "painted",
    "paragraphs",
    "reminder",
    "width_of",
]


_REPLACED = "\N{REPLACEMENT CHARACTER}"
# The zero can't stand in a plan or a file name, and the rest can't be guessed.
_MARK = f"\0{os.urandom(16).hex()}"
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


# From glowing to warm, the way a kiln cools: a person sees at once where to look first.
_COLOURS = {
    Consequence.DANGER: "1;37;41",
    Consequence.LOSS: "1;31",
    Consequence.DOUBT: "33",
    Consequence.ADVICE: "2",
}
# One and many, where it is not the word and an s.
_COUNTED = {
    Consequence.LOSS: ("loss", "losses"),
    Consequence.ADVICE: ("piece of advice", "pieces of advice"),
}


@frozen(repr=False)
class Style:
    """How a report is drawn: colour or none, letters beyond ASCII or not, columns."""

    colour: bool = False
    unicode: bool = True
    width: int = 80

    @property
    def marks(self) -> tuple[str, str]:
        """The signs around the place in a quoted line."""
        return ("‹", "›") if self.unicode else ("[[", "]]")

    def cones(self, consequence: Consequence) -> str:
        """Four standing cones for danger, down to one for advice."""
        sign = "▲" if self.unicode else "*"
        return (sign * (4 - consequence.rank)).ljust(4)

    def weigh(self, text: str, consequence: Consequence) -> str:
        """The text in the colour of its consequence."""
        return painted(text, _COLOURS[consequence]) if self.colour else text

    def strong(self, text: str) -> str:
        """The text in bold letters."""
        return painted(text, "1") if self.colour and text else text

    def page(self, lines: Iterable[str]) -> str:
        """The lines as one text; what is in one of them can't begin another."""
        return self.plain("".join(f"{one_line(line)}\n" for line in lines))

    def plain(self, text: str) -> str:
        """The text in letters that the output can show."""
        if self.unicode:
            return text
        # 95 °C becomes 95 C, without a second blank.
        text = text.replace(" °", " ").translate(_SPELLED)
        return text.encode("ascii", "replace").decode("ascii")

    def wrapped(self, text: str, first: str = "", hang: int = 0) -> list[str]:
        """The text in lines as wide as the page, `first` before the first, others as far in.

        They are `hang` further in. Words are not broken, so that a name or a number stays whole.
        """
        return _wrapped(text, self.width, first, hang, break_words=False)


_ONE_FOR_ONE = dict(zip("–—“”’×²³", '--""\'x23', strict=True))
_SPELLED = str.maketrans({"°": " degrees", "½": " 1/2", "…": "...", "±": "+-", **_ONE_FOR_ONE})


def _wrapped(text: str, width: int, first: str, hang: int, *, break_words: bool) -> list[str]:
    return wrap(
        cleaned(text),
        width,
        initial_indent=first,
        subsequent_indent=" " * (len(first) + hang),
        break_long_words=break_words,
        break_on_hyphens=False,
    ) or [first.rstrip()]


def paragraphs(text: str) -> list[str]:
    """The paragraphs of a text of a document, each on one line."""
    return [" ".join(paragraph.split()) for paragraph in text.strip().split("\n\n")]


def count(number: int, one: str, many: str = "") -> str:
    """`1 plan`, `2 plans`, `no plans`; `many` where it is not the word and an s."""
    return f"{number or 'no'} {one if number == 1 else many or f'{one}s'}"


def counts(numbers: Mapping[Consequence, int]) -> str:
    """`1 danger, 2 doubts`; only what there is, the worst first."""
    found = [
        count(numbers[consequence], *_COUNTED.get(consequence, (consequence.value,)))
        for consequence in Consequence
        if numbers.get(consequence)
    ]
    return ", ".join(found) or "nothing found"


_CUT = "…"


def width_of(text: str) -> int:
    """How many columns a terminal needs for `text`: wide letters two, combining marks none."""
    return sum(
        2 if unicodedata.east_asian_width(letter) in "WF" else 1
        for letter in text
        if not unicodedata.combining(letter)
        and unicodedata.category(letter) not in ("Mn", "Me", "Cf")
    )


def marked_line(line: str, span: Span, width: int, marks: tuple[str, str]) -> tuple[str, str, str]:
    """The line in three parts, the middle one being the place, cut to `width` columns.

    The signs `marks` stand around the place, unless it is all the text there is on the line.
    Tabs and other blanks become one blank each, so that the marks are where they seem to be.
    """
    line = re.sub(r"\s", " ", cleaned(line))  # letter for letter, so places stay
    before = line[: span.start - 1].lstrip()
    place = span.of(line)
    after = line[span.end - 1 :].rstrip()
    if before or (after and not after.lstrip().startswith("#")):
        place = f"{marks[0]}{place}{marks[1]}"
    room = width - width_of(place)
    if width_of(before) + width_of(after) > room:
        keep_before = min(width_of(before), max(room // 2, room - width_of(after)))
        # Turned round, so that the end is what is kept.
        before = _cut(before[::-1], max(keep_before, 0))[::-1]
        after = _cut(after, max(room - width_of(before), 0))
    return before, _cut(place, width), after


def _cut(text: str, columns: int) -> str:
    """The beginning of a text that is too long, with a sign of that."""
    if width_of(text) <= columns:
        return text
    needed = accumulate(map(width_of, text))
    kept = sum(1 for _ in takewhile(lambda width: width < columns, needed))
    return text[:kept] + _CUT if columns > 0 else ""


# Said where nothing is left to mend, so that nobody takes that for more than it is.
SEEN = (
    "What was read is the text alone. Nothing here has seen the kiln, its wiring or gas, the vent, "
    "the ware, or who is really there."
)


def reminder() -> str:
    """The reminder and the referral to codes, manuals and trades, as one line."""
    return " ".join(document_text("rules", "reminder.txt").split())


LEAST_WIDTH = 40
NARROW = 60  # columns below which several columns of words read worse than a line of each
LAST_LEAST = 9  # columns the last column of a table keeps while others can give way
GAP = 2
# A number and its unit stay on one line.
_MEASURE = re.compile(
    r"(?<=\d) (?=(?:°[CF]|[CFh]|min|mm|in|kWh|o'clock)(?![a-z]))"
    r"|(?<=\d h) (?=\d)|(?<=\bcone) (?=\d)"
)
_FAST = "\N{NO-BREAK SPACE}"


@define(repr=False)
class Page:
    """Lines of text as they come; no line is wider than `width`."""

    style: Style
    lines: list[str] = field(factory=list)

    @property
    def width(self) -> int:
        """The columns of the page."""
        return max(LEAST_WIDTH, self.style.width)

    def heading(self, text: str) -> None:
        """A heading, set off by an empty line."""
        if self.lines:
            self.lines.append("")
        self.lines += map(self.style.strong, _measured(text, self.width))

    def paragraph(self, text: str, indent: int = 2, hang: int = 0) -> None:
        """A paragraph; lines after the first go `hang` further in."""
        self.lines += _measured(text, self.width, indent, hang)

    def points(self, texts: Iterable[str]) -> None:
        """One point a paragraph, each behind a dash."""
        for text in texts:
            self.paragraph(f"- {text}", hang=2)

    def weighed(self, consequence: Consequence, text: str) -> None:
        """A line under the sign and the word of its weight."""
        told = f"{self.style.cones(consequence)} {consequence.value}, {text}"
        lines = _measured(told, self.width, hang=5)
        self.lines += [self.style.weigh(line, consequence) for line in lines]

    def blank(self) -> None:
        """An empty line."""
        self.lines.append("")

    def table(self, rows: list[list[str]], indent: int = 2) -> None:
        """Rows in columns; where the page is too narrow the last gives way first, then the widest.

        A column gives way by wrapping what stands in it.
        """
        if not rows:
            return
        columns = [*zip_longest(*(map(cleaned, row) for row in rows), fillvalue="")]
        widths = [max(1, *map(width_of, column)) for column in columns]
        room = self.width - indent - GAP * (len(columns) - 1)
        over = sum(widths) - room
        if over > 0:
            widths[-1] = max(min(widths[-1], LAST_LEAST), widths[-1] - over)
        while sum(widths) > room and max(widths) > 4:
            widths[widths.index(max(widths))] -= 1
        for row in zip(*columns, strict=True):
            cells = [_measured(text, width) for text, width in zip(row, widths, strict=True)]
            for parts in zip_longest(*cells, fillvalue=""):
                line = (" " * GAP).join(map(_padded, parts, widths))
                self.lines.append((" " * indent + line).rstrip())

    def records(self, heads: list[str], rows: list[list[str]], indent: int = 4) -> None:
        """Rows in columns under their heads; on a narrow page each is a paragraph.

        What has no head is the name of its row.
        """
        if self.width >= NARROW:
            self.table([heads, *rows], indent)
            return
        for row in rows:
            told = dict(zip(heads, row, strict=False))
            name = told.pop("")
            cells = "; ".join(f"{head} {cell}" for head, cell in told.items() if cell)
            self.paragraph(f"{name}: {cells}", indent, 2)

    def text(self) -> str:
        """The whole page, ending with a line end."""
        return self.style.page(self.lines)


def _measured(text: str, width: int, indent: int = 0, hang: int = 0) -> list[str]:
    """The text in lines, with each number beside its unit; a word wider than a line is broken."""
    kept = _MEASURE.sub(_FAST, cleaned(text))
    lines = _wrapped(kept, width, " " * indent, hang, break_words=True)
    return [line.replace(_FAST, " ") for line in lines]


def _padded(text: str, width: int) -> str:
    return text + " " * max(0, width - width_of(text))
