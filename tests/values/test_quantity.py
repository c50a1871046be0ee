"""What every measure promises: exact units, one kind only, unchanging, written to be read back."""

import copy
import pickle
from operator import add, ge, gt, le, lt, mul, sub, truediv
from typing import Any

import pytest
from attrs.exceptions import FrozenInstanceError
from every_kind import KINDS
from hypothesis import assume, given
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
    read_quantity,
)

EXTENTS = tuple(kind for kind in KINDS if kind is not Temperature)
UNITS = [(kind, unit.plain) for kind in KINDS for unit in kind.units]
FINITE = st.floats(-1e9, 1e9, exclude_min=True, exclude_max=True)


def quantities(kinds: tuple[type[Quantity], ...] = KINDS) -> st.SearchStrategy[Quantity]:
    """Any amount of any unit of these kinds, as computed rather than as written."""
    units = [(kind, unit) for kind, unit in UNITS if kind in kinds]
    return st.builds(lambda at, amount: at[0].of(amount, at[1]), st.sampled_from(units), FINITE)


def test_rate_has_no_offset() -> None:
    """108 °F/h is 60 °C/h: the 32 of the scale has no place in a rate."""
    assert Rate.of(108, "F/h") == Rate.of(60, "C/h")
    assert Rate.of(108, "F/h").celsius_per_hour == 60.0
    assert Rate.of(1.8, "F/min") == Rate.of(60, "C/h")


def test_temperature_has_an_offset() -> None:
    """1828 °F is 998 °C, rounded (both printed for cone 06, self-supporting, 60 °C/h)."""
    assert round(Temperature.of(1828, "F").celsius) == 998
    assert str(Temperature.of(1828, "F").like(Temperature.of(0, "C"))) == "998 °C"
    assert Temperature.of(32, "F") == Temperature.of(0, "C")
    assert Temperature.of(212, "F") == Temperature.of(100, "C")
    assert Temperature.of(-40, "F") == Temperature.of(-40, "C")


def test_difference_has_no_offset() -> None:
    """A spread of 180 °F is one of 100 °C, though 180 °F on the scale is not 100 °C."""
    assert TemperatureDifference.of(180, "F") == TemperatureDifference.of(100, "C")
    assert Temperature.of(2232, "F") - Temperature.of(1828, "F") == TemperatureDifference.of(
        404, "F"
    )


@pytest.mark.parametrize("kind", EXTENTS)
def test_sum_and_share(kind: type[Any]) -> None:
    """Amounts of one kind add, subtract, scale and divide, and keep the unit of the first."""
    unit = kind.units[-1].plain
    three, two = kind.of(3, unit), kind.of(2, kind.units[0].plain)

    assert three + two - two == three
    assert (three + two).unit.plain == unit
    assert three * 2 == 2 * three == three + three
    assert (three / 2 + three / 2).base == pytest.approx(three.base, abs=1.1e-9)
    assert three / three == 1.0
    assert (three * 2) / three == 2.0


def test_temperatures_do_not_add_up() -> None:
    """1000 °C and 1000 °C are not 2000 °C, and twice a temperature is not a thing."""
    hot: Any = Temperature.of(1000, "C")

    with pytest.raises(TypeError):
        hot + hot
    with pytest.raises(TypeError):
        hot * 2


def mixes(one: type[Any], other: type[Any]) -> list[str]:
    """The signs by which an amount of one kind takes one of another without a TypeError."""
    left = one.of(5, one.units[0].plain)
    right = other.of(5, other.units[0].plain) if issubclass(other, Quantity) else other(5)
    signs = {"<": lt, "<=": le, ">": gt, ">=": ge}
    if (one, other) != (Temperature, TemperatureDifference):
        signs |= {"+": add, "-": sub}
    if issubclass(other, Quantity):
        signs |= {"*": mul, "/": truediv}
    found = ["=="] if left == right else []
    for sign, work in signs.items():
        try:
            work(left, right)
        except TypeError:
            continue
        found.append(sign)
    return found


def test_kinds_do_not_mix() -> None:
    """Another kind, or a bare number, is never equal and never below: a TypeError instead."""
    mixed = [
        f"{one.__name__} {sign} {other.__name__}"
        for one in KINDS
        for other in (*KINDS, float, int, str)
        if one is not other
        for sign in mixes(one, other)
    ]

    assert not mixed, "\n".join(mixed)


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_compared_with_itself(kind: type[Any]) -> None:
    """Two amounts of one kind are equal or in order."""
    five, six = (kind.of(amount, kind.units[0].plain) for amount in (5, 6))

    assert five == kind.of(5, kind.units[0].plain) != six
    assert five <= five < six


