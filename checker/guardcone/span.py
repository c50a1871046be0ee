"""Where a piece of text stands in its file; what every finding points with."""

from collections.abc import Iterator
from typing import Generic, TypeVar

from attrs import frozen

__all__ = ["Span", "Words", "Written"]

Value = TypeVar("Value", covariant=True)


@frozen(order=True, repr=False)
class Span:
    """A stretch of one line.

    `line` counts from 1. `start` and `end` are columns in characters (code points, a tab is one)
    counted from 1; `end` is the column just after the last character.
    """

    line: int
    start: int
    end: int

    @property
    def order(self) -> tuple[int, int, int]:
        """What to sort many by: quicker than the spans themselves."""
        return self.line, self.start, self.end

    def of(self, text: str) -> str:
        """The characters of the line `text` that this span covers."""
        return text[self.start - 1 : self.end - 1]

    def __contains__(self, other: "Span") -> bool:
        """True for a span that begins within this one."""
        return self.line == other.line and self.start <= other.start < self.end

    def moved(self, column: int, by: int) -> "Span":
        """The span where what stands behind a column of its line stands `by` columns further on."""
        start, end = (at + by if at > column else at for at in (self.start, self.end))
        return Span(self.line, start, end)

    def to(self, other: "Span") -> "Span":
        """The span from the beginning of this one to the end of `other`, on the same line."""
        return Span(self.line, min(self.start, other.start), max(self.end, other.end))


@frozen(repr=False)
class Written(Generic[Value]):
    """A value together with the place where a person wrote it."""

    value: Value
    span: Span

    def __iter__(self) -> Iterator[object]:
        """Unpack as `value, span = written`."""
        return iter((self.value, self.span))


Words = tuple[Written[str], ...]
