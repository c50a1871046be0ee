"""Facts out of the lines of the safety section."""

from collections.abc import Callable
from typing import Any

from guardcone.condition.kinds import TEXT, Type
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of
from guardcone.language.fillers import is_to_fill_in, says_none
from guardcone.plan.safety import CutOff, Eyes, Safety, Vent
from guardcone.span import Written

__all__ = ["of_line", "to_fill_in", "told"]


def of_line(name: str, kind: Type, doc: str, line: str, get: Callable[[Any], Any]) -> Fact:
    """A fact out of a line of several parts; it points at the whole line."""

    def read(of: Of[Safety]) -> Any:
        part = getattr(of.it, line)
        if part is None:
            return UNREADABLE if line in of.it.unreadable else None
        if to_fill_in(getattr(part, "by" if line in _INSPECTED else "words", None)):
            return UNREADABLE
        if line in _MAY_BE_NONE and _says_none(part.words) and not _says_more(part):
            return Written(None, part.span)
        value = get(part)
        return Written(value, part.span) if value is not None and not _written(value) else value

    return Fact(name, kind, doc, read)


def told(name: str, doc: str) -> Fact:
    """A text of the section; one that says `none` or `not checked yet` is missing at its place."""
    field = name.replace("-", "_")

    def get(of: Of[Safety]) -> Any:
        text: Written[str] | None = getattr(of.it, field)
        if text is None:
            return UNREADABLE if field in of.it.unreadable else None
        return Written(None, text.span) if says_none(text.value) else text

    return Fact(name, TEXT, doc, get)


def to_fill_in(words: Written[str] | None) -> bool:
    """True for a place of a new plan, of which the text fault still-to-fill-in tells."""
    return words is not None and is_to_fill_in(words.value)


def _says_none(words: Written[str] | None) -> bool:
    return words is not None and says_none(words.value)


def _written(value: Any) -> bool:
    return isinstance(value, Written)


# Lines about an inspection, and by whom.
_INSPECTED = ("electrics", "gas_line")
# Lines that may say in quotes that there is none.
_MAY_BE_NONE = ("eyes", "cut_off", "vent")


def _says_more(part: Eyes | CutOff | Vent) -> bool:
    """True where the line names a thing besides its words."""
    if isinstance(part, Eyes):
        return bool(part.most or part.sunglasses)
    if isinstance(part, Vent):
        return bool(part.switched or part.kind)
    return any((part.timer, part.temperature, part.cone, part.controller))
