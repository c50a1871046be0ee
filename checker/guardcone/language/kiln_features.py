"""What is said of a kiln in a sentence: its fuel and build, as far as plain words tell them."""

import re

from attrs import frozen

from guardcone.language.answers import denies
from guardcone.language.grammar import PlanGrammar
from guardcone.language.meanings import pattern_for
from guardcone.language.nearest import nearest
from guardcone.language.scanner import folded, read, trade_words

__all__ = ["KilnFeatures", "burns", "features_of"]

# What else than current heats a kiln.
_BURN = ("NATURAL_GAS", "PROPANE", "GAS", "WOOD", "OIL")
_GAS = frozenset(_BURN[:3])
# The features of a kiln: of each sort one may be said.
_SORTS = {
    "fuel": ("ELECTRIC", *_BURN),
    "loading": ("FRONT_DOOR", "TOP_LID", "TOP_HAT"),
    "setting": ("INDOORS", "OUTDOORS"),
    "draught": ("UPDRAFT", "DOWNDRAFT"),
    **{one: (one,) for one in ("VOLUME", "POWER", "VOLTAGE", "CURRENT", "PHASES")},
}
_SORT_OF = {kind: sort for sort, kinds in _SORTS.items() for kind in kinds}
# Between two things that are said of a kiln; but not the comma of `1,5 kW`.
_PIECE = re.compile(r"(?:(?![;()]|,(?![0-9])|\s[-–]\s|\.\s).)+")
_WORD = re.compile(r"[^\W_][\w.,/]*")
# A thing beside the kiln, or what holds no more: what is said of it is not said of the kiln.
_ANOTHER = re.compile(
    r"\b(?:vent\w*|fans?|hood|canopy|flue|extract\w*|timers?|sitter|controllers?|thermo\w*|pyrometer|probe"
    r"|elements?|inspected|tested|checked|alarms?|detectors?|extinguisher|bottles?|cylinders?|tanks?"
    r"|hoses?|pipes?|lines?|regulator|ignition|igniters?|blowers?|pilots?|switch\w*|fuses?|breakers?"
    r"|isolator|cones?|used to|was|were|converted|instead|per|each|lights?|heaters?)\b",
    re.IGNORECASE,
)
# What stands behind the word for a fuel that heats the kiln, where more stands there.
_BEHIND_FUEL = re.compile(
    r"[\s-]*(?:$|(?:fired|firing|burning|burners?|fuel\w*|heated|powered|kiln|top|front|[0-9])\b)",
    re.IGNORECASE,
)
_BEHIND_KILN = re.compile(r"\s*(?:with|having|that has|of)\b", re.IGNORECASE)
# Where the kiln stands is told first: a fan may be `vented outdoors`.
_BEFORE_SETTING = re.compile(
    r"\s*(?:(?:kiln|it|is|stands|standing|kept|fired)\s+)*$", re.IGNORECASE
)
_BEHIND_SETTING = re.compile(
    r"\s*(?:$|(?:under|on|at|by|behind|beside|in the (?:yard|garden|open))\b)", re.IGNORECASE
)
# Things that are made of wood, or kept for a wood kiln, say no fuel.
_NO_FUEL = re.compile(r"\bwood[ -]?(?:piles?|sheds?|stacks?|stores?|works?\w*|shops?|benche?s?)\b")
_FEW_LETTERS = 4
_BARE = re.compile("[0-9][0-9.,]*")


@frozen(repr=False)
class KilnFeatures:
    """The features in a text: as they stand there, all else blank, and as a line of a plan.

    `remark` is every piece of the text of which more was said.
    """

    masked: str
    line: str
    remark: str

    @property
    def written(self) -> str:
        """The line with its remark."""
        return f"{self.line}  # {self.remark}" if self.remark else self.line


