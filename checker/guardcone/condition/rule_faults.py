"""What is wrong with a rule file, at its place, and the nearest name."""

from collections.abc import Iterable

from attrs import frozen

from guardcone.language.nearest import nearest
from guardcone.span import Span

__all__ = ["Mistake", "RuleFault", "did_you_mean"]


@frozen
class RuleFault:
    """One error in a file of rules or limits: the file as it was named, the place, what and how."""

    file: str
    span: Span
    message: str
    hint: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.span.line}:{self.span.start}"
        return f"{place}: {self.message}" + (f" ({self.hint})" if self.hint else "")


@frozen
class Mistake(Exception):
    """What is wrong with a condition, at characters `start` to `end` of its text (from 0).

    Raised inside this room only; what leaves it is a value.
    """

    start: int
    end: int
    message: str
    hint: str = ""

    def __str__(self) -> str:
        return f"{self.start}-{self.end}: {self.message}" + (f" ({self.hint})" if self.hint else "")


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """The hint with the known name nearest to `word`, empty if none is near."""
    near = nearest(word, sorted(known))
    return f"did you mean {near}?" if near else ""
