"""Names of a plan: what each stands for, and which stand for nothing or are never used.

Capital and small letters are the same. A name that nothing has is a fault; where it is near enough
to one that is there, the rest of the plan is checked as if that were meant. What the studio's own
file describes under a name is filled in here, and points at that name, so that a finding always
stands in the plan.
"""

from collections.abc import Collection, Iterable, Mapping
from typing import Any, TypeVar

from attrs import evolve, field, fields, frozen

from guardcone.language import TextFault
from guardcone.language.meanings import is_to_fill_in
from guardcone.language.nearest import nearest
from guardcone.plan.kiln import Kiln
from guardcone.plan.load import Clay, Glaze, Load, Ware
from guardcone.plan.section import placed
from guardcone.plan.witness import Reading, WitnessSet
from guardcone.span import Span, Written

__all__ = ["Described", "look_up_kiln", "look_up_names", "look_up_places"]

T = TypeVar("T", Clay, Glaze)
Named = TypeVar("Named", Clay, Glaze, Ware)

_MOST_COMPARED = 200


@frozen(repr=False)
class Described:
    """What the studio's own file describes, so that a plan may name it and say no more."""

    kilns: Mapping[str, Kiln] = field(factory=dict)
    clays: Mapping[str, Clay] = field(factory=dict)
    glazes: Mapping[str, Glaze] = field(factory=dict)


def look_up_places(
    readings: Iterable[Reading], witness_sets: Iterable[WitnessSet], faults: list[TextFault]
) -> tuple[Reading, ...]:
    """The readings under the names of their witness sets; a set that there is not is a fault."""
    places = {w.place.value.casefold(): w.place.value for w in witness_sets if w.place}
    found = []
    for reading in readings:
        name = reading.place
        meant = places.get(name.value.casefold()) if name else None
        if name and meant is None and not any(map(is_to_fill_in, places.values())):
            line = f'witness "{name.value}"'
            faults.append(_unknown_name(name, "witness set", places.values(), line))
            meant = _nearest_name(name.value, places.values())
        place = Written(meant, name.span) if name and meant else name
        found.append(evolve(reading, place=place))
    return tuple(found)


def look_up_kiln(kiln: Kiln, described: Described, faults: list[TextFault]) -> Kiln:
    """The kiln as the plan says it, and where it is silent as the studio's file does.

    A name that the studio lacks is a fault, unless the plan describes the kiln itself.
    """
    if kiln.name is None:
        return kiln
    name = kiln.name.value
    known = {one.casefold(): found for one, found in described.kilns.items()}.get(name.casefold())
    if known is None:
        close = _nearest_name(name, described.kilns)
        if described.kilns and (close or kiln.fuel is None):
            found = f'The studio\'s file describes no kiln "{name}".'
            repair = "Describe the kiln in this plan, or in that file."
            if close:
                repair = f'Write "{close}", or describe the kiln in this plan or in that file.'
            faults.append(TextFault("name-unknown", kiln.name.span, found, repair))
        if not close:
            return kiln
        known = described.kilns[close]
    silent = {
        one.name: placed(getattr(known, one.name), kiln.name.span)
        for one in fields(Kiln)
        if one.name not in {"heading", "name", "unreadable"} | kiln.unreadable
        and getattr(kiln, one.name) is None
    }
    return evolve(kiln, **silent)


def _nearest_name(name: str, known: Collection[str]) -> str | None:
    # Past a few names each unknown one would be compared with all: the cost would grow squared.
    return nearest(name, sorted(known)) if len(known) <= _MOST_COMPARED else None


def _unknown_name(
    name: Written[str], what: str, known: Collection[str], line: str, below: Span | None = None
) -> TextFault:
    close = _nearest_name(name.value, known)
    line = line if '"' not in name.value else ""
    if close:
        repair = f'Write "{close}", or describe "{name.value}" on a line of its own.'
    else:
        repair = f'Describe "{name.value}" on a line of its own.'
    found = f'No {what} of the plan is called "{name.value}".'
    below = None if close or not line else below
    return TextFault("name-unknown", name.span, found, repair, line, below=below)


def look_up_names(
    load: Load, witness_sets: tuple[WitnessSet, ...], described: Described, faults: list[TextFault]
) -> Load:
    """The load with each ware's clay and glazes looked up, in the plan and then in the studio's."""
    clays = {**_by_name(described.clays.values()), **_unique(load.clays, "clay", faults)}
    glazes = {**_by_name(described.glazes.values()), **_unique(load.glazes, "glaze", faults)}
    _unique(load.wares, "ware", faults)
    used: set[tuple[str, str]] = set()

    def is_open(name: Written[str] | None) -> bool:
        return name is None or is_to_fill_in(name.value)

    from_studio: dict[int, Any] = {}

    def look_up(name: Written[str], known: Mapping[str, T], what: str) -> T | None:
        key = name.value.casefold()
        if key not in known and f"{what}s" not in load.unreadable:
            line = f'{what} "{name.value}" matures "fill in its range"'
            names = [one.name.value for one in known.values()]
            faults.append(_unknown_name(name, what, names, line, load.heading))
            key = (_nearest_name(name.value, names) or key).casefold()
        used.add((what, key))
        thing = known.get(key)
        if thing is None or not thing.from_studio:
            return thing
        # One of the studio's is one thing in the whole load, placed where it is first named.
        first: T = from_studio.setdefault(id(thing), placed(thing, name.span))
        return first

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
        # While a ware does not say what it is made of, or wears, that may be it.
        open_ = {
            "clay": any(is_open(one.clay_name) for one in load.wares),
            "glaze": any(
                not one.unglazed and all(map(is_open, one.glaze_names)) for one in load.wares
            ),
        }
        for what, things in (("clay", load.clays), ("glaze", load.glazes)):
            faults += (
                _unused_name(thing, what)
                for thing in things
                if not open_[what] and (what, thing.name.value.casefold()) not in used
            )
    return evolve(load, wares=wares)


def _by_name(things: Iterable[T]) -> dict[str, T]:
    return {thing.name.value.casefold(): thing for thing in things}


def _unique(things: tuple[Named, ...], what: str, faults: list[TextFault]) -> dict[str, Named]:
    """The things by name; a name given to two of one kind is a fault, and the first is used."""
    by_name: dict[str, Named] = {}
    for thing in things:
        first = by_name.setdefault(thing.name.value.casefold(), thing)
        if first is not thing:
            faults.append(
                TextFault(
                    "fact-doubled",
                    thing.name.span,
                    f'The {what} "{thing.name.value}" stands here a second time; '
                    f"line {first.span.line} has it first.",
                    "Keep one of the two lines, or give each its own name.",
                    first=first.span,
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
