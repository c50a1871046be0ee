"""Places of a plan that still say what a person has to write there: `"fill in who fires"`."""

import re

from guardcone.language.faults import TextFault
from guardcone.language.source import SourceLine
from guardcone.span import Span

__all__ = ["is_to_fill_in", "still_to_fill_in"]

_FILL_IN = re.compile(r"\s*fill[\s\-\u2010\u2011]*in(?!\w)", re.IGNORECASE)
# A text in any kind of quotes; after a figure a double quote is an inch sign.
_QUOTED = re.compile(
    r"(?<![0-9½⅓⅔¼¾⅛⅜⅝⅞])[\"“”„]([^\"“”„]*)[\"“”]|‘([^‘’]*)’|(?<!\w)'([^'\"]*)'|«([^»]*)»"
)


def is_to_fill_in(text: str) -> bool:
    """True for a text that says what is to be filled in instead of it."""
    return bool(_FILL_IN.match(text))


def still_to_fill_in(line: SourceLine) -> TextFault | None:
    """The fault of a line with places to fill in, at the first of them; one for the line."""
    found = [quoted for quoted in _QUOTED.finditer(line.code) if is_to_fill_in(_inner(quoted))]
    if not found:
        return None
    wanted = "; ".join(dict.fromkeys(" ".join(_inner(quoted).split()) for quoted in found))
    return TextFault(
        "still-to-fill-in",
        Span(line.number, found[0].start() + 1, found[0].end() + 1),
        f"This still says what is wanted here: {wanted}.",
        "Write that instead; quotes stay only around names and free text.",
    )


def _inner(quoted: re.Match[str]) -> str:
    return next(group for group in quoted.groups() if group is not None)
