"""What plans leave to the studio's file of the kiln room: told to be looked at before a firing."""

from collections.abc import Iterable, Iterator
from typing import Any

from guardcone.plan.plan import Plan
from guardcone.plan.safety import Look

__all__ = ["CONFIRM", "looks_as_json", "to_confirm"]

CONFIRM = "Look before firing whether it is still so; no plan shows it:"


def _looks(plan: Plan) -> Iterator[Look]:
    """The looks of the studio's file that a plan leans on."""
    yield from (one for one in (plan.safety.looks if plan.safety else ()) if one.place)


def to_confirm(plans: Iterable[Plan]) -> Iterator[tuple[str, str]]:
    """Each place of the file once, as ``studio.yaml:12``, and what by it was found there."""
    found: dict[tuple[str, str], dict[str, None]] = {}
    for look in (look for plan in plans for look in _looks(plan)):
        who = f"found by {look.by.value} on {look.on.value}" if look.by and look.on else "found"
        found.setdefault((look.place, who), {}).update(dict.fromkeys(look.lines))
    yield from ((place, f"{'; '.join(lines)}: {who}") for (place, who), lines in found.items())


def looks_as_json(plan: Plan) -> list[dict[str, Any]]:
    """What one plan leans on, for other programs."""
    return [
        {
            "place": look.place,
            "on": str(look.on.value) if look.on else None,
            "by": look.by.value if look.by else None,
            "lines": list(look.lines),
        }
        for look in _looks(plan)
    ]
