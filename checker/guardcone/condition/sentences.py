"""Sentences with slots, such as `Add cone {one step hotter than target}.`, told in words.

What stands in square brackets is told where each slot in it has a value, and else the next of what
bars part there: `[Hold {better-hold}|Make the peak {better-peak}|Use a hotter kiln].`
"""

import math
import re
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from attrs import frozen

from guardcone.condition import typed
from guardcone.condition.phrase import Phrase
from guardcone.condition.typed import Compiler
from guardcone.values import Cone, Quantity
from guardcone.values.amounts import scale_of

__all__ = ["NOT_STATED", "Choice", "Piece", "Slot", "Wording", "in_units"]


NOT_STATED = "not stated"


@frozen(repr=False)
class Slot:
    """A place in a sentence where a value is printed; `text` is how the rule asks for it."""

    text: str
    value: typed.Value

    def __str__(self) -> str:
        """As the rule has it."""
        return f"{{{self.text}}}"


@frozen(repr=False)
class Choice:
    """A part of a sentence: the first of these in which each slot has a value, or nothing."""

    options: tuple[tuple[str | Slot, ...], ...]

    def __str__(self) -> str:
        """As the rule has it."""
        return f"[{'|'.join(''.join(map(str, option)) for option in self.options)}]"


Piece = str | Slot | Choice
_AT_MOST = re.compile(r"\s*or slower\b")


@frozen(repr=False)
class Wording:
    """A sentence in pieces; or one `plan line` or several, spelled as plans spell them."""

    pieces: tuple[Piece, ...]
    is_plan_line: bool = False

    def __str__(self) -> str:
        """As the rule has it."""
        return "".join(map(str, self.pieces))

    @property
    def fullest(self) -> tuple[str | Slot, ...]:
        """The pieces where each slot has a value."""
        options = (one.options[0] if isinstance(one, Choice) else (one,) for one in self.pieces)
        return tuple(piece for option in options for piece in option)

    def told(
        self, compiler: Compiler, case: Any, it: Any, units: Sequence[Quantity]
    ) -> tuple[str, tuple[str, ...]]:
        """The sentence about an instance, in the units of its line; and the slots without value."""
        spell = _as_in_a_plan if self.is_plan_line else _for_people
        unstated: list[str] = []

        def value(piece: Piece) -> Any:
            """What is told for a piece; None for a slot that has no value."""
            if isinstance(piece, str):
                return piece
            if isinstance(piece, Choice):
                options = (tuple(map(value, option)) for option in piece.options)
                told = next((one for one in options if not any(part is None for part in one)), ())
                return Phrase(
                    *(one if isinstance(one, Quantity | Phrase) else spell(one) for one in told)
                )
            found = compiler.value(piece.value)(case, it)
            if _says_nothing(found):
                return None
            title = compiler.subject(piece.value).title if piece.value.type.subject else None
            return title(found) if title else found

        def text(piece: Piece, behind: Piece) -> str:
            found = value(piece)
            if isinstance(piece, Slot) and found is None:
                unstated.append(piece.text)
                return NOT_STATED
            shown = in_units(found, units, not self.is_plan_line)
            at_most = isinstance(behind, str) and bool(_AT_MOST.match(behind))
            return spell(_rounded_down(shown) if at_most else shown)

        told = "".join(map(text, self.pieces, (*self.pieces[1:], ""))).strip()
        lines = told.split("\n") if self.is_plan_line else [told]
        return "\n".join(" ".join(line.split()) for line in lines), tuple(unstated)


def _says_nothing(value: Any) -> bool:
    amount = value.base if isinstance(value, Quantity) else value
    return amount is None or (isinstance(amount, float) and not math.isfinite(amount))


def in_units(value: Any, units: Sequence[Quantity], one_scale: bool = True) -> Any:
    """A measure in the first unit of its kind, else in the first °C or °F.

    A sentence keeps to one scale, that of the first in degrees; in a line to copy a climb's rate
    may be in °C/h and its end in °F, as in the line that it replaces.
    """
    if isinstance(value, Phrase):
        return value.with_measures(lambda measure: in_units(measure, units, one_scale))
    if not isinstance(value, Quantity):
        return value
    degrees = [one for one in units if scale_of(one)]
    if one_scale and degrees and scale_of(value):
        units = [one for one in degrees if scale_of(one) == scale_of(degrees[0])]
    alike = [one for one in units if one.kind == value.kind] or degrees
    return value.like(alike[0]) if alike else value


def _rounded_down(value: Any) -> Any:
    """A measure that is told as the most there may be: who keeps to what is printed is below it."""
    if not isinstance(value, Quantity):
        return value
    amount = value.amount()
    steps = 1 if amount >= 10 else 10
    return type(value).of(math.floor(amount * steps + 1e-6) / steps, value.unit.plain)


def _for_people(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:.4g}" if value != int(value) else f"{value:.0f}"
    if isinstance(value, datetime):
        return f"{value:%Y-%m-%d %H:%M}"
    return value.isoformat() if isinstance(value, date) else str(value)


def _as_in_a_plan(value: Any) -> str:
    if isinstance(value, Cone):
        return str(value.number)
    return value.plain() if isinstance(value, Quantity) else _for_people(value)
