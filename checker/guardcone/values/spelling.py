"""The many ways people write a measure, read into one value: `2h30`, `1/4 in`, `°F per hour`."""

import re
from functools import lru_cache
from typing import Any, TypeVar

from guardcone.values.quantity import (
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
    Unit,
    Volume,
)

__all__ = ["Misspelled", "read_number", "read_quantity"]


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
_SIMPLE = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,9})?(?=\s?[a-zA-Z°])")
_NUMBER = re.compile(
    r"(?P<sign>[-+−]?)\s?(?:"
    r"(?P<thousands>[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?)"
    r"|(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)\s?[/⁄]\s?(?P<under>[0-9]+)"
    rf"|(?:(?P<count>[0-9]+)\s?)?(?P<glyph>[{''.join(_FRACTION_SIGNS)}])"
    r"|(?P<plain>[0-9]+(?:\.[0-9]*)?|\.[0-9]+))"
)


def read_number(text: str) -> tuple[float, int]:
    """The number at the start of `text` (`90`, `2.5`, `1/4`, `1 1/2`, `1-1/2`, `2½`, `2,300`).

    Returns it with the count of characters of the text, as written, that it took.
    Raises Misspelled if there is none, or one of a thousand million or more.
    """
    simple = _SIMPLE.match(text)
    if simple:
        return float(simple[0]), simple.end()
    found = _NUMBER.match(text)
    if found is None:
        raise Misspelled(f"{_shown(text)} does not start with a number")
    if found["thousands"]:
        amount = float(found["thousands"].replace(",", ""))
    elif found["over"]:
        amount = _mixed(text, found["whole"], float(found["over"]), float(found["under"]))
    elif found["glyph"]:
        amount = float(found["count"] or 0) + _FRACTION_SIGNS[found["glyph"]]
    else:
        amount = float(found["plain"])
    if not amount < _TOO_LARGE:
        raise Misspelled(f"{_shown(text)} is too large a number")
    return (-amount if found["sign"] in ("-", "−") else amount), found.end()


def _mixed(text: str, whole: str | None, over: float, under: float) -> float:
    """The value of `1/4` or `1 1/2`; `1 3/2` and `1/0` are slips."""
    if not 0 < under < _TOO_LARGE or (whole and over >= under):
        raise Misspelled(f"{_shown(text)} does not start with a right fraction")
    return float(whole or 0) + over / under


def _shown(text: str) -> str:
    return repr(text if len(text) <= 40 else text[:39] + "…")


def _words(spellings: dict[str, str]) -> dict[str, str]:
    """Turn unit → its spellings into spelling → unit."""
    return {word: unit for unit, words in spellings.items() for word in words.split()}


# A unit is looked up in small letters, without blanks and full stops: `Cu. Ft.` is `cuft`.
_UNITS: dict[type[Quantity], dict[str, str]] = {
    Length: _words(
        {
            "mm": "mm millimetre millimetres millimeter millimeters",
            "cm": "cm centimetre centimetres centimeter centimeters",
            "m": "m metre metres meter meters",
            "in": "in inch inches ins \" ″ ” ''",
            "ft": "ft foot feet ' ′ ’",
        }
    ),
    Volume: _words(
        {
            "L": "l ltr ltrs litre litres liter liters",
            "m3": "m3 m³ m^3 cubicm cubicmetre cubicmetres cubicmeter cubicmeters",
            "cu ft": "cuft cufoot cufeet cubicft cubicfoot cubicfeet ft3 ft³ ft^3 cf",
        }
    ),
    Power: _words(
        {
            "kW": "kw kilowatt kilowatts",
            "W": "w watt watts",
            "BTU/h": "btu/h btu/hr btu/hour btuh btuperh btuperhr btuperhour "
            "btus/h btus/hr btus/hour btusperh btusperhr btusperhour",
        }
    ),
    Mass: _words({"kg": "kg kgs kilo kilos kilogram kilograms", "lb": "lb lbs pound pounds"}),
    Angle: _words({"degrees": "° º ˚ deg degs degree degrees"}),
    Percentage: _words({"%": "% percent pc"}),
}
_SCALE = r"(?:°|º|˚|deg(?:ree)?s?\.?)? ?(?P<scale>C(?:elsius|entigrade)?|F(?:ahrenheit)?|℃|℉)"
_PER = r" ?(?:/|per|an?|each) ?(?P<per>h(?:ou)?rs?|h|min(?:ute)?s?)"
_THERMAL = {
    Temperature: re.compile(_SCALE + r"\.?", re.IGNORECASE | re.ASCII),
    TemperatureDifference: re.compile(_SCALE + r"\.?", re.IGNORECASE | re.ASCII),
    Rate: re.compile(_SCALE + _PER + r"\.?", re.IGNORECASE | re.ASCII),
}
_SCALE_LETTER = {"c": "C", "f": "F", "℃": "C", "℉": "F"}


