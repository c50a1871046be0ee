"""Statements to a whole plan: sections put together, names looked up, nothing said twice."""

from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from attrs import evolve, field, frozen

from guardcone.language import (
    Quoted,
    Section,
    SourceText,
    Statement,
    StatementText,
    TextFault,
    read_statements,
)
from guardcone.language.nearest import nearest
from guardcone.language.tokens import RuleName
from guardcone.plan.facts_of_section import fields_of
from guardcone.plan.model import (
    Accept,
    Clay,
    Glaze,
    Kiln,
    Load,
    Plan,
    Target,
    Ware,
    WitnessSet,
)
from guardcone.plan.safety import read_safety
from guardcone.plan.sections import (
    read_kiln,
    read_load,
    read_plan_facts,
    read_reading,
    read_schedule,
    read_witness,
)
from guardcone.plan.shared_parts import cone_of, keyword_of, series_of
from guardcone.span import Span, Written
from guardcone.values import Temperature

__all__ = ["Described", "build_plan", "read_plan"]

S = TypeVar("S")


@frozen
class Described:
    """What the studio's own file describes, so that a plan may name it and say no more."""

    kilns: Mapping[str, Kiln] = field(factory=dict)
    clays: Mapping[str, Clay] = field(factory=dict)
    glazes: Mapping[str, Glaze] = field(factory=dict)


NOTHING_DESCRIBED = Described()


def read_plan(source: SourceText, described: Described = NOTHING_DESCRIBED) -> Plan:
    """The plan in `source`; faults of the text are in its `faults`, nothing is raised."""
    return build_plan(read_statements(source), described)


def build_plan(statements: StatementText, described: Described = NOTHING_DESCRIBED) -> Plan:
    """Put the statements of a plan together."""
    faults = list(statements.faults)
    sections = _by_kind(statements, faults)
    facts = read_plan_facts(sections["plan"][0], faults) if sections.get("plan") else None
    kiln = _first(sections, "kiln", read_kiln, faults)
    load = _first(sections, "load", read_load, faults)
    witness_sets = tuple(read_witness(section, faults) for section in sections.get("witness", ()))
    misread = {name for rule in statements.unreadable_facts for name in fields_of(rule)}
    witness_sets = tuple(_with_misread(witness, misread) for witness in witness_sets)
    readings = tuple(read_reading(section, faults) for section in sections.get("reading", ()))
    places = [witness.place.value for witness in witness_sets if witness.place]
    if "witness_heading" not in {rule for s in statements.sections for rule in s.unreadable}:
        faults += (_no_such_place(r.place, places) for r in readings if _lost(r.place, places))
    if load:
        load = _with_names(load, witness_sets, described, faults)
    if kiln and kiln.name and kiln.name.value in described.kilns:
        kiln = _completed(kiln, described.kilns[kiln.name.value])
    unreadable = set(facts.unreadable) if facts else set()
    if "target_heading" in statements.unreadable_facts:
        unreadable.add("target")
    heading = sections["plan"][0].heading if sections.get("plan") else _top(statements)
    return Plan(
        source=statements.source,
        heading=heading,
        name=sections["plan"][0].name if sections.get("plan") else None,
        kiln=kiln,
        target=_target(statements.targets, faults),
        witness_sets=witness_sets,
        load=load,
        schedule=_first(sections, "schedule", read_schedule, faults),
        safety=_first(sections, "safety", read_safety, faults),
        readings=readings,
        accepts=tuple(_accept(statement) for statement in statements.accepts),
        faults=tuple(sorted(faults, key=lambda fault: fault.span)),
        unreadable=frozenset(unreadable),
        **(facts.fields if facts else {}),
    )


def _top(statements: StatementText) -> Span:
    """Where a plan without a heading is pointed at: its first line with text."""
    for line in statements.source.lines:
        if not line.blank:
            return line.span
    return Span(1, 1, 1)


