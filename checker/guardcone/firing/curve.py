"""The curve of temperature against time and what it passes through.

Hours count from the start of the firing, temperatures are C, rates C/h.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from functools import cached_property
from math import exp, inf, log
from operator import attrgetter
from typing import Literal

from attrs import evolve, field, frozen

from guardcone.firing.heatwork import ZERO_CELSIUS, RawPiece
from guardcone.firing.kiln import Kiln
from guardcone.firing.tables import usual


@frozen(repr=False)
class Piece:
    """One stretch of the curve: straight, or an exponential approach to `asymptote`.

    `leg` is the index of the leg it comes from; `tau` in hours is 0.0 where `asymptote` is None.
    """

    leg: int
    start_hour: float
    hours: float
    start: float
    end: float
    asymptote: float | None = None
    tau: float = 0.0

    @property
    def end_hour(self) -> float:
        """Hour at which the piece ends."""
        return self.start_hour + self.hours

    @property
    def raw(self) -> RawPiece:
        """The piece as the heat-work takes it."""
        zero = ZERO_CELSIUS
        asymptote = 0.0 if self.asymptote is None else self.asymptote + zero
        return (self.hours, self.start + zero, self.end + zero, asymptote, self.tau)

    @property
    def falls_freely(self) -> bool:
        """Whether it is a part of free cooling."""
        return self.asymptote is not None and self.end < self.start

    def temperature_at(self, hour: float) -> float:
        """C at an hour of the firing, held at the piece's ends outside it."""
        into = hour - self.start_hour
        if into <= 0.0:
            return self.start
        if into >= self.hours:
            return self.end
        if self.asymptote is not None:
            return self.asymptote + (self.start - self.asymptote) * exp(-into / self.tau)
        return self.start + (self.end - self.start) * (into / self.hours)

    def rate_at(self, celsius: float) -> float:
        """C/h where the piece passes a temperature; negative while cooling."""
        if self.asymptote is not None:
            return (self.asymptote - celsius) / self.tau
        return (self.end - self.start) / self.hours if self.hours > 0.0 else 0.0

    def hour_at(self, celsius: float) -> float:
        """Hour at which the piece passes a temperature that lies between its ends."""
        if celsius in (self.start, self.end):
            return self.start_hour if celsius == self.start else self.end_hour
        if self.asymptote is not None:
            share = (self.start - self.asymptote) / (celsius - self.asymptote)
            return min(self.end_hour, self.start_hour + self.tau * log(share))
        share = (celsius - self.start) / (self.end - self.start)
        return self.start_hour + self.hours * share


@frozen(repr=False)
class Crossing:
    """The curve passes a temperature: hour, and rate in C/h (negative going down)."""

    hour: float
    rate: float


@frozen(repr=False)
class Passage:
    """One stay in a band of temperature.

    `steepest_up` and `steepest_down` in C/h, positive, 0.0 for none. Where low equals high it is
    the crossing of that temperature, of no length.
    """

    low: float
    high: float
    start_hour: float
    end_hour: float
    start: float
    end: float
    steepest_up: float
    steepest_down: float

    @property
    def hours(self) -> float:
        """Length of the stay."""
        return self.end_hour - self.start_hour

    @property
    def way(self) -> Literal["up", "down", "part"]:
        """Up or down: in at one side, out at the other; a part began, ended or turned inside."""
        if self.low == self.high:
            return "up" if self.steepest_up > 0.0 else "down"
        if (self.start, self.end) == (self.low, self.high):
            return "up"
        return "down" if (self.start, self.end) == (self.high, self.low) else "part"

    @property
    def mean_rate(self) -> float | None:
        """C/h, always positive, of a whole passage; None for a part."""
        if self.low == self.high:
            return max(self.steepest_up, self.steepest_down)
        is_whole = self.way != "part" and self.hours > 0.0
        return (self.high - self.low) / self.hours if is_whole else None


ProblemKind = Literal[
    "no temperature",  # a leg that needs a temperature has none
    "no rate",  # neither a rate nor a duration; the usual full-power rate stands in
    "no duration",  # a hold without a length takes no time
    "rate not positive",
    "duration not positive",
    "number out of reason",  # not finite, under -100 C or over 5000 C
    "climb to a cooler temperature",
    "cool to a hotter temperature",
    "leg changes nothing",
    "longer than a year",  # cut off at a year
    "out of the kiln's power",  # full power does not get there; goes on at the slowest rate
    "faster than full power",
    "faster than free cooling",
    "cool to below the room",  # free cooling ends one degree above the room
    "hotter than the kiln's limit",
    "leg after opening",
]


@frozen(repr=False)
class Problem:
    """A leg of the schedule that makes no sense or that the kiln cannot do.

    `kind` names it, `leg` is its index, `asked` and `possible` are the numbers that disagree where
    there are two (C/h for rates, C for temperatures, h for durations), `at` the temperature in C
    from which it holds. `estimated` is true where the kiln's side rests on an estimate.
    """

    kind: ProblemKind
    leg: int
    asked: float | None = None
    possible: float | None = None
    at: float | None = field(default=None, kw_only=True)
    estimated: bool = field(default=False, kw_only=True)


@frozen(repr=False)
class Opening:
    """The kiln is opened: hour, temperature in C, index of the leg that says so."""

    hour: float
    celsius: float
    leg: int


