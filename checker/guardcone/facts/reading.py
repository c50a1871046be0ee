"""What a rule may ask of the cones as they are read."""

from collections.abc import Callable, Iterable
from itertools import chain
from typing import Any

from attrs import frozen

from guardcone.condition.kinds import NUMBER, TEXT, Type, one, words
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of, PlanCase, PlanSubject, read_field
from guardcone.facts.witness import WitnessCone, cones_of, the_set, this_set
from guardcone.firing.tables import bending_figure, usual
from guardcone.language.grammar import words_of
from guardcone.plan.witness import Position, Reading, WitnessSet
from guardcone.span import Written
from guardcone.values import Cone

__all__ = ["READING", "ReadingsApart", "clock_hour", "readings_apart"]

_ROLES = ("guide", "target", "guard")
_DOWN = 6.0
# A cone that leans its 8 degrees and has not moved stands within this much of 12 o'clock.
_STANDS_UNTIL = usual("stands_until")
# Hours between which a cone is that is said to have moved and no more.
_MOVED = (usual("moved_least"), usual("moved_most"))
# Hours of the words that say them; a melted cone is past the clock.
_HOURS = {"standing": 0.0, "down": _DOWN, "touching": _DOWN, "melted": 7.0}


def clock_hour(position: Position) -> float | None:
    """Hours from upright (0) to tip down (6), 7 for a cone that is melted; None for one that moved.

    An angle counts from upright to the end point of the chart, 90 degrees (tables/bending.csv).
    """
    if position.clock:
        return position.clock.hour
    if position.angle:
        return min(_DOWN, _DOWN * position.angle.base / bending_figure("end_angle"))
    return _HOURS.get(position.word or "")


def _word(position: Position) -> str:
    if position.word:
        return position.word
    hour = clock_hour(position) or 0.0
    return "down" if hour >= _DOWN else "standing" if hour <= _STANDS_UNTIL else "moved"


def _bounds(position: Position) -> tuple[float, float]:
    """The least and the most hours that a position can mean."""
    hour = clock_hour(position)
    if hour is not None:
        return hour, hour
    return _MOVED


def _as_said(position: Position) -> str:
    return position.word or str(position.clock or position.angle)


def _readings(case: PlanCase) -> Iterable[Any]:
    """The readings; one of a set that the plan lacks is unreadable: which cones it had none knows.

    That its name is unknown is told as a fault of the text.
    """
    return [Of(case, one) if case.set_read(one) else UNREADABLE for one in case.plan.readings]


READING = PlanSubject(
    "reading",
    "How the cones of one witness set stand after the firing.",
    _readings,
    lambda of: of.it.heading,
)
READING.written("place", TEXT, "The witness set it belongs to.")
READING.of_part(TEXT)(the_set)
READING.of_part(TEXT)(this_set)


def _of_position(role: str, name: str, kind: Type, doc: str, get: Callable[..., Any]) -> None:
    def read(of: Of[Reading]) -> Any:
        position = read_field(of, role)
        if not isinstance(position, Position):
            return position
        value = get(position)
        return None if value is None else Written(value, position.span)

    READING.add(Fact(name, kind, doc, read, is_written=True))


def _cone_fact(role: str) -> None:
    def read(of: Of[Reading]) -> Any:
        witness = of.case.set_read(of.it)
        if witness is None:
            return None
        cones = [cone for cone in cones_of(witness) if cone.role == role]
        if not cones:
            return UNREADABLE if role in witness.unreadable else None
        return Of(of.case, cones[0])

    READING.add(Fact(f"{role}-cone", one("witness cone"), f"The {role} cone of its set.", read))


for _role in _ROLES:
    _how, _where = f"How the {_role} cone stands", f"Where the {_role} cone points"
    _of_position(_role, _role, words(*words_of("position")), f"{_how}, in a word.", _word)
    _of_position(_role, f"{_role}-hour", NUMBER, f"{_where}: 0 up, 3 half way, 6 down.", clock_hour)
    _of_position(_role, f"{_role}-position", TEXT, f"{_how}, as it is written.", _as_said)
    _cone_fact(_role)


@READING.of_part(NUMBER)
def _target_lead(reading: Reading) -> Written[float] | None:
    """By how many hours of the clock face the target has at least gone past the guide."""
    return _lead(reading.target, reading.guide)


@READING.of_part(NUMBER)
def _guard_lead(reading: Reading) -> Written[float] | None:
    """By how many hours of the clock face the guard has at least gone past the target."""
    return _lead(reading.guard, reading.target)


def _lead(ahead: Position | None, behind: Position | None) -> Written[float] | None:
    if ahead is None or behind is None:
        return None
    return Written(_bounds(ahead)[0] - _bounds(behind)[1], ahead.span)


@READING.fact(TEXT)
def _cone_not_in_set(of: Of[Reading]) -> Written[str] | None:
    """A cone that is read and not in the set."""
    witness = of.case.set_read(of.it)
    if witness is None:
        return None
    for role in _ROLES:
        position: Position | None = getattr(of.it, role)
        if position and getattr(witness, role) is None and role not in witness.unreadable:
            return Written(role, position.span)
    return None


@READING.fact(TEXT)
def _unread_cone(of: Of[Reading]) -> str | None:
    """A cone of the set that is not read."""
    witness = of.case.set_read(of.it)
    if witness is None or of.it.unreadable:
        return None
    unread = (role for role in _ROLES if getattr(of.it, role) is None)
    return next((role for role in unread if getattr(witness, role) is not None), None)


@READING.fact(one("witness set"))
def _set(of: Of[Reading]) -> Of[WitnessSet] | None:
    """The witness set it belongs to."""
    witness = of.case.set_read(of.it)
    return Of(of.case, witness) if witness else None


@frozen(repr=False)
class ReadingsApart:
    """The two readings that are farthest apart, and by how many cones they are so at least.

    `reached` is the hottest cone that is down in the one, `unreached` the coolest that stands in
    the other.
    """

    cones: float
    hottest: Reading
    coolest: Reading
    reached: Cone
    unreached: Cone


def readings_apart(case: PlanCase) -> ReadingsApart | None:
    """How far the readings of a plan are apart for certain; None where no two can be compared.

    A cone that is down was reached, one that stands was not; what lies between says nothing.
    """
    reached = _read_at(case, lambda position: _bounds(position)[0] >= _DOWN)
    not_reached = _read_at(case, lambda position: _bounds(position)[1] <= _STANDS_UNTIL)
    found: ReadingsApart | None = None
    for hot, hottest in reached:
        for cold, coolest in not_reached:
            if hottest is coolest or not hot.cone.value.comparable(cold.cone.value):
                continue
            apart = cold.cone.value.number.steps_to(hot.cone.value.number)
            if found is None or apart > found.cones:
                found = ReadingsApart(apart, hottest, coolest, hot.cone.value, cold.cone.value)
    return found


def _read_at(
    case: PlanCase, stands: Callable[[Position], bool]
) -> list[tuple[WitnessCone, Reading]]:
    """The cones that stand so, each with its reading; of the same cone two readings are enough."""
    found: dict[str, list[tuple[WitnessCone, Reading]]] = {}
    for reading in case.plan.readings:
        witness = case.set_read(reading)
        for cone in cones_of(witness) if witness else ():
            position = getattr(reading, cone.role, None)
            same = found.setdefault(str(cone.cone.value), [])
            if position is not None and stands(position) and len(same) < 2:
                same.append((cone, reading))
    order = {id(reading): at for at, reading in enumerate(case.plan.readings)}
    return sorted(chain(*found.values()), key=lambda one: order[id(one[1])])
