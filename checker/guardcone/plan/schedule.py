"""From the statements of the schedule section to its record, the segments in order."""

from guardcone.language import Keyword, Section, Statement
from guardcone.plan.collecting import Faults, collect, simple
from guardcone.plan.facts_of_section import SectionFacts
from guardcone.plan.model import Reduction, Schedule, Segment
from guardcone.plan.shared_parts import keyword_of
from guardcone.span import Written
from guardcone.values import Duration, Rate, Temperature

__all__ = ["read_schedule"]


def _segment(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    number = len(facts.fields.get("segments", ())) + 1
    to = part.part("destination") or part.part("hold_at")
    pace = part.part("pace") or part.part("cooling_pace") or part
    free = keyword_of(pace.part("free"))
    rate, duration = pace.value(Rate), pace.value(Duration)
    full = next((word for word in pace.values(Keyword) if word.value == "full-power"), None)
    word: Written[str] | None = free or full
    if word is None and rate is not None:
        word = Written("rate", rate.span)
    elif word is None and duration is not None:
        word = Written("duration", duration.span)
    facts.add(
        "segments",
        Segment(
            number,
            statement.rule,
            statement.span,
            word,
            rate,
            duration,
            to.value(Temperature) if to else None,
        ),
    )


def _reduce(facts: SectionFacts, statement: Statement) -> None:
    start = statement.part.value(Temperature)
    assert start is not None
    end = statement.part.part("reduce_to")
    facts.add(
        "reductions", Reduction(statement.span, start, end.value(Temperature) if end else None)
    )


def read_schedule(section: Section, faults: Faults) -> Schedule:
    """The schedule, its segments in the order written."""
    facts = collect(
        section,
        faults,
        {
            "begin": simple(Temperature, "begins"),
            "climb": _segment,
            "hold": _segment,
            "cool": _segment,
            "open": simple(Temperature, "opens"),
            "reduce": _reduce,
        },
    )
    return Schedule(
        section.heading,
        unreadable=facts.unreadable,
        first_fault=section.first_fault,
        **facts.fields,
    )
