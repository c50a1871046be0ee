"""Statements to a whole plan: sections put together, names looked up, nothing said twice.

A plan that says something twice is read in each way that it may be meant: the check goes by what
stands first. Which of the two is right nobody can know, so a danger in any of the ways is told,
whatever the order of the lines.
"""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from itertools import islice, product
from typing import TypeVar

from attrs import evolve

from guardcone.language import (
    Keyword,
    Quoted,
    Section,
    SourceText,
    Statement,
    StatementText,
    TextFault,
    read_statements,
)
from guardcone.language.tokens import RuleName
from guardcone.plan.kiln import read_kiln, with_fuel_shown
from guardcone.plan.load import read_load
from guardcone.plan.names import Described, look_up_kiln, look_up_names, look_up_places
from guardcone.plan.plan import Accept, Plan, Target, read_plan_facts
from guardcone.plan.safety import read_safety
from guardcone.plan.schedule import read_schedule
from guardcone.plan.section import LARGE_CONES, cone_of, series_of
from guardcone.plan.witness import read_reading, read_witness, with_misread
from guardcone.span import Span
from guardcone.values import Temperature

__all__ = ["MOST_WAYS", "Described", "build_plan", "other_readings", "read_plan"]


# A plan that may be read in more ways than this is a heap of copies; then each line that says
# something otherwise is put in the place of the first by itself, as many as this.
MOST_WAYS = 64

# Whether it is a whole section, the number of its line, and its first column.
_Place = tuple[bool, int, int]


def other_readings(
    statements: StatementText, faults: Iterable[TextFault]
) -> Iterator[StatementText]:
    """The statements in each way to read them but the first, as the faults tell what is doubled."""
    said = _said(statements)
    doubled = [_choices(group, said) for group in _groups(faults, said)]
    doubled = [choices for choices in doubled if len(choices) > 1]
    ways = 1
    for choices in doubled:
        ways = min(ways * len(choices), MOST_WAYS + 1)
    combined: Iterable[frozenset[_Place]]
    if ways <= MOST_WAYS:
        combined = (frozenset[_Place]().union(*one) for one in product(*doubled))
        combined = islice(combined, 1, None)
    else:
        combined = (choice for choices in doubled for choice in choices[1:])
    for left_out in islice(combined, MOST_WAYS):
        yield _without(statements, left_out)


def _said(statements: StatementText) -> dict[_Place, str]:
    """What stands at each place, blanks and capitals apart."""

    def text(one: Statement) -> str:
        return " ".join(one.span.of(statements.source.line(one.span.line)).casefold().split())

    lines = [*statements.targets, *(one for s in statements.sections for one in s.statements)]
    said: dict[_Place, str] = {_place(one.span): text(one) for one in lines}
    for section in statements.sections:
        lines_of_it = [*map(text, section.statements), *sorted(section.unreadable)]
        said[_place(section.heading, True)] = "\n".join(lines_of_it)
    return said


def _place(span: Span, is_section: bool = False) -> _Place:
    return is_section, span.line, span.start


def _groups(faults: Iterable[TextFault], said: Iterable[_Place]) -> list[list[_Place]]:
    """What says the same: the first place and all that say it again; the fewest first."""
    groups: dict[_Place, dict[_Place, None]] = {}
    lines: dict[tuple[bool, int], list[_Place]] = {}
    for place in said:
        lines.setdefault(place[:2], []).append(place)
    for fault in faults:
        if fault.first is not None:
            is_section = fault.rule == "section-doubled"
            first, second = (
                # A fault points into a statement: that is the last one that begins before it.
                max((one for one in lines.get(at[:2], ()) if one <= at), default=at)
                for at in (_place(fault.first, is_section), _place(fault.span, is_section))
            )
            groups.setdefault(first, {first: None})[second] = None
    return sorted((list(group) for group in groups.values()), key=len)


def _choices(group: list[_Place], said: dict[_Place, str]) -> list[frozenset[_Place]]:
    """For each that may be meant what is left out: all others; the first choice is the first.

    The same words again are no other way to read it, nor is a heading without any line below it. Of
    a line that says something twice itself nobody knows what it says: it is left out whole.
    """
    if len(group) == 1:
        return [frozenset(), frozenset(group)]
    meant: dict[str, _Place] = {}
    for place in group:
        if place == group[0] or said.get(place) != "":
            meant.setdefault(said.get(place, ""), place)
    return [frozenset(group) - {place} for place in meant.values()]


def _without(statements: StatementText, left_out: frozenset[_Place]) -> StatementText:
    def kept(some: Iterable[Statement]) -> list[Statement]:
        return [one for one in some if _place(one.span) not in left_out]

    return evolve(
        statements,
        sections=[
            evolve(section, statements=kept(section.statements))
            for section in statements.sections
            if _place(section.heading, True) not in left_out
        ],
        targets=kept(statements.targets),
    )


S = TypeVar("S")

NOTHING_DESCRIBED = Described()


def read_plan(source: SourceText, described: Described = NOTHING_DESCRIBED) -> Plan:
    """The plan in `source`; faults of the text are in its `faults`, nothing is raised."""
    return build_plan(read_statements(source), described)


