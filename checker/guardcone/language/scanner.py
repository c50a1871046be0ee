"""Cuts a line of a plan into the words of the trade, numbers and signs.

The scanner knows the words of the trade, the units and how numbers and dates look, and nothing of
what follows what: the grammar says which kinds may stand at a place, and the longest reading of one
of these is taken. So `10 m` is a duration after `hold` and a length after `altitude`.
"""

import re
from collections.abc import Callable, Collection, Iterator, Mapping
from functools import cache
from typing import NamedTuple

from attrs import frozen

from guardcone.documents import document_rows
from guardcone.values import (
    Angle,
    Duration,
    Length,
    Mass,
    Power,
    Quantity,
    Rate,
    Temperature,
    Volume,
    bare_number_at,
    measure_at,
    quantity_at,
)

__all__ = [
    "MEASURES",
    "SIGNS",
    "Keyword",
    "Quoted",
    "Reading",
    "TradeWords",
    "folded",
    "keyword",
    "read",
    "skip",
    "trade_words",
]


class Keyword(str):
    """A word of the grammar, under the name of its terminal: `bone-dry` for any spelling of it."""

    __slots__ = ()


class Quoted(str):
    """A name that stood in quotes, without them."""

    __slots__ = ()


# A hyphen may also be one that a word processor has put there.
_BETWEEN_WORDS = re.compile(r"[\s\-\u2010\u2011]+")
# In a plan an article may stand between them: crack the lid.
_ARTICLE = re.compile(r"(?:the|an?)\s+", re.IGNORECASE)
_PIECE = re.compile(r"[^\W\d_]+|->|[^\w\s]")
# A cone number may follow its word at once: cone6.
_BEFORE_FIGURES = "CONE"


def folded(spelling: str) -> str:
    """A spelling as it is compared: in small letters, blanks and hyphens within it all one."""
    return _BETWEEN_WORDS.sub(" ", spelling.lower()).strip()


@frozen(repr=False)
class TradeWords:
    """The rows of the table by the name each has in the grammar, in the order of the document.

    `spellings` has those of each word, first the one that tidy writes; `phrases` says of each value
    what it is.
    """

    spellings: Mapping[str, tuple[str, ...]]
    phrases: Mapping[str, str]
    # The spellings that begin with the same piece: what follows it, and the name of the word.
    _beginning: Mapping[str, tuple[tuple[tuple[str, ...], str], ...]]

    def at(self, code: str, at: int) -> Iterator[tuple[str, int]]:
        """Each word that stands at a column (from 0), and where it ends, the longest first."""
        first = _PIECE.match(code, at)
        if first is None:
            return
        for further, kind in self._beginning.get(first[0].lower(), ()):
            end = self._end(code, first.end(), further)
            if end and (not code[end - 1].isalnum() or _ends_at(code, end, kind)):
                yield kind, end

    @staticmethod
    def _end(code: str, end: int, further: tuple[str, ...]) -> int | None:
        for piece in further:
            between = _BETWEEN_WORDS.match(code, end)
            if between is None:
                return None
            for begins in (between.end(), _behind_article(code, between.end())):
                end = begins + len(piece)
                if code[begins:end].lower() == piece:
                    break
            else:
                return None
        return end

    def is_spelling(self, text: str) -> bool:
        """True if some word of the trade is spelled so."""
        pieces = folded(text).split(" ")
        return any(list(further) == pieces[1:] for further, _ in self._beginning.get(pieces[0], ()))


def _behind_article(code: str, at: int) -> int:
    article = _ARTICLE.match(code, at)
    return article.end() if article else at


def _ends_at(code: str, end: int, kind: str) -> bool:
    """True if no letter or figure follows that would make another word of it."""
    after = code[end : end + 1]
    return not (after.isalnum() or after == "_") or (kind == _BEFORE_FIGURES and after.isdigit())


def keyword(kind: str) -> Keyword:
    """A word under its name in the table: `bone-dry` for BONE_DRY of the grammar."""
    return Keyword(kind.lower().replace("_", "-"))


@cache
def trade_words() -> TradeWords:
    """The table, read once."""
    spellings: dict[str, tuple[str, ...]] = {}
    phrases: dict[str, str] = {}
    beginning: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for row in document_rows("grammar", "words.csv"):
        kind = row["word"].upper().replace("-", "_")
        if row["phrase"]:
            phrases[kind] = row["phrase"]
            continue
        spellings[kind] = tuple(row["spellings"].split(", "))
        for spelling in spellings[kind]:
            first, *further = folded(spelling).split(" ") if spelling != "->" else [spelling]
            beginning.setdefault(first, []).append((tuple(further), kind))
    for ways in beginning.values():
        # Where one spelling begins another the longer one is tried first.
        ways.sort(key=lambda way: -sum(1 + len(piece) for piece in way[0]))
    return TradeWords(spellings, phrases, {first: tuple(ways) for first, ways in beginning.items()})


