"""The computed firing on the clock, and who watches when."""

from typing import Any

from guardcone.condition.kinds import DURATION, FLAG, MOMENT
from guardcone.facts.amounts import hours
from guardcone.facts.case import Of
from guardcone.facts.forecast import FORECAST
from guardcone.facts.shifts import guide_hour, watching_of
from guardcone.outlook.planned import PlannedFiring
from guardcone.plan.targets import target_of_set
from guardcone.span import Written

__all__: list[str] = []


@FORECAST.of_part(MOMENT)
def _ends(firing: PlannedFiring) -> Any:
    """When the kiln needs no more power, by the clock."""
    return firing.clock(firing.powered_hours)


@FORECAST.of_part(MOMENT)
def _guide_due(firing: PlannedFiring) -> Any:
    """When the first guide is due to bend."""
    return firing.clock(guide_hour(firing))


@FORECAST.fact(DURATION)
def _notice(of: Of[PlannedFiring]) -> Any:
    """The time from the guide's bending to the target's.

    The shortest of all sets, pointing at the guide.
    """
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


@FORECAST.fact(FLAG)
def _guide_unwatched(of: Of[PlannedFiring]) -> Any:
    """Yes if no watch covers the time the guide is due.

    Points at the first watch; missing where no watch is said or the time can't be told.
    """
    safety, hour = of.case.plan.safety, guide_hour(of.it)
    if safety is None or "watches" in safety.unreadable or not safety.watches:
        return None
    if hour is None or not of.it.fired:
        return None
    covered = watching_of(of.it, safety, of.it.powered_hours).covers(hour)
    return None if covered is None else Written(not covered, safety.watches[0].span)