def build_plan(statements: StatementText, described: Described = NOTHING_DESCRIBED) -> Plan:
    """Put the statements of a plan together, and once more for each other way to read it."""
    plan, faults = _build(statements, described)
    otherwise: list[Plan] = []
    waiting = deque(other_readings(statements, faults))
    while waiting and len(otherwise) < MOST_WAYS:
        other = waiting.popleft()
        read, more = _build(other, described)
        otherwise.append(evolve(read, faults=()))
        # A section that was passed over may itself say something twice.
        waiting.extend(other_readings(other, more))
    return evolve(plan, otherwise=tuple(otherwise))


def _build(statements: StatementText, described: Described) -> tuple[Plan, list[TextFault]]:
    """The plan where of what is said twice the first holds, and all faults, also those not told."""
    if not statements.is_plan:
        return Plan(statements.source, _top(statements), is_plan=False), []
    faults = list(statements.faults)
    sections = _by_kind(statements, faults)
    own = next(iter(sections.get("plan", ())), Section("plan", _top(statements)))
    facts = read_plan_facts(own, faults)
    kiln = _first(sections, "kiln", read_kiln, faults)
    load = _first(sections, "load", read_load, faults)
    witness_sets = tuple(
        with_misread(read_witness(section, faults), statements.unreadable_facts)
        for section in sections.get("witness", ())
    )
    readings = tuple(read_reading(section, faults) for section in sections.get("reading", ()))
    if "witness" not in {s.kind for s in statements.sections if "section" in s.unreadable}:
        readings = look_up_places(readings, witness_sets, faults)
    if load:
        load = look_up_names(load, witness_sets, described, faults)
    if kiln:
        kiln = with_fuel_shown(look_up_kiln(kiln, described, faults))
    plan = Plan(
        source=statements.source,
        heading=own.heading,
        name=own.name,
        kiln=kiln,
        target=_target(statements.targets, faults),
        witness_sets=witness_sets,
        load=load,
        schedule=_first(sections, "schedule", read_schedule, faults),
        safety=_first(sections, "safety", read_safety, faults),
        readings=readings,
        accepts=tuple(_accept(statement) for statement in statements.accepts),
        faults=_each_line_once(statements.faults, faults[len(statements.faults) :]),
        unreadable=facts.unreadable
        | (statements.unreadable_facts & {"target"})
        | ({"name"} if "section" in own.unreadable else set()),
        **facts.fields,
    )
    return plan, faults


def _each_line_once(
    own: Iterable[TextFault], further: Iterable[TextFault]
) -> tuple[TextFault, ...]:
    """The faults in the order of the lines; a line that can't be read as it is has only that."""
    faulty = {fault.span.line for fault in own}
    kept = [*own, *(fault for fault in further if fault.span.line not in faulty)]
    return tuple(sorted(kept, key=lambda fault: fault.span.order))


def _top(statements: StatementText) -> Span:
    """Where a plan without a heading is pointed at: its first line with text."""
    for line in statements.source.lines:
        if not line.blank:
            return line.span
    return Span(1, 1, 1)


def _by_kind(statements: StatementText, faults: list[TextFault]) -> dict[str, list[Section]]:
    """The sections of each kind; a second one where a plan has one is a fault and not used."""
    found: dict[str, list[Section]] = {}
    first: dict[tuple[str, str], Section] = {}
    for section in statements.sections:
        many = section.kind in ("witness", "reading")
        if many and section.name is None:
            # A heading whose name can't be read: nobody knows which set this is.
            found.setdefault(section.kind, []).append(section)
            continue
        name = section.name.value if many and section.name else ""
        double = first.setdefault((section.kind, name), section)
        if double is section:
            found.setdefault(section.kind, []).append(section)
            continue
        called = f'{section.kind} "{name}"' if name else section.kind
        faults.append(
            TextFault(
                "section-doubled",
                section.heading,
                f"`{called}` stands here again; line {double.heading.line} has it first, "
                "and what stands there is used.",
                f"Put both together under line {double.heading.line}"
                + (", or give this one a place of its own." if many else "."),
                first=double.heading,
            )
        )
    return found


def _first(
    sections: dict[str, list[Section]],
    kind: str,
    read: Callable[[Section, list[TextFault]], S],
    faults: list[TextFault],
) -> S | None:
    found = sections.get(kind)
    return read(found[0], faults) if found else None


def _target(targets: list[Statement], faults: list[TextFault]) -> Target | None:
    if not targets:
        return None
    first, *others = targets
    found = f"Line {first.span.line} gives the target of the plan, and that one is used."
    repair = "Keep one of the two; the target cone of a witness set stands below its heading."
    faults += (
        TextFault("fact-doubled", other.span, found, repair, first=first.span) for other in others
    )
    return _read_target(first)


def _read_target(statement: Statement) -> Target:
    series = next(filter(None, map(series_of, statement.parts("target_detail"))), None)
    cone = cone_of(statement.part("goal", "cone"), series.value if series else LARGE_CONES)
    atmosphere = statement.value(Keyword, "target_detail", "atmosphere")
    return Target(statement.span, cone, statement.value(Temperature, "goal"), atmosphere)


def _accept(statement: Statement) -> Accept:
    rule, reason = statement.value(RuleName), statement.value(Quoted)
    assert rule is not None
    assert reason is not None
    return Accept(
        statement.span,
        rule,
        reason,
        statement.last(Keyword, "accepted_as"),
        statement.value(Quoted, "accepted_at"),
        statement.value(Quoted, "accepted_by"),
    )
