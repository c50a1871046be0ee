"""Room: the vocabulary of plans; here what a rule may ask of the kiln."""

from guardcone.plan.model import Kiln
from guardcone.rulebook.facts.case import part_fact, single, written_fact
from guardcone.rulebook.kinds import (
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
from guardcone.rulebook.vocabulary import Subject

__all__ = ["KILN"]


def _burns(kiln: Kiln) -> bool | None:
    return None if kiln.fuel is None else kiln.fuel.value != "electric"


KILN = Subject(
    "kiln",
    "The kiln: fuel and build, what it bears, how it cools.",
    single("kiln"),
    (
        written_fact("name", TEXT, "The name of the kiln."),
        written_fact(
            "fuel",
            words("electric", "gas", "natural-gas", "propane", "wood", "oil"),
            "What heats it.",
        ),
        part_fact("burns-fuel", FLAG, "Yes for gas, wood and oil; missing if unsaid.", _burns),
        written_fact("loading", words("front-door", "top-lid"), "How it is loaded."),
        written_fact("setting", words("indoors", "outdoors"), "Where it stands."),
        written_fact("volume", VOLUME, "Its inside."),
        written_fact("power", POWER, "Its full power."),
        written_fact("rated-cone", CONE, "The hottest cone it is made for."),
        written_fact("rated-temperature", TEMPERATURE, "The hottest temperature it is made for."),
        written_fact("shelves", NUMBER, "How many shelves it holds."),
        written_fact("cools-from", TEMPERATURE, "Where its own cooling figure begins."),
        written_fact("cools-to", TEMPERATURE, "Where its own cooling figure ends."),
        written_fact("cools-in", DURATION, "How long it takes from the one to the other."),
        written_fact(
            "thermocouple", words("K", "N", "S", "R", "B", "J", "T", "E"), "Type of thermocouple."
        ),
        written_fact("altitude", LENGTH, "How high above the sea it stands."),
        written_fact("spread-cones", NUMBER, "How many cones top and bottom are apart."),
        written_fact(
            "spread",
            TEMPERATURE_DIFFERENCE,
            "How far top and bottom are apart.",
            "spread_temperature",
        ),
        written_fact("spy-hole", LENGTH, "The width of the spy hole."),
        written_fact("room", TEMPERATURE, "The temperature of the room."),
    ),
    lambda of: of.it.heading,
    single=True,
)
