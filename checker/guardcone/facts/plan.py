"""What a rule may ask of the plan itself and of its target."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from guardcone.condition.kinds import (
    CONE,
    DATE,
    FLAG,
    MOMENT,
    NUMBER,
    TEMPERATURE,
    TEXT,
    Type,
    many,
    one,
    words,
)
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of, PlanCase, PlanSubject, part_fact
from guardcone.facts.claims import food_claim, lead_or_cadmium
from guardcone.facts.reading import ReadingsApart, readings_apart
from guardcone.facts.witness import kiln_spread
from guardcone.firing.cones import kinetics_for
from guardcone.language.grammar import words_of
from guardcone.plan.plan import Plan, Target, plan_target
from guardcone.span import Span, Written

__all__ = ["PLAN", "TARGET"]


def _section(name: str, kind: Type, doc: str, field: str) -> Fact:
    """A fact that leads to a section of the plan, if the plan has it."""

    def get(of: Of[Plan]) -> Any:
        found = getattr(of.it, field)
        if found is None:
            return UNREADABLE if field in of.it.unreadable else None
        return Of(of.case, found)

    return Fact(name, kind, doc, get)


def _sections(name: str, kind: Type, doc: str, field: str) -> Fact:
    return Fact(name, kind, doc, lambda of: [Of(of.case, one) for one in getattr(of.it, field)])


def _is_firing(sort: str, doc: str) -> Fact:
    """Yes, pointing at the word, where the plan says that it is a firing of this sort."""

    def get(of: Of[Plan]) -> Any:
        said = of.it.firing
        if said is None:
            return UNREADABLE if "firing" in of.it.unreadable else False
        return Written(said.value == sort, said.span)

    return Fact(f"is-{sort}", FLAG, doc, get)


def _apart(get: Callable[[Of[Plan], ReadingsApart], Any]) -> Callable[[Of[Plan]], Any]:
    def read(of: Of[Plan]) -> Any:
        found = readings_apart(of.it)
        return None if found is None else get(of, found)

    return read


def _anywhere(find: Callable[[str, int], Span | None]) -> Callable[[Of[Plan]], Any]:
    """The words found in some line of the text, remarks too, pointing at them."""

    def get(of: Of[Plan]) -> Any:
        for line in of.it.source.lines:
            span = find(line.text, line.number)
            if span is not None:
                return Written(span.of(line.text), span)
        return None

    return get


PLAN = PlanSubject(
    "plan",
    "The whole plan: who fires, when, for what, and which sections there are.",
    lambda case: [Of(case, case.plan)],
    lambda of: of.it.heading,
    single=True,
)
PLAN.written("name", TEXT, "The name of the firing.")
PLAN.written("by", TEXT, "Who fires.")
PLAN.written("firing", words(*words_of("firing_kind")), "What sort of firing it is.")
PLAN.add(
    _is_firing("candling", "Yes if the plan says that it only dries ware."),
    _is_firing("test", "Yes if the plan says that it is a test of the kiln."),
)


@PLAN.fact(FLAG)
def _is_reduced(of: Of[Plan]) -> Any:
    """Yes if target or schedule speak of reduction."""
    target, schedule = of.it.target, of.it.schedule
    if target and target.atmosphere and target.atmosphere.value == "reduction":
        return Written(True, target.atmosphere.span)
    if schedule and schedule.reductions:
        return Written(True, schedule.reductions[0].span)
    return UNREADABLE if schedule and "reductions" in schedule.unreadable else False


PLAN.written("starts-on", DATE, "The day it starts.")


@PLAN.of_part(MOMENT)
def _starts(plan: Plan) -> Any:
    """The day and time it starts."""
    if plan.starts_on is None or plan.starts_at is None:
        return None
    return datetime.combine(plan.starts_on.value, plan.starts_at.value)


@PLAN.of_part(TEXT)
def _starts_at(plan: Plan) -> Any:
    """The time of day it starts."""
    if plan.starts_at is None:
        return UNREADABLE if "starts_at" in plan.unreadable else None
    return Written(f"{plan.starts_at.value:%H:%M}", plan.starts_at.span)


PLAN.written("approved", TEXT, "Who approved the firing.")
PLAN.add(
    _section("kiln-section", one("kiln"), "The kiln.", "kiln"),
    _section("target-line", one("target"), "The target.", "target"),
    _section("load-section", one("load"), "The load.", "load"),
    _section("schedule-section", one("schedule"), "The schedule.", "schedule"),
    _section("safety-section", one("safety"), "The safety section.", "safety"),
    _sections("witness-sets", many("witness set"), "The witness sets.", "witness_sets"),
    _sections("readings", many("reading"), "The readings of the cones.", "readings"),
)


@PLAN.of_part(NUMBER)
def _number_of_witness_sets(plan: Plan) -> Any:
    """How many witness sets; unreadable where one has the name of another."""
    lines = (plan.source.line(f.span.line) for f in plan.faults if f.rule == "section-doubled")
    if any(line.strip().casefold().startswith("witness") for line in lines):
        return UNREADABLE
    return float(len(plan.witness_sets))


@PLAN.of_part(FLAG)
def _is_empty(plan: Plan) -> Written[bool]:
    """Yes if the plan says nothing at all.

    Yes, at its top, for a file without a line that says anything; not if it can't be read.
    """
    return Written(all(line.blank for line in plan.source.lines), Span(1, 1, 2))


PLAN.add(part_fact("number-of-readings", NUMBER, "How many readings.", lambda p: len(p.readings)))


@PLAN.fact(one("witness set"))
def _first_witness_set(of: Of[Plan]) -> Any:
    """The first witness set."""
    return next((Of(of.case, witness) for witness in of.it.witness_sets), None)


@PLAN.fact(FLAG)
def _target_fits_peak(of: Of[Plan]) -> Any:
    """Yes if the peak is nearer to the target than to its number with the zero slipped."""
    wanted = plan_target(of.it)
    twin = wanted.number.zero_twin if wanted else None
    if wanted is None or twin is None or not of.case.firing.fired:
        return None
    own, slipped = kinetics_for(wanted), kinetics_for(wanted.numbered(twin))
    if own is None or slipped is None:
        return None
    peak = of.case.firing.peak
    return abs(peak - own.end_60) <= abs(peak - slipped.end_60)


@PLAN.fact(NUMBER)
def _kiln_spread(of: Of[Any]) -> Any:
    """How many cones the kiln's top and bottom are apart, where the plan says it."""
    return kiln_spread(of.case)


