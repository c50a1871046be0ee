"""Where a function of one number comes to nothing."""

from collections.abc import Callable

__all__ = ["root"]


def root(miss: Callable[[float], float], low: float, high: float, near: float = 1e-7) -> float:
    """Where `miss`, below 0 at `low` and not at `high`, comes to 0: less than `near` past it.

    False position with the Illinois rule (Dowell and Jarratt, BIT 11, 1971), and halving where it
    gains too little; `low` may be the larger number.
    """
    below, above, side = miss(low), miss(high), 0
    for turn in range(200):
        width = high - low
        if abs(width) < near:
            break
        share = below / (below - above) if turn % 3 < 2 else 0.5
        # A guess at an end says on which side of it the answer lies.
        edge = 0.4 * near / abs(width)
        guess = low + width * min(1.0 - edge, max(edge, share))
        if guess in (low, high):
            break
        found = miss(guess)
        if found >= 0.0:
            high, above = guess, found
            below *= 0.5 if side > 0 else 1.0
            side = 1
        else:
            low, below = guess, found
            above *= 0.5 if side < 0 else 1.0
            side = -1
    return high
