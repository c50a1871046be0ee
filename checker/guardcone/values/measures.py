"""The many ways people write a number or a measure: `2h30`, `1/4 in`, `1 1/2`, `°F per hour`.

A reading begins at a column of a text (from 0) and takes as much as it can. What is spelled so and
can't be meant, as `1/0 in`, has a place and no value.
"""

import re
from collections.abc import Iterable
from functools import cache
from typing import TypeVar

from guardcone.values.amounts import Quantity
from guardcone.values.units import Unit, shortened, spellings_of, unit_named, units_of

__all__ = [
    "Misspelled",
    "bare_number_at",
    "half_unit_at",
    "measure_at",
    "number_at",
    "quantity_at",
    "read_quantity",
]


class Misspelled(ValueError):
    """The text is no quantity of the kind asked for."""


Q = TypeVar("Q", bound=Quantity)

# A thousand million of anything is a slip of the keys: no kiln has one, in any unit here.
_TOO_LARGE = 1e9

_FRACTION_SIGNS = {
    "½": 1 / 2, "⅓": 1 / 3, "⅔": 2 / 3, "¼": 1 / 4, "¾": 3 / 4,
    "⅕": 1 / 5, "⅖": 2 / 5, "⅗": 3 / 5, "⅘": 4 / 5, "⅙": 1 / 6, "⅚": 5 / 6,
    "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8,
}  # fmt: skip
# Digits are 0 to 9 only: \d would take those of every script, and nobody could see which.
_NUMBER = re.compile(
    r"(?P<sign>[-+−]?)(?:"
    r"(?P<thousands>[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?)"
    r"|(?:(?P<whole>[0-9]+)[\s-])?(?P<over>[0-9]+)[/⁄](?P<under>[0-9]+)"
    rf"|(?:(?P<count>[0-9]+)\s?)?(?P<glyph>[{''.join(_FRACTION_SIGNS)}])"
    r"|(?P<plain>[0-9]+(?:\.[0-9]*)?|\.[0-9]+))"
)


def _one_of_words(words: Iterable[str]) -> str:
    ways = sorted(words, key=len, reverse=True)
    return "|".join(word.replace(" ", r"[\s-]+") for word in ways)


def number_at(text: str, at: int) -> tuple[int, float | None] | None:
    """Where the number at a column ends, and its value: `90`, `1/4`, `1-1/2`, `2½`, `-2,300`.

    None where no number stands; no value for `1/0`, `1 3/2` or a thousand million and more.
    """
    found = _NUMBER.match(text, at)
    if found is None:
        return None
    amount: float | None
    if found["plain"]:
        amount = float(found["plain"])
    elif found["thousands"]:
        amount = float(found["thousands"].replace(",", ""))
    elif found["glyph"]:
        amount = float(found["count"] or 0) + _FRACTION_SIGNS[found["glyph"]]
    else:
        amount = _mixed(found["whole"], float(found["over"]), float(found["under"]))
    if amount is None or not amount < _TOO_LARGE:
        return found.end(), None
    return found.end(), -amount if found["sign"] in ("-", "−") and found["sign"] else amount


# No more of them: nobody writes a temperature in words.
_COUNTS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30,
    "forty": 40, "forty five": 45, "fifty": 50, "sixty": 60, "ninety": 90,
}  # fmt: skip
_PARTS = {"half": 1 / 2, "quarter": 1 / 4, "third": 1 / 3, "three quarters": 3 / 4}
_IN_WORDS = re.compile(
    rf"(?:(?P<part>{_one_of_words(_PARTS)})(?:\s+of)?(?:\s+an?)?"
    rf"|(?P<count>{_one_of_words(_COUNTS)})(?P<half>\s+and\s+a\s+half)?)(?=\s)",
    re.IGNORECASE | re.ASCII,
)


def _number_in_words_at(text: str, at: int) -> tuple[int, float | None] | None:
    """Where the number in words at a column ends, and its value: `half an`, `two and a half`.

    Only a unit behind it makes a measure of it.
    """
    found = _IN_WORDS.match(text, at)
    if found is None:
        return None
    if found["part"]:
        return found.end(), _PARTS[_plain(found["part"])]
    return found.end(), _COUNTS[_plain(found["count"])] + (0.5 if found["half"] else 0)


def _plain(words: str) -> str:
    return " ".join(re.split(r"[\s-]+", words.lower()))


