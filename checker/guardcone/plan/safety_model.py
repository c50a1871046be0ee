"""The safety section of a plan, each value with the place where it is written."""

from datetime import date, time

from attrs import frozen

from guardcone.language.tokens import CalendarMonth
from guardcone.span import Span, Written
from guardcone.values import Cone, Duration, Length, Temperature

__all__ = ["CutOff", "Eyes", "Inspection", "Safety", "Vent", "Watch"]

Words = tuple[Written[str], ...]


@frozen
class Vent:
    """The extraction: `switched` on, off or no; when; of what kind."""

    span: Span
    switched: Written[str] | None = None
    kind: Written[str] | None = None
    words: Written[str] | None = None
    throughout: Written[str] | None = None
    until: Written[Temperature] | None = None
    starts: Written[Temperature] | None = None
    during: Words = ()
    to_end: Written[str] | None = None


@frozen
class Eyes:
    """Eye protection: welding shade from `least` to `most`, or sunglasses, or words."""

    span: Span
    least: Written[float] | None = None
    most: Written[float] | None = None
    sunglasses: Written[str] | None = None
    words: Written[str] | None = None


@frozen
class Watch:
    """Somebody at the kiln: from a time, a temperature, `start` or `guide`, to a time or `end`."""

    span: Span
    who: Written[str] | None = None
    throughout: Written[str] | None = None
    nobody: Written[str] | None = None
    from_date: Written[date] | None = None
    from_time: Written[time] | None = None
    from_temperature: Written[Temperature] | None = None
    from_word: Written[str] | None = None
    to_date: Written[date] | None = None
    to_time: Written[time] | None = None
    to_end: Written[str] | None = None


@frozen
class CutOff:
    """What switches the kiln off if nobody does."""

    span: Span
    backup: Written[str] | None = None
    timer: Written[Duration] | None = None
    temperature: Written[Temperature] | None = None
    cone: Written[Cone] | None = None
    controller: Written[str] | None = None
    words: Written[str] | None = None


@frozen
class Inspection:
    """When the electrics, or the gas line, were last inspected, and by whom."""

    span: Span
    when: Written[date] | Written[CalendarMonth] | None = None
    by_electrician: Written[str] | None = None
    by_gas_fitter: Written[str] | None = None
    by: Written[str] | None = None


@frozen
class Safety:
    """What keeps people and the building safe, as far as the plan says it.

    Flags given by a word (`gloves`, `co_alarm`, ...) hold that word.
    """

    heading: Span
    vent: Vent | None = None
    clearance: Written[Length] | None = None
    eyes: Eyes | None = None
    hands: Written[str] | None = None
    watches: tuple[Watch, ...] = ()
    cut_off: CutOff | None = None
    electrics: Inspection | None = None
    gas_line: Inspection | None = None
    local_code: Written[str] | None = None
    co_alarm: Written[str] | None = None
    extinguisher: Written[str] | None = None
    emergency: Written[str] | None = None
    bystanders: Written[str] | None = None
    power_off: Written[str] | None = None
    gas_off: Written[str] | None = None
    dust: Written[str] | None = None
    flame_safety: Written[str] | None = None
    combustion_air: Written[str] | None = None
    unreadable: frozenset[str] = frozenset()
