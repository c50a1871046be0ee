"""The words of the trade in grammar/words.csv: their spellings, and what a value is in words."""

import csv
import re
from collections.abc import Iterator, Mapping
from functools import cache

from attrs import frozen

from guardcone.documents import document_text
from guardcone.language.line_tree import Keyword

__all__ = ["TradeWords", "folded", "keyword", "trade_words"]

# A hyphen may also be one that a word processor has put there.
_BETWEEN_WORDS = re.compile(r"[\s\-\u2010\u2011]+")
_PIECE = re.compile(r"[^\W\d_]+|->|[^\w\s]")
# A cone number may follow its word at once: cone6.
_BEFORE_FIGURES = "CONE"


def folded(spelling: str) -> str:
    """A spelling as it is compared: in small letters, blanks and hyphens within it all one."""
    return _BETWEEN_WORDS.sub(" ", spelling.lower()).strip()


@frozen
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
            end = between.end() + len(piece)
            if code[between.end() : end].lower() != piece:
                return None
        return end

    def is_spelling(self, text: str) -> bool:
        """True if some word of the trade is spelled so."""
        pieces = folded(text).split(" ")
        return any(list(further) == pieces[1:] for further, _ in self._beginning.get(pieces[0], ()))


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
    for row in csv.DictReader(document_text("grammar", "words.csv").splitlines()):
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
