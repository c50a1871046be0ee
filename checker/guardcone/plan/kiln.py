"""The kiln of a plan, and the lines it is read from."""

from math import sqrt

from attrs import evolve, frozen

from guardcone.language import Section, Statement
from guardcone.language.tokens import THERMOCOUPLES, Amperes, Count, Number, Phases, Volts
from guardcone.plan.section import Faults, Lines, SectionFacts, collect, cone_of, named
from guardcone.span import Span, Written
from guardcone.values import (
    Cone,
    Duration,
    Length,
    Power,
    Temperature,
    TemperatureDifference,
    Volume,
)

__all__ = ["Kiln", "read_kiln", "with_fuel_shown"]


@frozen(repr=False)
class Kiln:
    """The kiln: fuel, build, limits.

    `fuel` is electric, gas, natural-gas, propane, wood or oil; `loading` front-door or top-lid;
    `setting` indoors or outdoors; `thermocouple_limits` standard-limits or special-limits
    of ASTM E230, class-1 or class-2 of IEC 60584-1.
    """

    heading: Span
    name: Written[str] | None = None
    fuel: Written[str] | None = None
    loading: Written[str] | None = None
    setting: Written[str] | None = None
    draught: Written[str] | None = None
    volume: Written[Volume] | None = None
    power: Written[Power] | None = None
    supply: Written[Power] | None = None
    rated_cone: Written[Cone] | None = None
    rated_temperature: Written[Temperature] | None = None
    shelves: Written[int] | None = None
    cools_from: Written[Temperature] | None = None
    cools_to: Written[Temperature] | None = None
    cools_in: Written[Duration] | None = None
    thermocouple: Written[str] | None = None
    thermocouple_limits: Written[str] | None = None
    altitude: Written[Length] | None = None
    spread_cones: Written[float] | None = None
    spread_temperature: Written[TemperatureDifference] | None = None
    spy_hole: Written[Length] | None = None
    room: Written[Temperature] | None = None
    unreadable: frozenset[str] = frozenset()


def _kiln_build(facts: SectionFacts, statement: Statement) -> None:
    facts.put_keywords(statement, "fuel", "loading", "setting", "draught")
    for volume in statement.values(Volume):
        facts.put("volume", volume)
    for power in statement.values(Power):
        facts.put("power", power)
    volts, amperes = statement.value(Volts), statement.value(Amperes)
    phases = statement.value(Phases)
    # In three phases it depends on how the elements are joined.
    three = phases is not None and phases.value == 3
    if volts and amperes:
        watts = volts.value * amperes.value / 1000
        place = volts.span.to(amperes.span)
        if statement.value(Power) is None and not three:
            facts.put("power", Written(Power.of(watts, "kW"), place))
        facts.put("supply", Written(Power.of(watts * (sqrt(3) if three else 1), "kW"), place))


def _rated(facts: SectionFacts, statement: Statement) -> None:
    facts.put("rated_cone", cone_of(statement.part("cone")), "rated")
    facts.put("rated_temperature", statement.value(Temperature), "rated")


def _cools(facts: SectionFacts, statement: Statement) -> None:
    start, end = statement.values(Temperature)
    facts.put("cools_from", start, "cools")
    facts.put("cools_to", end, "cools")
    facts.put("cools_in", statement.value(Duration), "cools")


def _thermocouple(facts: SectionFacts, statement: Statement) -> None:
    facts.put("thermocouple", statement.word(*THERMOCOUPLES))
    facts.put("thermocouple_limits", named(facts, statement, "tolerance_class"))


def _spread(facts: SectionFacts, statement: Statement) -> None:
    number = statement.value(Number)
    degrees = statement.value(Temperature)
    if degrees:
        apart = TemperatureDifference.of(degrees.value.amount(), degrees.value.unit.plain)
        facts.put("spread_temperature", Written(apart, degrees.span))
    else:
        facts.put("spread_cones", number or Written(0.5, statement.extent))


_LINES: Lines = {
    "kiln_build": (
        _kiln_build,
        "fuel",
        "loading",
        "setting",
        "draught",
        "volume",
        "power",
        "supply",
    ),
    "rated": (_rated, "rated_cone", "rated_temperature"),
    "shelves": (Count,),
    "cools": (_cools, "cools_from", "cools_to", "cools_in"),
    "thermocouple": (_thermocouple, "thermocouple", "thermocouple_limits"),
    "altitude": (Length,),
    "spread": (_spread, "spread_cones", "spread_temperature"),
    "spy_hole": (Length,),
    "room": (Temperature,),
}


# What draws so many kW is heated by it: a burner's fan and spark take far less (own choice).
_DRAWN_FOR_HEAT = 3.0


def with_fuel_shown(kiln: Kiln) -> Kiln:
    """The kiln as electric where nothing says its fuel, and its volts and amperes heat it."""
    unsaid = kiln.fuel is None and "fuel" not in kiln.unreadable
    if unsaid and kiln.supply and kiln.supply.value.kilowatts >= _DRAWN_FOR_HEAT:
        return evolve(kiln, fuel=Written("electric", kiln.supply.span))
    return kiln


def read_kiln(section: Section, faults: Faults) -> Kiln:
    """The kiln of a kiln section."""
    return Kiln(section.heading, section.name, **collect(section, faults, _LINES).known)
