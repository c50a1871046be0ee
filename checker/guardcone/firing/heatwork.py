"""The heat-work of a cone over any firing curve.

A cone is down when W = integral of A exp(-theta / T) dt reaches 1: T in kelvin, t in hours,
theta = E / R in kelvin, A in 1/h.
A linear piece is closed-form in E2; a piece too narrow for that difference to keep its digits,
and every exponential piece (free cooling, full power), is integrated by 8-point Gauss-Legendre
over cells of at most about two e-folds of the integrand, which leaves less than 1e-12 relative.
Everything is kept in logarithms until the last exp, so A of any size is safe.

The heat-work of a linear climb needs the integral of exp(-theta/T) over temperature T (kelvin),
which is T * E2(theta/T) exactly (NIST Digital Library of Mathematical Functions, 8.19:
E2(x) = exp(-x) - x * E1(x)).
Taking E2 from its own continued fraction (the even part of DLMF 8.19.17) instead of that
difference loses no digits where x is large, and x is 15 to 1500 for a cone.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
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
    return _fraction(x)


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


def _fraction(x: float) -> float:
    """exp(x) * E2(x) by the contracted continued fraction, from the bottom up."""
    levels = int(100.0 / x) + 8
    d = x + 2.0 + 2.0 * levels
    for k in range(levels, 0, -1):
        d = x + 2.0 + 2.0 * (k - 1) - k * (k + 1.0) / d
    return 1.0 / d


# One piece of a curve, in the plainest form there is, because this is the hot loop:
# (hours, start kelvin, end kelvin, asymptote kelvin, time constant in hours).
# The last two are 0.0 for a linear piece (a hold is a linear piece that ends where it starts).
RawPiece = tuple[float, float, float, float, float]

ZERO_CELSIUS = 273.15  # K; International System of Units, definition of the degree Celsius
NEGLIGIBLE = 1e-18  # heat-work left out; a cone is down at 1

_GAUSS = (  # 8-point Gauss-Legendre on (-1, 1): nodes and weights, NIST DLMF table 3.5.2 family
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)
_NODES = tuple((0.5 * (1.0 - x), 0.5 * w) for x, w in _GAUSS) + tuple(
    (0.5 * (1.0 + x), 0.5 * w) for x, w in _GAUSS
)


def log_steady_work(kelvin: float, theta: float) -> float:
    """ln of the integral of exp(-theta/T) dT from absolute zero to `kelvin` (result: ln kelvin)."""
    x = theta / kelvin
    return log(kelvin * scaled_e2(x)) - x


def piece_work(piece: RawPiece, theta: float, log_a: float) -> float:
    """Heat-work of one piece, without dimension; 0.0 where it cannot reach 1e-18."""
    hours, start, end, _, tau = piece
    hot, cold = (start, end) if start >= end else (end, start)
    top = log_a - theta / hot
    if top < 600.0 and hours * exp(top) < NEGLIGIBLE:
        return 0.0
    if tau:
        return _exponential_work(piece, theta, log_a)
    folds = theta * (hot - cold) / (hot * cold)
    if folds < 2.0:
        width = hot - cold
        return hours * sum([w * exp(log_a - theta / (cold + u * width)) for u, w in _NODES])
    work = hot * scaled_e2(theta / hot)
    if folds < 40.0:
        work -= cold * scaled_e2(theta / cold) * exp(-folds)
    return hours / (hot - cold) * work * exp(top)


def work_of(pieces: Sequence[RawPiece], theta: float, log_a: float) -> float:
    """Heat-work of a whole curve: 1.0 is a cone just down."""
    total = 0.0
    for piece in pieces:
        total += piece_work(piece, theta, log_a)
    return total


def running_work(pieces: Sequence[RawPiece], theta: float, log_a: float) -> list[float]:
    """Heat-work done by the end of each piece, one number a piece, never falling."""
    return list(accumulate(piece_work(piece, theta, log_a) for piece in pieces))


def part_of(piece: RawPiece, hours: float) -> RawPiece:
    """The first `hours` of a piece as a piece of its own."""
    whole, start, _, asymptote, tau = piece
    if hours >= whole:
        return piece
    return (hours, start, kelvin_at(piece, hours), asymptote, tau)


def kelvin_at(piece: RawPiece, hours: float) -> float:
    """Temperature in kelvin `hours` into a piece."""
    whole, start, end, asymptote, tau = piece
    if whole <= 0.0 or hours >= whole:
        return end
    if tau:
        return asymptote + (start - asymptote) * exp(-hours / tau)
    return start + (end - start) * (hours / whole)


def hours_to_work(piece: RawPiece, theta: float, log_a: float, wanted: float) -> float:
    """Hours into a piece at which its own heat-work reaches `wanted` (bracketed Newton).

    Returns the piece's length if it does not get there.
    """
    low, high = 0.0, piece[0]
    done = piece_work(piece, theta, log_a)
    if done <= wanted or high <= 0.0:
        return high
    guess = high * wanted / done
    for _ in range(80):
        miss = piece_work(part_of(piece, guess), theta, log_a) - wanted
        if miss > 0.0:
            high = guess
        else:
            low = guess
        slope = exp(min(600.0, log_a - theta / kelvin_at(piece, guess)))
        step = guess - miss / slope if slope > 0.0 else -1.0
        if not low < step < high:
            step = 0.5 * (low + high)
        if abs(step - guess) < 1e-10:
            return step
        guess = step
    return guess


def _exponential_work(piece: RawPiece, theta: float, log_a: float) -> float:
    """Work of T = asymptote + (start - asymptote) exp(-t / tau), summed from its hot end."""
    hours, start, end, asymptote, tau = piece
    backward = end > start
    kelvin = end if backward else start
    left = hours
    total = 0.0
    while left > 0.0:
        away = kelvin - asymptote
        # Half a time constant or two e-folds of the integrand, whichever is shorter.
        cell = 0.5 * tau
        reach = theta * abs(away)
        if reach * cell > 2.0 * tau * kelvin * kelvin:
            cell = 2.0 * tau * kelvin * kelvin / reach
        if cell > left:
            cell = left
        turn = cell / tau if backward else -cell / tau
        part = 0.0
        for u, w in _NODES:
            part += w * exp(log_a - theta / (asymptote + away * exp(u * turn)))
        total += part * cell
        left -= cell
        kelvin = asymptote + away * exp(turn)
        if kelvin <= 0.0:
            break
        rest = log_a - theta / kelvin
        if rest < 600.0 and exp(rest) * left < NEGLIGIBLE + 1e-16 * total:
            break
    return total
