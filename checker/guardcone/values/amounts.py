"""Measures with a unit: a number can be compared or added only with its own kind."""

from functools import total_ordering
from math import floor
from typing import Any, ClassVar, Literal, Self, overload

from attrs import field, frozen

from guardcone.values.units import (
    Unit,
    every_digit,
    few_digits,
    one_decimal,
    settle,
    to_places,
    to_whole,
    unit_named,
    units_of,
)

__all__ = [
    "IN_DEGREES",
    "Angle",
    "Duration",
    "Length",
    "Mass",
    "Percentage",
    "Power",
    "Quantity",
    "Rate",
    "Temperature",
    "TemperatureDifference",
    "Volume",
    "scale_of",
]


# The kinds below add no field, so they are plain classes with empty slots: as frozen as this one,
# and quicker to import than classes that attrs builds anew.
@total_ordering
@frozen(eq=False, repr=False)
class Quantity:
    """An amount in the base unit of its kind, with the unit it was written in.

    Two quantities are equal, and compare, by amount alone and only within one kind: the order of a
    rate and a temperature is a TypeError, never an answer. An amount that is infinite or not a
    number is a ValueError: it would compare false with every limit, and silence the rule.
    """

    base: float = field(converter=settle)
    unit: Unit

    units: ClassVar[tuple[Unit, ...]] = ()
    kind: ClassVar[str] = "quantity"

    def __init_subclass__(cls, kind: str = "") -> None:
        """The units of a kind of measure are those that grammar/units.csv has for it."""
        if kind:
            cls.kind, cls.units = kind, units_of(kind)

    @classmethod
    def of(cls, amount: float, unit: str) -> Self:
        """The quantity of `amount` in the unit spelled `unit`, e.g. ``Rate.of(60, "C/h")``.

        Raises KeyError for a unit that this kind of measure does not have.
        """
        chosen = cls.unit_named(unit)
        return cls(amount * chosen.factor + chosen.offset, chosen)

    @classmethod
    def unit_named(cls, plain: str) -> Unit:
        """The unit with this plain spelling; KeyError if this kind has none such."""
        return unit_named(cls.kind, plain)

    def amount(self, unit: str | None = None) -> float:
        """The number in `unit`, or in the unit it was written in.

        Of the numbers that mean this quantity it is the roundest: 1828, not 1828.0000000004, °F.
        """
        chosen = self.unit if unit is None else self.unit_named(unit)
        factor, offset = chosen.factor, chosen.offset
        if factor == 1.0 and offset == 0.0:
            return self.base
        exact = (self.base - offset) / factor
        for places in (3, 6, 9):
            rounded = round(exact, places)
            if settle(rounded * factor + offset) == self.base:
                return rounded + 0.0
        return exact

    def like(self, other: "Quantity") -> Self:
        """The same quantity, to be shown in the unit or the scale of `other` if that makes sense.

        A rate in °C/min follows a temperature in °F into °F/min; a temperature follows no length.
        """
        if self.kind == other.kind:
            return type(self)(self.base, other.unit)
        if self.kind not in _THERMAL or other.kind not in _THERMAL:
            return self
        scale = other.unit.plain[0]
        return type(self)(self.base, self.unit_named(scale + self.unit.plain[1:]))

    def plain(self) -> str:
        """As a plan spells it: ``60 C/h``; reading it back gives this very quantity."""
        return f"{every_digit(self.amount())} {self.unit.plain}"

    def __str__(self) -> str:
        """As a sentence prints it, rounded to what matters: ``60 °C/h``."""
        return f"{self._for_people(self.amount())} {self.unit.symbol}"

    @staticmethod
    def _for_people(amount: float) -> str:
        return few_digits(amount)

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.plain()})"

    def __hash__(self) -> int:
        return hash((self.kind, self.base))

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Quantity):
            return self.kind == other.kind and self.base == other.base
        return NotImplemented

    def __lt__(self, other: Self) -> bool:
        return self.base < other.base if self._same_kind(other) else NotImplemented

    def _same_kind(self, other: object) -> bool:
        return isinstance(other, Quantity) and self.kind == other.kind


# The kinds whose unit starts with C or F, so that one can follow another into its scale.
_THERMAL = frozenset({"temperature", "temperature difference", "rate"})


class _PlainNumber:
    """A quantity as a plain number, in a unit that is worth so many of the base unit."""

    def __init__(self, worth: float = 1.0) -> None:
        self._worth = worth

    def __get__(self, quantity: Quantity, _: type[Quantity]) -> float:
        return quantity.base / self._worth


class _Extent(Quantity):
    """A quantity that adds up and scales: everything but a temperature on its scale."""

    __slots__ = ()

    def __add__(self, other: Self) -> Self:
        if not self._same_kind(other):
            return NotImplemented
        return type(self)(self.base + other.base, self.unit)

    def __sub__(self, other: Self) -> Self:
        if not self._same_kind(other):
            return NotImplemented
        return type(self)(self.base - other.base, self.unit)

    def __mul__(self, factor: float) -> Self:
        if isinstance(factor, Quantity):
            return NotImplemented
        return type(self)(self.base * factor, self.unit)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, other: float) -> Self: ...
    @overload
    def __truediv__(self, other: Self) -> float: ...
    def __truediv__(self, other: Any) -> Any:
        if isinstance(other, Quantity):
            return self.base / other.base if self._same_kind(other) else NotImplemented
        return type(self)(self.base / other, self.unit)


