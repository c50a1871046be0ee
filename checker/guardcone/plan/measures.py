"""The measures of a plan where they stand, and in which unit a place of it is answered.

One rule for every sentence and every line to copy: the unit of the line pointed at, then the one
most used in its section, then in the plan.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any, Literal

from attrs import fields, frozen, has

from guardcone.plan.model import Plan
from guardcone.span import Span, Written
from guardcone.values import Duration, Quantity
from guardcone.values.degrees import scale_of

__all__ = ["Measures", "measures_of"]

Measured = Written[Quantity]


@frozen
class Measures:
    """The measures of each section in the order of its lines; sections by their heading's line."""

    sections: tuple[tuple[int, tuple[Measured, ...]], ...]

    def at(self, place: Span) -> tuple[Quantity, ...]:
        """The measures whose units hold at a place, the first of its kind before the others.

        What is pointed at comes first, then the rest of its line, then all in degrees of its
        section and of the plan. A length of time is said as people say it unless it is the very one
        pointed at: 10 h, where the line has 30 min.
        """
        section, plan = self._around(place)
        line = [
            one
            for one in section
            if one.span.line == place.line
            and (one.span == place or not isinstance(one.value, Duration))
        ]
        line.sort(key=lambda one: not (place.start <= one.span.start and one.span.end <= place.end))
        return (*(one.value for one in line), *_usual_first(section), *_usual_first(plan))

    def scale(self, place: Span | None) -> Literal["C", "F"]:
        """The scale most used in the section of a place, else in the plan; "C" where none is."""
        section, plan = self._around(place) if place else ((), self._all())
        usual = [*_usual_first(section), *_usual_first(plan)]
        return next(filter(None, map(scale_of, usual)), "C")

    def _around(self, place: Span) -> tuple[Sequence[Measured], Sequence[Measured]]:
        """The measures of the section that a place is in, and those of the plan."""
        around: Sequence[Measured] = ()
        for heading, measures in self.sections:
            if heading <= place.line:
                around = measures
        return around, self._all()

    def _all(self) -> Sequence[Measured]:
        return [one for _, measures in self.sections for one in measures]


def _usual_first(measures: Sequence[Measured]) -> list[Quantity]:
    """Those in degrees, the scale that most of them are in first; °C where it is a draw."""
    degrees = [one.value for one in measures if scale_of(one.value)]
    count = Counter(map(scale_of, degrees))
    usual = "F" if count["F"] > count["C"] else "C"
    return sorted(degrees, key=lambda one: scale_of(one) != usual)


def measures_of(plan: Plan) -> Measures:
    """The measures a plan says itself; what it takes from the studio is in the studio's units."""
    sections = []
    for name in ("kiln", "target", "witness_sets", "load", "schedule", "safety", "readings"):
        part = getattr(plan, name)
        for one in part if isinstance(part, tuple) else () if part is None else (part,):
            heading = one.span if name == "target" else one.heading
            sections.append((heading.line, tuple(_sorted(one))))
    return Measures(tuple(sorted(sections, key=lambda section: section[0])))


def _sorted(section: Any) -> list[Measured]:
    name = getattr(section, "name", None)
    own = [one for one in _within(section) if name is None or one.span != name.span]
    return sorted(own, key=lambda one: one.span)


def _within(part: Any) -> Iterator[Measured]:
    if isinstance(part, Written):
        if isinstance(part.value, Quantity):
            yield part
    elif isinstance(part, tuple):
        for one in part:
            yield from _within(one)
    elif has(type(part)) and not getattr(part, "from_studio", False):
        for one in fields(type(part)):
            yield from _within(getattr(part, one.name))
