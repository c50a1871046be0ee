"""Room: the rule book; in this part every subject and fact of a plan and of its computed firing."""

from guardcone.rulebook.facts.case import Of, PlanCase
from guardcone.rulebook.facts.firing import BAND_CROSSING, FORECAST
from guardcone.rulebook.facts.kiln import KILN
from guardcone.rulebook.facts.load import GLAZE, LOAD
from guardcone.rulebook.facts.plan import PLAN, TARGET
from guardcone.rulebook.facts.safety import SAFETY
from guardcone.rulebook.facts.schedule import (
    FIRED_CLAY,
    FIRED_WARE,
    FIRED_WITNESS_CONE,
    SCHEDULE,
    SEGMENT,
)
from guardcone.rulebook.facts.witness import READING, WITNESS_SET
from guardcone.rulebook.vocabulary import Vocabulary

__all__ = ["VOCABULARY", "Of", "PlanCase"]

VOCABULARY = Vocabulary(
    (
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
        FORECAST,
        SAFETY,
        READING,
    )
)
