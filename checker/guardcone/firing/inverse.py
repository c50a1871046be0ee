"""The computed firing the other way round: which peak, hold or last rate is right.

Every answer is rounded the way a person would set it (whole degrees, whole minutes, whole degrees
an hour) and fired once more; what it reports is that last firing.
"""

from collections.abc import Callable, Sequence
from math import ceil, floor, inf, log
from typing import Literal

from attrs import define, evolve, field, frozen

from guardcone.firing.cone_forecast import clock_position, start_work, work_at_clock, work_done
from guardcone.firing.cones import ConeKinetics
from guardcone.firing.curve import Curve
from guardcone.firing.kiln import Kiln
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import usual

__all__ = ["Answer", "Kind", "Question"]

Kind = Literal["peak", "hold", "rate"]

# A person sets whole °C, minutes and °C/h.
_STEPS = {"peak": 1.0, "hold": 1.0 / 60.0, "rate": 1.0}
# So near an answer is found, in °C, hours or °C/h.
_NEAR = 1e-7


@frozen
class Answer:
    """What to set so that the target goes down and the guard does not, and what comes of it.

    `outcome`: "target down" (no guard was asked about), "guard stands", "guard leans" (it has begun
    but is not half-way; the cones lie too close together for it to stand), or "none".
    `value` in °C, hours or °C/h, None for "none".
    `least` and `most` bound every value that gives this outcome (None where there is none).
    `reason` says in plain words why there is none: "" otherwise.
    The clocks are of the answer fired; for "none", of the nearest try. `written` is what a plan
    has, where the answer is for one.
    """

    kind: Kind
    outcome: str
    value: float | None
    least: float | None
    most: float | None
    reason: str
    target_clock: float
    guard_clock: float | None
    written: float | None = None


