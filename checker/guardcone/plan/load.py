"""The load of a plan, its clays, glazes and ware, and the lines they are read from."""

from typing import Any

from attrs import frozen

from guardcone.language import Keyword, Part, Quoted, Section, Statement
from guardcone.language.meanings import is_to_fill_in
from guardcone.language.tokens import Count
from guardcone.plan.section import (
    Faults,
    Lines,
    Maturity,
    SectionFacts,
    collect,
    last_word,
    maturity_of,
    named,
    only,
)
from guardcone.span import Span, Words, Written
from guardcone.values import (
    Length,
    Mass,
)

__all__ = ["Clay", "Glaze", "Load", "Ware", "read_load"]


@frozen(repr=False)
class Clay:
    """A clay body that the plan, or the studio's file, describes."""

    name: Written[str]
    span: Span
    maturity: Maturity | None = None
    body: Written[str] | None = None
    contains: Words = ()
    from_studio: bool = False


@frozen(repr=False)
class Glaze:
    """A glaze; `kind` tells overglaze (with lustre and decals) and underglaze from the rest."""

    name: Written[str]
    span: Span
    maturity: Maturity | None = None
    flow: Written[str] | None = None
    kind: Written[str] | None = None
    contains: Words = ()
    from_studio: bool = False


@frozen(repr=False)
class Ware:
    """Pieces of one sort: their clay, glazes, dampness and wall.

    `state` is one of damp, leather-hard, bone-dry, greenware, bisque, glazed.
    `form` holds closed-form, vented, waxed, flat-form as far as they are said. Where its line has
    a place to fill in, what is not said elsewhere in it is `unreadable`, not missing.
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
    mature: Written[str] | None = None
    unreadable: frozenset[str] = frozenset()


@frozen(repr=False)
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
    holders = ("contains", "also_contains")
    return tuple(word for one in holders for word in part.values(Keyword, one, "substance"))


def _clay(facts: SectionFacts, statement: Statement) -> None:
    facts.add("clays", Clay(**_described(facts, statement), body=named(facts, statement, "body")))


def _glaze(facts: SectionFacts, statement: Statement) -> None:
    flow, kind = (named(facts, statement, name) for name in ("flow", "glaze_kind"))
    facts.add("glazes", Glaze(**_described(facts, statement), flow=flow, kind=kind))


def _described(facts: SectionFacts, statement: Statement) -> dict[str, Any]:
    """What a clay and a glaze line say alike."""
    return {
        "name": statement.value(Quoted),
        "span": statement.span,
        "maturity": maturity_of(only(facts, statement, "maturity", "range")),
        "contains": _substances(statement),
    }


def _ware(facts: SectionFacts, statement: Statement) -> None:
    name = statement.value(Quoted)
    assert name is not None
    own, is_open = SectionFacts(facts.section, facts.faults), False
    parts = [part for part in statement.children if isinstance(part, Part)]
    states = [part for part in parts if part.name == "state"]
    said = {word for word in _RAW | {"bisque"} if any(part.word(word) for part in states)}
    for part in parts:
        # `bisque, glazed` is bisque ware with a glaze on, and `greenware, damp` says how green it
        # is: no second way it goes in.
        more_is_said = ("bisque" in said and part.word("glazed")) or (
            said & _RAW and part.word("greenware")
        )
        if part.name != "state" or not more_is_said:
            for detail, field, kind, words in _DETAILS:
                if part.name == detail:
                    own.put(field, part.last(kind), words)
            if part.name == "form":
                own.add("form", part.value(Keyword))
            elif part.name in ("glazed", "also_glazed"):
                is_open = _glazed(own, part) or is_open
    fields: dict[str, Any] = own.fields
    left = _OPEN - fields.keys() if is_open else frozenset()
    facts.add("wares", Ware(name, statement.span, **fields, unreadable=left))


def _glazed(own: SectionFacts, part: Part) -> bool:
    """Takes the glaze of a ware; True for a place to fill in, which may be for anything."""
    glaze = part.value(Quoted)
    if glaze and is_to_fill_in(glaze.value):
        return True
    if glaze:
        own.add("glaze_names", glaze)
    else:
        own.put("unglazed", part.value(Keyword))
    return False


# How dry raw ware is.
_RAW = frozenset({"damp", "leather-hard", "bone-dry"})

# What a place to fill in may stand for.
_OPEN = frozenset({"count", "clay_name", "glaze_names", "unglazed", "state", "wall", "foot"})


# A detail of a ware line, the field it fills with the value of a kind, and how people call that.
_DETAILS: tuple[tuple[str, str, type[Any], str], ...] = (
    ("pieces", "count", Count, "number of pieces"),
    ("made_of", "clay_name", Quoted, "of"),
    ("state", "state", Keyword, "state"),
    ("wall", "wall", Length, "wall"),
    ("on_shelf", "shelf", Quoted, "on"),
    ("foot", "foot", Keyword, "foot"),
    ("foot", "foot_clear", Length, "foot"),
    ("support", "support", Keyword, "support"),
    ("again", "refired", Keyword, "refired"),
    ("matured", "mature", Keyword, "mature"),
)


def _shelf_wash(facts: SectionFacts, statement: Statement) -> None:
    word = statement.last(Keyword)
    assert word is not None
    bare = statement.word("not") or word.value == "bare"
    facts.put("shelf_wash", Written("not-washed" if bare else "washed", word.span))


_LINES: Lines = {
    "clay": (_clay, "clays"),
    "glaze": (_glaze, "glazes"),
    "ware": (_ware, "wares"),
    "spacing": (Length,),
    "element_gap": (Length,),
    "shelf_wash": (_shelf_wash,),
    "stilts": (last_word,),
    "mass": (Mass,),
}


def read_load(section: Section, faults: Faults) -> Load:
    """The load; its names are not yet looked up."""
    return Load(section.heading, **collect(section, faults, _LINES).known)
