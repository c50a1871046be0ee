"""Room: the computed firing; here the other way round: which peak, hold or last rate is right.

Every answer is rounded the way a person would set it (whole degrees, whole minutes, whole degrees
an hour) and fired once more; what it reports is that last firing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor, inf

from attrs import evolve, frozen

from guardcone.firing.bending import clock_position, start_work, work_at_clock
from guardcone.firing.cones import ConeKinetics
from guardcone.firing.curve import Curve
from guardcone.firing.heatwork import work_of
from guardcone.firing.kiln import Kiln
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import usual


@frozen
class Answer:
    """What to set so that the target goes down and the guard does not.

    `outcome`: "target down" (no guard was asked about), "guard stands", "guard leans" (it has begun
    but is not half-way; the cones lie too close together for it to stand), or "none".
    `value` in C, hours or C/h, None for "none".
    `least` and `most` bound every value that gives this outcome (None where there is none).
    `reason` says in plain words why there is none: "" otherwise.
    The works and clocks are of the answer fired; for "none", of the nearest try.
    """

    outcome: str
    value: float | None
    least: float | None
    most: float | None
    reason: str
    target_work: float
    target_clock: float
    guard_work: float | None
    guard_clock: float | None
    curve: Curve


def peak_for(
    legs: Sequence[Leg],
    climb: int,
    target: ConeKinetics,
    guard: ConeKinetics | None = None,
    kiln: Kiln | None = None,
    start: float | None = None,
) -> Answer:
    """Peak in C: the end of leg number `climb`, everything else as written.

    Looks from the temperature the climb starts at to the kiln's limit. Raises IndexError for a
    leg that is not there.
    """
    kiln = Kiln() if kiln is None else kiln
    before = curve_of(legs[:climb], kiln, start).end
    top = target.end_60 + 250.0
    if kiln.limit is not None:
        top = min(top, kiln.limit)
    search = _Search(
        lambda value: curve_of(_with(legs, climb, evolve(legs[climb], to=value)), kiln, start),
        target,
        guard,
    )
    return search.answer(before, top, 1.0, rising=True, what="peak")


def hold_for(
    legs: Sequence[Leg],
    hold: int,
    target: ConeKinetics,
    guard: ConeKinetics | None = None,
    kiln: Kiln | None = None,
    start: float | None = None,
) -> Answer:
    """Length in hours of the hold that is leg number `hold`, the peak as written.

    Raises IndexError for a leg that is not there.
    """
    kiln = Kiln() if kiln is None else kiln

    def fire(value: float) -> Curve:
        # No hold at all is an answer too; a hold of no length would be a problem of the schedule.
        return curve_of(_with(legs, hold, Leg("hold", hours=max(1e-9, value))), kiln, start)

    return _Search(fire, target, guard).answer(
        0.0, usual("longest_hold"), 1.0 / 60.0, rising=True, what="hold"
    )


def last_rate_for(
    legs: Sequence[Leg],
    climb: int,
    target: ConeKinetics,
    guard: ConeKinetics | None = None,
    kiln: Kiln | None = None,
    start: float | None = None,
) -> Answer:
    """Rate in C/h of leg number `climb`, its end as written: a slower climb does more work.

    From the slowest rate a kiln keeps up to what full power gives at the end of the climb.
    Raises IndexError for a leg that is not there.
    """
    kiln = Kiln() if kiln is None else kiln
    fastest = 1000.0
    end = legs[climb].to
    if end is not None and (possible := kiln.fastest_climb_at(end)) is not None:
        fastest = min(fastest, max(possible, usual("kiln_slowest_rate") + 1.0))

    def fire(value: float) -> Curve:
        leg = Leg("climb", to=end, rate=value)
        return curve_of(_with(legs, climb, leg), kiln, start)

    slowest = usual("kiln_slowest_rate")
    return _Search(fire, target, guard).answer(slowest, fastest, 1.0, rising=False, what="rate")


def _with(legs: Sequence[Leg], index: int, leg: Leg) -> list[Leg]:
    changed = list(legs)
    changed[index] = leg
    return changed


@frozen
class _Search:
    """One unknown, a firing for each value of it, and the two cones that judge it."""

    fire: Callable[[float], Curve]
    target: ConeKinetics
    guard: ConeKinetics | None

    def answer(self, low: float, high: float, step: float, *, rising: bool, what: str) -> Answer:
        """The value between low and high; `rising` where a larger value does more work."""
        if not low <= high:
            return self.none(low, f"the {what} would have to lie under what the schedule starts at")
        cool, hot = (low, high) if rising else (high, low)
        if self.work(hot, self.target) < 1.0:
            return self.none(hot, f"no {what} within the kiln's limits brings the target down")
        just = cool
        if self.work(cool, self.target) < 1.0:
            just = self.first(cool, hot, self.target, 1.0)
        value = _set(just, step, rising, low, high)
        if self.work(value, self.target) < 1.0:
            # Rounding met the end of the range; the unrounded value is right by construction.
            value = just
        if self.guard is None:
            return self.report("target down", value, just, hot, rising)
        for outcome, bound in (
            ("guard stands", start_work(self.guard)),
            ("guard leans", work_at_clock(self.guard, usual("guard_limit_clock"))),
        ):
            if self.work(just, self.guard) >= bound:
                continue
            chosen = value if self.work(value, self.guard) < bound else just
            last = hot
            if self.work(hot, self.guard) >= bound:
                last = self.first(cool, hot, self.guard, bound)
            return self.report(outcome, chosen, just, last, rising)
        return self.none(
            value, f"every {what} that brings the target down takes the guard half-way"
        )

    def work(self, value: float, cone: ConeKinetics) -> float:
        return work_of(self.fire(value).raw, cone.theta, cone.log_a)

    def first(self, cool: float, hot: float, cone: ConeKinetics, wanted: float) -> float:
        """The coolest value whose work is `wanted` or more, by halving; ends on the done side."""
        for _ in range(60):
            middle = 0.5 * (cool + hot)
            if middle in (cool, hot):
                break
            if self.work(middle, cone) >= wanted:
                hot = middle
            else:
                cool = middle
            if abs(hot - cool) < 1e-7:
                break
        return hot

    def report(self, outcome: str, value: float, just: float, last: float, rising: bool) -> Answer:
        least, most = (just, last) if rising else (last, just)
        return self.fired(outcome, value, least, most, "")

    def none(self, tried: float, reason: str) -> Answer:
        answer = self.fired("none", tried, None, None, reason)
        return evolve(answer, value=None)

    def fired(
        self, outcome: str, value: float, least: float | None, most: float | None, reason: str
    ) -> Answer:
        curve = self.fire(value)
        done = work_of(curve.raw, self.target.theta, self.target.log_a)
        guard_work = guard_clock = None
        if self.guard is not None:
            guard_work = work_of(curve.raw, self.guard.theta, self.guard.log_a)
            guard_clock = clock_position(self.guard, guard_work)
        return Answer(
            outcome=outcome,
            value=value,
            least=least,
            most=most,
            reason=reason,
            target_work=done,
            target_clock=clock_position(self.target, done),
            guard_work=guard_work,
            guard_clock=guard_clock,
            curve=curve,
        )


def _set(value: float, step: float, rising: bool, low: float, high: float) -> float:
    """A value as a person sets it, rounded to whole steps toward more work, kept in range."""
    steps = value / step
    if not -inf < steps < inf:
        return value
    whole = ceil(steps - 1e-9) if rising else floor(steps + 1e-9)
    return min(high, max(low, whole * step))
