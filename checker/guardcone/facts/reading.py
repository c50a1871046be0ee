"""What a rule may ask of the cones as they are read."""

from collections.abc import Callable, Iterable
from typing import Any

from attrs import frozen

from guardcone.condition.kinds import NUMBER, TEXT, one, words
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of, PlanCase, PlanSubject, part_fact
from guardcone.facts.set_cones import WitnessCone, called_facts, cones_of
from guardcone.firing.tables import bending_figure, usual
from guardcone.language.grammar import words_of
from guardcone.plan.plan import Plan
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
        return min(_DOWN, _DOWN * position.angle.base / bending_figure("end_angle").value)
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


def _of_position(role: str, get: Callable[[Position], Any]) -> Callable[[Of[Reading]], Any]:
    def read(of: Of[Reading]) -> Any:
        position: Position | None = getattr(of.it, role)
        if position is None:
            return UNREADABLE if role in of.it.unreadable else None
        value = get(position)
        return None if value is None else Written(value, position.span)

    return read


_WORDS = words(*words_of("position"))


def _position_facts(role: str) -> tuple[Fact, ...]:
    return (
        Fact(role, _WORDS, f"How the {role} cone stands, in a word.", _of_position(role, _word)),
        Fact(
            f"{role}-hour",
            NUMBER,
            f"Where the {role} cone points: 0 up, 3 half way, 6 down.",
            _of_position(role, clock_hour),
        ),
        Fact(
            f"{role}-position",
            TEXT,
            f"How the {role} cone stands, as it is written.",
            _of_position(role, _as_said),
        ),
        Fact(
            f"{role}-cone",
            one("witness cone"),
            f"The {role} cone of its set.",
            lambda of: _cone_of(of, role),
        ),
    )


def _lead_fact(name: str, hotter: str, cooler: str) -> Fact:
    def get(of: Of[Reading]) -> Any:
        ahead, behind = getattr(of.it, hotter), getattr(of.it, cooler)
        if ahead is None or behind is None:
            return None
        return Written(_bounds(ahead)[0] - _bounds(behind)[1], ahead.span)

    doc = f"By how many hours of the clock face the {hotter} has at least gone past the {cooler}."
    return Fact(name, NUMBER, doc, get)


def _set_in(plan: Plan, reading: Reading) -> WitnessSet | None:
    for witness in plan.witness_sets:
        if witness.place and reading.place and witness.place.value == reading.place.value:
            return witness
    return None


def _set_of(of: Of[Reading]) -> Any:
    witness = _set_in(of.case.plan, of.it)
    return Of(of.case, witness) if witness else None


def _cone_of(of: Of[Reading], role: str) -> Any:
    witness = _set_in(of.case.plan, of.it)
    if witness is None:
        return None
    cones: list[WitnessCone] = [cone for cone in cones_of(witness) if cone.role == role]
    if not cones:
        return UNREADABLE if role in witness.unreadable else None
    return Of(of.case, cones[0])


def _not_in_set(of: Of[Reading]) -> Any:
    """The first cone that is read though its set has none such."""
    witness = _set_in(of.case.plan, of.it)
    if witness is None:
        return None
    for role in _ROLES:
        position: Position | None = getattr(of.it, role)
        if position and getattr(witness, role) is None and role not in witness.unreadable:
            return Written(role, position.span)
    return None


def _unread(of: Of[Reading]) -> Any:
    """The first cone of its set of which the reading says nothing."""
    witness = _set_in(of.case.plan, of.it)
    if witness is None or of.it.unreadable:
        return None
    return next(
        (r for r in _ROLES if getattr(witness, r) is not None and getattr(of.it, r) is None), None
    )


def _readings(case: PlanCase) -> Iterable[Any]:
    """The readings; one of a set that the plan lacks is unreadable: which cones it had none knows.

    That its name is unknown is told as a fault of the text.
    """
    plan = case.plan
    return [Of(case, one) if _set_in(plan, one) else UNREADABLE for one in plan.readings]


READING = PlanSubject(
    "reading",
    "How the cones of one witness set stand after the firing.",
    _readings,
    lambda of: of.it.heading,
)
READING.add(
    part_fact("place", TEXT, "The witness set it belongs to.", lambda r: r.place),
    *called_facts(),
    *_position_facts("guide"),
    *_position_facts("target"),
    *_position_facts("guard"),
    _lead_fact("target-lead", "target", "guide"),
    _lead_fact("guard-lead", "guard", "target"),
    Fact("cone-not-in-set", TEXT, "A cone that is read and not in the set.", _not_in_set),
    Fact("unread-cone", TEXT, "A cone of the set that is not read.", _unread),
    Fact("set", one("witness set"), "The witness set it belongs to.", _set_of),
)


@frozen
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


def readings_apart(plan: Plan) -> ReadingsApart | None:
    """How far the readings of a plan are apart for certain; None where no two can be compared.

    A cone that is down was reached, one that stands was not; what lies between says nothing.
    """
    reached = [
        (cone, reading)
        for reading in plan.readings
        for cone in _cones_at(plan, reading, lambda position: _bounds(position)[0] >= _DOWN)
    ]
    not_reached = [
        (cone, reading)
        for reading in plan.readings
        for cone in _cones_at(plan, reading, lambda position: _bounds(position)[1] <= _STANDS_UNTIL)
    ]
    found: ReadingsApart | None = None
    for hot, hottest in reached:
        for cold, coolest in not_reached:
            if hottest is coolest or not hot.cone.value.comparable(cold.cone.value):
                continue
            apart = cold.cone.value.number.steps_to(hot.cone.value.number)
            if found is None or apart > found.cones:
                found = ReadingsApart(apart, hottest, coolest, hot.cone.value, cold.cone.value)
    return found


def _cones_at(
    plan: Plan, reading: Reading, stands: Callable[[Position], bool]
) -> list[WitnessCone]:
    witness = _set_in(plan, reading)
    if witness is None:
        return []
    return [
        cone
        for cone in cones_of(witness)
        if (position := getattr(reading, cone.role, None)) is not None and stands(position)
    ]