@pytest.mark.parametrize("kind", KINDS)
def test_unchanging(kind: type[Quantity]) -> None:
    """No field can be set, no field added, and a copy or a pickle is the same quantity."""
    held: Any = kind.of(7, kind.units[-1].plain)

    with pytest.raises(FrozenInstanceError):
        held.base = 8.0
    with pytest.raises(FrozenInstanceError):
        held.note = "hot"
    assert not hasattr(held, "__dict__")
    for twin in (copy.deepcopy(held), pickle.loads(pickle.dumps(held))):
        assert twin == held
        assert twin.unit == held.unit
        assert type(twin) is kind


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("amount", [float("inf"), float("-inf"), float("nan")])
def test_no_amount_at_all(kind: type[Quantity], amount: float) -> None:
    """Infinity and not-a-number are refused at once, since no limit would ever catch them."""
    with pytest.raises(ValueError, match="is not an amount"):
        kind.of(amount, kind.units[0].plain)


@pytest.mark.parametrize("kind", KINDS)
def test_unknown_unit(kind: type[Quantity]) -> None:
    """A unit of no such kind is a KeyError that names the kind and the unit."""
    with pytest.raises(KeyError, match=f"{kind.kind} has no unit 'furlong'"):
        kind.of(1, "furlong")


@given(quantity=quantities())
def test_plain_reads_back(quantity: Quantity) -> None:
    """What plain() writes reads back as the very same quantity, and writes the same again."""
    # A thousand million and more is refused; of a small unit, plain() may come to that.
    assume(abs(quantity.amount("min" if quantity.unit.plain == "h" else None)) < 1e9)

    again = read_quantity(type(quantity), quantity.plain())

    assert again == quantity
    assert again.plain() == quantity.plain()


@given(at=st.sampled_from(UNITS), amount=st.decimals(-99_999, 99_999, places=5))
def test_written_unit_and_number_stay(at: tuple[type[Quantity], str], amount: Any) -> None:
    """A number of up to five decimals keeps its digits and its unit from reading to plain().

    Left out: hours, written as hours and minutes; fractions of a BTU/h, finer than kept in kW.
    """
    kind, unit = at
    assume(unit != "h" and (unit, amount) != ("days", 1))
    amount = round(amount) if unit == "BTU/h" else amount
    text = format(amount, "f")
    expected = text.rstrip("0").rstrip(".") if "." in text else text
    expected = "0" if expected == "-0" else expected

    assert read_quantity(kind, f"{text} {unit}").plain() == f"{expected} {unit}"


@given(base=st.floats(-3000, 3000), at=st.sampled_from(UNITS))
def test_plain_reads_back_after_conversion(base: float, at: tuple[type[Quantity], str]) -> None:
    """A computed amount shown in any unit of its kind reads back as the same, too."""
    kind, unit = at
    quantity = kind(base, kind.unit_named(unit))

    assert read_quantity(kind, quantity.plain()) == quantity


@given(one=quantities(), other=quantities())
def test_equal_means_equal_hash_and_order(one: Quantity, other: Quantity) -> None:
    """Equal quantities have one hash, whatever their units, and exactly one of < == > holds."""
    for unit in one.units:
        shown = type(one)(one.base, unit)
        assert shown == one
        assert hash(shown) == hash(one)
    if one.kind == other.kind:
        assert [one < other, one == other, one > other].count(True) == 1
        assert (one <= other) == (one < other or one == other) != (one > other)
        assert (one >= other) == (not one < other)


@given(at=st.sampled_from(UNITS), amount=st.floats(-99_999, 99_999))
def test_units_of_one_amount_agree(at: tuple[type[Quantity], str], amount: float) -> None:
    """Written in one unit or worked out in another, the same amount is an equal quantity."""
    kind, unit = at
    quantity = kind.of(amount, unit)

    for other in kind.units:
        assert kind.of(quantity.amount(other.plain), other.plain) == quantity


