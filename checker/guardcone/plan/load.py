"""From the statements of the load section to its record: clays, glazes and the ware."""

from typing import Any

from guardcone.language import Keyword, Part, Quoted, Section, Statement
from guardcone.language.tokens import Count
from guardcone.plan.collecting import Faults, collect, named, only, simple
from guardcone.plan.facts_of_section import SectionFacts
from guardcone.plan.model import Clay, Glaze, Load, Ware
from guardcone.plan.shared_parts import maturity_of
from guardcone.span import Written
from guardcone.values import Length, Mass

__all__ = ["read_load"]


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
