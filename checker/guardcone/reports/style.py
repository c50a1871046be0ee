"""The signs and colours, and how text is wrapped."""

import textwrap
from collections.abc import Iterable, Mapping

from attrs import frozen

from guardcone.reports.terminal import cleaned, one_line, painted
from guardcone.rulebook.rule import Consequence

__all__ = ["Style", "count", "counts", "wrapped"]

# From glowing to warm, the way a kiln cools: a person sees at once where to look first.
_COLOURS = {
    Consequence.DANGER: "1;37;41",
    Consequence.LOSS: "1;31",
    Consequence.DOUBT: "33",
    Consequence.ADVICE: "2",
}
_PLURALS = {
    Consequence.DANGER: ("danger", "dangers"),
    Consequence.LOSS: ("loss", "losses"),
    Consequence.DOUBT: ("doubt", "doubts"),
    Consequence.ADVICE: ("piece of advice", "pieces of advice"),
}


@frozen
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
        text = text.replace(" °", " ")
        for letter, spelled in _SPELLED.items():
            text = text.replace(letter, spelled)
        return text.encode("ascii", "replace").decode("ascii")


_SPELLED: Mapping[str, str] = {
    "°": " degrees",
    "½": " 1/2",
    "…": "...",
    "–": "-",
    "—": "-",
    "“": '"',
    "”": '"',
    "’": "'",
    "×": "x",
    "±": "+-",
    "²": "2",
    "³": "3",
}


def wrapped(
    text: str, width: int, first: str, rest: str, *, break_words: bool = False
) -> list[str]:
    """The text in lines of at most `width` columns, `first` before the first, `rest` before others.

    Words are not broken, so that a name or a number stays whole, unless `break_words` allows it for
    one that is wider than a line.
    """
    return textwrap.wrap(
        cleaned(text),
        width,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=break_words,
        break_on_hyphens=False,
    ) or [first.rstrip()]


def count(number: int, one: str, many: str) -> str:
    """`1 plan`, `2 plans`, `no plans`."""
    return f"{number or 'no'} {one if number == 1 else many}"


def counts(numbers: Mapping[Consequence, int]) -> str:
    """`1 danger, 2 doubts`; only what there is, the worst first."""
    found = [
        count(numbers[consequence], *_PLURALS[consequence])
        for consequence in Consequence
        if numbers.get(consequence)
    ]
    return ", ".join(found) or "nothing found"
