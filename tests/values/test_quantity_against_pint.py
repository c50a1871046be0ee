"""Every unit of every kind of measure, against pint, the general-purpose unit library.

Source of every expected number here: pint (https://pint.readthedocs.io), its default registry.
"""

import pint
import pytest
from every_kind import KINDS
from hypothesis import given
from hypothesis import strategies as st

from guardcone.values import (
    Angle,
    Duration,
    Length,
    Mass,
    Percentage,
    Power,
    Quantity,
    Rate,
    Temperature,
    TemperatureDifference,
    Volume,
)

REGISTRY: "pint.UnitRegistry[float]" = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)

# What pint calls each unit; the first of a kind is the base unit.
IN_PINT = {
    Angle: {"degrees": "degree"},
    Duration: {"min": "minute", "h": "hour", "s": "second", "days": "day"},
    Length: {"mm": "mm", "cm": "cm", "m": "m", "in": "inch", "ft": "foot"},
    Mass: {"kg": "kg", "lb": "pound"},
    Percentage: {"%": "percent"},
    Power: {"kW": "kW", "W": "W", "BTU/h": "Btu_it/hour"},
    Rate: {
        "C/h": "delta_degC/hour",
        "F/h": "delta_degF/hour",
        "C/min": "delta_degC/minute",
        "F/min": "delta_degF/minute",
    },
    Temperature: {"C": "degC", "F": "degF"},
    TemperatureDifference: {"C": "delta_degC", "F": "delta_degF"},
    Volume: {"L": "liter", "cu ft": "foot**3", "m3": "m**3"},
}
EVERY_PAIR = [
    (kind, one.plain, other.plain) for kind in KINDS for one in kind.units for other in kind.units
]
AMOUNTS = st.floats(-1e6, 1e6, allow_nan=False).map(lambda amount: round(amount, 6))


def in_pint(kind: type[Quantity], amount: float, one: str, other: str) -> float:
    """What pint makes of `amount` of the unit `one` in the unit `other`."""
    names = IN_PINT[kind]
    return float(REGISTRY.Quantity(amount, names[one]).to(names[other]).magnitude)


def test_no_unit_is_left_out() -> None:
    """The comparison with pint names every unit that a measure has, and no other."""
    units = {kind: [unit.plain for unit in kind.units] for kind in KINDS}

    assert units == {kind: list(names) for kind, names in IN_PINT.items()}


def test_no_kind_is_left_out() -> None:
    """The comparison with pint names every kind of measure there is."""

    def kinds_under(kind: type[Quantity]) -> set[type[Quantity]]:
        below = kind.__subclasses__()
        return ({kind} if kind.units else set()).union(*map(kinds_under, below))

    assert kinds_under(Quantity) == set(KINDS) == set(IN_PINT)


def unlike_pint(amount: float) -> list[str]:
    """Where an amount of a unit is another amount of a second unit than pint says."""
    unlike = []
    for kind, one, other in EVERY_PAIR:
        expected, actual = in_pint(kind, amount, one, other), kind.of(amount, one).amount(other)
        # The base is kept to its ninth decimal, so a small unit (BTU/h in kW) shows that rounding.
        grain = 1e-9 / kind.unit_named(other).factor
        if actual != pytest.approx(expected, rel=1e-11, abs=max(1e-9, grain)):
            unlike.append(f"{amount} {one} is {expected} {other} by pint, not {actual}")
    return unlike


@pytest.mark.parametrize("amount", [0.0, 1.0, -1.0, 32.0, 212.0, 1828.0, 0.25, 451.7, 99_999.0])
def test_a_plain_amount_agrees_with_pint(amount: float) -> None:
    """From any unit into any other of its kind, an amount that people write is as pint gives it."""
    unlike = unlike_pint(amount)

    assert not unlike, "\n".join(unlike)


@given(amount=AMOUNTS)
def test_any_amount_agrees_with_pint(amount: float) -> None:
    """And so is any other amount, a hundred drawn at random for all pairs of units."""
    unlike = unlike_pint(amount)

    assert not unlike, "\n".join(unlike)


@given(amount=st.floats(-400, 4000), change=st.floats(-400, 4000))
def test_temperature_arithmetic_agrees_with_pint(amount: float, change: float) -> None:
    """A temperature in °F and a difference in °F add up as pint adds them, offset once."""
    warm = REGISTRY.Quantity(amount, "degF") + REGISTRY.Quantity(change, "delta_degF")

    actual = Temperature.of(amount, "F") + TemperatureDifference.of(change, "F")

    assert actual.celsius == pytest.approx(warm.to("degC").magnitude, abs=1e-8)
