"""Pyrometric cones: a number on the published scale, in the series of one maker and form."""

import re
from enum import Enum
from functools import lru_cache, total_ordering
from math import ceil, floor

from attrs import evolve, frozen

from guardcone.values.units import shortened

__all__ = ["Cone", "ConeForm", "ConeNumber", "ConeSeries", "Numbering", "UnknownCone"]

# The whole numbers, halves and letters that the tables in rules/tables/cones.csv publish.
_COOLEST, _HOTTEST = -22, 42
_HALVES = frozenset({-5.5, -3.5, 5.5, 31.5, 32.5})
_LETTERS = {"a": range(-15, 11), "b": range(8, 9)}

_SPELLING = re.compile(
    r"(?P<zero>0?)(?P<whole>[1-9][0-9]?)(?:(?P<half> ?½|\.50?|[ -]1[/⁄]2)|(?P<letter>[ABab])|\.0)?"
)


class UnknownCone(ValueError):
    """No published series has a cone of this number."""


@total_ordering
@frozen(eq=False, repr=False)
class ConeNumber:
    """A number such as 06, 05½, 1 or 10.

    Numbers with a leading zero run backwards: 022 is the coolest, 01 the hottest of them, and 1 is
    one step hotter than 01. So a cone number is not a number: it has an order and steps, but no
    arithmetic, and comparing it with an int or float is a TypeError.

    Two makers add a letter. Seger and SK write 015a to 6a for the number itself in a newer recipe,
    and Staffordshire 7A or 8B for a cone between two numbers. Either comes after its bare number
    and before the next, and a capital letter is the same as a small one.
    """

    _place: float
    _letter: str = ""

    def __attrs_post_init__(self) -> None:
        place, letter = self._place, self._letter.lower()
        if place != int(place) and place not in _HALVES:
            raise UnknownCone(f"there is no cone {self}: the halves in use are 05½ and 5½")
        if not _COOLEST <= place <= _HOTTEST or place == 0:
            raise UnknownCone(f"there is no cone {self}: cones run from 022 up to 01, then 1 to 42")
        if letter and place not in _LETTERS.get(letter, ()):
            raise UnknownCone(f"there is no cone {self}: the letters run from 015a to 10A, and 8B")

    @classmethod
    def read(cls, text: str) -> "ConeNumber":
        """The number written as `06`, `5½`, `5.5`, `5 1/2` or `6a`.

        Raises UnknownCone with a sentence for people where no series has such a cone.
        """
        return _read(text.strip())

    @property
    def with_leading_zero(self) -> bool:
        """True for 022 to 01, where a larger number is a cooler cone."""
        return self._place < 0

    @property
    def without_letter(self) -> "ConeNumber":
        """The number alone: 06 for 06a."""
        return ConeNumber(self._place) if self._letter else self

    @property
    def zero_twin(self) -> "ConeNumber | None":
        """What a slip with the leading zero would give: 6 for 06, 06 for 6; else None."""
        try:
            return ConeNumber(-self._place, self._letter)
        except UnknownCone:
            return None

    def steps_to(self, other: "ConeNumber") -> float:
        """Whole cones from this one up to `other`, negative if `other` is cooler; 06 to 05 is 1.

        A half cone counts half a step, a letter none.
        """
        return other.axis - self.axis

    def hotter(self) -> "ConeNumber | None":
        """The next whole number up the scale, None above the hottest."""
        place = float(floor(self._place) + 1)
        return ConeNumber(place or 1.0) if place <= _HOTTEST else None

    def cooler(self) -> "ConeNumber | None":
        """The next whole number down the scale, None below the coolest."""
        place = float(ceil(self._place) - 1)
        return ConeNumber(place or -1.0) if place >= _COOLEST else None

    @property
    def axis(self) -> float:
        """Its place on a straight scale, a step to a cone, the letter left out.

        Cone 6 is at 6, 1 at 1, 01 at 0, 06 at -5 and 05½ at -4.5.
        """
        return self._place + 1 if self._place < 0 else self._place

    @property
    def _order(self) -> tuple[float, str]:
        return self._place, self._letter.lower()

    def __str__(self) -> str:
        whole, half = divmod(abs(self._place), 1)
        zero, half_sign = "0" if self._place < 0 else "", "½" if half else ""
        return f"{zero}{whole:.0f}{half_sign}{self._letter}"

    def __repr__(self) -> str:
        return f"ConeNumber({self})"

    def __hash__(self) -> int:
        return hash(("cone number", *self._order))

    def __eq__(self, other: object) -> bool:
        return self._order == other._order if isinstance(other, ConeNumber) else NotImplemented

    def __lt__(self, other: "ConeNumber") -> bool:
        return self._order < other._order if isinstance(other, ConeNumber) else NotImplemented


