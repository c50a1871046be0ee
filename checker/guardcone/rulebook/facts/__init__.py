"""Room: the rule book; in this part every subject and fact of a plan and of its computed firing."""

from collections.abc import Sequence
from typing import Any

from attrs import evolve

from guardcone.rulebook.facts.beginning import with_beginning
from guardcone.rulebook.facts.case import Of, PlanCase
from guardcone.rulebook.facts.clay_and_glaze import GLAZE
from guardcone.rulebook.facts.crossing import BAND_CROSSING
from guardcone.rulebook.facts.fired_load import FIRED_CLAY, FIRED_WARE
from guardcone.rulebook.facts.firing import FORECAST
from guardcone.rulebook.facts.kiln import KILN
from guardcone.rulebook.facts.load import LOAD
from guardcone.rulebook.facts.plan import PLAN, TARGET
from guardcone.rulebook.facts.reading import READING
from guardcone.rulebook.facts.safety import SAFETY
from guardcone.rulebook.facts.schedule import FIRED_WITNESS_CONE, SCHEDULE, SEGMENT
from guardcone.rulebook.facts.witness import WITNESS_SET, WitnessCone
from guardcone.rulebook.vocabulary import Vocabulary
from guardcone.span import Span
from guardcone.values import Quantity

__all__ = ["VOCABULARY", "Of", "PlanCase"]


def _identity(of: Of[Any]) -> Any:
    """The part of the plan itself; the wrapping around it is made anew each time."""
    return of.it.cone if isinstance(of.it, WitnessCone) else of.it


def _units(of: Of[Any], place: Span) -> Sequence[Quantity]:
    return of.case.measures.at(place)


VOCABULARY = Vocabulary(
    tuple(
        evolve(subject, units=_units, identity=_identity)
        for subject in (
            PLAN,
            KILN,
            TARGET,
            WITNESS_SET,
            FIRED_WITNESS_CONE,
            LOAD,
            FIRED_CLAY,
            GLAZE,
            FIRED_WARE,
            SCHEDULE,
            SEGMENT,
            BAND_CROSSING,
            with_beginning(FORECAST),
            SAFETY,
            READING,
        )
    )
)
