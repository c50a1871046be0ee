"""Names of a plan: what each stands for, and which stand for nothing or are never used."""

from collections.abc import Collection, Iterable, Mapping
from typing import TypeVar

from attrs import evolve, field, frozen

from guardcone.language import TextFault
from guardcone.language.nearest import nearest
from guardcone.plan.model import Clay, Glaze, Kiln, Load, Reading, Ware, WitnessSet
from guardcone.span import Written

__all__ = ["Described", "look_up_names", "look_up_places"]

S = TypeVar("S")
Named = TypeVar("Named", Clay, Glaze, Ware)

_MOST_COMPARED = 200


@frozen
class Described:
    """What the studio's own file describes, so that a plan may name it and say no more."""

    kilns: Mapping[str, Kiln] = field(factory=dict)
    clays: Mapping[str, Clay] = field(factory=dict)
    glazes: Mapping[str, Glaze] = field(factory=dict)


def look_up_places(
    readings: Iterable[Reading], witness_sets: Iterable[WitnessSet], faults: list[TextFault]
) -> None:
    """Find the witness set of each reading; one that there is not is a fault."""
    places = {witness.place.value for witness in witness_sets if witness.place}
    for reading in readings:
        name = reading.place
        if name and name.value not in places:
            faults.append(_unknown_name(name, "witness set", places, f'witness "{name.value}"'))


def _unknown_name(name: Written[str], what: str, known: Collection[str], line: str) -> TextFault:
    # Past a few names each unknown one would be compared with all: the cost would grow squared.
    close = nearest(name.value, sorted(known)) if len(known) <= _MOST_COMPARED else None
    line = line if '"' not in name.value else ""
    if close:
        repair = f'Write "{close}", or describe "{name.value}" on a line of its own.'
    else:
        repair = f'Describe "{name.value}" on a line of its own.'
    return TextFault(
        "name-unknown", name.span, f'No {what} of the plan is called "{name.value}".', repair, line
    )


def look_up_names(
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
