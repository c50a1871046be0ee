"""The cones as they are read after the firing, and the lines that say it."""

from attrs import frozen

from guardcone.language import Keyword, Section, Statement
from guardcone.language.tokens import ClockPosition
from guardcone.plan.section import Faults, Read, SectionFacts, collect
from guardcone.span import Span, Written
from guardcone.values import (
    Angle,
)

__all__ = ["Position", "Reading", "read_reading"]


@frozen
class Position:
    """How one cone stands after the firing: a word, a clock position or an angle.

    `word` is down, standing, touching, melted or moved.
    """

    span: Span
    word: str | None
    clock: ClockPosition | None
    angle: Angle | None


@frozen
class Reading:
    """The cones of one witness set after the firing."""

    heading: Span
    place: Written[str] | None = None
    guide: Position | None = None
    target: Position | None = None
    guard: Position | None = None
    unreadable: frozenset[str] = frozenset()


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