# Not slotted: it keeps what it has fired.
@define(slots=False, eq=False)
class Question:
    """One thing to set otherwise, everything else as written.

    The peak in °C at the end of leg number `leg`, the rate in °C/h of that climb, or the length in
    hours of the hold that is that leg. IndexError for a leg that is not there.
    """

    kind: Kind
    legs: Sequence[Leg]
    leg: int
    kiln: Kiln = field(factory=Kiln)
    start: float | None = None
    _fired: dict[float, Curve] = field(factory=dict, init=False, repr=False)

    def fire(self, value: float) -> Curve:
        """The firing with this value set."""
        if value not in self._fired:
            legs = [*self.legs[: self.leg], self._leg(value), *self.legs[self.leg + 1 :]]
            self._fired[value] = curve_of(legs, self.kiln, self.start)
        return self._fired[value]

    def _leg(self, value: float) -> Leg:
        written = self.legs[self.leg]
        if self.kind == "peak":
            return evolve(written, to=value)
        if self.kind == "rate":
            return Leg("climb", to=written.to, rate=value)
        # No hold at all is an answer too; a hold of no length would be a problem of the schedule.
        return Leg("hold", hours=max(1e-9, value))

    def _bounds(self, target: ConeKinetics) -> tuple[float, float]:
        """The least and the most to look at.

        A peak from where the climb starts, and from the hottest of the other legs, for a cooler
        one would be no peak, to the kiln's limit; a rate from the slowest that a kiln keeps to what
        full power gives at the end of the climb.
        """
        written, kiln = self.legs[self.leg], self.kiln
        if self.kind == "hold":
            return 0.0, usual("longest_hold")
        if self.kind == "peak":
            far = usual("farthest_peak")
            before = curve_of(self.legs[: self.leg], kiln, self.start).end
            others = (leg.to for at, leg in enumerate(self.legs) if at != self.leg)
            least = max((to for to in others if to is not None), default=before)
            top = (
                target.end_60 + far if kiln.limit is None else min(target.end_60 + far, kiln.limit)
            )
            return max(before, min(max(least, target.end_60 - far), top)), top
        slowest, fastest = usual("kiln_slowest_rate"), usual("fastest_rate")
        possible = None if written.to is None else kiln.fastest_climb_at(written.to)
        if possible is not None:
            fastest = min(fastest, max(possible, slowest + 1.0))
        return slowest, fastest

    def _limits(self, target: ConeKinetics) -> str:
        """In words, what bounds the search on the side that does most; it may not be the kiln."""
        if self.kind == "hold":
            return f"of {usual('longest_hold'):g} h or less"
        if self.kind == "rate":
            return "that a kiln can keep, however slow,"
        limit = self.kiln.limit
        near = limit is not None and limit < target.end_60 + usual("farthest_peak")
        return "that the kiln is made for" if near else "that is at all near its end"

    def answer(self, target: ConeKinetics, guard: ConeKinetics | None = None) -> Answer:
        """The value that puts the target down and leaves the guard standing, if there is one."""
        what = self.kind
        low, high = self._bounds(target)
        if not low <= high:
            reason = f"the {what} would have to lie under what the schedule starts at"
            return self._answer_of(low, target, guard, reason=reason)
        rising = what != "rate"
        cool, hot = (low, high) if rising else (high, low)
        if self._work(hot, target) < 1.0:
            reason = f"no {what} {self._limits(target)} brings the target down"
            return self._answer_of(hot, target, guard, reason=reason)
        just = self._first(cool, hot, target, 1.0)
        value = _set(just, _STEPS[what], rising, low, high)
        if self._work(value, target) < 1.0:
            # Rounding met the end of the range; the unrounded value is right by construction.
            value = just
        if guard is None:
            return self._answer_of(value, target, guard, "target down", (just, hot))
        for outcome, bound in (
            ("guard stands", start_work(guard)),
            ("guard leans", work_at_clock(guard, usual("guard_limit_clock"))),
        ):
            if self._work(just, guard) >= bound:
                continue
            chosen = value if self._work(value, guard) < bound else just
            last = hot if self._work(hot, guard) < bound else self._first(cool, hot, guard, bound)
            return self._answer_of(chosen, target, guard, outcome, (just, last))
        reason = f"every {what} that brings the target down takes the guard half-way"
        return self._answer_of(value, target, guard, reason=reason)

    def clock(self, value: float, cone: ConeKinetics) -> float:
        """Where a cone points at the end with this value set: 0 standing, 6 down."""
        return clock_position(cone, self._work(value, cone))

    def _work(self, value: float, cone: ConeKinetics) -> float:
        return work_done(self.fire(value), cone)

    def _first(self, cool: float, hot: float, cone: ConeKinetics, wanted: float) -> float:
        """The coolest value whose work is `wanted` or more, from the done side."""
        if self._work(cool, cone) >= wanted:
            return cool
        # The logarithm of the work is nearly straight in °C.
        return _root(lambda value: log(max(1e-300, self._work(value, cone) / wanted)), cool, hot)

    def _answer_of(
        self,
        tried: float,
        target: ConeKinetics,
        guard: ConeKinetics | None,
        outcome: str = "none",
        ends: tuple[float, ...] = (),
        reason: str = "",
    ) -> Answer:
        return Answer(
            self.kind,
            outcome,
            value=tried if ends else None,
            least=min(ends, default=None),
            most=max(ends, default=None),
            reason=reason,
            target_clock=self.clock(tried, target),
            guard_clock=self.clock(tried, guard) if guard else None,
        )


def _root(miss: Callable[[float], float], low: float, high: float) -> float:
    """Where `miss`, below 0 at `low` and not at `high`, comes to 0; on the side of `high`.

    False position with the Illinois rule (Dowell and Jarratt, BIT 11, 1971), and halving where it
    gains too little; `low` may be the larger number.
    """
    below, above, side = miss(low), miss(high), 0
    for turn in range(200):
        width = high - low
        if abs(width) < _NEAR:
            break
        share = below / (below - above) if turn % 3 < 2 else 0.5
        # A guess at an end says on which side of it the answer lies.
        edge = 0.4 * _NEAR / abs(width)
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


def _set(value: float, step: float, rising: bool, low: float, high: float) -> float:
    """A value as a person sets it, rounded to whole steps toward more work, kept in range."""
    steps = value / step
    if not -inf < steps < inf:
        return value
    whole = ceil(steps - 1e-9) if rising else floor(steps + 1e-9)
    return min(high, max(low, whole * step))
