"""The computed firing on the clock, and who watches when."""

from collections.abc import Callable
from typing import Any

from guardcone.condition.kinds import DURATION, FLAG, MOMENT
from guardcone.condition.vocabulary import Fact
from guardcone.facts.amounts import hours
from guardcone.facts.case import Of
from guardcone.facts.shifts import first_due, guide_hour, watching_of
from guardcone.outlook.planned import PlannedFiring
from guardcone.plan.targets import target_of_set
from guardcone.span import Written

__all__ = ["CLOCK_FACTS"]


def _power_ends(firing: PlannedFiring) -> float:
    return firing.powered_hours


def _target_hour(firing: PlannedFiring) -> float | None:
    """The hour at which the first target of all the sets is due to bend."""
    plan = firing.plan
    return first_due(firing, [target_of_set(one, plan) for one in plan.witness_sets])


def _notice(of: Of[PlannedFiring]) -> Any:
    """The shortest time from guide to target in one set, pointing at the guide."""
    gaps = []
    for witness in of.case.plan.witness_sets:
        aim = target_of_set(witness, of.case.plan)
        if witness.guide is None or aim is None:
            continue
        guide = of.it.forecast(witness.guide.value)
        target = of.it.forecast(aim.value)
        if guide and target and guide.start_hour is not None and target.start_hour is not None:
            gaps.append((target.start_hour - guide.start_hour, witness.guide.span))
    # A guide that bends after its target stands in a set whose order is wrong: no notice at all.
    if not gaps or min(gaps)[0] < 0:
        return None
    shortest, span = min(gaps)
    return Written(hours(shortest), span)


def _unwatched(
    hour_of: Callable[[PlannedFiring], float | None],
) -> Callable[[Of[PlannedFiring]], Any]:
    def get(of: Of[PlannedFiring]) -> Any:
        """Yes, at the first watch, if watches are said and nobody is there at the hour."""
        safety, hour = of.case.plan.safety, hour_of(of.it)
        if safety is None or "watches" in safety.unreadable or not safety.watches:
            return None
        if hour is None or not of.it.fired:
            return None
        covered = watching_of(of.it, safety, of.it.powered_hours).covers(hour)
        return None if covered is None else Written(not covered, safety.watches[0].span)

    return get


def _moment(hour_of: Callable[[PlannedFiring], float | None]) -> Callable[[Of[PlannedFiring]], Any]:
    return lambda of: of.it.clock(hour_of(of.it))


CLOCK_FACTS = (
    Fact("ends", MOMENT, "When the kiln needs no more power, by the clock.", _moment(_power_ends)),
    Fact("guide-due", MOMENT, "When the first guide is due to bend.", _moment(guide_hour)),
    Fact("target-due", MOMENT, "When the first target is due to bend.", _moment(_target_hour)),
    Fact("notice", DURATION, "The time from the guide's bending to the target's.", _notice),
    Fact(
        "guide-unwatched",
        FLAG,
        "Yes if no watch covers the time the guide is due.",
        _unwatched(guide_hour),
    ),
)