def _mixed(whole: str | None, over: float, under: float) -> float | None:
    """The value of `1/4` or `1 1/2`; `1 3/2` and `1/0` are slips."""
    if not 0 < under < _TOO_LARGE or (whole and over >= under):
        return None
    return float(whole or 0) + over / under


# -- units --------------------------------------------------------------------------------------

_PER = r"\s*(?:/|(?i:per|an?|each)(?!\w))\s*"
# What may come behind a unit: no letter that makes another word of it, but for a sign of feet or
# inches.
_WORD_END = r"""(?:(?<=['"″”′’])|(?!\w))"""


def _pattern(dimension: str, unit: str) -> str:
    """A pattern for any spelling of a unit, the longest tried first."""
    ways = sorted(spellings_of(dimension, unit), key=len, reverse=True)
    return "|".join(_one_way(spelling) for spelling in ways)


def _one_way(spelling: str) -> str:
    pattern = ""
    for piece in spelling.split(" "):
        if piece == "per":
            pattern += _PER
            continue
        if pattern and not pattern.endswith(_PER):
            pattern += r"\s*" if pattern.endswith(r"\.?") else r"\s+"
        stop = piece.endswith(".")
        # Letters of either case, and of no other alphabet: a long s is no second.
        pattern += f"(?ai:{re.escape(piece.removesuffix('.'))})"
        pattern += r"\.?" if stop else ""
    return pattern


def _one_of(dimension: str, *units: str) -> str:
    """A pattern with a group for each of these units, or for each of the dimension."""
    names = units or [unit.plain for unit in units_of(dimension)]
    return "(?:" + "|".join(f"({_pattern(dimension, name)})" for name in names) + ")"


def _no(dimension: str) -> str:
    """A pattern that no unit of the dimension may come next."""
    units = "|".join(_pattern(dimension, unit.plain) for unit in units_of(dimension))
    return rf"(?!\s*(?:{units}){_WORD_END})"


@cache
def _unit_after(dimension: str) -> tuple[re.Pattern[str], tuple[str, ...]]:
    """What finds a unit of the dimension behind a number, and the name of the unit in each group.

    The names in the groups that met something make the name of the unit: `C` and `h`.
    """
    degree = f"(?:{_pattern('angle', 'degrees')})"
    scale = rf"\s*(?:{degree}\s*)?" + _one_of("temperature")
    scales = tuple(unit.plain for unit in units_of("temperature"))
    if dimension == "rate":
        pattern = scale + _PER + _one_of("duration", "h", "min") + _WORD_END
        return re.compile(pattern), (*scales, "h", "min")
    if dimension.startswith("temperature"):
        no_rate = r"(?i:(?!\s*(?:/|(?:per|each)(?!\w)|an?\s+[hm])))"
        return re.compile(scale + _WORD_END + no_rate), scales
    pattern = rf"\s*{_one_of(dimension)}"
    if dimension == "duration":
        pattern += r"(?![^\W\d_])"  # a figure may follow: 2h30
    else:
        pattern += _WORD_END
    if dimension == "angle":
        pattern += _no("temperature")
    return re.compile(pattern), tuple(unit.plain for unit in units_of(dimension))


def _unit_at(dimension: str, text: str, at: int) -> tuple[int, Unit] | None:
    pattern, names = _unit_after(dimension)
    found = pattern.match(text, at)
    if found is None:
        return None
    met = (name for name, group in zip(names, found.groups(), strict=True) if group is not None)
    return found.end(), unit_named(dimension, "/".join(met))


@cache
def _no_unit() -> re.Pattern[str]:
    return re.compile(r"(?![\w/⁄.½¼¾]|\s?[½¼¾])" + _no("angle") + _no("temperature"))


def bare_number_at(text: str, at: int) -> tuple[int, float | None] | None:
    """A number like `number_at`, if no letter, no further figure and no degrees follow it."""
    found = number_at(text, at)
    return found if found and _no_unit().match(text, found[0]) else None


@cache
def _half_unit() -> re.Pattern[str]:
    degree = f"(?:{_pattern('angle', 'degrees')})"
    return re.compile(rf"\s*(?:{degree}(?!\w)\s*)?(?:(?:/|(?i:per|an)(?!\w))\s*[hm]\w*)?")


def half_unit_at(text: str, at: int) -> int:
    """Where half a unit of heat ends, `degrees` or `per hour` without the scale; `at` if none."""
    found = _half_unit().match(text, at)
    return found.end() if found else at