@lru_cache(maxsize=256)
def _read(text: str) -> ConeNumber:
    found = _SPELLING.fullmatch(text)
    if found is None:
        raise UnknownCone(f"{shortened(text)!r} is not a cone number; right would be 06, 6 or 5½")
    place = float(found["whole"]) + (0.5 if found["half"] else 0.0)
    return ConeNumber(-place if found["zero"] else place, found["letter"] or "")


class Numbering(Enum):
    """Who gave the cone its number; the same number of two of them is not the same cone."""

    ORTON = "Orton"
    ORTON_OLDER = "older Orton"
    SEGER = "Seger"
    SK = "SK"
    STAFFORDSHIRE = "Staffordshire"


class ConeForm(Enum):
    """Shape and mounting, which shift the end temperature of a number a little."""

    LARGE = "large"
    SELF_SUPPORTING = "self-supporting"
    SMALL = "small"


# The series column of rules/tables/cones.csv for the makers whose tables know one form only.
_TABLE_OF_OTHERS = {
    Numbering.ORTON_OLDER: "orton_old_beerman1956",
    Numbering.SK: "sk_japan",
    Numbering.STAFFORDSHIRE: "staffordshire",
}


@frozen(repr=False)
class ConeSeries:
    """Numbering, form and whether the cone is made without iron (for 010 to 3)."""

    form: ConeForm = ConeForm.LARGE
    iron_free: bool = False
    numbering: Numbering = Numbering.ORTON

    @property
    def table(self) -> str:
        """The name of this series in the column `series` of rules/tables/cones.csv.

        Small iron-free cones have a name too, but no published figures.
        """
        if self.numbering is Numbering.SEGER:
            return "seger_a_small_lab" if self.form is ConeForm.SMALL else "seger_a_large"
        if self.numbering in _TABLE_OF_OTHERS:
            return _TABLE_OF_OTHERS[self.numbering]
        form = {"self-supporting": "ss"}.get(self.form.value, self.form.value)
        return f"{form}_{'ironfree' if self.iron_free else 'regular'}"

    def __str__(self) -> str:
        words = [] if self.numbering is Numbering.ORTON else [self.numbering.value]
        words += ["iron-free"] if self.iron_free else []
        return " ".join([*words, self.form.value])


@frozen(order=False, repr=False)
class Cone:
    """A cone number in its series.

    Cones of one numbering compare by number, whatever their form; the order of two cones that
    different makers numbered is a TypeError. Equal are only cones of the same number and series, so
    a large and a small cone 6 are neither equal nor one below the other.
    """

    number: ConeNumber
    series: ConeSeries = ConeSeries()

    def same_number(self, other: "Cone") -> bool:
        """True if both are the same number of the same numbering, in whatever form."""
        return self.comparable(other) and self.number == other.number

    def comparable(self, other: "Cone") -> bool:
        """True if one maker numbered both."""
        return self.series.numbering is other.series.numbering

    def numbered(self, number: ConeNumber) -> "Cone":
        """The cone of another number in the same series."""
        return evolve(self, number=number)

    def __str__(self) -> str:
        if self.series.numbering is Numbering.ORTON:
            return f"cone {self.number}"
        return f"{self.series.numbering.value} cone {self.number}"

    def __lt__(self, other: "Cone") -> bool:
        return self.number < other.number if self._ordered(other) else NotImplemented

    def __le__(self, other: "Cone") -> bool:
        return self.number <= other.number if self._ordered(other) else NotImplemented

    def __gt__(self, other: "Cone") -> bool:
        return self.number > other.number if self._ordered(other) else NotImplemented

    def __ge__(self, other: "Cone") -> bool:
        return self.number >= other.number if self._ordered(other) else NotImplemented

    def _ordered(self, other: object) -> bool:
        return isinstance(other, Cone) and self.comparable(other)