class TemperatureDifference(_Extent, kind="temperature difference"):
    """How far apart two temperatures are; base unit °C (one °F is 5/9 °C, with no offset)."""

    __slots__ = ()

    @staticmethod
    def _for_people(amount: float) -> str:
        """No kiln is known to a tenth of a degree."""
        return to_whole(amount) if abs(amount) < 9.95 else to_places(amount, 0)

    celsius = _PlainNumber()


class Temperature(Quantity, kind="temperature"):
    """A point on the temperature scale; base unit °C."""

    __slots__ = ()
    celsius = _PlainNumber()

    def __add__(self, other: TemperatureDifference) -> "Temperature":
        if not isinstance(other, TemperatureDifference):
            return NotImplemented
        return Temperature(self.base + other.base, self.unit)

    @overload
    def __sub__(self, other: "Temperature") -> TemperatureDifference: ...
    @overload
    def __sub__(self, other: TemperatureDifference) -> "Temperature": ...
    def __sub__(self, other: Any) -> Any:
        if isinstance(other, Temperature):
            unit = TemperatureDifference.unit_named(self.unit.plain)
            return TemperatureDifference(self.base - other.base, unit)
        if isinstance(other, TemperatureDifference):
            return Temperature(self.base - other.base, self.unit)
        return NotImplemented


class Duration(_Extent, kind="duration"):
    """A length of time; base unit minute."""

    __slots__ = ()
    minutes = _PlainNumber()
    hours = _PlainNumber(60)

    def plain(self) -> str:
        """As a plan spells it: ``2 h``, ``2 h 30 min``, ``90 min``, ``1 day``."""
        if self.unit.plain == "days" and self.base == 1440:
            return "1 day"
        if self.unit.plain != "h":
            return super().plain()
        hours, minutes = divmod(abs(self.base), 60)
        words = [f"{hours:.0f} h"] if hours or not minutes else []
        words += [f"{every_digit(round(minutes, 9))} min"] if minutes else []
        return ("-" if self.base < 0 else "") + " ".join(words)

    def __str__(self) -> str:
        """As a sentence prints it: ``2 h 30 min``, ``1.5 min``, ``30 s``, ``2 days``."""
        if self.unit.plain in ("days", "s"):
            return "1 day" if self.plain() == "1 day" else super().__str__()
        size, sign = abs(self.base), "-" if self.base < 0 else ""
        if size == 0:
            return f"0 {self.unit.symbol}"
        if size < 1:
            return f"{sign}{to_whole(size * 60)} s"
        if size < 10:
            return f"{sign}{to_whole(size)} min"
        whole = floor(size + 0.5)
        hours, minutes = divmod(whole, 60)
        words = [f"{hours} h"] if hours else []
        words += [f"{minutes} min"] if minutes else []
        return sign + " ".join(words)


class Rate(_Extent, kind="rate"):
    """A heating or cooling rate, never negative in a plan; base unit °C/h.

    A rate scales by 5/9 between °F/h and °C/h; the 32 of the scale has no place in it.
    """

    __slots__ = ()
    celsius_per_hour = _PlainNumber()

    @staticmethod
    def _for_people(amount: float) -> str:
        """Down, for who is told to climb so fast or slower must be right to do it."""
        return to_whole(amount, down=True)


class Length(_Extent, kind="length"):
    """A wall, gap or height; base unit millimetre."""

    __slots__ = ()
    millimetres = _PlainNumber()
    metres = _PlainNumber(1000)


class Volume(_Extent, kind="volume"):
    """The inside of a kiln; base unit litre."""

    __slots__ = ()
    litres = _PlainNumber()


class Power(_Extent, kind="power"):
    """What the elements or burners give; base unit kilowatt."""

    __slots__ = ()
    _for_people = staticmethod(one_decimal)
    kilowatts = _PlainNumber()


class Mass(_Extent, kind="mass"):
    """How much ware and furniture is heated; base unit kilogram."""

    __slots__ = ()
    kilograms = _PlainNumber()


class Angle(_Extent, kind="angle"):
    """The lean of a cone from the vertical; base unit degree."""

    __slots__ = ()

    def __str__(self) -> str:
        return f"{to_places(self.base, 1)}°"


class Percentage(_Extent, kind="percentage"):
    """A share; base unit percent."""

    __slots__ = ()


IN_DEGREES = (Temperature, TemperatureDifference, Rate)


def scale_of(measure: Quantity) -> Literal["C", "F"] | None:
    """The scale a temperature, a difference or a rate is in, None for any other measure."""
    if not isinstance(measure, IN_DEGREES):
        return None
    return "F" if measure.unit.plain[0] == "F" else "C"
