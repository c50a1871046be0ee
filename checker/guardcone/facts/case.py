"""One plan under check, its parts as rules meet them, and computed amounts that point at it."""

from collections import Counter
from collections.abc import Callable, Iterable
from functools import cached_property
from math import isfinite
from typing import Any, Generic, TypeVar

from attrs import define, evolve, field, frozen

from guardcone.condition.kinds import FLAG, Type
from guardcone.condition.vocabulary import UNREADABLE, Fact, Subject
from guardcone.facts.ranges import Suiting
from guardcone.language.grammar import plan_grammar
from guardcone.outlook.planned import PlannedFiring, fire
from guardcone.plan.measures import Measures, measures_of
from guardcone.plan.plan import Plan
from guardcone.plan.schedule import Segment
from guardcone.plan.witness import Reading, WitnessSet
from guardcone.span import Span, Written
from guardcone.values import (
    Duration,
    Percentage,
    Quantity,
    Rate,
    Temperature,
    TemperatureDifference,
    Unit,
)

__all__ = [
    "Of",
    "PlanCase",
    "PlanSubject",
    "at_segment",
    "degrees",
    "difference",
    "has_fault",
    "hours",
    "is_electric",
    "left_out",
    "lines_to_copy",
    "percent",
    "rate",
    "read_field",
    "segment_at",
    "single",
]


Q = TypeVar("Q", bound=Quantity)

# Sums of hours and degrees come out a hair beside the round number that a plan means; this many
# decimals of °C, °C/h or hours are kept, so that 60 °C/h is never slower than 60 °C/h.
_DECIMALS = 6


def _settled(kind: type[Q], amount: float | None, unit: str) -> Q | None:
    if amount is None or not isfinite(amount):
        return None
    return kind.of(round(amount, _DECIMALS), unit)


def degrees(celsius: float | None) -> Temperature | None:
    """A temperature to show, None for none or none finite."""
    return _settled(Temperature, celsius, "C")


def difference(celsius: float | None) -> TemperatureDifference | None:
    """A temperature difference to show."""
    return _settled(TemperatureDifference, celsius, "C")


def rate(celsius_per_hour: float | None) -> Rate | None:
    """A rate to show."""
    return _settled(Rate, celsius_per_hour, "C/h")


def hours(count: float | None) -> Duration | None:
    """A length of time to show."""
    return _settled(Duration, count, "h")


def percent(share: float) -> Percentage:
    """A probability to show, never as none or as sure."""
    return Percentage.of(min(99, max(1, round(100 * share))), "%")


def at_segment(value: Any, segment: Segment | None) -> Any:
    """The value in the units of the segment it comes from, pointing at that segment."""
    if value is None or segment is None:
        return value
    written = segment.rate or segment.to
    if written is not None and isinstance(value, Temperature | TemperatureDifference | Rate):
        value = value.like(written.value)
    return Written(value, segment.span)


def segment_at(firing: PlannedFiring, hour: float) -> Segment | None:
    """The segment under way just after an hour of the firing."""
    for piece in firing.curve.pieces:
        if piece.start_hour <= hour < piece.end_hour:
            return firing.segment_of_leg(piece.leg)
    return firing.segments[-1] if firing.segments else None


T = TypeVar("T")


