"""The parts of a plan, each value with the place where it is written.

A field is None where the plan does not say it. `unreadable` of a section names the fields whose
line is faulty, so that nothing is called missing that is only misspelled.
"""

from datetime import date, time

from attrs import frozen

from guardcone.language.faults import TextFault
from guardcone.language.source import SourceText
from guardcone.language.tokens import ClockPosition
from guardcone.plan.safety_model import CutOff, Eyes, Inspection, Safety, Vent, Watch
from guardcone.span import Span, Written
from guardcone.values import (
    Angle,
    Cone,
    ConeSeries,
    Duration,
    Length,
    Mass,
    Power,
    Rate,
    Temperature,
    TemperatureDifference,
    Volume,
)

__all__ = [
    "Accept",
    "Clay",
    "CutOff",
    "Eyes",
    "Glaze",
    "Inspection",
    "Kiln",
    "Load",
    "Maturity",
    "Plan",
    "Position",
    "Reading",
    "Reduction",
    "Safety",
    "Schedule",
    "Segment",
    "Target",
    "Vent",
    "Ware",
    "Watch",
    "WitnessSet",
]

Words = tuple[Written[str], ...]

# What a plan means that does not say its series: the cones that stand in a pad.
LARGE_CONES = ConeSeries()


@frozen
class Maturity:
    """From where to where a clay or glaze matures: in cones or, some makers, in temperatures."""

    span: Span
    coolest: Written[Cone] | None = None
    hottest: Written[Cone] | None = None
    lowest: Written[Temperature] | None = None
    highest: Written[Temperature] | None = None


@frozen
class Clay:
    """A clay body that the plan, or the studio's file, describes."""

    name: Written[str]
    span: Span
    maturity: Maturity | None = None
    body: Written[str] | None = None
    contains: Words = ()
    from_studio: bool = False


@frozen
class Glaze:
    """A glaze; `kind` tells overglaze (with lustre and decals) and underglaze from the rest."""

    name: Written[str]
    span: Span
    maturity: Maturity | None = None
    flow: Written[str] | None = None
    kind: Written[str] | None = None
    contains: Words = ()
    from_studio: bool = False


@frozen
class Ware:
    """Pieces of one sort: their clay, glazes, dampness and wall.

    `state` is one of damp, leather-hard, bone-dry, greenware, bisque, glazed.
    `form` holds closed-form, vented, waxed, flat-form as far as they are said.
    """

    name: Written[str]
    span: Span
    count: Written[int] | None = None
    clay_name: Written[str] | None = None
    clay: Clay | None = None
    glaze_names: Words = ()
    glazes: tuple[Glaze, ...] = ()
    unglazed: Written[str] | None = None
    state: Written[str] | None = None
    wall: Written[Length] | None = None
    shelf: Written[str] | None = None
    form: Words = ()
    foot: Written[str] | None = None
    foot_clear: Written[Length] | None = None
    support: Written[str] | None = None
    refired: Written[str] | None = None


@frozen
class Load:
    """All that stands in the kiln."""

    heading: Span
    clays: tuple[Clay, ...] = ()
    glazes: tuple[Glaze, ...] = ()
    wares: tuple[Ware, ...] = ()
    spacing: Written[Length] | None = None
    element_gap: Written[Length] | None = None
    shelf_wash: Written[str] | None = None
    stilts: Written[str] | None = None
    mass: Written[Mass] | None = None
    unreadable: frozenset[str] = frozenset()


@frozen
class Kiln:
    """The kiln: fuel, build, limits.

    `fuel` is electric, gas, natural-gas, propane, wood or oil; `loading` front-door or top-lid;
    `setting` indoors or outdoors; `thermocouple_limits` standard-limits or special-limits.
    """

    heading: Span
    name: Written[str] | None = None
    fuel: Written[str] | None = None
    loading: Written[str] | None = None
    setting: Written[str] | None = None
    draught: Written[str] | None = None
    volume: Written[Volume] | None = None
    power: Written[Power] | None = None
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


@frozen
class Target:
    """What the firing is to reach: a cone, or for some firings a temperature."""

    span: Span
    cone: Written[Cone] | None = None
    temperature: Written[Temperature] | None = None
    atmosphere: Written[str] | None = None


