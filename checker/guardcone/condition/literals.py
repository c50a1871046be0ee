"""Measures, cones and numbers written in a condition get their value."""

from guardcone.condition import typed
from guardcone.condition.grammar import Part, wrong
from guardcone.condition.kinds import CONE, NUMBER, QUANTITY_CLASS, Kind, Type
from guardcone.values import (
    Cone,
    ConeNumber,
    ConeSeries,
    Misspelled,
    Numbering,
    Quantity,
    UnknownCone,
    read_quantity,
)

__all__ = ["LITERALS", "literal"]

# The rules of the grammar that are one value each.
LITERALS = ("measure", "cone", "number")
# No figure of a kiln comes near; beyond it, arithmetic would only run into infinity.
_LARGEST = 1e9


def literal(part: Part, expected: Kind | None) -> typed.Constant:
    """The constant that a literal spells; an amount is read as `expected` where it can be that.

    `20 C` may be a temperature or a temperature difference, `5 m` a length or a duration. Where
    nothing is expected, degrees are a temperature. Raises Mistake.
    """
    text = str(part.children[0]).strip()
    if part.data == "cone":
        maker, _, spelled = text.rpartition("cone")
        series = ConeSeries(numbering=Numbering.SEGER) if maker.strip() else ConeSeries()
        try:
            return typed.Constant(CONE, Cone(ConeNumber.read(spelled.strip()), series))
        except UnknownCone as unknown:
            raise wrong(part, str(unknown)) from None
    if part.data == "number":
        constant, size = typed.Constant(NUMBER, float(text)), float(text)
    else:
        readings = _readings(part, text)
        kind = next(
            (kind for kind in (expected, Kind.TEMPERATURE) if kind in readings), None
        ) or next(iter(readings))
        if kind not in (expected, Kind.TEMPERATURE) and expected is None and len(readings) > 1:
            kinds = " or a ".join(kind.value for kind in readings)
            raise wrong(part, f"{text!r} may be a {kinds}", "spell the unit out")
        constant, size = typed.Constant(Type(kind), readings[kind]), abs(readings[kind].base)
    if size > _LARGEST:
        raise wrong(part, f"{text!r} is out of any sense")
    return constant


def _readings(part: Part, text: str) -> dict[Kind, Quantity]:
    """What an amount with a unit may be, by kind; raises Mistake if it is nothing."""
    found: dict[Kind, Quantity] = {}
    for kind, quantity in QUANTITY_CLASS.items():
        try:
            found[kind] = read_quantity(quantity, text)
        except (Misspelled, OverflowError):
            continue
    digits = text.split(".")[0].split(":")[0]
    if not found and len(digits) - len(digits.lstrip("0123456789")) > 9:
        raise wrong(part, f"{text!r} is out of any sense")
    if not found:
        kinds = QUANTITY_CLASS.values()
        units = ", ".join(dict.fromkeys(unit.plain for kind in kinds for unit in kind.units))
        raise wrong(part, f"{text!r} is no amount with a unit known here", f"units are {units}")
    return found
