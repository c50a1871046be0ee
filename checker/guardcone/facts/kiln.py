"""What a rule may ask of the kiln."""

from math import log
from typing import Any

from guardcone.condition.kinds import (
    CONE,
    DURATION,
    FLAG,
    LENGTH,
    NUMBER,
    POWER,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
    VOLUME,
    words,
)
from guardcone.condition.vocabulary import Subject
from guardcone.facts.amounts import difference, hours
from guardcone.facts.case import part_fact, single, written_fact
from guardcone.firing.tables import usual
from guardcone.language.grammar import words_of
from guardcone.language.tokens import THERMOCOUPLES
from guardcone.outlook.planned import top_to_bottom
from guardcone.plan.kiln import Kiln
from guardcone.span import Written

__all__ = ["KILN"]


def _burns(kiln: Kiln) -> bool | None:
    return None if kiln.fuel is None else kiln.fuel.value != "electric"


def _usual_room(kiln: Kiln) -> float:
    return kiln.room.value.celsius if kiln.room else usual("room_temperature")


def _density(kiln: Kiln) -> Any:
    """kW/m3, pointing at the power."""
    if kiln.power is None or kiln.volume is None or kiln.volume.value.litres <= 0:
        return None
    kilowatts, cubic_metres = kiln.power.value.kilowatts, kiln.volume.value.litres / 1000
    return Written(round(kilowatts / cubic_metres, 1), kiln.power.span)


def _cooling_works(kiln: Kiln) -> Any:
    """Yes if the figure runs from hotter to cooler, and ends above the room."""
    if not (kiln.cools_from and kiln.cools_to and kiln.cools_in):
        return None
    hot, cool = kiln.cools_from.value.celsius, kiln.cools_to.value.celsius
    works = _usual_room(kiln) < cool < hot and kiln.cools_in.value.hours > 0
    return Written(works, kiln.cools_from.span.to(kiln.cools_to.span))


def _cooling_constant(kiln: Kiln) -> Any:
    """Hours in which free cooling covers 63 % of the way to the room."""
    works = _cooling_works(kiln)
    if works is None or not works.value:
        return None
    assert kiln.cools_from
    assert kiln.cools_to
    assert kiln.cools_in
    room = _usual_room(kiln)
    ratio = (kiln.cools_from.value.celsius - room) / (kiln.cools_to.value.celsius - room)
    return Written(hours(kiln.cools_in.value.hours / log(ratio)), kiln.cools_in.span)


def _top_to_bottom(kiln: Kiln) -> Any:
    """°C from top to bottom, of cones at 21 °C a cone, pointing at what the plan says."""
    written = kiln.spread_temperature or kiln.spread_cones
    return Written(difference(top_to_bottom(kiln)), written.span) if written else None


KILN = Subject(
    "kiln",
    "The kiln: fuel and build, what it bears, how it cools.",
    single("kiln"),
    (
        written_fact("name", TEXT, "The name of the kiln."),
        written_fact(
            "fuel",
            words(*words_of("fuel")),
            "What heats it.",
        ),
        part_fact("burns-fuel", FLAG, "Yes for gas, wood and oil; missing if unsaid.", _burns),
        written_fact("loading", words(*words_of("loading")), "How it is loaded."),
        written_fact("setting", words(*words_of("setting")), "Where it stands."),
        written_fact("volume", VOLUME, "Its inside."),
        written_fact("power", POWER, "Its full power."),
        written_fact("rated-cone", CONE, "The hottest cone it is made for."),
        written_fact("rated-temperature", TEMPERATURE, "The hottest temperature it is made for."),
        written_fact("shelves", NUMBER, "How many shelves it holds."),
        written_fact("cools-from", TEMPERATURE, "Where its own cooling figure begins."),
        written_fact("cools-to", TEMPERATURE, "Where its own cooling figure ends."),
        written_fact("cools-in", DURATION, "How long it takes from the one to the other."),
        written_fact("thermocouple", words(*THERMOCOUPLES), "Type of thermocouple."),
        written_fact("altitude", LENGTH, "How high above the sea it stands."),
        written_fact("spread-cones", NUMBER, "How many cones top and bottom are apart."),
        written_fact(
            "spread",
            TEMPERATURE_DIFFERENCE,
            "How far top and bottom are apart.",
            "spread_temperature",
        ),
        part_fact(
            "top-to-bottom",
            TEMPERATURE_DIFFERENCE,
            "How far top and bottom are apart, of a spread in cones at 21 °C a cone.",
            _top_to_bottom,
        ),
        part_fact("power-density", NUMBER, "Its power in kW for each cubic metre.", _density),
        part_fact(
            "cooling-works",
            FLAG,
            "Yes if its own cooling figure runs from hotter to cooler and ends above the room.",
            _cooling_works,
        ),
        part_fact(
            "cooling-constant",
            DURATION,
            "The time in which it cools 63 % of the way to the room, by its own figure.",
            _cooling_constant,
        ),
        written_fact("spy-hole", LENGTH, "The width of the spy hole."),
        written_fact("room", TEMPERATURE, "The temperature of the room."),
    ),
    lambda of: of.it.heading,
    single=True,
)
