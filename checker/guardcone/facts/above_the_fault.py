"""What is still known where a line of the schedule is faulty.

One line that can't be read must not hide what the lines above it say: damp ware that climbs too
fast to 600 °C does so whatever the lines after it were to be.
"""

from collections.abc import Callable, Iterable
from typing import Any

from attrs import evolve

from guardcone.condition.vocabulary import UNREADABLE, Fact, Subject
from guardcone.facts.case import Of, PlanCase
from guardcone.firing.tables import usual
from guardcone.outlook.planned import PlannedFiring

__all__ = ["with_beginning"]

# Facts of the forecast that the lines above the faulty one settle, once they are past drying.
_EARLY = frozenset(
    (
        "boiling drying held-below-boiling candling first-hold rate-through-boiling rate-to-600 "
        "rate-to-100 chemical-water-rate quartz-up-rate cristobalite-up-rate is-raku damp-ware "
        "dry-raw-ware raw-ware thickest-ware thickest-fired-ware thickest-refired-ware has-raw-ware"
    ).split()
)
# What the schedule says outright, whatever its other lines say.
_OUTRIGHT = frozenset(("opening",))


def with_beginning(forecast: Subject) -> Subject:
    """The forecast, which of a faulty schedule knows what the lines above the fault settle."""

    def each(case: PlanCase) -> Iterable[Of[PlannedFiring]]:
        if case.firing.fired:
            return [Of(case, case.firing)]
        beginning = case.beginning
        return [Of(case, beginning)] if beginning else []

    gated = evolve(forecast, each=each)
    gated.add(*map(_gated, forecast.facts))
    return gated


def _gated(fact: Fact) -> Fact:
    read: Callable[[Any], Any] = fact.get

    def get(of: Of[PlannedFiring]) -> Any:
        if of.it is of.case.firing:
            return read(of)
        if fact.name in _OUTRIGHT:
            return read(Of(of.case, of.case.firing))
        if fact.name in _EARLY and of.it.peak > usual("dry_above"):
            return read(of)
        return UNREADABLE

    return evolve(fact, get=get)
