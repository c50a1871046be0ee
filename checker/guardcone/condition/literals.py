"""Measures, cones and numbers written in a condition get their value."""

from guardcone.condition import syntax, typed
from guardcone.condition.kinds import CONE, NUMBER, QUANTITY_CLASS, Kind, Type
from guardcone.condition.rule_faults import Mistake
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

__all__ = ["cone", "measure", "number"]

# No figure of a kiln comes near; beyond it, arithmetic would only run into infinity.
_LARGEST = 1e9


def measure(node: syntax.Measure, expected: Kind | None) -> typed.Constant:
    """The constant that an amount with a unit spells, as `expected` where it can be that.

    `20 C` may be a temperature or a temperature difference, `5 m` a length or a duration. Where
    nothing is expected, degrees are a temperature. Raises Mistake.
    """
    readings = _readings(node)
    if expected in readings:
        kind = expected
    elif Kind.TEMPERATURE in readings:
        kind = Kind.TEMPERATURE
    elif len(readings) == 1 or expected is not None:
        kind = next(iter(readings))
    else:
        kinds = " or a ".join(kind.value for kind in readings)
        raise Mistake(node.start, node.end, f"{node.text!r} may be a {kinds}", "spell the unit out")
    assert kind is not None
    value = readings[kind]
    if abs(value.base) > _LARGEST:
        raise Mistake(node.start, node.end, f"{node.text!r} is out of any sense")
    return typed.Constant(Type(kind), value)


def _readings(node: syntax.Measure) -> dict[Kind, Quantity]:
    found: dict[Kind, Quantity] = {}
    for kind, quantity in QUANTITY_CLASS.items():
        try:
            found[kind] = read_quantity(quantity, node.text.strip())
        except (Misspelled, OverflowError):
            continue
    digits = node.text.strip().split(".")[0].split(":")[0]
    if not found and len(digits) - len(digits.lstrip("0123456789")) > 9:
        raise Mistake(node.start, node.end, f"{node.text.strip()!r} is out of any sense")
    if not found:
        kinds = QUANTITY_CLASS.values()
        units = ", ".join(dict.fromkeys(unit.plain for kind in kinds for unit in kind.units))
        message = f"{node.text.strip()!r} is no amount with a unit known here"
        raise Mistake(node.start, node.end, message, f"units are {units}")
    return found


def cone(node: syntax.Cone) -> typed.Constant:
    """The cone that `cone 06` or `Seger cone 9` spells; raises Mistake for one never made."""
    maker, _, spelled = node.text.rpartition("cone")
    series = ConeSeries(numbering=Numbering.SEGER) if maker.strip() else ConeSeries()
    try:
        return typed.Constant(CONE, Cone(ConeNumber.read(spelled.strip()), series))
    except UnknownCone as unknown:
        raise Mistake(node.start, node.end, str(unknown)) from None


def number(node: syntax.Number) -> typed.Constant:
    """The constant of a bare number; raises Mistake for one out of any sense."""
    value = float(node.text)
    if value > _LARGEST:
        raise Mistake(node.start, node.end, f"{node.text!r} is out of any sense")
    return typed.Constant(NUMBER, value)
