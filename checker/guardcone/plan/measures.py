"""The measures of a plan where they stand, and in which unit a place of it is answered.

One rule for every sentence and every line to copy: the unit of the line pointed at, then the one
most used in its section, then in the plan.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import Any, Literal

from attrs import fields, frozen, has

from guardcone.plan.plan import Plan
from guardcone.span import Span, Written
from guardcone.values import Duration, Quantity
from guardcone.values.amounts import scale_of

__all__ = ["Measures", "measures_of", "usual_scale"]

Measured = Written[Quantity]


# Not slotted: older attrs know no cached property on a slotted class.
@frozen(slots=False, repr=False)
class Measures:
    """The measures of a plan in the order of its lines, each with its section's heading line.

    `headings` are the lines of all of them, also of a section without a measure.
    """

    headings: tuple[int, ...]
    written: tuple[tuple[int, Measured], ...]

    def at(self, place: Span) -> tuple[Quantity, ...]:
        """The measures whose units hold at a place, the first of its kind before the others.

        What is pointed at comes first, then the rest of its line, then all in degrees of its
        section and of the plan. A length of time is said as people say it unless it is the very one
        pointed at: 10 h, where the line has 30 min.
        """
        line = [
            one
            for one in self._by_line.get(place.line, ())
            if one.span == place or not isinstance(one.value, Duration)
        ]
        line.sort(key=lambda one: not (place.start <= one.span.start and one.span.end <= place.end))
        return (*(one.value for one in line), *self._usual_first(place))

    def scale(self, place: Span | None) -> Literal["C", "F"]:
        """The scale most used in the section of a place, else in the plan; "C" where none is."""
        return next(filter(None, map(scale_of, self._usual_first(place))), "C")

    def _usual_first(self, place: Span | None) -> list[Quantity]:
        """All in degrees, the section of the place first, and of each the scale most used in it."""
        above = bisect_right(self._in_order, place.line) if place else 0
        section = self._in_order[above - 1] if above else 0
        return [*self._by_section.get(section, ()), *self._of_all]

    @cached_property
    def _in_order(self) -> list[int]:
        return sorted(self.headings)

    @cached_property
    def _by_line(self) -> dict[int, list[Measured]]:
        found: dict[int, list[Measured]] = {}
        for _, one in self.written:
            found.setdefault(one.span.line, []).append(one)
        return found

    @cached_property
    def _by_section(self) -> dict[int, list[Quantity]]:
        found: dict[int, list[Quantity]] = {}
        for heading, one in self.written:
            found.setdefault(heading, []).append(one.value)
        return {heading: _usual_first(some) for heading, some in found.items()}

    @cached_property
    def _of_all(self) -> list[Quantity]:
        return _usual_first(one.value for _, one in self.written)


def _usual_first(measures: Iterable[Quantity]) -> list[Quantity]:
    """Those in degrees, the scale that most of them are in first; °C where it is a draw."""
    degrees = [one for one in measures if scale_of(one)]
    count = Counter(map(scale_of, degrees))
    usual = "F" if count["F"] > count["C"] else "C"
    return sorted(degrees, key=lambda one: scale_of(one) != usual)


def measures_of(plan: Plan) -> Measures:
    """The measures a plan says itself; what it takes from the studio is in the studio's units."""
    headings, found = [plan.heading.line], []
    for name in _SECTIONS:
        part = getattr(plan, name)
        for section in part if isinstance(part, tuple) else filter(None, (part,)):
            heading = section.span if name == "target" else section.heading
            headings.append(heading.line)
            named = getattr(section, "name", None)
            own = (one for one in _within(section) if named is None or one.span != named.span)
            found += [(heading.line, one) for one in own]
    return Measures(tuple(headings), tuple(sorted(found, key=lambda one: one[1].span.order)))


def usual_scale(section: Any) -> Literal["C", "F"]:
    """The scale most used in one section; "C" where none is."""
    return Measures((), tuple((0, one) for one in _within(section))).scale(None)


_SECTIONS = ("kiln", "target", "witness_sets", "load", "schedule", "safety", "readings")


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
