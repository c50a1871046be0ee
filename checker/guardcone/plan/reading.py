"""From the statements of a reading section to its record."""

from guardcone.language import Keyword, Section, Statement
from guardcone.language.tokens import ClockPosition
from guardcone.plan.collecting import Faults, Read, collect
from guardcone.plan.facts_of_section import SectionFacts
from guardcone.plan.model import Position, Reading
from guardcone.values import Angle

__all__ = ["read_reading"]


def _position(name: str) -> Read:
    def read(facts: SectionFacts, statement: Statement) -> None:
        part = statement.part.part("position")
        assert part is not None
        word, clock, angle = part.value(Keyword), part.value(ClockPosition), part.value(Angle)
        position = Position(
            part.span,
            word.value if word else None,
            clock.value if clock else None,
            angle.value if angle else None,
        )
        facts.put(name, position, statement.span)

    return read


def read_reading(section: Section, faults: Faults) -> Reading:
    """The reading of one witness set."""
    facts = collect(
        section,
        faults,
        {
            "read_guide": _position("guide"),
            "read_target": _position("target"),
            "read_guard": _position("guard"),
        },
    )
    return Reading(section.heading, section.name, unreadable=facts.unreadable, **facts.fields)