# shown                               as                                gives
LIKE = [
    (Temperature.of(1000, "C"), Temperature.of(70, "F"), "1832 °F"),
    (Temperature.of(1000, "C"), Rate.of(108, "F/h"), "1832 °F"),
    (Temperature.of(1832, "F"), Rate.of(1, "C/min"), "1000 °C"),
    (TemperatureDifference.of(10, "C"), Temperature.of(70, "F"), "18 °F"),
    (Rate.of(60, "C/h"), Temperature.of(70, "F"), "108 °F/h"),
    (Rate.of(1, "C/min"), Temperature.of(70, "F"), "1.8 °F/min"),
    (Rate.of(60, "C/h"), Rate.of(1, "F/min"), "1.8 °F/min"),
    (Rate.of(108, "F/h"), Rate.of(200, "F/h"), "108 °F/h"),
    (Length.of(30, "cm"), Length.of(18, "in"), "11.8 in"),
    (Length.of(30, "cm"), Temperature.of(70, "F"), "30 cm"),
    (Temperature.of(1832, "F"), Length.of(6, "mm"), "1832 °F"),
    (Temperature.of(1832, "F"), Duration.of(2, "h"), "1832 °F"),
    (Volume.of(8, "cu ft"), Volume.of(1, "L"), "227 L"),
]


@pytest.mark.parametrize(("shown", "other", "expected"), LIKE)
def test_like(shown: Quantity, other: Quantity, expected: str) -> None:
    """A finding answers in the unit of the line it points at, and only where that makes sense."""
    answered = shown.like(other)

    assert answered == shown
    assert str(answered) == expected


# kind        amount    unit       plain            for people
WORDING = [
    (Temperature, 1252, "C", "1252 C", "1252 °C"),
    (Temperature, 2284.6, "F", "2284.6 F", "2285 °F"),
    (Temperature, -0.0, "C", "0 C", "0 °C"),
    (Rate, 33.3333, "C/h", "33.3333 C/h", "33 °C/h"),
    (Rate, 33.3, "C/h", "33.3 C/h", "33.3 °C/h"),
    (Rate, 199.9999998, "F/h", "199.9999998 F/h", "200 °F/h"),
    (Rate, 32.72, "C/h", "32.72 C/h", "32 °C/h"),
    (Rate, 1.8, "F/min", "1.8 F/min", "1.8 °F/min"),
    (Duration, 0, "h", "0 h", "0 h"),
    (Duration, 2, "h", "2 h", "2 h"),
    (Duration, 2.5, "h", "2 h 30 min", "2 h 30 min"),
    (Duration, 0.5, "h", "30 min", "30 min"),
    (Duration, -2.5, "h", "-2 h 30 min", "-2 h 30 min"),
    (Duration, 90, "min", "90 min", "1 h 30 min"),
    (Duration, 1.5, "min", "1.5 min", "1.5 min"),
    (Duration, 59.7, "min", "59.7 min", "1 h"),
    (Duration, 0.25, "min", "0.25 min", "15 s"),
    (Duration, 90, "s", "90 s", "90 s"),
    (Duration, 1, "days", "1 day", "1 day"),
    (Duration, 2.5, "days", "2.5 days", "2.5 days"),
    (Length, 0.25, "in", "0.25 in", "0.25 in"),
    (Length, 0.0005, "m", "0.0005 m", "0.0005 m"),
    (Volume, 0.2, "m3", "0.2 m3", "0.2 m³"),
    (Volume, 8, "cu ft", "8 cu ft", "8 cu ft"),
    (TemperatureDifference, 8.31, "C", "8.31 C", "8 °C"),
    (TemperatureDifference, 8.3, "C", "8.3 C", "8.3 °C"),
    (TemperatureDifference, 9.96, "C", "9.96 C", "10 °C"),
    (TemperatureDifference, 22.7, "F", "22.7 F", "23 °F"),
    (TemperatureDifference, -9.6, "C", "-9.6 C", "-9.6 °C"),
    (Duration, 4.61, "min", "4.61 min", "5 min"),
    (Duration, 9.97, "min", "9.97 min", "10 min"),
    (Power, 9.565, "kW", "9.565 kW", "9.6 kW"),
    (Power, 115.4, "kW", "115.4 kW", "115 kW"),
    (Power, 0.012, "kW", "0.012 kW", "0.012 kW"),
    (Power, 12345, "BTU/h", "12345 BTU/h", "12345 BTU/h"),
    (Power, 1, "BTU/h", "1 BTU/h", "1 BTU/h"),
    (Mass, 150, "lb", "150 lb", "150 lb"),
    (Angle, 8, "degrees", "8 degrees", "8°"),
    (Percentage, 12.5, "%", "12.5 %", "12.5 %"),
]


@pytest.mark.parametrize(("kind", "amount", "unit", "plain", "people"), WORDING)
def test_wording(kind: type[Quantity], amount: float, unit: str, plain: str, people: str) -> None:
    """plain() keeps every digit and the written unit; str() rounds to what a person can use."""
    quantity = kind.of(amount, unit)

    assert quantity.plain() == plain
    assert str(quantity) == people
    assert repr(quantity) == f"{kind.__name__}({plain})"
