"""Room: the vocabulary of plans; here what a rule may ask of the plan itself and of its target."""

from datetime import datetime
from typing import Any

from guardcone.plan.model import Plan, Target
from guardcone.rulebook.facts.case import Of, PlanCase, part_fact, written_fact
from guardcone.rulebook.kinds import (
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
from guardcone.rulebook.vocabulary import UNREADABLE, Fact, Subject
from guardcone.span import Written

__all__ = ["PLAN", "TARGET"]

_FIRINGS = ("bisque", "glaze", "once", "overglaze", "raku", "candling", "test")


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


def _starts(plan: Plan) -> Any:
    if plan.starts_on is None or plan.starts_at is None:
        return None
    return datetime.combine(plan.starts_on.value, plan.starts_at.value)


def _time_of_day(plan: Plan) -> Any:
    if plan.starts_at is None:
        return UNREADABLE if "starts_at" in plan.unreadable else None
    return Written(f"{plan.starts_at.value:%H:%M}", plan.starts_at.span)


PLAN = Subject(
    "plan",
    "The whole plan: who fires, when, for what, and which sections there are.",
    lambda case: [Of(case, case.plan)],
    (
        written_fact("name", TEXT, "The name of the firing."),
        written_fact("by", TEXT, "Who fires."),
        written_fact("firing", words(*_FIRINGS), "What sort of firing it is."),
        written_fact("starts-on", DATE, "The day it starts."),
        part_fact("starts", MOMENT, "The day and time it starts.", _starts),
        part_fact("starts-at", TEXT, "The time of day it starts.", _time_of_day),
        written_fact("approved", TEXT, "Who approved the firing."),
        _section("kiln-section", one("kiln"), "The kiln.", "kiln"),
        _section("target-line", one("target"), "The target.", "target"),
        _section("load-section", one("load"), "The load.", "load"),
        _section("schedule-section", one("schedule"), "The schedule.", "schedule"),
        _section("safety-section", one("safety"), "The safety section.", "safety"),
        _sections("witness-sets", many("witness set"), "The witness sets.", "witness_sets"),
        _sections("readings", many("reading"), "The readings of the cones.", "readings"),
        part_fact(
            "number-of-witness-sets",
            NUMBER,
            "How many witness sets.",
            lambda p: len(p.witness_sets),
        ),
        part_fact("number-of-readings", NUMBER, "How many readings.", lambda p: len(p.readings)),
        part_fact(
            "has-text-faults",
            FLAG,
            "Yes if some line of the plan could not be read.",
            lambda p: bool(p.faults),
        ),
    ),
    lambda of: of.it.heading,
    single=True,
)


def _targets(case: PlanCase) -> list[Of[Target]]:
    return [Of(case, case.plan.target)] if case.plan.target else []


TARGET = Subject(
    "target",
    "What the firing is to reach.",
    _targets,
    (
        part_fact("cone", CONE, "The target cone.", lambda t: t.cone),
        part_fact(
            "temperature", TEMPERATURE, "The target, where a temperature.", lambda t: t.temperature
        ),
        part_fact(
            "atmosphere",
            words("oxidation", "reduction", "neutral"),
            "The atmosphere of the firing.",
            lambda t: t.atmosphere,
        ),
    ),
    lambda of: of.it.span,
    single=True,
)
