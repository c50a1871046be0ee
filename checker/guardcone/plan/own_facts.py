"""From the statements of the plan section to the plan's own fields: who, when, what for."""

from datetime import date, time

from guardcone.language import Keyword, Quoted, Section, Statement, TextFault
from guardcone.language.tokens import WEEKDAYS
from guardcone.plan.collecting import Faults, collect, named, simple
from guardcone.plan.facts_of_section import SectionFacts

__all__ = ["read_plan_facts"]


def _starts(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    day = part.part("day")
    on = day.value(date) if day else None
    weekday = next((word for word in part.values(Keyword) if word.value in WEEKDAYS), None)
    if on and weekday and WEEKDAYS[on.value.weekday()] != weekday.value:
        facts.faults.append(
            TextFault(
                "value-senseless",
                weekday.span.to(on.span),
                f"{on.value} is a {WEEKDAYS[on.value.weekday()].capitalize()}, "
                f"not a {weekday.value.capitalize()}.",
                "Put the weekday or the date right.",
                f"starts {on.value}",
            )
        )
    facts.put_written("starts_on", on, "starts")
    facts.put_written("starts_at", part.value(time), "starts")


def _firing(facts: SectionFacts, statement: Statement) -> None:
    facts.put_written("firing", named(facts, statement.part, "firing_kind"))


def read_plan_facts(section: Section, faults: Faults) -> SectionFacts:
    """The fields of the plan that its own section gives."""
    return collect(
        section,
        faults,
        {
            "by": simple(Quoted),
            "starts": _starts,
            "firing": _firing,
            "approved": simple(Quoted),
            "note": lambda facts, statement: facts.add("notes", statement.part.value(Quoted)),
        },
    )
