"""Numbers that lack their unit: the lines and the measures they may mean, none of them guessed."""

import re

from guardcone.language.grammar import PlanGrammar
from guardcone.language.nearest import either, nearest, shown, to_write
from guardcone.language.scanner import MEASURES, trade_words
from guardcone.language.source import OutOfSense, SourceLine, begins_at
from guardcone.values import Quantity, half_unit_at, number_at, quantity_at
from guardcone.values.amounts import scale_of

__all__ = ["bare_number", "in_degrees", "with_degrees", "with_its_rate", "without_unit"]

# A clock time is no number that lacks its unit.
_CLOCK = re.compile(r"[:\w]*:")
_PER = re.compile(r"/|\b(?:per|an)\b", re.IGNORECASE)
_RANGE = re.compile(r"[0-9.,]+\s*[-–—]\s*[0-9.,]+\s*[^\W\d_]*")
_ROW = re.compile(r"-?(?=[0-9])")
_NUMBERED_ROW = re.compile(r"[0-9]{1,2} -?(?=[0-9])")
# The scale behind the number of a rate, and where a climb goes without one.
_HAS_SCALE = re.compile(r"\s*(?:°|degrees?|deg\.?)?\s*[CF]\b", re.IGNORECASE)
_BARE_END = re.compile(r"(?<![0-9.])[0-9]+(?=\s*(?:[,;]|$))")
_OTHER_UNIT = re.compile(r"\s*([^\W\d_]\w*|%)")
# So many units a number is offered of each kind, and in all. No kiln is counted in watts.
_UNITS_OF_A_KIND = dict.fromkeys(MEASURES, 2) | {"POWER": 1}
_MOST_UNITS = 4
_MOST_FIGURES = 12
_FIGURES_OF_A_TIME = 2


def with_degrees(grammar: PlanGrammar, code: str, section: str, fewest: int) -> list[str]:
    """The line all in °C and all in °F, as far as it can be, where so many numbers lack that."""
    return to_write(in_degrees(grammar, code, section, scale, fewest) for scale in ("C", "F"))


def with_its_rate(
    grammar: PlanGrammar, line: SourceLine, section: str
) -> tuple[str, list[str]] | None:
    """The bare number of a line of a table, its rate or its end, and the line in °C and in °F.

    The number of its row says nothing, nor does a minus sign before the rate: which way it goes is
    told by the line above. So it is with `150 to 1100 C` and `5 -100 1000 1:00`; None for others.
    """
    code = " ".join(line.code[line.code_start :].split())
    if "RATE" not in grammar.opening[section]:
        return None
    for begins in (_ROW.match(code, 0), _NUMBERED_ROW.match(code, 0)):
        rest = code[begins.end() :] if begins else code
        number = bare_number(rest)
        lines = with_degrees(grammar, rest, section, fewest=1) if number else []
        if number and lines:
            # `200 F/h to 1945`: the rate has its unit.
            end = _BARE_END.search(rest) if _HAS_SCALE.match(rest, len(number)) else None
            return end[0] if end else number, lines
    return None


def in_degrees(
    grammar: PlanGrammar, code: str, section: str, scale: str, fewest: int
) -> str | None:
    """The line with each bare number in this scale; None where that makes it no right line.

    `fewest` is how many numbers have to lack their unit.
    """
    added = 0
    while added <= _MOST_UNITS:
        try:
            stuck = grammar.how_far(code, section)
        except OutOfSense:
            return None
        if stuck.at == len(code):
            break
        number, wanted = bare_number(code[stuck.at :]), stuck.accepts & {"RATE", "TEMPERATURE"}
        if number is None or len(wanted) != 1:
            return None
        end, unit = stuck.at + len(number), f"{scale}/h" if "RATE" in wanted else scale
        half = code[end : half_unit_at(code, end)].rstrip()
        if half and bool(_PER.search(half)) != ("RATE" in wanted):
            return None
        code, added = f"{code[:end]} {unit}{code[end + len(half) :]}", added + 1
    if added < fewest or "$END" not in stuck.accepts:
        return None
    values = [token.value for token in grammar.reading(section).tokens(code, grammar.values)]
    told = [one.value for one in values if one and isinstance(one.value, Quantity)]
    return code[begins_at(code) :] if {scale_of(one) for one in told} <= {scale, None} else None


def without_unit(
    rest: str, number: str, terminals: list[str], right: str
) -> tuple[str, str, str, str]:
    """The fault of a bare number, its rule first: what the unit is to be is never guessed."""
    span_of_values = _RANGE.match(rest)
    if span_of_values:
        text = span_of_values[0].rstrip()
        found = f"{shown(text)} is a range, and one value stands here."
        return "unit-missing", text, found, "Write one of the two."
    text = rest[: half_unit_at(rest, len(number))].rstrip()
    kinds = [terminal for terminal in terminals if terminal in MEASURES]
    if kinds[:1] == ["DURATION"] and len(number) <= _FIGURES_OF_A_TIME:
        kinds = kinds[:1]
    first = ""
    if text != number:
        thermal = "RATE" if _PER.search(text) else "TEMPERATURE"
        kinds = [kind for kind in kinds if kind == thermal] or kinds
        found = f"{shown(text)} does not say Celsius or Fahrenheit."
    else:
        other = _OTHER_UNIT.match(rest, len(number))
        if other and not trade_words().is_spelling(other[1]):
            text, first = rest[: other.end()], other[1][0].lower()
            names = [unit.plain for kind in kinds for unit in MEASURES[kind].units]
            if len(kinds) > 1 and nearest(other[1], names) is None:
                found = f"{shown(text)} says nothing here."
                return "line-unclear", text, found, "Put # before it as a remark."
            kinds = kinds[:1]
            found = f"{shown(text)} has no unit that fits here."
        else:
            found = f"{shown(number)} has no unit."
    if len(number) > _MOST_FIGURES:
        return "unit-missing", text, found, "Check the number, and give it its unit."
    # `2 huors`: what begins alike is likelier.
    units = [
        f"`{number} {unit}`"
        for kind in kinds
        for unit in sorted(_units(kind, right), key=lambda one: one[0].lower() != first)
    ]
    return "unit-missing", text, found, f"Write {either(units[:_MOST_UNITS])}."


def bare_number(rest: str) -> str | None:
    """The number at the start of `rest`, if it is no clock time."""
    found = number_at(rest, 0)
    return rest[: found[0]] if found and not _CLOCK.match(rest, found[0]) else None


def _units(kind: str, right: str) -> list[str]:
    """Units of this kind, that of the right line first: an altitude is more likely in metres."""
    values = (quantity_at(MEASURES[kind], right, at) for at in range(len(right)))
    used = [value[1].unit.plain for value in values if value and value[1]][:1]
    usual = [unit.plain for unit in MEASURES[kind].units]
    return list(dict.fromkeys((*used, *usual)))[: _UNITS_OF_A_KIND[kind]]
