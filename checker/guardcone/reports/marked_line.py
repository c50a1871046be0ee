"""A line of the plan is quoted with the place marked in it."""

import re
import unicodedata

from guardcone.reports.terminal import cleaned
from guardcone.span import Span

__all__ = ["marked_line", "width_of"]

_CUT = "…"


def width_of(text: str) -> int:
    """How many columns a terminal needs for `text`: wide letters two, combining marks none."""
    columns = 0
    for letter in text:
        if unicodedata.combining(letter) or unicodedata.category(letter) in ("Mn", "Me", "Cf"):
            continue
        columns += 2 if unicodedata.east_asian_width(letter) in "WF" else 1
    return columns


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
        before = _last(before, max(keep_before, 0))
        after = _first(after, max(room - width_of(before), 0))
    if width_of(place) > width:
        place = _first(place, width)
    return before, place, after


def _first(text: str, columns: int) -> str:
    if width_of(text) <= columns:
        return text
    while text and width_of(text) > columns - 1:
        text = text[:-1]
    return text + _CUT if columns > 0 else ""


def _last(text: str, columns: int) -> str:
    if width_of(text) <= columns:
        return text
    while text and width_of(text) > columns - 1:
        text = text[1:]
    return _CUT + text if columns > 0 else ""
