"""A cone's progress W turned into a clock position.

Published are temperatures, not W: how many degrees of a steady 60 C/h climb lie between a clock
position and 6 o'clock (rules/tables/bending.csv). So W is first turned into degrees short of it,
    short = (T^2 / theta) * ln(1 / W), T the cone's own end at 60 C/h,
and the position follows from
    short = slope * (6 - clock) + curve * (6 - clock)^2,
the one parabola through the two published steps: 8 F from 4 to 6 o'clock and 35 F from 1 to 6.
An estimate, and this is how it stands to the published figures it was not drawn through:
- ten angular degrees (two thirds of an hour) cost 4.4 C early and 0.7 C late; published 5 and 1;
- "usually under 40 F" (22.2 C) from start to end is taken as the start: the clock then stands at
  0.6, 9 degrees on a scale of 15 degrees an hour, where a cone leaning its 8 degrees begins;
- start to end takes 22 minutes at 60 C/h; published 15 to 25.
The chart text's 1 to 2 degrees from 4 o'clock to touching contradicts the 8 F and is not followed.
"""

from __future__ import annotations

from functools import cache
from math import exp, log, sqrt

from guardcone.firing.cones import ConeKinetics
from guardcone.firing.tables import bending_figure

DOWN = 6.0  # o'clock
STANDING = 0.0  # o'clock, said as 12


@cache
def _shape() -> tuple[float, float, float]:
    """Slope (C an hour of the clock), curve (C an hour squared), whole bend (C)."""
    one = bending_figure("one_to_six").value
    four = bending_figure("four_to_six").value
    # slope * 5 + curve * 25 = one and slope * 2 + curve * 4 = four
    curve = (one / 5.0 - four / 2.0) / 3.0
    slope = four / 2.0 - 2.0 * curve
    return slope, curve, bending_figure("whole_bend").value


def degrees_short(kinetics: ConeKinetics, work: float) -> float:
    """Degrees C of a 60 C/h climb still missing to 6 o'clock; negative once past, inf at W = 0."""
    if work <= 0.0:
        return float("inf")
    return -kinetics.degrees_per_fold * log(work)


def start_work(kinetics: ConeKinetics) -> float:
    """The heat-work at which a cone visibly starts to bend."""
    return exp(-_shape()[2] / kinetics.degrees_per_fold)


def work_at_clock(kinetics: ConeKinetics, clock: float) -> float:
    """Heat-work at a clock position from just started to 6; the inverse of `clock_position`."""
    slope, curve, whole = _shape()
    left = DOWN - min(DOWN, clock)
    return exp(-min(whole, slope * left + curve * left * left) / kinetics.degrees_per_fold)


def clock_position(kinetics: ConeKinetics, work: float) -> float:
    """0.0 while the cone stands (12 o'clock), then about 0.6 to 6.0; 6.0 is down and stays so."""
    short = degrees_short(kinetics, work)
    slope, curve, whole = _shape()
    if short >= whole:
        return STANDING
    if short <= 0.0:
        return DOWN
    return DOWN - (sqrt(slope * slope + 4.0 * curve * short) - slope) / (2.0 * curve)


def clock_words(clock: float) -> str:
    """A clock position as a person reads it: "standing", "half past 3", "down"."""
    if clock >= 5.75:
        return "down"
    if clock <= STANDING:
        return "standing"
    halves = round(clock * 2.0)
    hour, half = divmod(halves, 2)
    name = 12 if hour == 0 else hour
    return f"half past {name}" if half else f"{name} o'clock"
