"""What to set so that the target goes down and the guard stands."""

from collections.abc import Iterator
from functools import lru_cache
from math import exp, isfinite
from operator import attrgetter

from attrs import evolve, frozen

from guardcone.firing.cone_forecast import (
    ConeForecast,
    chance_of_all,
    clock_position,
    effective_rate,
    start_work,
    work_at_clock,
    work_done,
)
from guardcone.firing.cones import ConeKinetics, kinetics_for, ladder, rate_constant
from guardcone.firing.heatwork import piece_work
from guardcone.firing.inverse import Answer, Kind, Question
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import usual
from guardcone.firing.uncertainty import CHART_SLOWEST, Shelf, likelihood
from guardcone.outlook.planned import PlannedFiring
from guardcone.outlook.reach import (
    limit_of,
    limit_rate,
    rated_law,
    slowest_to_its_peak,
    strained_from,
)
from guardcone.outlook.records import Advice, SoakComparison, SoakStep
from guardcone.outlook.written import shelf_of
from guardcone.plan.witness import WitnessSet
from guardcone.values import Cone

__all__ = ["advise", "compare_soak", "setting_for", "shifted_clock"]

# How far below the first cone's end the second column of the soak comparison holds, °C.
LOWER = usual("soak_lower")
# The chance from which on a thing is more likely than not.
EVEN = 0.5
KINDS: tuple[Kind, ...] = ("peak", "hold", "rate", "other_hold")


@frozen(repr=False)
class _Fares:
    """How a target fares on the shelf where it is least likely down, its guard where it moves."""

    target: ConeForecast
    guard: ConeForecast | None
    all_down: float
    guard_stands: float | None
    guard_down: float | None

    @property
    def outcome(self) -> str:
        """One of those of `Advice`."""
        target, guard = self.target, self.guard
        if target.work < 1.0:
            return "target short"
        if guard is None:
            return "target down"
        if guard.work < start_work(guard.kinetics):
            return "guard stands"
        if guard.work < work_at_clock(guard.kinetics, usual("guard_limit_clock")):
            return "guard leans"
        return "guard goes" if (self.guard_down or 0.0) >= EVEN else "guard bends"


def _fares(
    firing: PlannedFiring, target: Cone, guard: Cone | None, shelves: list[Shelf]
) -> _Fares | None:
    """None where no law is known for the target."""
    now = min(_on_each(firing, target, shelves), key=attrgetter("chance_down"), default=None)
    if now is None:
        return None
    guards = [*_on_each(firing, guard, shelves)] if guard else []
    then = max(guards, key=attrgetter("chance_moved"), default=None)
    stands = 1.0 - then.chance_moved if then else None
    goes = max((one.chance_down for one in guards), default=None)
    together = chance_of_all(now, shelves) if len(shelves) > 1 else now.chance_down
    return _Fares(now, then, together, stands, goes)


def _on_each(firing: PlannedFiring, cone: Cone, shelves: list[Shelf]) -> Iterator[ConeForecast]:
    return filter(None, (firing.forecast(cone, shelf) for shelf in shelves))


def advise(
    firing: PlannedFiring, sets: list[WitnessSet], target: Cone, guard: Cone | None, unit: str
) -> Advice | None:
    """What to set for one pair of cones; None where no law is known for the target.

    The pair stands in each of the `sets`. Values a person sets are whole in `unit` ("C" or "F").
    """
    shelves: list[Shelf] = [shelf_of(witness) for witness in sets] or ["anywhere"]
    now = _fares(firing, target, guard, shelves)
    if now is None:
        return None

    def settings(spared: Cone | None) -> tuple[Answer, ...]:
        found = filter(None, (setting_for(firing, kind, target, spared, unit) for kind in KINDS))
        return tuple(_with_chances(firing, one, target, spared, shelves) for one in found)

    spared = guard if now.guard else None
    sparing = settings(spared)
    hopeless = spared and all(one.value is None for one in sparing)
    whatever = settings(None) if hopeless else ()
    kiln, strained = firing.plan.kiln, strained_from(firing) is not None
    rated = kiln.rated_cone if kiln and rated_law(firing) else None
    target_word = f"{likelihood(now.target.chance_down)} to go down"
    guard_word = None if now.guard_stands is None else f"{likelihood(now.guard_stands)} to stand"
    goes = None if now.guard_down is None else f"{likelihood(now.guard_down)} to go down"
    good_to = max((one.spread.cooler for one in _on_each(firing, target, shelves)), default=0.0)
    return Advice(
        places=tuple(one.place.value for one in sets if one.place),
        sets=len(sets),
        target=target,
        guard=spared,
        as_written="beyond the power" if strained else now.outcome,
        target_likelihood=None if strained else target_word,
        guard_likelihood=None if strained else guard_word,
        guard_down_likelihood=None if strained else goes,
        chance_all_down=now.all_down if len(sets) > 1 and not strained else None,
        likeliest=_likeliest(firing, sparing, target, guard, shelves),
        gap_clock=_gap_clock(target, spared),
        settings=sparing,
        whatever_the_guard_does=tuple(one for one in whatever if one.value is not None),
        kiln_limit=limit_of(firing),
        hindered=_hindered(firing),
        rated_cone=rated.value if rated else None,
        rated_at=limit_rate(firing) if rated else None,
        forecast_good_to_by=None if strained else good_to,
        thermocouple_good_to_by=None if strained else now.target.spread.tolerance,
    )


