"""A sentence with slots is read and its slots are typed."""

import re

from guardcone.condition.rule_faults import Mistake
from guardcone.condition.scope import Scope
from guardcone.condition.sentences import Slot, Wording
from guardcone.condition.typing import read_slot

__all__ = ["read_wording"]

_SLOT = re.compile(r"\{(?P<slot>[^{}]*)\}|(?P<stray>[{}])")


def read_wording(text: str, scope: Scope, is_plan_line: bool = False) -> "Wording | Mistake":
    """The sentence that `text` spells, or what is wrong with it at characters of `text`."""
    pieces: list[str | Slot] = []
    end = 0
    for found in _SLOT.finditer(text):
        pieces.append(text[end : found.start()])
        end = found.end()
        if found["stray"]:
            return Mistake(found.start(), found.end(), "a slot opens with { and closes with }")
        slot = read_slot(found["slot"], scope)
        if isinstance(slot, Mistake):
            shift = found.start() + 1
            return Mistake(slot.start + shift, slot.end + shift, slot.message, slot.hint)
        pieces.append(Slot(found["slot"].strip(), slot))
    pieces.append(text[end:])
    return Wording(tuple(piece for piece in pieces if piece), is_plan_line)
