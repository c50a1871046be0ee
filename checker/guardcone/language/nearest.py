"""The nearest right word, for suggestions."""

from collections.abc import Iterable

__all__ = ["nearest"]

# A longer text is no slip of one word, and comparing it with every word would take its time.
_LONGEST = 40

# Words that are near each other and say the opposite.
_SMALL_WORDS = frozenset({"on", "off", "no", "not", "in", "out", "up", "down"})


def nearest(word: str, candidates: Iterable[str]) -> str | None:
    """The candidate most like `word`, ignoring case, or None if none is like it.

    Candidates are what is legal at the place, the likeliest first. One slip is forgiven in a word
    of up to five letters, two in up to eight, three in a longer one; neighbours swapped are one.
    """
    written = word.lower()
    if not written or len(written) > _LONGEST:
        return None
    letters = set(written)
    best, fewest, alike = None, 1 + (len(written) > 5) + (len(written) > 8), -1
    for candidate in candidates:
        right = candidate.lower()
        # Cheaper than counting slips: a letter that the candidate lacks is one slip at least.
        if abs(len(right) - len(written)) > fewest or len(letters.difference(right)) > fewest:
            continue
        if _another_word(written, right) or _turns_round(written, right):
            continue
        slips = _slips(written, right)
        if len(written) > 2 and sorted(written) == sorted(right):
            slips = min(slips, 1)  # all letters there, out of order: `wear` for `ware`
        # Of two equally near words the one that begins more alike is likelier, then the first.
        begins = _same_beginning(written, right)
        if slips < len(right) and (slips < fewest or (slips == fewest and begins > alike)):
            best, fewest, alike = candidate, slips, begins
    return best


def _turns_round(written: str, right: str) -> bool:
    """True where the change would turn round what is said, which is no slip of the hand.

    `unseen` is never a slip for `seen`, `power on` none for `power off`, `half the time` none for
    `all the time`.
    """
    for prefix in ("un", "non", "no ", "not "):
        if written.removeprefix(prefix) == right or right.removeprefix(prefix) == written:
            return written != right
    if " " not in written:
        return False
    pairs = [p for p in zip(written.split(), right.split(), strict=False) if p[0] != p[1]]
    return any(one[0] != other[0] or {one, other} <= _SMALL_WORDS for one, other in pairs)


def _another_word(written: str, right: str) -> bool:
    """True where the first letters tell that no slip of the hand makes one of the other.

    `set` is no slip for `wet`, nor `nested` for `vented`; `kuard` is one for `guard`.
    """
    if written[0] == right[0] or written[:2] == right[1::-1]:
        return False
    return len(written) < 5 or written[1:] != right[1:]


def _same_beginning(one: str, other: str) -> int:
    return next(
        (at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
        min(len(one), len(other)),
    )


def _slips(written: str, right: str) -> int:
    """Letters left out, put in, changed or swapped with their neighbour, at the fewest."""
    before: list[int] = []
    row = list(range(len(right) + 1))
    for i, letter in enumerate(written, 1):
        above, row = row, [i]
        for j, other in enumerate(right, 1):
            slips = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == right[j - 2] and written[i - 2] == other:
                slips = min(slips, before[j - 2] + 1)
            row.append(slips)
        before = above
    return row[-1]
