"""The ware that the computed firing must take most care of."""

from collections.abc import Callable, Iterable
from typing import Any

from guardcone.condition.kinds import FLAG, TEXT, one
from guardcone.condition.sentences import Phrase
from guardcone.condition.vocabulary import Fact
from guardcone.facts.case import Of
from guardcone.facts.forecast import FORECAST
from guardcone.firing.ware import drying_hours
from guardcone.outlook.planned import DAMPNESS, PlannedFiring
from guardcone.plan.load import Ware
from guardcone.plan.plan import Plan

__all__ = ["unfired"]

_DAMP = ("damp", "leather-hard")
# Firings whose ware was never fired before, where the plan does not say how the ware goes in.
_FIRST_FIRINGS = ("bisque", "once")


def unfired(plan: Plan, ware: Ware) -> bool:
    """True for ware that was never fired: it says so, or it says nothing in a first firing."""
    if ware.state is not None:
        return ware.state.value in DAMPNESS
    if ware.refired is not None:
        return False
    return plan.firing is not None and plan.firing.value in _FIRST_FIRINGS


def _wares(of: Of[PlannedFiring]) -> Iterable[Ware]:
    load = of.case.plan.load
    return load.wares if load else ()


def _is_damp(ware: Ware) -> bool:
    return ware.state is not None and ware.state.value in _DAMP


def _wall(ware: Ware) -> float:
    return ware.wall.value.millimetres if ware.wall else 0.0


# What a plan calls ware that is flat without saying so.
_FLAT_NAMES = ("plate", "platter", "tile", "slab")


def _is_flat(ware: Ware) -> bool:
    if any(form.value == "flat-form" for form in ware.form):
        return True
    return any(name in ware.name.value.lower() for name in _FLAT_NAMES)


@FORECAST.fact(TEXT)
def _refired_shape(of: Of[PlannedFiring]) -> str | None:
    """The glaze-fired ware that is slowest to even out, with what makes it slow.

    The flat ware by name, or else the thickest with its wall.
    """
    refired = [ware for ware in _wares(of) if ware.refired is not None]
    flat = next((ware for ware in refired if _is_flat(ware)), None)
    if flat is not None:
        return f"the {flat.name.value}, which is flat ware"
    thickest = max(refired, key=_wall, default=None)
    if thickest is None:
        return None
    wall = (", with a wall of ", thickest.wall.value) if thickest.wall else ()
    return Phrase(f"the {thickest.name.value}", *wall)


def _drying_least(ware: Ware) -> float:
    return drying_hours(_wall(ware), DAMPNESS.get(ware.state.value, "") if ware.state else "").least


def _is_high_fired(ware: Ware) -> bool:
    body = ware.clay.body.value if ware.clay and ware.clay.body else ""
    return body in ("stoneware", "porcelain")


def _pick(
    name: str, doc: str, fits: Callable[[Plan, Ware], bool], key: Callable[[Ware], float] = _wall
) -> Fact:
    """A fact that leads to the ware for which `key` is highest, of those that fit."""

    def get(of: Of[PlannedFiring]) -> Any:
        plan = of.case.plan
        found = max((ware for ware in _wares(of) if fits(plan, ware)), key=key, default=None)
        return None if found is None else Of(of.case, found)

    return Fact(name, one("ware"), doc, get)


FORECAST.add(
    _pick(
        "damp-ware",
        "The damp or leather-hard ware that needs the longest drying.",
        lambda _, ware: _is_damp(ware),
        _drying_least,
    ),
    _pick(
        "dry-raw-ware",
        "The thickest unfired ware that is neither damp nor leather-hard.",
        lambda plan, ware: unfired(plan, ware) and not _is_damp(ware),
    ),
    _pick("raw-ware", "The thickest unfired ware, damp or dry.", unfired),
    _pick("thickest-ware", "The thickest ware.", lambda _, __: True),
    _pick(
        "thickest-fired-ware",
        "The thickest ware that was fired before.",
        lambda plan, ware: not unfired(plan, ware),
    ),
    _pick(
        "thickest-refired-ware",
        "The thickest ware that was glaze-fired before.",
        lambda _, ware: ware.refired is not None,
    ),
    _pick(
        "flat-refired-ware",
        "The thickest flat ware, tiles or plates, that was glaze-fired before.",
        lambda _, ware: ware.refired is not None and _is_flat(ware),
    ),
    _pick(
        "high-fired-ware",
        "The thickest ware of a stoneware or porcelain body.",
        lambda _, ware: _is_high_fired(ware),
    ),
)


@FORECAST.fact(FLAG)
def _has_raw_ware(of: Of[PlannedFiring]) -> bool:
    """Yes if some ware was never fired."""
    return any(unfired(of.case.plan, ware) for ware in _wares(of))
