"""What the kiln of a plan is made for, and how far its power brings it on the schedule."""

from guardcone.firing.cone_forecast import effective_rate
from guardcone.firing.cones import ConeKinetics, kinetics_for
from guardcone.firing.curve import Problem
from guardcone.firing.uncertainty import CHART_FASTEST, CHART_SLOWEST
from guardcone.outlook.planned import PlannedFiring

__all__ = [
    "limit_of",
    "limit_rate",
    "rated_law",
    "slowest_to_its_peak",
    "strained_from",
    "strains_of",
]


def limit_of(firing: PlannedFiring) -> float | None:
    """The hottest the kiln is made for, °C; of a rated cone its end at `limit_rate`."""
    law = rated_law(firing)
    if law is None:
        return firing.kiln.limit
    return law.end_temperature(limit_rate(firing)) + _published_over_law(law)


def limit_rate(firing: PlannedFiring) -> float:
    """The rate of the last climb within those the chart is published for, °C/h."""
    return min(CHART_FASTEST, max(CHART_SLOWEST, firing.last_rate or CHART_SLOWEST))


def slowest_to_its_peak(firing: PlannedFiring) -> float:
    """°C/h of the slowest climb by which the peak is no hotter than the cone it is rated to.

    0.0 where no climb is too slow.
    """
    law = rated_law(firing)
    if law is None or firing.peak <= law.end_60:
        return 0.0
    return effective_rate(law, firing.peak - _published_over_law(law), 1.0) or 0.0


def rated_law(firing: PlannedFiring) -> ConeKinetics | None:
    """The law of the cone a kiln is rated to, where it is not rated to a temperature."""
    kiln = firing.plan.kiln
    if kiln is None or kiln.rated_temperature or not kiln.rated_cone:
        return None
    return kinetics_for(kiln.rated_cone.value)


def _published_over_law(law: ConeKinetics) -> float:
    """How far the published end of a cone at the slowest rate lies above that of its law, °C."""
    return law.end_60 - law.end_temperature(CHART_SLOWEST)


def strains_of(firing: PlannedFiring) -> tuple[Problem, ...]:
    """What of its problems is that the kiln's power does not bring it on, by the estimate.

    That is so too for a climb at a rate that is beyond its power, to where full power ends.
    """
    reach = firing.kiln.full_power_reach
    return tuple(
        one
        for one in firing.curve.problems
        if one.kind == "out of the kiln's power"
        or (one.kind == "faster than full power" and (firing.legs[one.leg].to or 0.0) > reach)
    )


def strained_from(firing: PlannedFiring) -> float | None:
    """The hour of the first of these, past which no time can be relied on; None for none."""
    hours = []
    for one in strains_of(firing):
        own = [piece for piece in firing.curve.pieces if piece.leg == one.leg]
        if one.kind == "out of the kiln's power":
            # What full power still does is exponential.
            hours += [piece.start_hour for piece in own if piece.asymptote is None][:1]
        else:
            at = min(one.at or 0.0, firing.kiln.full_power_reach)
            hours += [piece.hour_at(max(at, piece.start)) for piece in own][:1]
    return min(hours, default=None)
