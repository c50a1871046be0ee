"""What a rule may ask of the plan itself and of its target."""

from collections.abc import Callable
from datetime import datetime, time
from typing import Any

from guardcone.condition.kinds import (
    CONE,
    DATE,
    FLAG,
    MOMENT,
    NUMBER,
    TEMPERATURE,
    TEXT,
    many,
    one,
    words,
)
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts.case import Of, PlanSubject, read_field, single
from guardcone.facts.reading import readings_apart
from guardcone.facts.witness import kiln_spread
from guardcone.firing.cones import kinetics_for
from guardcone.language.claims import food_claim, lead_or_cadmium
from guardcone.language.grammar import words_of
from guardcone.language.meanings import is_thing, is_to_fill_in, names_nobody
from guardcone.plan.plan import Plan, plan_target
from guardcone.plan.witness import Reading
from guardcone.span import Span, Written

__all__ = ["PLAN", "TARGET", "is_reduced"]


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


@PLAN.fact(TEXT)
def _approved(of: Of[Plan]) -> Any:
    """Who approved the firing; nobody or a thing approves nothing."""
    said = read_field(of, "approved")
    named = not isinstance(said, Written) or not (is_thing(said.value) or names_nobody(said.value))
    return said if named or is_to_fill_in(said.value) else Written(None, said.span)


@PLAN.fact(FLAG)
def _is_candling(of: Of[Plan]) -> Any:
    """Yes if the plan says that it only dries ware."""
    return _is_firing(of, "candling")


@PLAN.fact(FLAG)
def _is_test(of: Of[Plan]) -> Any:
    """Yes if the plan says that it is a test of the kiln."""
    return _is_firing(of, "test")


def _is_firing(of: Of[Plan], sort: str) -> Any:
    said = read_field(of, "firing", unsaid=False)
    return Written(said.value == sort, said.span) if isinstance(said, Written) else said


@PLAN.fact(FLAG)
def is_reduced(of: Of[Plan]) -> Any:
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


@PLAN.fact(TEXT)
def _starts_at(of: Of[Plan]) -> Any:
    """The time of day it starts."""
    said = read_field(of, "starts_at")
    return _clock(said) if isinstance(said, Written) else said


def _clock(said: Written[time]) -> Written[str]:
    return Written(f"{said.value:%H:%M}", said.span)


PLAN.leads("kiln-section", one("kiln"), "The kiln.", "kiln")
PLAN.leads("target-line", one("target"), "The target.", "target")
PLAN.leads("load-section", one("load"), "The load.", "load")
PLAN.leads("schedule-section", one("schedule"), "The schedule.", "schedule")
PLAN.leads("safety-section", one("safety"), "The safety section.", "safety")
PLAN.leads("witness-sets", many("witness set"), "The witness sets.")
PLAN.leads("readings", many("reading"), "The readings of the cones.")


@PLAN.of_part(NUMBER)
def _number_of_witness_sets(plan: Plan) -> Any:
    """How many witness sets; unreadable where one has the name of another."""
    lines = (plan.source.line(f.span.line) for f in plan.faults if f.rule == "section-doubled")
    if any(line.strip().casefold().startswith("witness") for line in lines):
        return UNREADABLE
    return float(len(plan.witness_sets))


@PLAN.of_part(FLAG)
def _is_empty(plan: Plan) -> Written[bool]:
    """Yes, at its top, for a file without a line that says anything, or that is no plan."""
    return Written(plan.is_empty, Span(1, 1, 2) if plan.is_plan else plan.heading)


@PLAN.of_part(FLAG)
def _is_other_text(plan: Plan) -> bool:
    """Yes if hardly a line can be read: a letter, a recipe, prose."""
    return not plan.is_plan


@PLAN.of_part(NUMBER)
def _number_of_readings(plan: Plan) -> int:
    """How many readings."""
    return len(plan.readings)


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


@PLAN.fact(one("reading"))
def _hottest_reading(of: Of[Plan]) -> Of[Reading] | None:
    """The reading of the most heat-work."""
    apart = readings_apart(of.case)
    return Of(of.case, apart.hottest) if apart else None


@PLAN.fact(one("reading"))
def _coolest_reading(of: Of[Plan]) -> Of[Reading] | None:
    """The reading of the least heat-work."""
    apart = readings_apart(of.case)
    return Of(of.case, apart.coolest) if apart else None


_APART = "How many cones at least the hottest and the coolest reading are apart."
PLAN.of_found(
    lambda of: readings_apart(of.case),
    ("readings-apart", NUMBER, "cones", _APART),
    ("reached-cone", CONE, "reached", "The hottest cone that is down in the hottest reading."),
    ("unreached-cone", CONE, "unreached", "The coolest cone that stands in the coolest reading."),
)


@PLAN.of_part(TEXT)
def _food_claim(plan: Plan) -> Written[str] | None:
    """Words anywhere in the plan that call ware fit for food."""
    return _anywhere(plan, food_claim)


@PLAN.of_part(TEXT)
def _lead_named(plan: Plan) -> Written[str] | None:
    """Lead or cadmium in a name, a note or a remark.

    Lead or cadmium outside the lines of glazes that are said to contain it, and of accepts.
    """
    told = {one.span.line for one in plan.accepts}
    for glaze in plan.load.glazes if plan.load else ():
        if {"lead", "cadmium"} & {substance.value for substance in glaze.contains}:
            told.add(glaze.span.line)

    def find(text: str, line: int) -> Span | None:
        return None if line in told else lead_or_cadmium(text, line)

    return _anywhere(plan, find)


def _anywhere(plan: Plan, find: Callable[[str, int], Span | None]) -> Written[str] | None:
    """The words found in some line of the text, remarks too, pointing at them."""
    for line in plan.source.lines:
        span = find(line.text, line.number)
        if span is not None:
            return Written(span.of(line.text), span)
    return None


@PLAN.fact(TEXT)
def _clock_watch(of: Of[Plan]) -> Any:
    """A time of day at which a watch begins or ends."""
    safety = of.it.safety
    if safety is None:
        return None
    for watch in safety.watches:
        time_of_day = watch.from_time or watch.to_time
        if time_of_day:
            return _clock(time_of_day)
    return UNREADABLE if "watches" in safety.unreadable else None


TARGET = PlanSubject(
    "target", "What the firing is to reach.", single("target"), lambda of: of.it.span, single=True
)
TARGET.written("cone", CONE, "The target cone.")
TARGET.written("temperature", TEMPERATURE, "The target, where a temperature.")
TARGET.written("atmosphere", words(*words_of("atmosphere")), "The atmosphere of the firing.")