@frozen
class WitnessSet:
    """One pack of cones: which, how they stand, and from where they are seen.

    `pad` holds dry, bone-dry, damp, fired; `pricking` pricked or not-pricked; `facing` one-way or
    different-ways; `setting_out` staggered or in-a-row; `upright` is set where no lean is given.
    `seen` is the spy hole by name, `unseen` is set where the plan says the set is not seen.
    """

    heading: Span
    place: Written[str] | None = None
    series: ConeSeries = LARGE_CONES
    series_written: Written[str] | None = None
    guide: Written[Cone] | None = None
    target: Written[Cone] | None = None
    guard: Written[Cone] | None = None
    extras: tuple[Written[Cone], ...] = ()
    order: tuple[Written[Cone], ...] = ()
    lean: Written[Angle] | None = None
    upright: Written[str] | None = None
    facing: Written[str] | None = None
    setting_out: Written[str] | None = None
    pricking: Written[str] | None = None
    pad: Written[str] | None = None
    pad_clay: Written[str] | None = None
    no_pad: Written[str] | None = None
    seen: Written[str] | None = None
    unseen: Written[str] | None = None
    width: Written[Length] | None = None
    element_gap: Written[Length] | None = None
    unreadable: frozenset[str] = frozenset()


@frozen
class Segment:
    """One line of the schedule.

    `kind` is climb, hold or cool. `pace` is rate, duration, full-power, freely or crash, and says
    which of `rate` and `duration` is given; a hold has a duration, and `to` only where the line
    names its temperature.
    """

    number: int
    kind: str
    span: Span
    pace: Written[str] | None = None
    rate: Written[Rate] | None = None
    duration: Written[Duration] | None = None
    to: Written[Temperature] | None = None


@frozen
class Reduction:
    """From where, and to where, the kiln is reduced."""

    span: Span
    start: Written[Temperature]
    end: Written[Temperature] | None = None


@frozen
class Schedule:
    """The segments in order, and when the kiln is opened.

    `first_fault` is the place of the first line that can't be read; the segments above it are
    what is known of the firing.
    """

    heading: Span
    begins: Written[Temperature] | None = None
    segments: tuple[Segment, ...] = ()
    opens: Written[Temperature] | None = None
    reductions: tuple[Reduction, ...] = ()
    unreadable: frozenset[str] = frozenset()
    first_fault: Span | None = None


@frozen
class Position:
    """How one cone stands after the firing: a word, a clock position or an angle.

    `word` is down, standing, touching, melted or moved.
    """

    span: Span
    word: str | None
    clock: ClockPosition | None
    angle: Angle | None


@frozen
class Reading:
    """The cones of one witness set after the firing."""

    heading: Span
    place: Written[str] | None = None
    guide: Position | None = None
    target: Position | None = None
    guard: Position | None = None
    unreadable: frozenset[str] = frozenset()


@frozen
class Accept:
    """A finding that a person lets stand, with the reason; `weight` is the worst that it covers."""

    span: Span
    rule: Written[str]
    reason: Written[str]
    weight: Written[str] | None = None
    place: Written[str] | None = None
    by: Written[str] | None = None


@frozen
class Plan:
    """A whole firing plan.

    Of what it says twice the first is used; `otherwise` are the plans that it would be if another
    one is meant.
    """

    source: SourceText
    heading: Span
    name: Written[str] | None = None
    by: Written[str] | None = None
    starts_on: Written[date] | None = None
    starts_at: Written[time] | None = None
    firing: Written[str] | None = None
    approved: Written[str] | None = None
    notes: Words = ()
    kiln: Kiln | None = None
    target: Target | None = None
    witness_sets: tuple[WitnessSet, ...] = ()
    load: Load | None = None
    schedule: Schedule | None = None
    safety: Safety | None = None
    readings: tuple[Reading, ...] = ()
    accepts: tuple[Accept, ...] = ()
    otherwise: "tuple[Plan, ...]" = ()
    faults: tuple[TextFault, ...] = ()
    unreadable: frozenset[str] = frozenset()