# Not slotted: it keeps its peak.
@frozen(slots=False, repr=False)
class Curve:
    """A whole firing. `start` is the temperature in C at hour 0.

    `pieces` are those of the schedule; `left_alone` is how the kiln cools on from their end, with
    nothing done to it, until it is commonly opened.
    """

    start: float
    pieces: tuple[Piece, ...]
    problems: tuple[Problem, ...]
    opening: Opening | None
    kiln: Kiln
    left_alone: tuple[Piece, ...] = ()

    @property
    def worked(self) -> tuple[Piece, ...]:
        """What works on the cones: the schedule, and the cooling after it unless it is opened."""
        return self.pieces if self.opening else (*self.pieces, *self.left_alone)

    @cached_property
    def raw(self) -> tuple[RawPiece, ...]:
        """What works on the cones, as the heat-work takes it."""
        return tuple([piece.raw for piece in self.worked])

    @property
    def end_hour(self) -> float:
        """Hour at which the last leg ends; 0.0 for an empty schedule."""
        return self.pieces[-1].end_hour if self.pieces else 0.0

    @property
    def end(self) -> float:
        """C at the end of the last leg."""
        return self.pieces[-1].end if self.pieces else self.start

    @cached_property
    def peak(self) -> float:
        """Hottest temperature in C."""
        return max([self.start, *[piece.end for piece in self.pieces]])

    @cached_property
    def peak_hours(self) -> tuple[float, float]:
        """First and last hour at the hottest temperature."""
        peak = self.peak
        hours = [0.0] if self.start == peak else []
        hours += [piece.end_hour for piece in self.pieces if piece.end == peak]
        return hours[0], hours[-1]

    def temperature_at(self, hour: float) -> float:
        """C at an hour; the start before hour 0, the end after the last leg."""
        if not self.pieces or hour <= 0.0:
            return self.start
        index = bisect_right(self.pieces, hour, key=attrgetter("start_hour")) - 1
        return self.pieces[max(0, index)].temperature_at(hour)

    def crossings(self, celsius: float) -> tuple[Crossing, ...]:
        """Every time the curve passes a temperature, in order; touching it from below is a pass."""
        return tuple(
            Crossing(piece.hour_at(celsius), piece.rate_at(celsius))
            for piece in self.pieces
            if piece.start < celsius <= piece.end or piece.start > celsius >= piece.end
        )

    def passages(self, low: float, high: float) -> tuple[Passage, ...]:
        """Every stay between two temperatures in C, in order; `high` may be inf.

        Where low equals high, the crossings of that one temperature, each a passage of no length.
        """
        if low == high:
            return tuple(
                Passage(
                    low, high, at.hour, at.hour, low, low, max(0.0, at.rate), max(0.0, -at.rate)
                )
                for at in self.crossings(low)
            )
        return tuple(_stays(self.pieces, low, high))

    def safe_opening_hour(self, celsius: float | None = None) -> float:
        """Hour after the peak at which the kiln has come down to `celsius` (usual: 93 C).

        Where the schedule ends hotter than that, free cooling is carried on to it.
        """
        wanted = usual("safe_opening_temperature") if celsius is None else celsius
        last_peak = self.peak_hours[1]
        if self.peak <= wanted:
            return last_peak
        # The last time it comes down counts: a plan may cool and then climb again.
        down = [c.hour for c in self.crossings(wanted) if c.rate < 0.0 and c.hour >= last_peak]
        if self.end <= wanted:
            return down[-1] if down else self.end_hour
        # Nothing is carried on to where the kiln never comes, below the room.
        passed = (one.hour_at(wanted) for one in self.left_alone if one.end <= wanted < one.start)
        return next(passed, self.left_alone[-1].end_hour if self.left_alone else self.end_hour)

    @property
    def energy(self) -> float | None:
        """kWh for the whole firing by the lump of `Kiln`, or None where its volume is not known."""
        if self.kiln.heat_capacity is None:
            return None
        # Stored heat and loss are estimates; what the kiln's own power gives in the time is not.
        kiln = self.kiln
        most = kiln.power if kiln.own_power and kiln.power else inf
        return sum(
            min(kiln.energy(one.hours, one.start, one.end, one.asymptote), most * one.hours)
            for one in self.pieces
            if not one.falls_freely
        )


def _stays(pieces: tuple[Piece, ...], low: float, high: float) -> Iterator[Passage]:
    """Runs of time between two temperatures, joined across pieces."""
    stay: Passage | None = None
    for piece in pieces:
        part = _inside(piece, low, high)
        if stay and part and _goes_on(stay, part):
            stay = evolve(
                stay,
                end_hour=part.end_hour,
                end=part.end,
                steepest_up=max(stay.steepest_up, part.steepest_up),
                steepest_down=max(stay.steepest_down, part.steepest_down),
            )
            continue
        if stay:
            yield stay
        stay = part
    if stay:
        yield stay


def _goes_on(stay: Passage, part: Passage) -> bool:
    """Whether a part belongs to the stay before it, not meeting it only on the band's edge."""
    turned_outside = stay.end == part.start and stay.end in (stay.low, stay.high)
    return part.start_hour - stay.end_hour <= 1e-9 and not turned_outside


def _inside(piece: Piece, low: float, high: float) -> Passage | None:
    """The part of a piece that lies in a band."""
    if piece.hours <= 0.0:
        return None
    cold, hot = sorted((piece.start, piece.end))
    if cold == hot:
        held = Passage(low, high, piece.start_hour, piece.end_hour, cold, cold, 0.0, 0.0)
        return held if low < cold < high else None
    bottom, top = max(cold, low), min(hot, high)
    if bottom >= top:
        return None
    first, last = (bottom, top) if piece.end > piece.start else (top, bottom)
    steepest = max(abs(piece.rate_at(first)), abs(piece.rate_at(last)))
    up, down = (steepest, 0.0) if last > first else (0.0, steepest)
    return Passage(low, high, piece.hour_at(first), piece.hour_at(last), first, last, up, down)
