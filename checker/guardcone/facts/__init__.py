"""Every subject and fact of a plan and of its computed firing."""

from collections.abc import Sequence
from typing import Any

from guardcone.condition.vocabulary import Vocabulary

# These add facts to the subjects below.
from guardcone.facts import (
    forecast_cones,  # noqa: F401
    forecast_ware,  # noqa: F401
    inspection,  # noqa: F401
    set_cones,  # noqa: F401
    slips,  # noqa: F401
    watching,  # noqa: F401
)
from guardcone.facts.case import Of, PlanCase
from guardcone.facts.clay_and_glaze import CLAY, GLAZE, MATERIAL
from guardcone.facts.forecast import FORECAST
from guardcone.facts.inspection import LOOK
from guardcone.facts.kiln import KILN
from guardcone.facts.load import LOAD
from guardcone.facts.plan import PLAN, TARGET
from guardcone.facts.reading import READING
from guardcone.facts.remark import REMARK
from guardcone.facts.safety import SAFETY
from guardcone.facts.schedule import SCHEDULE, SEGMENT
from guardcone.facts.ware import WARE
from guardcone.facts.witness import WITNESS_CONE, WITNESS_SET, WitnessCone
from guardcone.span import Span
from guardcone.values import Quantity

__all__ = ["VOCABULARY", "Of", "PlanCase"]


def _identity(of: Of[Any]) -> Any:
    """The part of the plan itself; the wrapping around it is made anew each time."""
    return of.it.cone if isinstance(of.it, WitnessCone) else of.it


def _units(of: Of[Any], place: Span) -> Sequence[Quantity]:
    return of.case.measures.at(place)


VOCABULARY = Vocabulary(
    (
        *(PLAN, KILN, TARGET, WITNESS_SET, WITNESS_CONE, LOAD, MATERIAL, CLAY, GLAZE, WARE),
        *(SCHEDULE, SEGMENT, FORECAST, SAFETY, LOOK, READING, REMARK),
    ),
    units=_units,
    identity=_identity,
)