def _with_chances(
    firing: PlannedFiring, one: Answer, target: Cone, guard: Cone | None, shelves: list[Shelf]
) -> Answer:
    """A setting with what comes of it on each of the shelves."""
    if one.value is None:
        return one
    found = _fares(_changed(firing, one, one.value), target, guard, shelves)
    if found is None:
        return one
    down = found.target.chance_down
    return evolve(one, chance_down=down, all_down=found.all_down, guard_stands=found.guard_stands)


def _changed(firing: PlannedFiring, answer: Answer, value: float) -> PlannedFiring:
    """The firing with something set otherwise."""
    question = _question(firing, answer.kind, answer.leg, "C")
    return evolve(firing, legs=question.legs_with(value), curve=question.fire(value))


def _likeliest(
    firing: PlannedFiring,
    settings: tuple[Answer, ...],
    target: Cone,
    guard: Cone | None,
    shelves: list[Shelf],
) -> Answer | None:
    """The end of a window by which the target likeliest goes down on each of several shelves.

    None for one shelf, and where nothing is to be set.
    """
    ends = [(one, one.first if one.kind == "rate" else one.last) for one in settings]
    found = []
    for one, end in ends if len(shelves) > 1 else ():
        fares = None if end is None else _fares(_changed(firing, one, end), target, guard, shelves)
        if fares:
            found.append(evolve(one, value=end, all_down=fares.all_down))
    return max(found, key=attrgetter("all_down"), default=None)


def _gap_clock(target: Cone, guard: Cone | None) -> float | None:
    """Where the guard points as the target goes down in an even climb of the slowest published."""
    law, over = kinetics_for(target), kinetics_for(guard) if guard else None
    if law is None or over is None or over.end_60 <= law.end_60:
        return None  # what ends cooler than its target is no guard of it
    peak = law.end_temperature(CHART_SLOWEST)
    return clock_position(over, (effective_rate(over, peak, 1.0) or 0.0) / CHART_SLOWEST)


# Facts and forecast ask the same of a firing, which is not compared but known by itself.
@lru_cache(maxsize=64)
def setting_for(
    firing: PlannedFiring, kind: Kind, target: Cone, guard: Cone | None, unit: str
) -> Answer | None:
    """What to set of one kind for a pair of cones; None where no law is known for the target.

    None too where the schedule's peak ends no climb, or it has no other hold that counts. The value
    is whole in `unit` ("C" or "F"), or as written. No hold and no rate is told for a climb that the
    kiln can't do or a peak that it is not made for: only what mends that.
    """
    law, over = kinetics_for(target), kinetics_for(guard) if guard else None
    climb = firing.final_climb
    place = climb if kind in ("peak", "rate") else climb if climb is None else climb + 1
    if kind == "other_hold" and law is not None and climb is not None:
        place = _other_hold(firing, climb, law)
    if law is None or place is None:
        return None
    question = _question(firing, kind, place, unit)
    if reason := _barred(firing, kind):
        return Answer(
            kind, "none", None, None, None, reason, None, None, question.written, leg=place
        )
    return question.answer(law, over)


