"""Room: the computed firing; here what to set so that the target goes down and the guard stands."""

from collections.abc import Callable, Sequence
from math import exp, isfinite
from typing import Literal

from attrs import evolve, frozen

from guardcone.firing.bending import clock_position, start_work, work_at_clock
from guardcone.firing.cones import ConeKinetics, ladder, rate_constant
from guardcone.firing.curve import Curve
from guardcone.firing.forecast import COVERAGE
from guardcone.firing.forecast_parts import (
    Advice,
    Setting,
    SoakComparison,
    SoakStep,
)
from guardcone.firing.heatwork import work_of
from guardcone.firing.inverse import Answer, hold_for, last_rate_for, peak_for
from guardcone.firing.of_plan import PlannedFiring, kinetics_for
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import usual
from guardcone.values import Cone

__all__ = ["advise", "compare_soak", "final_climb", "shifted_clock"]

# How far below the first cone's end the second column of the soak comparison holds, °C.
LOWER = 10.0
_FAHRENHEIT = 5.0 / 9.0


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
    climb = final_climb(firing)
    settings = _settings(firing, climb, law, over, unit) if climb is not None else []
    without: list[Setting] = []
    if over and climb is not None and all(one.value is None for one in settings):
        without = _settings(firing, climb, law, None, unit)
    return Advice(
        places=places,
        target=target,
        guard=guard if over else None,
        as_written=_outcome(firing.curve, law, over),
        target_likelihood=now.verdict,
        guard_likelihood=then.verdict if then else None,
        settings=tuple(settings),
        whatever_the_guard_does=tuple(one for one in without if one.value is not None),
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


@frozen
class _Question:
    """One thing to vary: what the plan has, how it is asked, how a value is fired."""

    kind: Literal["peak", "hold", "rate"]
    written: float | None
    step: float  # what a person sets, in °C, hours or °C/h
    offset: float  # where the steps count from, in the same
    up: bool  # rounded up (more work) or down
    ask: Callable[[], Answer]
    fire: Callable[[float], Curve]


def _settings(
    firing: PlannedFiring,
    climb: int,
    target: ConeKinetics,
    guard: ConeKinetics | None,
    unit: str,
) -> list[Setting]:
    # The limit of a kiln that is rated to a cone bounds the search, though it is no problem of
    # the schedule: its temperature depends on the rate.
    kiln = evolve(firing.kiln, limit=firing.limit)
    legs, begins = firing.legs, firing.begins
    degree = _FAHRENHEIT if unit == "F" else 1.0
    zero = -32.0 * _FAHRENHEIT if unit == "F" else 0.0
    leg = legs[climb]
    hold, held = _hold_after(legs, climb)

    def with_leg(base: Sequence[Leg], index: int, changed: Leg) -> Curve:
        return curve_of([*base[:index], changed, *base[index + 1 :]], kiln, begins)

    questions = [
        _Question(
            "peak",
            leg.to,
            degree,
            zero,
            True,
            lambda: peak_for(legs, climb, target, guard, kiln, begins),
            lambda value: with_leg(legs, climb, evolve(leg, to=value)),
        ),
        _Question(
            "hold",
            legs[hold].hours if held is legs else 0.0,
            1.0 / 60.0,
            0.0,
            True,
            lambda: hold_for(held, hold, target, guard, kiln, begins),
            lambda value: with_leg(held, hold, Leg("hold", hours=max(1e-9, value))),
        ),
        _Question(
            "rate",
            _written_rate(firing, climb),
            degree,
            0.0,
            False,
            lambda: last_rate_for(legs, climb, target, guard, kiln, begins),
            lambda value: with_leg(legs, climb, Leg("climb", to=leg.to, rate=value)),
        ),
    ]
    return [_answered(question, target, guard) for question in questions]


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


def _answered(question: _Question, target: ConeKinetics, guard: ConeKinetics | None) -> Setting:
    answer = question.ask()
    value = answer.value
    target_clock, guard_clock = answer.target_clock, answer.guard_clock
    if value is not None and answer.least is not None and answer.most is not None:
        written = question.written
        if written is not None and answer.least <= written < answer.most:
            value = written
        else:
            value = _settable(answer.least, answer.most, question, value)
        curve = question.fire(value)
        target_clock = _clock(curve, target)
        guard_clock = _clock(curve, guard) if guard else None
    return Setting(
        kind=question.kind,
        outcome=answer.outcome,
        value=value,
        least=answer.least,
        most=answer.most,
        written=question.written,
        reason=answer.reason,
        target_clock=target_clock,
        guard_clock=guard_clock,
    )


# How far inside its window a value is set, so that the target is not only just down: °C of peak,
# hours of hold, share of a rate (own choice; a forecast is good to several degrees at best).
_WELL_INSIDE = {"peak": 5.0, "hold": 5.0 / 60.0, "rate": 0.1}


def _settable(least: float, most: float, question: _Question, otherwise: float) -> float:
    """A value well inside the window: in its middle, or in a wide window a margin from its edge.

    It is on a whole step, or on a tenth of one where none is inside.
    """
    enough = _WELL_INSIDE[question.kind] * (most if question.kind == "rate" else 1.0)
    margin = min(0.5 * (most - least), enough)
    wanted = least + margin if question.up else most - margin
    for step in (question.step, question.step / 10.0):
        value = round((wanted - question.offset) / step) * step + question.offset
        inside = least - 1e-9 <= value < most if question.up else least < value <= most + 1e-9
        if inside:
            return value
    return otherwise


def _clock(curve: Curve, cone: ConeKinetics) -> float:
    return clock_position(cone, work_of(curve.raw, cone.theta, cone.log_a))


def compare_soak(firing: PlannedFiring, target: Cone) -> SoakComparison | None:
    """Hours of holding that drop the next two cones, after the plan's own last climb.

    Held where the target goes down at the end of that climb without any hold, and 10 °C lower.
    None where no law is known, the schedule has no last climb, or the kiln does not reach so far.
    """
    law, climb = kinetics_for(target), final_climb(firing)
    if law is None or climb is None:
        return None
    approach = firing.legs[: climb + 1]
    found = peak_for(approach, climb, law, None, firing.kiln, firing.begins)
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
