"""Room: the rule book; here a reason that a person gives is told from a mere filler."""

import re

__all__ = ["says_nothing"]

# Reasons that say nothing, in the letters that are left when blanks and signs are taken away.
_EMPTY = frozenset(
    (
        "because bydesign accept accepted ignore ignored dontcare whatever nothing reason reasons "
        "intended intentional onpurpose knownissue seeabove wontfix itsfine nocomment"
    ).split()
)
_SHORTEST = 6


def says_nothing(reason: str) -> bool:
    """True for `todo`, `n/a`, `by design` and the like: nobody learns anything from them."""
    letters = re.sub(r"[\W_]", "", reason.lower())
    return letters in _EMPTY or len(letters) < _SHORTEST