# Not slotted: older attrs know no cached property on a slotted class.
@define(slots=False, repr=False)
class PlanCase:
    """A plan under check; its firing is computed when a rule first asks for it."""

    plan: Plan
    # What is known of each part by each fact, which is asked once; the part is kept beside it, so
    # that no other can take its place.
    known: dict[tuple[int, str, str], tuple[Any, Any]] = field(factory=dict, init=False, eq=False)

    @cached_property
    def firing(self) -> PlannedFiring:
        """The firing that the plan describes."""
        return fire(self.plan)

    @cached_property
    def beginning(self) -> PlannedFiring | None:
        """The firing up to the first line of the schedule that can't be read.

        None where the whole schedule could be read, or nothing above that line.
        """
        schedule = self.plan.schedule
        if schedule is None or not schedule.unreadable or schedule.first_fault is None:
            return None
        known = tuple(s for s in schedule.segments if s.span < schedule.first_fault)
        above = evolve(schedule, segments=known, opens=None, unreadable=frozenset())
        return fire(evolve(self.plan, schedule=above)) if known else None

    @cached_property
    def climbs(self) -> tuple[Segment, ...]:
        """The climbs that say where they end, in order."""
        segments = self.plan.schedule.segments if self.plan.schedule else ()
        return tuple(one for one in segments if one.kind == "climb" and one.to)

    @cached_property
    def units_of_climbs(self) -> Counter[str]:
        """How often each unit stands at the end of a climb."""
        return Counter(one.to.value.unit.plain for one in self.climbs if one.to)

    @cached_property
    def units_of_ends(self) -> Counter[Unit]:
        """How often each unit stands at the end of a line of the schedule."""
        segments = self.plan.schedule.segments if self.plan.schedule else ()
        return Counter(one.to.value.unit for one in segments if one.to)

    @cached_property
    def measures(self) -> Measures:
        """The measures that the plan says, which give a sentence its units."""
        return measures_of(self.plan)

    @cached_property
    def sets_by_place(self) -> dict[str, WitnessSet]:
        """The witness sets by the place they are called by; of two the first."""
        return {one.place.value: one for one in reversed(self.plan.witness_sets) if one.place}

    def set_read(self, reading: Reading) -> WitnessSet | None:
        """The witness set that a reading is of; None where the plan has none such."""
        return self.sets_by_place.get(reading.place.value) if reading.place else None

    @cached_property
    def readings_by_place(self) -> dict[str | None, list[Reading]]:
        """The readings of each witness set by its place; under None those of no set of the plan."""
        places = {one.place.value for one in self.plan.witness_sets if one.place}
        found: dict[str | None, list[Reading]] = {}
        for one in self.plan.readings:
            place = one.place.value if one.place and one.place.value in places else None
            found.setdefault(place, []).append(one)
        return found

    @cached_property
    def suiting(self) -> Suiting:
        """How the clays and glazes of the load suit that firing."""
        return Suiting(self.plan)


@frozen(eq=False, repr=False)
class Of(Generic[T]):
    """A part of the plan under check, with the case that it belongs to.

    Two of them are the same where the part is the very same one of the plan.
    """

    case: PlanCase
    it: T

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Of) and self.it is other.it

    def __hash__(self) -> int:
        return id(self.it)


Read = TypeVar("Read", bound=Callable[[Any], Any])