# The measures under the names of the grammar.
MEASURES: dict[str, type[Quantity]] = {
    "TEMPERATURE": Temperature,
    "RATE": Rate,
    "DURATION": Duration,
    "LENGTH": Length,
    "VOLUME": Volume,
    "POWER": Power,
    "MASS_AMOUNT": Mass,
    "ANGLE": Angle,
}
_ELECTRIC = {"VOLTAGE": "voltage", "CURRENT": "current"}
SIGNS = {"COMMA": ",", "SEMICOLON": ";", "AMPERSAND": "&"}
# Articles and the like may stand anywhere and mean nothing: `through the lower spy hole`. A colon
# after a word or a name means nothing (`guide: 8`), nor does a full stop at the end, or a remark.
_SKIPPED = re.compile(
    r"(?:[\s\u200b\ufeff]+|(?:the|an?|are|is)(?=\s)|:(?![0-9])|(?<=[a-z]):|\.$|#.*$)+",
    re.IGNORECASE,
)
# Behind a word and so many blanks: `tidy` sets values in columns.
_BEHIND_A_WORD = "|".join(rf"(?<=\S\s{{{blanks}}})" for blanks in range(1, 41))
_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}\.?"
_PATTERNS = {
    kind: re.compile(pattern, re.IGNORECASE)
    for kind, pattern in {
        "NAME": r"""["“”„][^"“”„]*["“”]|‘[^‘’]*’|'[^'"]*'|«[^»]*»""",
        "RULE_NAME": r"[a-z][a-z0-9-]*(?<!-)(?![\w-])",
        "CONE_NUMBER": r"[0-9]+(?:\.[0-9]+|\s?½|[ -]1[/⁄]2|[ab](?!\w))?(?![\w:]|\.[0-9]|,[0-9]{3})",
        "COUNT": r"(?:[x×]\s?)?[-−]?[0-9]+(?![\w:½/]|\.\S)",
        "TIME": r"[0-9]{1,2}[:.][0-9]{2}(?:\s*[ap]\.?m\.?)?(?!\w)"
        r"|[0-9]{1,2}\s*[ap]\.?m\.?(?!\w)|(?:noon|midnight)(?!\w)",
        # A T may stand between date and time: 2026-10-03T07:30.
        "DATE": r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}(?:T|(?!\w))"
        r"|[0-9]{4}/[0-9]{1,2}/[0-9]{1,2}(?!\w)"
        rf"|[0-9]{{1,2}}(?:st|nd|rd|th|\.)?\s+(?:of\s+)?{_MONTH},?\s+[0-9]{{4}}(?!\w)"
        rf"|{_MONTH}\s+[0-9]{{1,2}}(?:st|nd|rd|th)?,?\s+[0-9]{{4}}(?!\w)"
        r"|[0-9]{1,2}[/.][0-9]{1,2}[/.][0-9]{2,4}(?!\w)",
        "MONTH": rf"[0-9]{{4}}-[0-9]{{1,2}}(?![-\w])|{_MONTH}\s+[0-9]{{4}}(?!\w)",
        "PHASES": r"(?:[13]|three|single)[\s-]*ph(?:ases?)?(?!\w)",
        # A letter that opens a line is one only beside its word: `I go to bed` has none.
        "THERMOCOUPLE_TYPE": rf"(?:(?<=\S[:-])|{_BEHIND_A_WORD})[a-z](?!\w)"
        r"|[a-z](?=[\s-]+type(?!\w)|\s*$)",
        "O_CLOCK": r"[0-9]{1,2}(?::[0-5][0-9]|\.[0-9]+|\s?½)?\s*o\s*(?:['’]\s*)?clock(?!\w)",
        "DASH": r"[-–—/]",
    }.items()
}


class Reading(NamedTuple):
    """What may stand at a column: the kind by its name in the grammar, the column behind it.

    `value` is the word, the number in its unit or the text; None for a number that spells no value.
    """

    kind: str
    end: int
    value: object


def skip(code: str, at: int) -> int:
    """The column of what comes next: blanks, articles and the like mean nothing."""
    found = _SKIPPED.match(code, at)
    return found.end() if found else at


def read(
    code: str, at: int, wanted: Collection[str], may_stand: Callable[[str], bool] = lambda _: True
) -> Reading | None:
    """The longest reading of a wanted kind at a column (from 0), None if there is none.

    Where the longest may not stand, the next longest is taken. Columns count characters.
    """
    words = trade_words()
    found = [
        Reading(kind, end, keyword(kind)) for kind, end in words.at(code, at) if kind in wanted
    ]
    for kind in (*words.phrases, *SIGNS):
        reading = _value(kind, code, at) if kind in wanted else None
        if reading:
            found.append(reading)
    found.sort(key=lambda reading: -reading.end)  # the order of the table decides between equals
    return next((reading for reading in found if may_stand(reading.kind)), None)


def _value(kind: str, code: str, at: int) -> Reading | None:
    found: tuple[int, object] | None
    if kind in MEASURES:
        found = quantity_at(MEASURES[kind], code, at)
    elif kind in _ELECTRIC:
        measure = measure_at(_ELECTRIC[kind], code, at)
        found = measure and measure[:2]
    elif kind == "NUMBER":
        found = bare_number_at(code, at)
    elif kind in SIGNS:
        found = (at + 1, SIGNS[kind]) if code[at] == SIGNS[kind] else None
    else:
        match = _PATTERNS[kind].match(code, at)
        found = (match.end(), match[0]) if match else None
    return Reading(kind, *found) if found else None
