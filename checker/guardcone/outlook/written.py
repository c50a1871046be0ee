"""Turns what a plan says of kiln, shelves and schedule into what a firing is computed from."""

from collections.abc import Iterator

from guardcone.firing.cones import kinetics_for
from guardcone.firing.kiln import Kiln as KilnHeat
from guardcone.firing.schedule import Leg, LegKind
from guardcone.firing.tables import usual
from guardcone.firing.uncertainty import Measuring, Shelf
from guardcone.language.meanings import pattern_for
from guardcone.plan.kiln import Kiln
from guardcone.plan.plan import Plan
from guardcone.plan.schedule import Schedule
from guardcone.plan.witness import WitnessSet

__all__ = [
    "DEGREES_PER_CONE",
    "all_refired",
    "has_lustre",
    "heat_of",
    "legs_of",
    "measuring_of",
    "shelf_of",
    "top_to_bottom",
]

# °C per cone from top to bottom where a kiln says its spread in cones.
DEGREES_PER_CONE = usual("degrees_per_cone")


def top_to_bottom(kiln: Kiln | None) -> float | None:
    """Degrees C between the hottest and the coolest shelf, as far as the plan says."""
    if kiln is None:
        return None
    if kiln.spread_temperature:
        return abs(kiln.spread_temperature.value.celsius)
    if kiln.spread_cones:
        return abs(kiln.spread_cones.value) * DEGREES_PER_CONE
    return None


_SHELVES: dict[Shelf, str] = {
    "top": "top of the kiln",
    "middle": "middle of the kiln",
    "bottom": "bottom of the kiln",
}


def shelf_of(witness: WitnessSet) -> Shelf:
    """Where a witness set stands by its own name; anywhere where that does not tell."""
    place = witness.place.value.casefold() if witness.place else ""
    said = [shelf for shelf, meaning in _SHELVES.items() if pattern_for(meaning).search(place)]
    if len(said) != 1 or pattern_for("near a place").search(place):
        return "anywhere"
    return said[0]


def heat_of(plan: Plan) -> KilnHeat:
    """What the kiln of a plan does with its power, as far as the plan says."""
    kiln = plan.kiln
    if kiln is None:
        return KilnHeat()
    cools = None
    if kiln.cools_from and kiln.cools_to and kiln.cools_in:
        hot, cool = kiln.cools_from.value.celsius, kiln.cools_to.value.celsius
        cools = (hot, cool, kiln.cools_in.value.hours)
    mass = plan.load.mass if plan.load else None
    room = {"room": kiln.room.value.celsius} if kiln.room else {}
    return KilnHeat(
        volume=kiln.volume.value.litres if kiln.volume else None,
        power=kiln.power.value.kilowatts if kiln.power else None,
        load=mass.value.kilograms if mass else None,
        cools=cools,
        limit=kiln.rated_temperature.value.celsius if kiln.rated_temperature else None,
        rated=_rated(kiln),
        electric=kiln.fuel is None or kiln.fuel.value == "electric",
        **room,
    )


def _rated(kiln: Kiln) -> float | None:
    if kiln.rated_temperature:
        return kiln.rated_temperature.value.celsius
    law = kinetics_for(kiln.rated_cone.value) if kiln.rated_cone else None
    return law.end_60 if law else None


# The grade in rules/tables/thermocouples.csv by the word of a plan.
_GRADES = {
    "standard-limits": "standard",
    "special-limits": "special",
    "class-1": "class 1",
    "class-2": "class 2",
}


def measuring_of(kiln: Kiln | None) -> Measuring:
    """How a kiln is measured, as far as the plan says."""
    letter = kiln.thermocouple.value if kiln and kiln.thermocouple else None
    limits = kiln.thermocouple_limits.value if kiln and kiln.thermocouple_limits else ""
    grade = _GRADES.get(limits, "standard")
    return Measuring(letter, grade=grade, top_to_bottom=top_to_bottom(kiln))


def all_refired(plan: Plan) -> bool:
    """True if all ware of a plan was fired to its glaze before, so that no water is left in it."""
    wares = plan.load.wares if plan.load else ()
    return bool(wares) and all(
        ware.refired is not None and ware.state is not None and ware.state.value == "glazed"
        for ware in wares
    )


def has_lustre(plan: Plan) -> bool:
    """True for a firing of lustre, decals or enamels, by its kind or by a glaze of the load."""
    if plan.firing and plan.firing.value == "overglaze":
        return True
    glazes = plan.load.glazes if plan.load else ()
    if any(one.kind is not None and one.kind.value == "overglaze" for one in glazes):
        return True
    named = pattern_for("lustre")
    return any(named.search(one.name.value.casefold()) for one in glazes)


# A kiln crashed with its lid or damper open cools faster than freely; by how much nobody can say
# beforehand, so it is computed as free cooling, the slowest it can be.
_LEGS: dict[str, LegKind] = {
    "climb": "climb",
    "hold": "hold",
    "cool": "cool",
    "full-power": "climb at full power",
    "freely": "cool freely",
    "crash": "cool freely",
}


def legs_of(schedule: Schedule) -> Iterator[Leg]:
    """The segments and the opening as legs, in the order written.

    A hold stays where the schedule has come to, also where its line names another temperature.
    """
    opens = schedule.opens.value.celsius if schedule.opens else None
    for segment in schedule.segments:
        pace = segment.pace.value if segment.pace else segment.kind
        kind = _LEGS.get(pace, _LEGS[segment.kind])
        to = segment.to.value.celsius if segment.to and kind != "hold" else None
        if segment.kind == "cool" and to is None:
            # `cool freely` and no more: to the opening, or to where ware is commonly taken out.
            to = usual("safe_opening_temperature") if opens is None else opens
        rate = segment.rate.value.celsius_per_hour if segment.rate else None
        hours = segment.duration.value.hours if segment.duration else None
        yield Leg(kind, to, rate, hours)
    if opens is not None:
        yield Leg("open", opens)