class PlanSubject(Subject):
    """A subject of plans, whose facts stand where they are computed.

    A function that gives a fact is named like it, and its docstring says what the fact is; what it
    gives is said at `Fact`.
    """

    def add(self, *facts: Fact) -> None:
        """Make the facts known, each asked once of a part."""
        super().add(*map(self._asked_once, facts))

    def _asked_once(self, fact: Fact) -> Fact:
        subject, name, read, is_many = self.name, fact.name, fact.get, fact.type.is_many

        def get(of: Of[Any]) -> Any:
            known, key = of.case.known, (id(of.it), subject, name)
            if key not in known:
                value = read(of)
                several = is_many and value is not None and value is not UNREADABLE
                known[key] = of.it, tuple(value) if several else value
            return known[key][1]

        return fact.asked_by(get)

    def fact(self, kind: Type, name: str = "") -> Callable[[Read], Read]:
        """Lets rules ask what the function below says of a part and its case."""

        def keep(read: Read) -> Read:
            self._keep(read, kind, name, read)
            return read

        return keep

    def of_part(self, kind: Type, name: str = "") -> Callable[[Read], Read]:
        """Lets rules ask what the function below says of the part of the plan alone."""

        def keep(read: Read) -> Read:
            self._keep(read, kind, name, lambda of: read(of.it))
            return read

        return keep

    def _keep(self, read: Callable[[Any], Any], kind: Type, name: str, get: Any) -> None:
        name = name or read.__name__.strip("_").replace("_", "-")
        # What stands below the first paragraph is for whoever reads the code.
        said = (read.__doc__ or "").split("\n\n")[0]
        self.add(Fact(name, kind, " ".join(said.split()), get))

    def written(self, name: str, kind: Type, doc: str, field: str = "") -> None:
        """Lets rules ask a field of the record."""
        field = field or name.replace("-", "_")
        self.add(Fact(name, kind, doc, lambda of: read_field(of, field), is_written=True))

    def said(self, name: str, doc: str, field: str = "") -> None:
        """Lets rules ask whether a field of the record is there: yes, pointing at it."""

        def get(of: Of[Any]) -> Any:
            value = read_field(of, field or name.replace("-", "_"), unsaid=False)
            return Written(True, value.span) if isinstance(value, Written) else value

        self.add(Fact(name, FLAG, doc, get))

    def leads(self, name: str, kind: Type, doc: str, field: str = "") -> None:
        """Lets rules go on to the part, or to all the parts, that a field of the record holds."""

        def get(of: Of[Any]) -> Any:
            found = read_field(of, field or name.replace("-", "_"))
            if isinstance(found, tuple):
                return [Of(of.case, one) for one in found]
            return found if found is None or found is UNREADABLE else Of(of.case, found)

        self.add(Fact(name, kind, doc, get, is_written=True))

    def of_found(self, find: Callable[[Of[Any]], Any], *asked: tuple[str, Type, str, str]) -> None:
        """Lets rules ask several things of what is found for a part: name, kind, field, doc."""

        def asks(field: str) -> Callable[[Of[Any]], Any]:
            return lambda of: None if (found := find(of)) is None else getattr(found, field)

        self.add(*(Fact(name, kind, doc, asks(field)) for name, kind, field, doc in asked))


def read_field(of: Of[Any], field: str, unsaid: Any = None) -> Any:
    """A field of the record; of a faulty line it is unreadable, not unsaid.

    What is written in one line is there as a whole or not at all, and has no `unreadable`.
    """
    value = getattr(of.it, field)
    if value is not None:
        return value
    return UNREADABLE if field in getattr(of.it, "unreadable", ()) else unsaid


def left_out(of: Of[Any], *statements: str, **fields: str) -> list[str]:
    """The statements that the record says nothing of, neither in a good line nor in a faulty one.

    `fields` are the names of what a statement fills, where it is not one field of its own name.
    """
    unreadable: frozenset[str] = getattr(of.it, "unreadable", frozenset())
    asked: dict[str, tuple[str, ...]] = {one: (one,) for one in statements}
    asked |= {one: tuple(names.split()) for one, names in fields.items()}
    return [
        one
        for one, names in asked.items()
        if not unreadable.intersection(names) and not any(getattr(of.it, name) for name in names)
    ]


def lines_to_copy(statements: Iterable[str]) -> str | None:
    """The lines to copy of these statements, one behind the other in one line."""
    return ", ".join(plan_grammar().right_lines[one][0].to_copy for one in statements) or None


def has_fault(case: "PlanCase", place: Span) -> bool:
    """True where the line of this place can't be read whole: what it was to say is not unsaid."""
    known = "name-unknown"  # the line is read; what it names is not described
    return any(one.span.line == place.line and one.rule != known for one in case.plan.faults)


def is_electric(case: "PlanCase") -> bool:
    """True where the plan says that its kiln is electric."""
    kiln = case.plan.kiln
    return bool(kiln and kiln.fuel and kiln.fuel.value == "electric")


def single(section: str) -> Callable[[PlanCase], Iterable[Of[Any]]]:
    """The one instance of a section, or none."""

    def each(case: PlanCase) -> Iterable[Of[Any]]:
        found = getattr(case.plan, section)
        return (Of(case, found),) if found is not None else ()

    return each
