"""What to set so that the target goes down and the guard stands."""

from collections.abc import Iterator
from functools import lru_cache
from math import exp, isfinite
from operator import attrgetter

from attrs import evolve

from guardcone.firing.cone_forecast import (
    ConeForecast,
    chance_of_all,
    clock_position,
    start_work,
    work_at_clock,
    work_done,
)
from guardcone.firing.cones import ConeKinetics, kinetics_for, ladder, rate_constant
from guardcone.firing.inverse import Answer, Kind, Question
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import usual
from guardcone.firing.uncertainty import Shelf, likelihood
from guardcone.outlook.planned import PlannedFiring
from guardcone.outlook.records import Advice, SoakComparison, SoakStep
from guardcone.outlook.written import shelf_of
from guardcone.plan.witness import WitnessSet
from guardcone.values import Cone, Rate, Temperature

__all__ = ["advise", "compare_soak", "final_climb", "setting_for", "shifted_clock", "step_of"]

# How far below the first cone's end the second column of the soak comparison holds, °C.
LOWER = usual("soak_lower")
KINDS: tuple[Kind, ...] = ("peak", "hold", "rate")


def final_climb(firing: PlannedFiring) -> int | None:
    """The leg that climbs to the peak, or None where the schedule's peak ends no climb."""
    curve, legs = firing.curve, firing.legs
    ending = next((piece for piece in curve.pieces if piece.end == curve.peak), None)
    if ending is None or ending.end <= ending.start:
        return None
    return ending.leg if legs[ending.leg].kind.startswith("climb") else None


def advise(
    firing: PlannedFiring, sets: list[WitnessSet], target: Cone, guard: Cone | None, unit: str
) -> Advice | None:
    """Peak, hold and last rate for one pair of cones; None where no law is known for the target.

    The pair stands in each of the `sets`. Values a person sets are whole in `unit` ("C" or "F"),
    wherever the window has a whole one.
    """
    shelves: list[Shelf] = [shelf_of(witness) for witness in sets] or ["anywhere"]
    now = min(_on_each(firing, target, shelves), key=attrgetter("chance_down"), default=None)
    if now is None:
        return None
    guards = _on_each(firing, guard, shelves) if guard else ()
    then = max(guards, key=attrgetter("chance_moved"), default=None)
    together = chance_of_all(now, shelves) if len(sets) > 1 else None

    def settings(spared: Cone | None) -> tuple[Answer, ...]:
        found = (setting_for(firing, kind, target, spared, unit) for kind in KINDS)
        return tuple(filter(None, found))

    spared = guard if then else None
    sparing = settings(spared)
    hopeless = spared and all(one.value is None for one in sparing)
    whatever = settings(None) if hopeless else ()
    kiln = firing.plan.kiln
    rated = kiln.rated_cone if kiln and not kiln.rated_temperature else None
    return Advice(
        places=tuple(one.place.value for one in sets if one.place),
        sets=len(sets),
        target=target,
        guard=spared,
        as_written=_outcome(now, then),
        target_likelihood=f"{likelihood(now.chance_down)} to go down",
        guard_likelihood=f"{likelihood(1.0 - then.chance_moved)} to stand" if then else None,
        chance_all_down=together,
        settings=sparing,
        whatever_the_guard_does=tuple(one for one in whatever if one.value is not None),
        kiln_limit=firing.limit,
        rated_cone=rated.value if rated else None,
        forecast_good_to_by=now.spread.cooler,
    )


def _on_each(firing: PlannedFiring, cone: Cone, shelves: list[Shelf]) -> Iterator[ConeForecast]:
    return filter(None, (firing.forecast(cone, shelf) for shelf in shelves))


def _outcome(target: ConeForecast, guard: ConeForecast | None) -> str:
    if target.work < 1.0:
        return "target short"
    if guard is None:
        return "target down"
    if guard.work < start_work(guard.kinetics):
        return "guard stands"
    if guard.work < work_at_clock(guard.kinetics, usual("guard_limit_clock")):
        return "guard leans"
    return "guard goes"


# Facts and forecast ask the same of a firing, which is not compared but known by itself.
@lru_cache(maxsize=64)
def setting_for(
    firing: PlannedFiring, kind: Kind, target: Cone, guard: Cone | None, unit: str
) -> Answer | None:
    """The peak, hold or last rate for one pair of cones; None where no law is known for the target.

    None too where the schedule's peak ends no climb. The value is whole in `unit` ("C" or "F")
    where the window has a whole one.
    """
    law, over = kinetics_for(target), kinetics_for(guard) if guard else None
    climb = final_climb(firing)
    if law is None or climb is None:
        return None
    legs, place = firing.legs, climb
    if kind == "peak":
        written = legs[climb].to
    elif kind == "rate":
        written = _written_rate(firing, climb)
    else:
        place = climb + 1
        if place == len(legs) or legs[place].kind != "hold":
            legs = (*legs[:place], Leg("hold", hours=0.0), *legs[place:])
        written = legs[place].hours
    # The limit of a kiln that is rated to a cone bounds the search, though it is no problem of
    # the schedule: its temperature depends on the rate.
    question = Question(kind, legs, place, evolve(firing.kiln, limit=firing.limit), firing.begins)
    answer = evolve(question.answer(law, over), written=written)
    value, least, most = answer.value, answer.least, answer.most
    if value is None or least is None or most is None:
        return answer
    if written is not None and least <= written < most:
        value = written
    else:
        value = _settable(least, most, kind, unit, value)
    return evolve(
        answer,
        value=value,
        target_clock=question.clock(value, law),
        guard_clock=question.clock(value, over) if over else None,
    )


def _written_rate(firing: PlannedFiring, climb: int) -> float | None:
    """°C/h of a straight climb, as written or as its duration makes it; None for full power."""
    own = [piece for piece in firing.curve.pieces if piece.leg == climb]
    if len(own) != 1 or own[0].asymptote is not None or firing.legs[climb].kind != "climb":
        return None
    return own[0].rate_at(own[0].end)


def _settable(least: float, most: float, kind: Kind, unit: str, otherwise: float) -> float:
    """A value well inside the window: in its middle, or in a wide window a margin from its edge.

    It is on a whole step, or on a tenth of one where none is inside.
    """
    up = kind != "rate"
    # So far inside that the target is not only just down.
    margin = min(0.5 * (most - least), usual(f"well_inside_{kind}") * (1.0 if up else most))
    wanted = least + margin if up else most - margin
    whole, zero = step_of(kind, unit)
    for step in (whole, whole / 10.0):
        value = round(round((wanted - zero) / step) * step + zero, 9)
        inside = least - 1e-9 <= value < most if up else least < value <= most + 1e-9
        if inside:
            return value
    return otherwise


def step_of(kind: Kind, unit: str) -> tuple[float, float]:
    """What a person sets, in °C, hours or °C/h, and where the steps count from."""
    if kind == "rate":
        return Rate.unit_named(f"{unit}/h").factor, 0.0
    if kind == "peak":
        scale = Temperature.unit_named(unit)
        return scale.factor, scale.offset
    return 1.0 / 60.0, 0.0


def compare_soak(firing: PlannedFiring, target: Cone) -> SoakComparison | None:
    """Hours of holding that drop the next two cones, after the plan's own last climb.

    Held where the target goes down at the end of that climb without any hold, and 10 °C lower.
    None where no law is known, the schedule has no last climb, or the kiln does not reach so far.
    """
    law, climb = kinetics_for(target), final_climb(firing)
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
