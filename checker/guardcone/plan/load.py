"""The load of a plan, its clays, glazes and ware, and the lines they are read from."""

from typing import Any

from attrs import frozen

from guardcone.language import Keyword, Part, Quoted, Section, Statement
from guardcone.language.tokens import Count
from guardcone.plan.section import (
    Faults,
    Maturity,
    SectionFacts,
    collect,
    maturity_of,
    named,
    only,
    simple,
)
from guardcone.span import Span, Words, Written
from guardcone.values import (
    Length,
    Mass,
)

__all__ = ["Clay", "Glaze", "Load", "Ware", "read_load"]


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


def _substances(part: Part) -> tuple[Written[str], ...]:
    found: list[Written[str]] = []
    for holder in (*part.parts("contains"), *part.parts("also_contains")):
        for substance in holder.parts("substance"):
            found += substance.values(Keyword)
    return tuple(found)


def _clay(facts: SectionFacts, statement: Statement) -> None:
    facts.add(
        "clays", Clay(**_described(facts, statement), body=named(facts, statement.part, "body"))
    )


def _glaze(facts: SectionFacts, statement: Statement) -> None:
    flow, kind = (named(facts, statement.part, name) for name in ("flow", "glaze_kind"))
    facts.add("glazes", Glaze(**_described(facts, statement), flow=flow, kind=kind))


def _described(facts: SectionFacts, statement: Statement) -> dict[str, Any]:
    """What a clay and a glaze line say alike."""
    part = statement.part
    return {
        "name": part.value(Quoted),
        "span": statement.span,
        "maturity": maturity_of(only(facts, part, "maturity", "range")),
        "contains": _substances(part),
    }


def _ware(facts: SectionFacts, statement: Statement) -> None:
    part = statement.part
    name = part.value(Quoted)
    assert name is not None
    own = SectionFacts(facts.section, facts.faults)
    for child in part.children:
        if isinstance(child, Part):
            _ware_part(own, child)
    facts.add("wares", Ware(name, statement.span, **own.fields))


def _ware_part(own: SectionFacts, part: Part) -> None:
    """One detail of a ware line."""
    if part.name == "pieces":
        own.put_written("count", part.value(Count), "number of pieces")
    elif part.name == "made_of":
        own.put_written("clay_name", part.value(Quoted), "of")
    elif part.name in ("glazed", "also_glazed"):
        glaze = part.value(Quoted)
        if glaze:
            own.add("glaze_names", glaze)
        else:
            own.put_written("unglazed", part.value(Keyword))
    elif part.name in ("state", "support"):
        *_, word = part.values(Keyword)
        own.put_written(part.name, word)
    elif part.name == "wall":
        own.put_written("wall", part.value(Length))
    elif part.name == "on_shelf":
        own.put_written("shelf", part.value(Quoted), "on")
    elif part.name == "form":
        own.add("form", part.value(Keyword))
    elif part.name == "foot":
        words = list(part.values(Keyword))
        own.put_written("foot", words[1] if len(words) > 1 else words[0])
        own.put_written("foot_clear", part.value(Length), "foot")
    elif part.name == "again":
        own.put_written("refired", part.value(Keyword))


def _shelf_wash(facts: SectionFacts, statement: Statement) -> None:
    *_, word = statement.part.values(Keyword)
    bare = statement.part.has("not") or word.value == "bare"
    state = Written("not-washed" if bare else "washed", word.span)
    facts.put_written("shelf_wash", state)


def read_load(section: Section, faults: Faults) -> Load:
    """The load; its names are not yet looked up."""
    facts = collect(
        section,
        faults,
        {
            "clay": _clay,
            "glaze": _glaze,
            "ware": _ware,
            "spacing": simple(Length),
            "element_gap": simple(Length),
            "shelf_wash": _shelf_wash,
            "stilts": lambda facts, statement: facts.put_written(
                "stilts", list(statement.part.values(Keyword))[-1]
            ),
            "mass": simple(Mass),
        },
    )
    return Load(section.heading, unreadable=facts.unreadable, **facts.fields)