PLAN.add(
    Fact(
        "readings-apart",
        NUMBER,
        "How many cones at least the hottest and the coolest reading are apart.",
        _apart(lambda _, found: found.cones),
    ),
    Fact(
        "hottest-reading",
        one("reading"),
        "The reading of the most heat-work.",
        _apart(lambda of, found: Of(of.case, found.hottest)),
    ),
    Fact(
        "coolest-reading",
        one("reading"),
        "The reading of the least heat-work.",
        _apart(lambda of, found: Of(of.case, found.coolest)),
    ),
    Fact(
        "reached-cone",
        CONE,
        "The hottest cone that is down in the hottest reading.",
        _apart(lambda _, found: found.reached),
    ),
    Fact(
        "unreached-cone",
        CONE,
        "The coolest cone that stands in the coolest reading.",
        _apart(lambda _, found: found.unreached),
    ),
    Fact(
        "food-claim",
        TEXT,
        "Words anywhere in the plan that call ware fit for food.",
        _anywhere(food_claim),
    ),
)


@PLAN.fact(TEXT)
def _lead_named(of: Of[Plan]) -> Any:
    """Lead or cadmium in a name, a note or a remark.

    Lead or cadmium outside the lines of glazes that are said to contain it, and of accepts.
    """
    load = of.it.load
    told = {one.span.line for one in of.it.accepts}
    for glaze in load.glazes if load else ():
        if {"lead", "cadmium"} & {substance.value for substance in glaze.contains}:
            told.add(glaze.span.line)

    def find(text: str, line: int) -> Span | None:
        return None if line in told else lead_or_cadmium(text, line)

    return _anywhere(find)(of)


@PLAN.fact(TEXT)
def _clock_watch(of: Of[Plan]) -> Any:
    """A time of day at which a watch begins or ends."""
    safety = of.it.safety
    if safety is None:
        return None
    for watch in safety.watches:
        time_of_day = watch.from_time or watch.to_time
        if time_of_day:
            return Written(f"{time_of_day.value:%H:%M}", time_of_day.span)
    return UNREADABLE if "watches" in safety.unreadable else None


def _targets(case: PlanCase) -> list[Of[Target]]:
    return [Of(case, case.plan.target)] if case.plan.target else []


TARGET = PlanSubject(
    "target", "What the firing is to reach.", _targets, lambda of: of.it.span, single=True
)
TARGET.add(
    part_fact("cone", CONE, "The target cone.", lambda t: t.cone),
    part_fact(
        "temperature", TEMPERATURE, "The target, where a temperature.", lambda t: t.temperature
    ),
)


@TARGET.of_part(words(*words_of("atmosphere")))
def _atmosphere(t: Any) -> Any:
    """The atmosphere of the firing."""
    return t.atmosphere
