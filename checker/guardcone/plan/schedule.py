"""The schedule of a plan, its segments in order, and the lines they are read from."""

from attrs import frozen

from guardcone.language import Keyword, Section, Statement
from guardcone.plan.section import Faults, Lines, SectionFacts, collect
from guardcone.span import Span, Written
from guardcone.values import (
    Duration,
    Rate,
    Temperature,
)

__all__ = ["Reduction", "Schedule", "Segment", "read_schedule"]


@frozen(repr=False)
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


@frozen(repr=False)
class Reduction:
    """From where, and to where, the kiln is reduced."""

    span: Span
    start: Written[Temperature]
    end: Written[Temperature] | None = None


@frozen(repr=False)
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


def _segment(facts: SectionFacts, statement: Statement) -> None:
    pace = statement.part("pace") or statement.part("cooling_pace") or statement
    rate, duration = pace.value(Rate), pace.value(Duration)
    word: Written[str] | None = pace.value(Keyword, "free") or pace.word("full-power")
    if word is None and rate is not None:
        word = Written("rate", rate.span)
    elif word is None and duration is not None:
        word = Written("duration", duration.span)
    to = statement.value(Temperature, "destination") or statement.value(Temperature, "hold_at")
    number = len(facts.fields.get("segments", ())) + 1
    segment = Segment(number, statement.name, statement.span, word, rate, duration, to)
    facts.add("segments", segment)


def _step(facts: SectionFacts, statement: Statement) -> None:
    """A line of a table: to where, how fast, and how long it stays there."""
    before: tuple[Segment, ...] = facts.fields.get("segments", ())
    ends = [segment.to for segment in before if segment.to]
    begins = facts.fields.get("begins")
    above = ends[-1] if ends else begins
    rate, to = statement.value(Rate), statement.value(Temperature, "destination")
    assert rate is not None
    assert to is not None
    kind = "cool" if above and to.value.celsius < above.value.celsius else "climb"
    pace = Written("rate", rate.span)
    number, duration = len(before) + 1, statement.value(Duration)
    facts.add("segments", Segment(number, kind, statement.span, pace, rate, None, to))
    if duration:
        pace = Written("duration", duration.span)
        hold = Segment(number + 1, "hold", statement.span, pace, None, duration)
        facts.add("segments", hold)


def _reduce(facts: SectionFacts, statement: Statement) -> None:
    start = statement.value(Temperature)
    assert start is not None
    end = statement.value(Temperature, "reduce_to")
    facts.add("reductions", Reduction(statement.span, start, end))


_LINES: Lines = {
    "begin": (Temperature, "begins"),
    "climb": (_segment, "segments"),
    "hold": (_segment, "segments"),
    "step": (_step, "segments"),
    "cool": (_segment, "segments"),
    "open": (Temperature, "opens"),
    "reduce": (_reduce, "reductions"),
}


def read_schedule(section: Section, faults: Faults) -> Schedule:
    """The schedule, its segments in the order written."""
    known = collect(section, faults, _LINES).known
    return Schedule(section.heading, first_fault=section.first_fault, **known)
