"""Room: the computed firing; here the exponential integral E2, scaled so that nothing overflows.

The heat-work of a linear climb needs the integral of exp(-theta/T) over temperature T (kelvin),
which is T * E2(theta/T) exactly (NIST Digital Library of Mathematical Functions, 8.19:
E2(x) = exp(-x) - x * E1(x)).
Taking E2 from its own continued fraction (the even part of DLMF 8.19.17) instead of that
difference loses no digits where x is large, and x is 15 to 1500 for a cone.
"""

from __future__ import annotations

from math import exp, log

EULER_GAMMA = 0.57721566490153286061


def scaled_e2(x: float) -> float:
    """exp(x) * E2(x) for x > 0, without dimension; near 1/(x + 2) where x is large.

    Raises ValueError at x <= 0.
    """
    if x >= 20.0:
        # Eight levels leave less than 1e-16 here: the error falls like exp(-4 sqrt(levels * x)).
        # Unrolled, because every cone of every forecast passes through this line.
        d = x + 16.0 - 72.0 / (x + 18.0)
        d = x + 14.0 - 56.0 / d
        d = x + 12.0 - 42.0 / d
        d = x + 10.0 - 30.0 / d
        d = x + 8.0 - 20.0 / d
        d = x + 6.0 - 12.0 / d
        d = x + 4.0 - 6.0 / d
        return 1.0 / (x + 2.0 - 2.0 / d)
    if x <= 0.0:
        raise ValueError(f"E2 is taken here for positive arguments only, not {x!r}")
    if x < 1.5:
        return 1.0 - x * exp(x) * _series_e1(x)
    return _fraction(x, 2)


def _series_e1(x: float) -> float:
    """E1 by its power series about zero (DLMF 6.6.2), good for small x."""
    total = -EULER_GAMMA - log(x)
    term = 1.0
    for k in range(1, 60):
        term *= -x / k
        total -= term / k
        if abs(term) < 1e-18:
            break
    return total


def _fraction(x: float, order: int) -> float:
    """exp(x) * E_order(x) by the contracted continued fraction, from the bottom up."""
    levels = int(100.0 / x) + 8
    d = x + order + 2.0 * levels
    for k in range(levels, 0, -1):
        d = x + order + 2.0 * (k - 1) - k * (k + order - 1.0) / d
    return 1.0 / d