def features_of(grammar: PlanGrammar, code: str) -> KilnFeatures | None:
    """The features of a kiln in what is said of it; None where none is plain.

    What is denied is none, nor is what is said of a thing beside the kiln. Of two fuels nobody
    knows which one heats it.
    """
    found: list[tuple[str, int, int]] = []
    remarks = []
    for piece in _PIECE.finditer(code):
        if not piece[0].strip():
            continue
        here = _in_piece(code, piece.start(), piece.end())
        found += here
        left = _blanked(code, here, piece.start(), piece.end())
        if _WORD.search(re.sub(r"\b(?:and|with|kiln|about|an?|it|is)\b", "", left)):
            remarks.append(piece[0].strip(" \t:-–"))
    sorts = [_SORT_OF[kind] for kind, *_ in found]
    twice = {one for one in sorts if sorts.count(one) > 1}
    kept = [one for one in found if _SORT_OF[one[0]] not in twice]
    remark = ", ".join(remarks)
    fuel = next((kind for kind, *_ in kept if kind in _SORTS["fuel"]), "")
    left = _blanked(code, kept, 0, len(code))
    if (
        not kept
        or "fuel" in twice
        or _is_slip(grammar, left)
        or (fuel and _names_another_fuel(grammar, left, fuel))
    ):
        return None
    if twice:
        remark = " ".join(code.split()).strip(" ,;:-–")
    masked = "".join(
        letter if any(start <= at < end for _, start, end in kept) else " "
        for at, letter in enumerate(code)
    )
    line = ", ".join(code[start:end] for _, start, end in kept)
    return KilnFeatures(masked, line, remark) if grammar.is_right(masked, "kiln") else None


def _in_piece(code: str, start: int, end: int) -> list[tuple[str, int, int]]:
    """The features in one piece of a text, with their columns."""
    piece = code[start:end]
    another = _ANOTHER.search(re.sub(r"\b(?:down|up)draft\b", "", piece, flags=re.IGNORECASE))
    if another or denies(piece) or pattern_for("condition").search(piece):
        return []
    found, at = [], start
    for word in _WORD.finditer(code, start, end):
        if word.start() < at:
            continue
        reading = read(code[:end], word.start(), _SORT_OF)
        if reading is None or not _is_feature(
            code, reading.kind, word.start(), reading.end, start, end
        ):
            continue
        found.append((reading.kind, word.start(), reading.end))
        at = reading.end
    return found


def _is_feature(code: str, kind: str, start: int, end: int, first: int, last: int) -> bool:
    """True for a word that is said of the kiln here, whatever stands round it."""
    behind = code[end:last]
    if _SORT_OF[kind] == "fuel":
        other = read(behind.lstrip(), 0, _SORT_OF) if behind.strip() else None
        is_kiln = code[start:end].casefold().endswith("kiln") and _BEHIND_KILN.match(behind)
        return bool(_BEHIND_FUEL.match(behind) or is_kiln or other)
    if kind in _SORTS["setting"]:
        return bool(_BEFORE_SETTING.match(code[first:start]) and _BEHIND_SETTING.match(behind))
    # A `lid` may be open, or have a switch.
    return kind not in _SORTS["loading"] or end - start > _FEW_LETTERS


def _blanked(code: str, found: list[tuple[str, int, int]], start: int, end: int) -> str:
    """What a piece says beside its features."""
    for _, first, last in found:
        code = code[:first] + " " * (last - first) + code[last:]
    return code[start:end]


def _is_slip(grammar: PlanGrammar, left: str) -> bool:
    """True where a number lacks its unit, or a word is like one for a feature: `elctric, 230`."""
    words = [folded(word) for one in _SORT_OF for word in grammar.words.get(one, ())]
    for piece in filter(None, map(str.strip, re.split("[,;]", left))):
        spelt = trade_words().is_spelling(piece)
        if _BARE.fullmatch(piece) or (not spelt and nearest(folded(piece), words)):
            return True
    return False


def _names_another_fuel(grammar: PlanGrammar, left: str, fuel: str) -> bool:
    """True where what is left of a text names one more fuel than that: nobody knows which heats."""
    left = _NO_FUEL.sub("", left.casefold())
    if fuel == "ELECTRIC":
        return burns(grammar, left)
    if "electric" in left:
        return True  # `electric ignition, propane`
    others = _BURN[3:] if fuel in _GAS else _BURN
    words = (word for one in others if one != fuel for word in grammar.words[one])
    return any(re.search(rf"\b{re.escape(word.casefold())}\b", left) for word in words)


def burns(grammar: PlanGrammar, text: str) -> bool:
    """True for words of which one may be a fuel that is burnt."""
    words = (word for one in _BURN for word in grammar.words[one])
    return any(folded(word) in folded(text) for word in (*words, "burner"))
