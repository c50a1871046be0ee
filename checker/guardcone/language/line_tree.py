"""What a parsed line is made of: named parts that hold written values."""

from collections.abc import Iterator
from typing import TypeVar, cast

from attrs import frozen

from guardcone.span import Span, Written

__all__ = ["Keyword", "Part", "Quoted"]

T = TypeVar("T")


class Keyword(str):
    """A word of the grammar, under the name of its terminal: `bone-dry` for any spelling of it."""

    __slots__ = ()


class Quoted(str):
    """A name that stood in quotes, without them."""

    __slots__ = ()


@frozen
class Part:
    """A rule of the grammar that was met, with what it holds, in the order written."""

    name: str
    children: "tuple[Part | Written[object], ...]"

    def parts(self, name: str, *further: str) -> "Iterator[Part]":
        """Every part of this name directly within this one, or what further names lead to."""
        for child in self.children:
            if isinstance(child, Part) and child.name == name:
                yield from child.parts(*further) if further else (child,)

    def part(self, name: str, *further: str) -> "Part | None":
        """The first part that these names lead to."""
        return next(self.parts(name, *further), None)

    def values(self, kind: type[T], *within: str) -> Iterator[Written[T]]:
        """Every value of this kind directly within this part, or within those under the names."""
        for part in self.parts(*within) if within else (self,):
            for child in part.children:
                if isinstance(child, Written) and isinstance(child.value, kind):
                    yield cast(Written[T], child)

    def value(self, kind: type[T], *within: str) -> Written[T] | None:
        """The first value of this kind there."""
        return next(self.values(kind, *within), None)

    def last(self, kind: type[T], *within: str) -> Written[T] | None:
        """The last value of this kind there."""
        return next(reversed(list(self.values(kind, *within))), None)

    def word(self, *words: str) -> Written[Keyword] | None:
        """The first of these keywords that stands directly within this part."""
        return next((word for word in self.values(Keyword) if word.value in words), None)

    @property
    def span(self) -> Span:
        """The stretch of line from the first value of this part to the last."""
        spans = [child.span for child in self.children]
        return spans[0].to(spans[-1])
