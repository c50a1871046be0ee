"""The legs a schedule is made of, laid end to end into a curve.

A leg that makes no sense never stops the rest: it becomes a `Problem`, and the curve goes on to the
temperature the leg names, so that what follows starts where its writer meant it to.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import inf, isfinite, log
from typing import Literal

from attrs import frozen

from guardcone.firing.curve import Curve, Opening, Piece, Problem, ProblemKind
from guardcone.firing.kiln import Kiln
from guardcone.firing.tables import usual

LegKind = Literal["climb", "climb at full power", "hold", "cool", "cool freely", "open"]

COLDEST, HOTTEST = -100.0, 5000.0  # C; a plan outside these is a slip of the pen
LONGEST = 24.0 * 366.0  # h


@frozen(repr=False)
class Leg:
    """One line of a schedule: `to` in C, `rate` in C/h (positive either way), `hours` in h.

    A climb or cooling has `to` and either `rate` or `hours` (both: the rate counts); full power and
    free cooling have `to`; a hold has `hours`; an opening may have `to` (the kiln cools freely
    to it first).
    """

    kind: LegKind
    to: float | None = None
    rate: float | None = None
    hours: float | None = None


class _Builder:
    """Lays legs end to end; used once, by `curve_of`."""

    def __init__(self, kiln: Kiln, start: float, *, lagging: bool) -> None:
        self.kiln = kiln
        self.lagging = lagging
        self.hour = 0.0
        self.now = start
        self.leg = 0
        self.pieces: list[Piece] = []
        self.problems: list[Problem] = []
        self.opening: Opening | None = None
        self.fall = (start, 1.0)
        self.hottest = kiln.hottest

    def problem(
        self, kind: ProblemKind, *numbers: float, at: float | None = None, estimated: bool = False
    ) -> None:
        """Asked and possible are the numbers, as far as there are any."""
        self.problems.append(Problem(kind, self.leg, *numbers, at=at, estimated=estimated))

    def straight(self, hours: float, to: float) -> None:
        if hours > LONGEST:
            self.problem("longer than a year", hours, LONGEST)
            hours = LONGEST
        self.piece(hours, to)

    def approach(self, to: float, asymptote: float) -> None:
        """Full power, as far as it goes."""
        tau = self.kiln.time_constant
        hours = tau * log((self.now - asymptote) / (to - asymptote))
        self.piece(hours, to, asymptote, tau)

    def piece(self, hours: float, to: float, *approach: float) -> None:
        if hours > 0.0:
            self.pieces.append(Piece(self.leg, self.hour, hours, self.now, to, *approach))
            self.hour += hours
        self.now = to

    def add(self, leg: Leg) -> None:
        to, limit = leg.to, self.kiln.limit
        if self.opening is not None:
            self.problem("leg after opening")
        if leg.kind == "hold":
            self.hold(leg)
        elif leg.kind == "open" and to is None:
            self.opening = Opening(self.hour, self.now, self.leg)
        elif to is None:
            self.problem("no temperature")
        elif not (isfinite(to) and COLDEST <= to <= HOTTEST):
            self.problem("number out of reason", to)
        else:
            if limit is not None and to > limit:
                self.problem("hotter than the kiln's limit", to, limit)
            self.go(leg, to)

    def go(self, leg: Leg, to: float) -> None:
        if leg.kind == "climb":
            self.climb(leg, to)
        elif leg.kind == "climb at full power":
            self.full_power(to)
        elif leg.kind == "cool":
            self.cool(leg, to)
        elif leg.kind == "cool freely" or self.now > to:
            self.cool_freely(to)
        if leg.kind == "open":
            self.opening = Opening(self.hour, self.now, self.leg)

    def hold(self, leg: Leg) -> None:
        hours = leg.hours
        if hours is None:
            self.problem("no duration")
        elif not isfinite(hours):
            self.problem("number out of reason", hours)
        elif hours <= 0.0:
            self.problem("duration not positive", hours)
        else:
            self.straight(hours, self.now)

    def hours_for(self, leg: Leg, to: float) -> float:
        """Hours of a climb or cooling, with whatever is wrong about its rate made a problem."""
        change = abs(to - self.now)
        rate = leg.rate
        if rate is None and leg.hours is not None:
            # Nor can a time be kept that is so short that the rate overflows.
            if isfinite(leg.hours) and leg.hours * 1e100 > change:
                return leg.hours
            self.problem("duration not positive", leg.hours)
        elif rate is None:
            self.problem("no rate")
        elif not isfinite(rate) or abs(rate) > 1e6:
            self.problem("number out of reason", rate)
        elif rate > 0.0:
            # A rate so small that the division overflows is a leg longer than a year.
            return change / rate if change < rate * 1e9 else 1e9
        else:
            self.problem("rate not positive", rate)
        return change / usual("kiln_full_power_rate")

    def moves(self, to: float, *, up: bool) -> bool:
        """Whether the leg goes anywhere; that it goes the wrong way is only told."""
        if to == self.now:
            self.problem("leg changes nothing", to)
        elif up and to < self.now:
            self.problem("climb to a cooler temperature", to, at=self.now)
        elif to > self.now and not up:
            self.problem("cool to a hotter temperature", to, at=self.now)
        return to != self.now

    def climb(self, leg: Leg, to: float) -> None:
        if not self.moves(to, up=True):
            return
        hours = self.hours_for(leg, to)
        rate = (to - self.now) / hours if hours > 0.0 else inf
        if rate > 0.0 and self.hottest is not None:
            possible = self.kiln.fastest_climb_at(to)
            if possible is not None and rate > possible:
                # Power needed grows straight with temperature at a given rate.
                at = max(self.now, to - (rate - possible) * self.kiln.time_constant)
                self.problem("faster than full power", rate, possible, at=at, estimated=True)
        self.straight(hours, to)

    def cool(self, leg: Leg, to: float) -> None:
        if not self.moves(to, up=False):
            return
        hours = self.hours_for(leg, to)
        rate = (self.now - to) / hours if hours > 0.0 else inf
        possible = self.kiln.cooling_rate_at(to)
        if rate > possible and to < self.now and not self.falls_at(rate, to):
            at = min(self.now, self.kiln.room + rate * self.kiln.time_constant)
            estimated = not self.kiln.cools_usable
            self.problem("faster than free cooling", rate, possible, at=at, estimated=estimated)
            if self.lagging:
                self.lag(hours, at, to)
                return
        self.straight(hours, to)

    def lag(self, hours: float, at: float, to: float) -> None:
        """As asked for as long as the kiln keeps up, then as it falls by itself."""
        kept = hours * (self.now - at) / (self.now - to)
        self.straight(kept, at)
        lowest = max(to, self.kiln.room + 1.0)
        falls = self.kiln.falls(self.now, lowest, *self.falling())
        if sum(part.hours for part in falls) > hours - kept:
            self.let_fall(lowest)
        else:  # the first fast part of its fall makes up for the rest
            self.straight(hours - kept, to)

    def cool_freely(self, to: float) -> None:
        lowest = self.kiln.room + 1.0
        if to < lowest:
            self.problem("cool to below the room", to, lowest)
            to = lowest
        if self.moves(to, up=False) and to < self.now:
            self.let_fall(to)

    def let_fall(self, to: float) -> None:
        self.fall = self.falling()
        for part in self.kiln.falls(self.now, to, *self.fall):
            self.piece(part.hours, part.to, part.asymptote, part.tau)

    def falling(self) -> tuple[float, float]:
        """Where the power went off, and how much of the first fast part of cooling there is then.

        Coming down at a rate, the kiln has had some of it: all, where it came as fast as it can.
        """
        last = self.pieces[-1] if self.pieces else None
        if last and last.falls_freely:
            return self.fall
        possible = self.kiln.cooling_rate_at(self.now)
        down = max(0.0, -last.rate_at(self.now)) if last else 0.0
        return self.now, 1.0 - down / possible if down < possible else 0.0

    def falls_at(self, rate: float, to: float) -> bool:
        """Whether the kiln comes by a temperature so fast by itself, in the first of its fall."""
        if to <= self.kiln.room:
            return False
        *_, last = self.kiln.falls(self.now, to, *self.falling())
        return (to - last.asymptote) / last.tau >= rate

    def cooling_on(self) -> tuple[Piece, ...]:
        """How the kiln goes on from the last leg, left alone, until it is commonly opened."""
        to = max(usual("safe_opening_temperature"), self.kiln.room + 1.0)
        laid = len(self.pieces)
        if laid and to < self.now:
            self.let_fall(to)
        return tuple(self.pieces[laid:])

    def full_power(self, to: float) -> None:
        if not self.moves(to, up=True):
            return
        hottest = self.hottest
        if hottest is None or to < self.now:
            self.straight(abs(to - self.now) / usual("kiln_full_power_rate"), to)
            return
        slowest = usual("kiln_slowest_rate")
        reach = self.kiln.full_power_reach
        if to <= reach:
            self.approach(to, hottest)
            return
        self.problem("out of the kiln's power", to, reach, estimated=True)
        if reach > self.now:
            self.approach(reach, hottest)
        self.straight((to - self.now) / slowest, to)


def curve_of(
    legs: Iterable[Leg],
    kiln: Kiln | None = None,
    start: float | None = None,
    *,
    lagging: bool = False,
) -> Curve:
    """The firing a schedule describes, starting at `start` C (usual: room temperature).

    `lagging` is how a kiln goes that cools more slowly by itself than is asked. Never raises for a
    schedule that makes no sense: see `Curve.problems`.
    """
    kiln = Kiln() if kiln is None else kiln
    first = kiln.room if start is None or not isfinite(start) else start
    first = min(HOTTEST, max(COLDEST, first))
    builder = _Builder(kiln, first, lagging=lagging)
    for index, leg in enumerate(legs):
        builder.leg = index
        builder.add(leg)
    pieces, problems = tuple(builder.pieces), tuple(builder.problems)
    return Curve(first, pieces, problems, builder.opening, kiln, builder.cooling_on())
