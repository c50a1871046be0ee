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

    def parts(self, name: str) -> "Iterator[Part]":
        """Every part of this name directly within this one."""
        return (child for child in self.children if isinstance(child, Part) and child.name == name)

    def part(self, name: str) -> "Part | None":
        """The first part of this name directly within this one."""
        return next(self.parts(name), None)

    def values(self, kind: type[T]) -> Iterator[Written[T]]:
        """Every value of this kind directly within this part."""
        for child in self.children:
            if isinstance(child, Written) and isinstance(child.value, kind):
                yield cast(Written[T], child)

    def value(self, kind: type[T]) -> Written[T] | None:
        """The first value of this kind directly within this part."""
        return next(self.values(kind), None)

    def has(self, word: str) -> bool:
        """True if this keyword stands directly within this part."""
        return any(written.value == word for written in self.values(Keyword))

    @property
    def span(self) -> Span:
        """The stretch of line from the first value of this part to the last."""
        spans = [child.span for child in self.children]
        return spans[0].to(spans[-1])
