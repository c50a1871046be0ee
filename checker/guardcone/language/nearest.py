"""The nearest right word, for suggestions."""

from collections.abc import Iterable
from difflib import get_close_matches

__all__ = ["nearest"]


def nearest(word: str, candidates: Iterable[str]) -> str | None:
    """The candidate most like `word`, ignoring case, or None if none is like it.

    Candidates are what is legal at the place; a short word must be closer than a long one.
    """
    by_lower: dict[str, str] = {}
    for candidate in candidates:
        by_lower.setdefault(candidate.lower(), candidate)
    # A longer word may have more letters wrong.
    cutoff = 0.75 if len(word) <= 3 else 0.65
    close = get_close_matches(word.lower(), by_lower, n=1, cutoff=cutoff)
    return by_lower[close[0]] if close else None
