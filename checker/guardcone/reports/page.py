"""A page of plain text: headings, paragraphs and tables within a width."""

import re
from textwrap import wrap

from attrs import define, field

from guardcone.reports.marked_line import width_of
from guardcone.reports.style import Style, wrapped
from guardcone.reports.terminal import cleaned

__all__ = ["Page"]

LEAST_WIDTH = 40
LAST_LEAST = 9  # columns the last column of a table keeps while others can give way
GAP = 2
# A number and its unit stay on one line.
_MEASURE = re.compile(
    r"(?<=\d) (?=(?:°[CF]|[CFh]|min|mm|in|kWh|o'clock)(?![a-z]))"
    r"|(?<=\d h) (?=\d)|(?<=\bcone) (?=\d)"
)
_FAST = "\N{NO-BREAK SPACE}"


@define
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
        for line in self._wrapped(text, 0, 0):
            self.lines.append(self.style.strong(line))

    def paragraph(self, text: str, indent: int = 2, hang: int = 0) -> None:
        """A paragraph; lines after the first go `hang` further in."""
        self.lines += self._wrapped(text, indent, hang)

    def points(self, texts: list[str], indent: int = 2) -> None:
        """One point a paragraph, each behind a dash."""
        for text in texts:
            self.lines += self._wrapped(f"- {text}", indent, 2)

    def blank(self) -> None:
        """An empty line."""
        self.lines.append("")

    def table(self, rows: list[list[str]], indent: int = 2) -> None:
        """Rows in columns; where the page is too narrow the last gives way first, then the widest.

        A column gives way by wrapping what stands in it.
        """
        if not rows:
            return
        count = max(len(row) for row in rows)
        rows = [[*map(cleaned, row), *[""] * (count - len(row))] for row in rows]
        widths = [max(width_of(row[column]) for row in rows) for column in range(count)]
        room = self.width - indent - GAP * (count - 1)
        over = sum(widths) - room
        if over > 0:
            widths[-1] = max(min(widths[-1], LAST_LEAST), widths[-1] - over)
        while sum(widths) > room and max(widths) > 4:
            widths[widths.index(max(widths))] -= 1
        for row in rows:
            cells = [self._cell(text, widths[at]) for at, text in enumerate(row)]
            for depth in range(max(len(cell) for cell in cells)):
                parts = [
                    _padded(cell[depth] if depth < len(cell) else "", widths[at])
                    for at, cell in enumerate(cells)
                ]
                self.lines.append((" " * indent + (" " * GAP).join(parts)).rstrip())

    @staticmethod
    def _cell(text: str, width: int) -> list[str]:
        lines = wrap(_MEASURE.sub(_FAST, text), width, break_on_hyphens=False)
        return [line.replace(_FAST, " ") for line in lines] or [""]

    def text(self) -> str:
        """The whole page, ending with a line end."""
        return self.style.page(self.lines)

    def _wrapped(self, text: str, indent: int, hang: int) -> list[str]:
        first, rest = " " * indent, " " * (indent + hang)
        lines = wrapped(
            _MEASURE.sub(_FAST, cleaned(text)), self.width, first, rest, break_words=True
        )
        return [line.replace(_FAST, " ") for line in lines]


def _padded(text: str, width: int) -> str:
    return text + " " * max(0, width - width_of(text))