@lru_cache(maxsize=512)
def _unit(kind: type[Quantity], written: str) -> Unit:
    """The unit of this kind spelled so; Misspelled if there is none."""
    if kind in _THERMAL:
        found = _THERMAL[kind].fullmatch(written)
        if found:
            plain = _SCALE_LETTER[found["scale"][0].lower()]
            if kind is Rate:
                plain += "/h" if found["per"][0] in "hH" else "/min"
            return kind.unit_named(plain)
    else:
        word = written.lower().replace(" ", "").replace(".", "")
        if word in _UNITS[kind]:
            return kind.unit_named(_UNITS[kind][word])
    if not written:
        raise Misspelled(f"the unit of the {kind.kind} is missing")
    raise Misspelled(f"{_shown(written)} is not a unit of {kind.kind}")


_TIMES = _words(
    {
        "h": "h hr hrs hour hours",
        "min": "m min mins minute minutes",
        "s": "s sec secs second seconds",
        "days": "d day days",
    }
)
_SIGN = re.compile(r"[-+−] ?")
_CLOCK = re.compile(r"([0-9]{1,5}):([0-5][0-9])(?: ?(?:h|hrs?|hours?)\.?)?", re.IGNORECASE)
_PART = re.compile(r" ?([A-Za-z]+)\.? ?(and |&|,)? ?")
_BARE_MINUTES = re.compile(r"[0-5]?[0-9]")


def _duration(text: str) -> Duration:
    """`2 h`, `2h30`, `2 h 30 min`, `90 min`, `1:30`, `2 1/2 hours`, `1 day`; a sign is for all."""
    sign = _SIGN.match(text)
    at = sign.end() if sign else 0
    clock = _CLOCK.fullmatch(text, at)
    hours_minutes = {"h": float(clock[1]), "min": float(clock[2])} if clock else None
    parts = hours_minutes or _parts(text, at)
    total = sum(amount * Duration.unit_named(unit).factor for unit, amount in parts.items())
    backwards = sign is not None and sign[0][0] != "+"
    return Duration(-total if backwards else total, Duration.unit_named(next(iter(parts))))


def _parts(text: str, at: int) -> dict[str, float]:
    """Unit and amount of each part from `at` to the end, at least one, in the order written."""
    parts: dict[str, float] = {}
    joined = True
    while joined or at < len(text):
        if list(parts) == ["h"] and _BARE_MINUTES.fullmatch(text, at):
            parts["min"] = float(text[at:])
            break
        amount, taken = read_number(text[at:])
        part = _PART.match(text, at + taken)
        unit = _TIMES.get(part[1].lower()) if part else None
        if part is None or unit is None or unit in parts or _SIGN.match(text, at):
            raise Misspelled(f"{_shown(text)} is not a duration")
        parts[unit] = amount
        at, joined = part.end(), part[2] is not None
    return parts


def read_quantity(kind: type[Q], text: str) -> Q:
    """The quantity of this kind that `text` spells, keeping its unit for later display.

    Raises Misspelled where the text is no such quantity, a bare number included.
    """
    spelled = " ".join(text.split())
    if kind is Duration:
        duration = _duration(spelled)
        assert isinstance(duration, kind)
        return duration
    amount, taken = read_number(spelled)
    hashable: Any = kind  # mypy looks up __hash__ of the quantities, not of the class
    unit = _unit(hashable, spelled[taken:].strip())
    return kind(amount * unit.factor + unit.offset, unit)
