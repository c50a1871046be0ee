"""What the studio's file says is fitted is filled in where a plan's safety section is silent.

Only what stands there from one firing to the next: what is done on the day, such as a vent that is
switched on or somebody who watches, each plan must say itself. Where a plan says otherwise than the
file, the plan counts, and is read once more the other way, so that a danger of either is told.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from attrs import evolve, field, fields, frozen

from guardcone.plan.plan import Plan
from guardcone.plan.safety import Look, Safety, Vent
from guardcone.plan.section import placed
from guardcone.span import Span

__all__ = ["FITTED", "Room", "done_on_the_day", "with_rooms"]

# The lines of a safety section that say what is fitted or at hand. Of a vent it is its kind.
FITTED = (
    "vent",
    "clearance",
    "eyes",
    "hands",
    "electrics",
    "gas_line",
    "local_code",
    "co_alarm",
    "extinguisher",
    "emergency",
    "dust",
    "flame_safety",
    "combustion_air",
)


@frozen(repr=False)
class Room:
    """What somebody found fitted, at one kiln or, where `kiln` is empty, at every one.

    `lines` has the words of each field of `safety` that is said; `look` says who looked, and when.
    """

    safety: Safety
    lines: Mapping[str, str] = field(factory=dict)
    kiln: str = ""
    look: Look | None = None


def done_on_the_day(safety: Safety) -> Iterable[Span]:
    """The places of what is not fitted but done, and so belongs into each plan."""
    for one in fields(Safety):
        value = getattr(safety, one.name)
        if one.name not in ("heading", "looks", "unreadable", *FITTED) and value:
            yield value[0].span if isinstance(value, tuple) else value.span
    vent = safety.vent
    if vent and vent != Vent(vent.span, kind=vent.kind, words=vent.words):
        yield vent.span


def with_rooms(plan: Plan, rooms: Iterable[Room]) -> Plan:
    """The plan with what is fitted filled in: what was seen at its kiln, then what at all.

    Of several looks at one thing the last counts. A plan without a safety section stays so.
    """
    safety = plan.safety
    if safety is None:
        return plan
    kiln = plan.kiln.name.value.casefold() if plan.kiln and plan.kiln.name else ""
    here = [room for room in rooms if room.kiln.casefold() in ("", kiln)]
    here.sort(key=lambda room: (bool(room.kiln), _day(room)), reverse=True)
    filled: dict[str, Any] = {}
    otherwise: dict[str, Any] = {}
    looks: list[Look] = []
    for room in here:
        used = []
        for name in FITTED:
            found, said = getattr(room.safety, name), getattr(safety, name)
            if found is None or name in filled or name in safety.unreadable:
                continue
            found, is_silent = placed(found, safety.heading), said is None
            if name == "vent":
                if said is None:
                    continue  # a vent that stands there is not one that is on
                is_silent = not (said.kind or said.words)
                found = evolve(said, kind=found.kind, words=found.words)
            if is_silent:
                filled[name] = found
                used.append(room.lines.get(name, ""))
            elif placed(said, safety.heading) != placed(found, safety.heading):
                otherwise.setdefault(name, found)
        if used and room.look:
            looks.append(evolve(placed(room.look, safety.heading), lines=tuple(used)))
    safety = evolve(safety, **filled, looks=(*safety.looks, *looks))
    plan = evolve(plan, safety=safety)
    if not otherwise:
        return plan
    other = evolve(plan, safety=evolve(safety, **otherwise), otherwise=())
    return evolve(plan, otherwise=(*plan.otherwise, other))


def _day(room: Room) -> tuple[int, ...]:
    """When it was looked at, to compare; a month alone is its first day."""
    on = room.look.on.value if room.look and room.look.on else None
    return (on.year, on.month, getattr(on, "day", 1)) if on else ()