# -- measures -----------------------------------------------------------------------------------


def measure_at(dimension: str, text: str, at: int) -> tuple[int, float | None, Unit] | None:
    """Where the measure at a column ends, its amount in the base unit, and its unit.

    None where none of this dimension of grammar/units.csv stands, a bare number included.
    """
    if dimension == "duration":
        return _duration_at(text, at)
    number = number_at(text, at) or _number_in_words_at(text, at)
    unit = number and _unit_at(dimension, text, number[0])
    if not number or not unit:
        return None
    end, chosen = unit
    amount = number[1]
    return end, None if amount is None else amount * chosen.factor + chosen.offset, chosen


def quantity_at(kind: type[Q], text: str, at: int) -> tuple[int, Q | None] | None:
    """Where the quantity of this kind at a column ends, and its value; None where none stands."""
    found = measure_at(kind.kind, text, at)
    if found is None:
        return None
    end, base, unit = found
    return end, None if base is None else kind(base, unit)


_SIGN = re.compile(r"[-+−]")
_CLOCK = re.compile(r"([0-9]{1,5}):([0-5][0-9])")
_JOINT = re.compile(r"\s*(?:and\s+|[&,]\s*)?", re.IGNORECASE)


@cache
def _bare_minutes() -> re.Pattern[str]:
    """Minutes after the hours may stand without a unit, where no degrees can be meant."""
    return re.compile(r"\s*([0-5]?[0-9])(?![\w:½/]|[.,][0-9])" + _no("angle") + _no("temperature"))


def _duration_at(text: str, at: int) -> tuple[int, float | None, Unit] | None:
    """`2 h`, `2h30`, `2 h 30 min`, `90 min`, `1:30`, `2 1/2 hours`, `1 day`; a sign is for all."""
    sign = _SIGN.match(text, at)
    begins = sign.end() if sign else at
    found = _clock_at(text, begins) or _parts_at(text, begins)
    if found is None:
        return None
    end, total, unit = found
    return end, -total if total is not None and sign and sign[0] != "+" else total, unit


def _clock_at(text: str, at: int) -> tuple[int, float | None, Unit] | None:
    clock = _CLOCK.match(text, at)
    if clock is None:
        return None
    hours = unit_named("duration", "h")
    unit = _unit_at("duration", text, clock.end())
    end = unit[0] if unit and unit[1] == hours else clock.end()
    if end < len(text) and (text[end].isalnum() or text[end] == "_"):
        return None
    return end, float(clock[1]) * 60 + float(clock[2]), hours


def _parts_at(text: str, at: int) -> tuple[int, float | None, Unit] | None:
    """The parts of a duration from a column on; no value where the same unit comes twice."""
    parts: list[tuple[Unit, float | None]] = []
    end = start = at
    twice = False
    while not twice and not _SIGN.match(text, start):
        number = number_at(text, start) or _number_in_words_at(text, start)
        unit = number and _unit_at("duration", text, number[0])
        if not number or not unit:
            break
        twice = unit[1] in [one for one, _ in parts]
        parts.append((unit[1], number[1]))
        end = unit[0]
        joint = _JOINT.match(text, end)
        start = joint.end() if joint else end
    if not parts:
        return None
    minutes = _bare_minutes().match(text, end)
    if minutes:
        end = minutes.end()
        after_hours = [unit.plain for unit, _ in parts] == ["h"]
        parts.append((unit_named("duration", "min"), float(minutes[1]) if after_hours else None))
    amounts = [amount * unit.factor for unit, amount in parts if amount is not None]
    right = len(amounts) == len(parts) and not twice
    return end, sum(amounts) if right else None, parts[0][0]


# A text that is a measure and nothing else may have a blank behind its sign.
_SIGN_ALONE = re.compile(r"^([-+−]) (?=[0-9½.])")


def read_quantity(kind: type[Q], text: str) -> Q:
    """The quantity of this kind that `text` spells, keeping its unit for later display.

    Raises Misspelled where the text is no such quantity, a bare number included.
    """
    spelled = _SIGN_ALONE.sub(r"\1", " ".join(text.split()))
    found = quantity_at(kind, spelled, 0)
    if found and found[0] == len(spelled) and found[1] is not None:
        return found[1]
    raise Misspelled(f"{shortened(spelled)!r} is no {kind.kind} with a unit")
