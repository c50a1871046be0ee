"""The computed firing the other way round: which peak, hold or last rate is right.

Every answer is on a whole step, as a person would set it (whole degrees, minutes, degrees an hour),
or as it is written, and is fired once more; what it reports is that last firing. Where no whole
step lies in a window there is no answer, for what is set would be rounded out of it.
"""

from collections.abc import Callable, Sequence
from math import ceil, floor, inf, log
from typing import Literal

from attrs import define, evolve, field, frozen

from guardcone.firing.cone_forecast import clock_position, start_work, work_at_clock, work_done
from guardcone.firing.cones import ConeKinetics
from guardcone.firing.curve import Curve
from guardcone.firing.kiln import Kiln
from guardcone.firing.root import root
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import usual
from guardcone.values import Rate, Temperature

__all__ = ["Answer", "Kind", "Question", "step_of"]

# The other hold is one that does not end the climb to the peak.
Kind = Literal["peak", "hold", "rate", "other_hold"]

_WORDS: dict[Kind, tuple[str, str]] = {
    "peak": ("peak", "degree"),
    "hold": ("hold", "minute"),
    "rate": ("rate", "degree an hour"),
    "other_hold": ("length of that hold", "minute"),
}


def step_of(kind: Kind, unit: str) -> tuple[float, float]:
    """What a person sets in "C" or "F", in °C, hours or °C/h, and where the steps count from."""
    if kind == "rate":
        return Rate.unit_named(f"{unit}/h").factor, 0.0
    if kind == "peak":
        scale = Temperature.unit_named(unit)
        return scale.factor, scale.offset
    return 1.0 / 60.0, 0.0


@frozen(repr=False)
class Answer:
    """What to set so that the target goes down and the guard does not, and what comes of it.

    `outcome`: "target down" (no guard was asked about), "guard stands", "guard leans" (it has begun
    but is not half-way; the cones lie too close together for it to stand), or "none".
    `value` in °C, hours or °C/h, None for "none"; `least` and `most` bound every value that gives
    this outcome, `first` and `last` are the whole steps in it, or what is written if it lies beyond
    them (None where there is none).
    `reason` says in plain words why there is none: "" otherwise.
    The clocks are of the answer fired; for "none", of the nearest try, None where nothing was
    tried. `written` is what a plan has, `leg` the leg it has it in.
    `chance_down`, `all_down` and `guard_stands` are the chances, if that is set, that the target
    goes down on the shelf where it is least likely and on all that are asked about, and that the
    guard stands on the one where that is least likely; None where nobody asked.
    """

    kind: Kind
    outcome: str
    value: float | None
    least: float | None
    most: float | None
    reason: str
    target_clock: float | None
    guard_clock: float | None
    written: float | None = None
    leg: int = 0
    first: float | None = None
    last: float | None = None
    chance_down: float | None = None
    all_down: float | None = None
    guard_stands: float | None = None


