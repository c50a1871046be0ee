"""The record of a whole plan, the lines of its first section, and which cones it aims at.

In every record of a plan a field is None where the plan does not say it. `unreadable` of a section
names the fields whose line is faulty, so that nothing is called missing that is only misspelled.
"""

from datetime import date, time

from attrs import frozen

from guardcone.language import Quoted, Section, Statement, TextFault
from guardcone.language.source import SourceText
from guardcone.language.tokens import WEEKDAYS
from guardcone.plan.kiln import Kiln
from guardcone.plan.load import Load
from guardcone.plan.safety import Safety
from guardcone.plan.schedule import Schedule
from guardcone.plan.section import Faults, Lines, SectionFacts, collect, named
from guardcone.plan.witness import Reading, WitnessSet
from guardcone.span import Span, Words, Written
from guardcone.values import Cone, Temperature

__all__ = [
    "Accept",
    "Plan",
    "Target",
    "plan_target",
    "read_plan_facts",
    "target_of_plan",
    "target_of_set",
]


@frozen(repr=False)
class Target:
    """What the firing is to reach: a cone, or for some firings a temperature."""

    span: Span
    cone: Written[Cone] | None = None
    temperature: Written[Temperature] | None = None
    atmosphere: Written[str] | None = None


@frozen(repr=False)
class Accept:
    """A finding that a person lets stand, with the reason; `weight` is the worst that it covers."""

    span: Span
    rule: Written[str]
    reason: Written[str]
    weight: Written[str] | None = None
    place: Written[str] | None = None
    by: Written[str] | None = None


@frozen(repr=False)
class Plan:
    """A whole firing plan.

    Of what it says twice the first is used; `otherwise` are the plans that it would be if another
    one is meant. A text that is no plan has neither records nor faults.
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
    is_plan: bool = True

    @property
    def is_empty(self) -> bool:
        """True for a file without a line that says anything, and for a text that is no plan."""
        return not self.is_plan or all(line.blank for line in self.source.lines)


def _starts(facts: SectionFacts, statement: Statement) -> None:
    on, weekday = statement.value(date, "day"), statement.word(*WEEKDAYS)
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
    facts.put("starts_on", on, "starts")
    facts.put("starts_at", statement.value(time), "starts")


def _firing(facts: SectionFacts, statement: Statement) -> None:
    facts.put("firing", named(facts, statement, "firing_kind"))


def _note(facts: SectionFacts, statement: Statement) -> None:
    facts.add("notes", statement.value(Quoted))


_LINES: Lines = {
    "by": (Quoted,),
    "starts": (_starts, "starts_on", "starts_at"),
    "firing": (_firing,),
    "approved": (Quoted,),
    "note": (_note, "notes"),
}


def read_plan_facts(section: Section, faults: Faults) -> SectionFacts:
    """The fields of the plan that its own section gives."""
    return collect(section, faults, _LINES)


def plan_target(plan: Plan) -> Cone | None:
    """The cone of the plan's own target line."""
    return plan.target.cone.value if plan.target and plan.target.cone else None


def target_of_set(witness: WitnessSet, plan: Plan) -> Written[Cone] | None:
    """The set's own target; where it says none, the plan's number in the cones of the set.

    None where neither says one, and where another maker numbered the plan's.
    """
    if witness.target or plan.target is None or plan.target.cone is None:
        return witness.target
    cone, place = plan.target.cone.value, plan.target.cone.span
    if cone.series.numbering is not witness.series.numbering:
        return None
    return Written(Cone(cone.number, witness.series), place)


def target_of_plan(plan: Plan) -> Cone | None:
    """The target of its first witness set, else its own."""
    first = target_of_set(plan.witness_sets[0], plan) if plan.witness_sets else None
    return first.value if first else plan_target(plan)