def _by_kind(statements: StatementText, faults: list[TextFault]) -> dict[str, list[Section]]:
    """The sections of each kind; a second one where a plan has one is a fault and not used."""
    found: dict[str, list[Section]] = {}
    for section in statements.sections:
        earlier = found.setdefault(section.kind, [])
        many = section.kind in ("witness", "reading")
        double = next(
            (
                other
                for other in earlier
                if not many
                or (other.name and section.name and other.name.value == section.name.value)
            ),
            None,
        )
        if double is None:
            earlier.append(section)
            continue
        name = f" {section.name.value}" if many and section.name else ""
        faults.append(
            TextFault(
                "section-doubled",
                section.heading,
                f"The {section.kind} section{name} is opened twice; "
                f"line {double.heading.line} opens it first, and that one is used.",
                "Put both together, or give each witness set its own place."
                if many
                else "Put both together under the first heading.",
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


def _with_misread(witness: WitnessSet, misread: set[str]) -> WitnessSet:
    """A cone line that stands in another section may be this set's: not missing, only misplaced."""
    absent = {name for name in misread if getattr(witness, name, "") is None}
    return evolve(witness, unreadable=witness.unreadable | absent)


def _target(targets: Iterable[Statement], faults: list[TextFault]) -> Target | None:
    first: Target | None = None
    for statement in targets:
        part = statement.part
        details = list(part.parts("target_detail"))
        series = next(
            (series_of(d.part("series_words")) for d in details if d.part("series_words")), None
        )
        goal = part.part("goal")
        assert goal is not None
        goal_cone = goal.part("cone")
        cone = cone_of(goal_cone, series.value) if series else cone_of(goal_cone)
        atmosphere = next(
            (keyword_of(d.part("atmosphere")) for d in details if d.part("atmosphere")), None
        )
        target = Target(statement.span, cone, goal.value(Temperature), atmosphere)
        if first is None:
            first = target
            continue
        faults.append(
            TextFault(
                "fact-doubled",
                statement.span,
                f"The plan has a second target; line {first.span.line} gives the first, "
                "and that is used.",
                "Keep one target. The cones of a witness set stand below its heading.",
            )
        )
    return first


def _accept(statement: Statement) -> Accept:
    part = statement.part
    rule, reason = part.value(RuleName), part.value(Quoted)
    assert rule is not None
    assert reason is not None
    at, by = part.part("accepted_at"), part.part("accepted_by")
    return Accept(
        statement.span,
        rule,
        reason,
        at.value(Quoted) if at else None,
        by.value(Quoted) if by else None,
    )


def _completed(kiln: Kiln, known: Kiln) -> Kiln:
    """The kiln as the plan says it, and where it is silent as the studio's file does."""
    silent = {
        name: value
        for name, value in ((name, getattr(known, name)) for name in _KILN_FIELDS)
        if value is not None and getattr(kiln, name) is None and name not in kiln.unreadable
    }
    return evolve(kiln, **silent)


_KILN_FIELDS = [
    name for name in Kiln.__annotations__ if name not in ("heading", "name", "unreadable")
]


# -- names ------------------------------------------------------------------------------------


def _lost(name: Written[str] | None, known: Iterable[str]) -> bool:
    return name is not None and name.value not in known


def _no_such_place(name: Written[str] | None, places: list[str]) -> TextFault:
    assert name is not None
    return _unknown_name(name, "witness set", places, f'witness "{name.value}"')


def _unknown_name(name: Written[str], what: str, known: Iterable[str], line: str) -> TextFault:
    known = list(known)
    close = nearest(name.value, known)
    if close:
        repair = f'Write "{close}", or describe "{name.value}" on a line of its own.'
    else:
        repair = f'Describe "{name.value}" on a line of its own.'
    return TextFault(
        "name-unknown", name.span, f'No {what} of the plan is called "{name.value}".', repair, line
    )


def _with_names(
    load: Load, witness_sets: tuple[WitnessSet, ...], described: Described, faults: list[TextFault]
) -> Load:
    """The load with each ware's clay and glazes looked up, in the plan and then in the studio's."""
    clays: dict[str, Clay] = {**described.clays, **_unique(load.clays, "clay", faults)}
    glazes: dict[str, Glaze] = {**described.glazes, **_unique(load.glazes, "glaze", faults)}
    _unique(load.wares, "ware", faults)
    used: set[tuple[str, str]] = set()

    def look_up(name: Written[str], known: Mapping[str, S], what: str) -> S | None:
        used.add((what, name.value))
        if name.value not in known and f"{what}s" not in load.unreadable:
            line = f'{what} "{name.value}" matures cone 8 to cone 10'
            faults.append(_unknown_name(name, what, known, line))
        return known.get(name.value)

    wares = tuple(
        evolve(
            ware,
            clay=look_up(ware.clay_name, clays, "clay") if ware.clay_name else None,
            glazes=tuple(
                found for name in ware.glaze_names if (found := look_up(name, glazes, "glaze"))
            ),
        )
        for ware in load.wares
    )
    for witness in witness_sets:
        if witness.pad_clay:
            look_up(witness.pad_clay, clays, "clay")
    if "wares" not in load.unreadable:
        for what, things in (("clay", load.clays), ("glaze", load.glazes)):
            faults += (
                _unused_name(thing, what)
                for thing in things
                if (what, thing.name.value) not in used
            )
    return evolve(load, wares=wares)


Named = TypeVar("Named", Clay, Glaze, Ware)


def _unique(things: tuple[Named, ...], what: str, faults: list[TextFault]) -> dict[str, Named]:
    """The things by name; a name given to two of one kind is a fault, and the first is used."""
    by_name: dict[str, Named] = {}
    for thing in things:
        first = by_name.setdefault(thing.name.value, thing)
        if first is not thing:
            faults.append(
                TextFault(
                    "fact-doubled",
                    thing.name.span,
                    f'The {what} "{thing.name.value}" stands here a second time; '
                    f"line {first.span.line} has it first.",
                    "Keep one of the two lines, or give each its own name.",
                )
            )
    return by_name


def _unused_name(thing: Clay | Glaze, what: str) -> TextFault:
    return TextFault(
        "name-unused",
        thing.name.span,
        f'The {what} "{thing.name.value}" is described and no ware uses it.',
        f"Name it in the line of a ware, or take the {what} line away.",
    )