# Not slotted: it keeps what it has fired.
@define(slots=False, eq=False, repr=False)
class Question:
    """One thing to set otherwise, everything else as written.

    The peak in °C at the end of leg number `leg`, the rate in °C/h of that climb, or the length in
    hours of the hold that is that leg. IndexError for a leg that is not there. `unit` is that of
    the steps, "C" or "F"; `slowest` the slowest rate to look at, where it is not what a kiln keeps;
    `written` what the plan has, which is kept where it is right.
    """

    kind: Kind
    legs: Sequence[Leg]
    leg: int
    kiln: Kiln = field(factory=Kiln)
    start: float | None = None
    unit: str = "C"
    slowest: float = field(factory=lambda: usual("kiln_slowest_rate"))
    written: float | None = None
    _fired: dict[float, Curve] = field(factory=dict, init=False, repr=False)

    def fire(self, value: float) -> Curve:
        """The firing with this value set."""
        if value not in self._fired:
            self._fired[value] = curve_of(self.legs_with(value), self.kiln, self.start)
        return self._fired[value]

    def legs_with(self, value: float) -> tuple[Leg, ...]:
        """The legs with this value set."""
        return (*self.legs[: self.leg], self._leg(value), *self.legs[self.leg + 1 :])

    def _leg(self, value: float) -> Leg:
        written = self.legs[self.leg]
        if self.kind == "peak":
            return evolve(written, to=value)
        if self.kind == "rate":
            return Leg("climb", to=written.to, rate=value)
        # No hold at all is an answer too; a hold of no length would be a problem of the schedule.
        return Leg("hold", hours=max(1e-9, value))

    def _bounds(self, target: ConeKinetics) -> tuple[float, float, str]:
        """The least and the most to look at, and in words what bounds the side that does most.

        A peak from where the climb starts, and from the hottest of the other legs, for a cooler
        one would be no peak, to the kiln's limit and to where the kiln comes by such a climb; a
        rate from the slowest that a kiln keeps to what full power gives at the end of the climb.
        """
        written, kiln = self.legs[self.leg], self.kiln
        if self.kind in ("hold", "other_hold"):
            longest = usual("longest_hold")
            return 0.0, longest, f"of {longest:g} h or less"
        if self.kind == "peak":
            far = usual("farthest_peak")
            before = curve_of(self.legs[: self.leg], kiln, self.start).end
            others = (leg.to for at, leg in enumerate(self.legs) if at != self.leg)
            least = max((to for to in others if to is not None), default=before)
            top, why = min(
                (target.end_60 + far, "that is at all near its end"),
                (inf if kiln.limit is None else kiln.limit, "that the kiln is made for"),
                (_reach(written, kiln, before), "that the kiln comes to by such a climb"),
            )
            return max(before, min(max(least, target.end_60 - far), top)), top, why
        fastest = usual("fastest_rate")
        possible = None if written.to is None else kiln.fastest_climb_at(written.to)
        if possible is not None:
            fastest = min(fastest, possible)
        return self.slowest, fastest, "that a kiln can keep, however slow,"

    def answer(self, target: ConeKinetics, guard: ConeKinetics | None = None) -> Answer:
        """The value that puts the target down and leaves the guard standing, if there is one."""
        low, high, why = self._bounds(target)
        what, step = _WORDS[self.kind]
        cool, hot = (high, low) if self.kind == "rate" else (low, high)
        none = Answer(
            self.kind, "none", None, None, None, "", None, None, self.written, leg=self.leg
        )
        if not low <= high:
            return evolve(none, reason=f"there is no {what} {why}".rstrip(","))
        if self._work(hot, target) < 1.0:
            reason = f"no {what} {why} brings the target down"
            return self._told(evolve(none, reason=reason), hot, target, guard)
        just = self._first(cool, hot, target, 1.0)
        reason = f"every {what} that brings the target down takes the guard half-way"
        for outcome, bound in _outcomes(guard):
            last = hot
            if guard is not None and self._work(hot, guard) >= bound:
                if self._work(just, guard) >= bound:
                    continue
                last = self._first(cool, hot, guard, bound)

            def right(value: float, bound: float = bound) -> bool:
                kept = guard is None or self._work(value, guard) < bound
                return kept and self._work(value, target) >= 1.0

            least, most = sorted((just, last))
            whole = self._whole_steps(least, most, right)
            value = self._chosen(just, last, whole)
            if self.written is not None and low <= self.written <= high and right(self.written):
                value = self.written
            if value is None:
                reason = f"what would do it is less than a whole {step} wide"
                continue
            ends = (*whole, value)
            found = evolve(none, outcome=outcome, value=value, least=least, most=most)
            found = evolve(found, first=min(ends), last=max(ends))
            return self._told(found, value, target, guard)
        return self._told(evolve(none, reason=reason), just, target, guard)

    def _told(
        self, answer: Answer, tried: float, target: ConeKinetics, guard: ConeKinetics | None
    ) -> Answer:
        """The answer with where the cones point in the firing that was tried for it."""
        return evolve(
            answer,
            target_clock=self.clock(tried, target),
            guard_clock=self.clock(tried, guard) if guard else None,
        )

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
        return root(lambda value: log(max(1e-300, self._work(value, cone) / wanted)), cool, hot)

    def _whole_steps(
        self, least: float, most: float, right: Callable[[float], bool]
    ) -> tuple[float, ...]:
        """The first and the last whole step of a window; none where there is none in it."""
        step, zero = step_of(self.kind, self.unit)
        first, last = (least - zero) / step, (most - zero) / step
        if not last - first < 1e9:
            return ()
        # A window is known to a hair; what lies on its very end is tried.
        whole = range(ceil(first - 1e-6), floor(last + 1e-6) + 1)
        values = [self._at(one) for one in whole[:2]]
        ends = [self._at(one) for one in whole[:-3:-1]]
        found = [next(filter(right, side), None) for side in (values, ends)]
        return tuple(one for one in found if one is not None)

    def _at(self, steps: float) -> float:
        """The value that is so many whole steps."""
        step, zero = step_of(self.kind, self.unit)
        return round(steps * step + zero, 9)

    def _chosen(self, just: float, last: float, whole: tuple[float, ...]) -> float | None:
        """A whole step well inside: in the middle, or in a wide window a margin from its edge."""
        if not whole:
            return None
        kind: str = "hold" if self.kind == "other_hold" else self.kind
        margin = usual(f"well_inside_{kind}") * (just if kind == "rate" else 1.0)
        wanted = just + max(-margin, min(margin, 0.5 * (last - just)))
        step, zero = step_of(self.kind, self.unit)
        return min(max(whole), max(min(whole), self._at(round((wanted - zero) / step))))


def _outcomes(guard: ConeKinetics | None) -> tuple[tuple[str, float], ...]:
    """What may come of it, the best first, and the heat-work of the guard that ends it."""
    if guard is None:
        return (("target down", inf),)
    half_way = work_at_clock(guard, usual("guard_limit_clock"))
    return ("guard stands", start_work(guard)), ("guard leans", half_way)


def _reach(climb: Leg, kiln: Kiln, before: float) -> float:
    """°C that a kiln comes to by such a climb; inf where its power is not known."""
    if climb.kind == "climb at full power":
        return kiln.full_power_reach
    if climb.rate is None and climb.hours is not None:
        # Over so many hours the rate grows with the peak as that which is possible falls.
        share = climb.hours / (climb.hours + kiln.time_constant)
        still = kiln.reach(0.0)
        return before + share * (still - before) if still < inf else inf
    return kiln.reach(climb.rate or 0.0)
