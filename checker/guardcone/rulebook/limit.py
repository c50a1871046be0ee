"""One named limit, with its range and where it comes from."""

from typing import Any

from attrs import frozen

from guardcone.rulebook.bibliography import Source
from guardcone.rulebook.kinds import Type
from guardcone.span import Span

__all__ = ["Limit"]


@frozen
class Limit:
    """A number of the trade that rules use by name.

    `value`, `least` and `most` are of `type`: a Quantity, a Cone or a float. A studio may set the
    value anywhere from `least` to `most`.
    Where a studio has set the value, `changed_at` says where and `built_in` is the book's own.
    """

    name: str
    type: Type
    value: Any
    least: Any
    most: Any
    sources: tuple[Source, ...]
    note: str
    file: str
    span: Span
    changed_at: str = ""
    built_in: Any = None

    def takes(self, value: Any) -> bool:
        """True for a value of its own kind and within its range."""
        try:
            return type(value) is type(self.value) and bool(self.least <= value <= self.most)
        except TypeError:  # cones of two makers have no order
            return False
