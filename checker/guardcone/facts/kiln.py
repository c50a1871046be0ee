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
from guardcone.facts.case import Of, PlanSubject, degrees, difference, hours, single
from guardcone.firing.cones import kinetics_for
from guardcone.firing.tables import usual
from guardcone.firing.uncertainty import CHART_FASTEST, thermocouple_limit
from guardcone.language.grammar import words_of
from guardcone.language.tokens import THERMOCOUPLES
from guardcone.outlook.written import top_to_bottom
from guardcone.plan.kiln import Kiln
from guardcone.span import Written

__all__ = ["KILN", "rated_end"]


KILN = PlanSubject(
    "kiln",
    "The kiln: fuel and build, what it is rated for, how it cools.",
    single("kiln"),
    lambda of: of.it.heading,
    single=True,
)
KILN.written("name", TEXT, "The name of the kiln.")
KILN.written("fuel", words(*words_of("fuel")), "What heats it.")
KILN.written("loading", words(*words_of("loading")), "How it is loaded.")
KILN.written("setting", words(*words_of("setting")), "Where it stands.")
KILN.written("draught", words(*words_of("draught")), "How its flame draws.")
KILN.written("volume", VOLUME, "Its inside.")
KILN.written("power", POWER, "Its full power.")
KILN.written("supply", POWER, "What its volts and amperes come to, at most.")
KILN.written("rated-cone", CONE, "The hottest cone it is made for.")
KILN.written("rated-temperature", TEMPERATURE, "The hottest temperature it is made for.")
KILN.written("shelves", NUMBER, "How many shelves it holds.")
KILN.written("cools-from", TEMPERATURE, "Where its own cooling figure begins.")
KILN.written("cools-to", TEMPERATURE, "Where its own cooling figure ends.")
KILN.written("cools-in", DURATION, "How long it takes from the one to the other.")
KILN.written("thermocouple", words(*THERMOCOUPLES), "Type of thermocouple.")
KILN.written("altitude", LENGTH, "How high above the sea it stands.")
KILN.written("spread-cones", NUMBER, "How many cones top and bottom are apart.")
KILN.written(
    "spread", TEMPERATURE_DIFFERENCE, "How far top and bottom are apart.", "spread_temperature"
)
KILN.written("spy-hole", LENGTH, "The width of the spy hole.")
KILN.written("room", TEMPERATURE, "The temperature of the room.")


@KILN.of_part(TEMPERATURE)
def rated_end(kiln: Kiln) -> Any:
    """The hottest the kiln is made for; of a rated cone, where it ends at 150 °C/h.

    That is the fastest climb of the chart: at a slower one it ends cooler.
    """
    if kiln.rated_temperature:
        return kiln.rated_temperature.value
    law = kinetics_for(kiln.rated_cone.value) if kiln.rated_cone else None
    return degrees(round(law.end_temperature(CHART_FASTEST))) if law else None


@KILN.fact(TEMPERATURE)
def _thermocouple_limit(of: Of[Kiln]) -> Any:
    """Up to where its standard gives the kiln's type of thermocouple a tolerance."""
    measuring = of.case.firing.measuring
    limit = thermocouple_limit(measuring.thermocouple or "", measuring.grade)
    return degrees(limit) if limit else None


@KILN.of_part(FLAG)
def _burns_fuel(kiln: Kiln) -> bool | None:
    """Yes for gas, wood and oil; missing if unsaid."""
    return None if kiln.fuel is None else kiln.fuel.value != "electric"


@KILN.of_part(NUMBER)
def _power_density(kiln: Kiln) -> Any:
    """Its power in kW for each cubic metre."""
    if kiln.power is None or kiln.volume is None or kiln.volume.value.litres <= 0:
        return None
    kilowatts, cubic_metres = kiln.power.value.kilowatts, kiln.volume.value.litres / 1000
    return Written(round(kilowatts / cubic_metres, 1), kiln.power.span)


def _usual_room(kiln: Kiln) -> float:
    return kiln.room.value.celsius if kiln.room else usual("room_temperature")


@KILN.of_part(FLAG)
def _cooling_works(kiln: Kiln) -> Any:
    """Yes if its own cooling figure runs from hotter to cooler and ends above the room."""
    if not (kiln.cools_from and kiln.cools_to and kiln.cools_in):
        return None
    hot, cool = kiln.cools_from.value.celsius, kiln.cools_to.value.celsius
    works = _usual_room(kiln) < cool < hot and kiln.cools_in.value.hours > 0
    return Written(works, kiln.cools_from.span.to(kiln.cools_to.span))


@KILN.of_part(DURATION)
def _cooling_constant(kiln: Kiln) -> Any:
    """The time in which it cools 63 % of the way to the room, by its own figure."""
    works = _cooling_works(kiln)
    if works is None or not works.value:
        return None
    assert kiln.cools_from
    assert kiln.cools_to
    assert kiln.cools_in
    room = _usual_room(kiln)
    ratio = (kiln.cools_from.value.celsius - room) / (kiln.cools_to.value.celsius - room)
    return Written(hours(kiln.cools_in.value.hours / log(ratio)), kiln.cools_in.span)


@KILN.of_part(TEMPERATURE_DIFFERENCE)
def _top_to_bottom(kiln: Kiln) -> Any:
    """How far top and bottom are apart, of a spread in cones at 21 °C a cone."""
    written = kiln.spread_temperature or kiln.spread_cones
    return Written(difference(top_to_bottom(kiln)), written.span) if written else None
