"""What to set so that the target goes down and the guard stands."""

from collections.abc import Sequence
from functools import lru_cache
from math import exp, isfinite

from attrs import evolve

from guardcone.firing.cone_forecast import COVERAGE, clock_position, start_work, work_at_clock
from guardcone.firing.cones import ConeKinetics, kinetics_for, ladder, rate_constant
from guardcone.firing.curve import Curve
from guardcone.firing.heatwork import work_of
from guardcone.firing.inverse import Answer, Kind, Question
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import usual
from guardcone.outlook.planned import PlannedFiring
from guardcone.outlook.records import Advice, SoakComparison, SoakStep
from guardcone.values import Cone, Rate, Temperature

__all__ = ["advise", "compare_soak", "final_climb", "setting_for", "shifted_clock"]

# How far below the first cone's end the second column of the soak comparison holds, °C.
LOWER = usual("soak_lower")
KINDS: tuple[Kind, ...] = ("peak", "hold", "rate")


def final_climb(firing: PlannedFiring) -> int | None:
    """The leg that climbs to the peak, or None where the schedule's peak ends no climb."""
    curve = firing.curve
    for piece in curve.pieces:
        if piece.end == curve.peak:
            leg = firing.legs[piece.leg]
            rising = piece.end > piece.start
            return piece.leg if leg.kind.startswith("climb") and rising else None
    return None


def advise(
    firing: PlannedFiring, places: tuple[str, ...], target: Cone, guard: Cone | None, unit: str
) -> Advice | None:
    """Peak, hold and last rate for one pair of cones; None where no law is known for the target.

    Values a person sets are whole in `unit` ("C" or "F"), wherever the window has a whole one.
    """
    law, over = kinetics_for(target), kinetics_for(guard) if guard else None
    now, then = firing.forecast(target), firing.forecast(guard) if guard else None
    kiln = firing.plan.kiln
    rated = kiln.rated_cone if kiln else None
    if law is None or now is None:
        return None
    spared = guard if over else None
    settings = [setting_for(firing, kind, target, spared, unit) for kind in KINDS]
    without: list[Answer | None] = []
    if over and all(one and one.value is None for one in settings):
        without = [setting_for(firing, kind, target, None, unit) for kind in KINDS]
    return Advice(
        places=places,
        target=target,
        guard=spared,
        as_written=_outcome(firing.curve, law, over),
        target_likelihood=now.verdict,
        guard_likelihood=then.verdict if then else None,
        settings=tuple(one for one in settings if one),
        whatever_the_guard_does=tuple(one for one in without if one and one.value is not None),
        kiln_limit=firing.limit,
        rated_cone=rated.value if rated and kiln and not kiln.rated_temperature else None,
        forecast_good_to_by=COVERAGE * now.spread.celsius,
    )


def _outcome(curve: Curve, target: ConeKinetics, guard: ConeKinetics | None) -> str:
    if work_of(curve.raw, target.theta, target.log_a) < 1.0:
        return "target short"
    if guard is None:
        return "target down"
    done = work_of(curve.raw, guard.theta, guard.log_a)
    if done < start_work(guard):
        return "guard stands"
    if done < work_at_clock(guard, usual("guard_limit_clock")):
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
    legs: Sequence[Leg] = firing.legs
    place, written = climb, firing.legs[climb].to
    if kind == "rate":
        written = _written_rate(firing, climb)
    elif kind == "hold":
        place, legs = _hold_after(firing.legs, climb)
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


def _hold_after(legs: Sequence[Leg], climb: int) -> tuple[int, Sequence[Leg]]:
    """The hold that follows the last climb, and the legs with it; put in where there is none."""
    after = climb + 1
    if after < len(legs) and legs[after].kind == "hold":
        return after, legs
    return after, [*legs[:after], Leg("hold", hours=0.0), *legs[after:]]


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
    whole, zero = _steps(kind, unit)
    for step in (whole, whole / 10.0):
        value = round((wanted - zero) / step) * step + zero
        inside = least - 1e-9 <= value < most if up else least < value <= most + 1e-9
        if inside:
            return value
    return otherwise


def _steps(kind: Kind, unit: str) -> tuple[float, float]:
    """What a person sets, in °C, hours or °C/h, and where the steps count from."""
    if kind == "hold":
        return 1.0 / 60.0, 0.0
    if kind == "rate":
        return Rate.unit_named(f"{unit}/h").factor, 0.0
    scale = Temperature.unit_named(unit)
    return scale.factor, scale.offset


def compare_soak(firing: PlannedFiring, target: Cone) -> SoakComparison | None:
    """Hours of holding that drop the next two cones, after the plan's own last climb.

    Held where the target goes down at the end of that climb without any hold, and 10 °C lower.
    None where no law is known, the schedule has no last climb, or the kiln does not reach so far.
    """
    law, climb = kinetics_for(target), final_climb(firing)
    if law is None or climb is None:
        return None
    approach = firing.legs[: climb + 1]
    found = Question("peak", approach, climb, firing.kiln, firing.begins).answer(law)
    if found.least is None:
        return None

    def hours(cone: ConeKinetics, celsius: float) -> float | None:
        changed = [*approach[:-1], evolve(approach[-1], to=celsius)]
        done = work_of(curve_of(changed, firing.kiln, firing.begins).raw, cone.theta, cone.log_a)
        needed = max(0.0, 1.0 - done) / rate_constant(cone, celsius)
        return needed if isfinite(needed) and needed <= usual("longest_hold") else None

    whole = [cone for cone in ladder(law.series) if "½" not in cone.cone]
    steps = tuple(
        SoakStep(
            cone.cone,
            cone.end_60 - law.end_60,
            hours(cone, found.least),
            hours(cone, found.least - LOWER),
        )
        for cone in [cone for cone in whole if cone.axis > law.axis][:2]
    )
    return SoakComparison(law.cone, law.series, found.least, steps) if steps else None


def shifted_clock(cone: ConeKinetics, work: float, peak_kelvin: float, degrees: float) -> float:
    """Clock position of a cone on a shelf that is `degrees` °C hotter than where W was computed."""
    fold = peak_kelvin * peak_kelvin / cone.theta
    return clock_position(cone, min(1e300, work) * exp(min(600.0, max(-600.0, degrees / fold))))