def _question(firing: PlannedFiring, kind: Kind, place: int, unit: str) -> Question:
    legs, slowest = firing.legs, usual("kiln_slowest_rate")
    if kind == "peak":
        written = legs[place].to
    elif kind == "rate":
        written = _written_rate(firing, place)
        # At a slower climb the cone that the kiln is rated to ends cooler than this peak.
        slowest = max(slowest, slowest_to_its_peak(firing))
    else:
        if place == len(legs) or legs[place].kind != "hold":
            legs = (*legs[:place], Leg("hold", hours=0.0), *legs[place:])
        written = legs[place].hours
    # The limit of a kiln that is rated to a cone bounds the search, though it is no problem of
    # the schedule: its temperature depends on the rate.
    kiln = evolve(firing.kiln, limit=limit_of(firing))
    return Question(kind, legs, place, kiln, firing.begins, unit, slowest, written)


def _hindered(firing: PlannedFiring) -> str:
    """Why the firing is not to be set as written; "" where it may be."""
    if strained_from(firing) is not None:
        return "beyond the power"
    limit, climb = limit_of(firing), firing.final_climb
    if limit is not None and firing.peak > limit:
        return "too hot"
    own = (one.kind for one in firing.curve.problems if one.leg == climb)
    return "too fast" if "faster than full power" in own else ""


_BARS = {
    "beyond the power": "the kiln's power does not bring it to this peak",
    "too hot": "the kiln is not made for this peak",
    "too fast": "the kiln is not expected to climb so fast",
}


def _barred(firing: PlannedFiring, kind: Kind) -> str:
    """Why this is not to be set as long as something else is not mended; "" where it may be.

    A peak is looked for where it mends that, and a rate where the climb is too fast.
    """
    hindered = _hindered(firing)
    if not hindered or kind == "peak" or (kind == "rate" and hindered == "too fast"):
        return ""
    return _BARS[hindered]


def _other_hold(firing: PlannedFiring, climb: int, law: ConeKinetics) -> int | None:
    """The hold that works most on a cone but for the one at the peak, where it counts at all."""
    works: dict[int, float] = {}
    for piece in firing.curve.worked:
        works[piece.leg] = works.get(piece.leg, 0.0) + piece_work(piece.raw, law.theta, law.log_a)
    least = usual("work_worth_a_word") * sum(works.values())
    held = {
        leg: work
        for leg, work in works.items()
        if leg < len(firing.legs) and firing.legs[leg].kind == "hold" and leg != climb + 1
    }
    most = max(held, key=lambda leg: held[leg], default=None)
    return most if most is not None and held[most] > least else None


def _written_rate(firing: PlannedFiring, climb: int) -> float | None:
    """°C/h of a straight climb, as written or as its duration makes it; None for full power."""
    own = [piece for piece in firing.curve.pieces if piece.leg == climb]
    if len(own) != 1 or own[0].asymptote is not None or firing.legs[climb].kind != "climb":
        return None
    return firing.legs[climb].rate or own[0].rate_at(own[0].end)


def compare_soak(firing: PlannedFiring, target: Cone) -> SoakComparison | None:
    """Hours of holding that drop the next two cones, after the plan's own last climb.

    Held where the target goes down at the end of that climb without any hold, and 10 °C lower.
    None where no law is known, the schedule has no last climb, or the kiln does not reach so far.
    """
    law, climb = kinetics_for(target), firing.final_climb
    if law is None or climb is None:
        return None
    # Opened at its end, so that nothing is done while it cools.
    approach = (*firing.legs[: climb + 1], Leg("open"))
    found = Question("peak", approach, climb, firing.kiln, firing.begins).answer(law)
    if found.least is None:
        return None

    def hours(cone: ConeKinetics, celsius: float) -> float | None:
        changed = [*approach[:-2], evolve(approach[-2], to=celsius), approach[-1]]
        done = work_done(curve_of(changed, firing.kiln, firing.begins), cone)
        needed = max(0.0, 1.0 - done) / rate_constant(cone, celsius)
        return needed if isfinite(needed) and needed <= usual("longest_hold") else None

    hotter = [one for one in ladder(law.series) if "½" not in one.cone and one.axis > law.axis]
    steps = tuple(
        SoakStep(
            cone.cone,
            cone.end_60 - law.end_60,
            hours(cone, found.least),
            hours(cone, found.least - LOWER),
        )
        for cone in hotter[:2]
    )
    return SoakComparison(law.cone, law.series, found.least, steps) if steps else None


def shifted_clock(cone: ConeKinetics, work: float, peak_kelvin: float, degrees: float) -> float:
    """Clock position of a cone on a shelf that is `degrees` °C hotter than where W was computed."""
    fold = peak_kelvin * peak_kelvin / cone.theta
    return clock_position(cone, min(1e300, work) * exp(min(600.0, max(-600.0, degrees / fold))))
