"""Text of a fact that has measures in it, each told in the unit of the line it is about."""

from collections.abc import Callable
from typing import Any, Self

from guardcone.values import Quantity

__all__ = ["Phrase"]


class Phrase(str):
    """Text made of pieces: words, and measures that are spelled as a sentence prints them."""

    __slots__ = ("pieces",)
    pieces: tuple[object, ...]

    def __new__(cls, *pieces: object) -> Self:
        """The pieces one behind the other; those of a phrase among them are its own."""
        phrase = super().__new__(cls, "".join(map(str, pieces)))
        phrase.pieces = tuple(
            part
            for piece in pieces
            for part in (piece.pieces if isinstance(piece, Phrase) else (piece,))
        )
        return phrase

    def with_measures(self, change: Callable[[Quantity], Any]) -> Self:
        """The same with every measure changed, as into another unit."""
        return type(self)(
            *(change(piece) if isinstance(piece, Quantity) else piece for piece in self.pieces)
        )
