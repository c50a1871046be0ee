"""What the words of names and texts mean: that there is none, that it is nobody, or a thing."""

import re
import unicodedata
from collections.abc import Iterable
from functools import cache
from itertools import pairwise

from guardcone.documents import document_rows
from guardcone.language.source import SourceLine, TextFault
from guardcone.span import Span

__all__ = [
    "FILL_IN",
    "has_any",
    "is_not_there",
    "is_one_of",
    "is_place_holder",
    "is_same_person",
    "is_thing",
    "is_to_fill_in",
    "names_nobody",
    "pattern_for",
    "says_nobody",
    "says_none",
    "says_nothing",
    "still_to_fill_in",
    "words_for",
]

# How a place to fill in begins in a line to copy.
FILL_IN = '"fill in '


@cache
def _words_of() -> dict[str, str]:
    """The words of each line of grammar/meanings.csv, as they stand there, by its name."""
    return {row["name"]: row["words"] for row in document_rows("grammar", "meanings.csv")}


@cache
def words_for(name: str) -> frozenset[str]:
    """The words of a line of meanings.csv; raises KeyError for a name it lacks."""
    return frozenset(_words_of()[name].split())


@cache
def pattern_for(*names: str, any_blanks: bool = False) -> re.Pattern[str]:
    """The patterns of such lines, one behind the other, for a text in small letters.

    For a text as a person wrote it `any_blanks` lets each blank stand for any, or for none, in
    capitals or not.
    """
    text = "".join("".join(_words_of()[name].split("\n")) for name in names)
    if not any_blanks:
        return re.compile(text)
    return re.compile(text.replace(" ?", r"\s*").replace(" ", r"\s+"), re.IGNORECASE)


@cache
def _stems(name: str) -> tuple[str, ...]:
    return tuple(_words_of()[name].split("|"))


def has_any(name: str, text: str) -> bool:
    """True for a text in small letters that has one of the words of such a line, parted by bars."""
    return any(stem in text for stem in _stems(name))


_SHORTEST = 6
_FEWEST_LETTERS = 4
# The rows of a keyboard, as a hand runs over them.
_KEY_ROWS = ("qwertyuiop", "qwertzuiop", "azertyuiop", "asdfghjkl", "zxcvbnm", "yxcvbnm")
_RUN = 4
_MOSTLY = 0.7


def says_nothing(reason: str, rule: str = "") -> bool:
    """True for `todo`, `n/a`, `by design`, `asdfgh` and the like: nobody learns anything from them.

    So do the name of the rule itself and fewer than four different letters.
    """
    letters, empty = re.sub(r"[\W_]", "", reason.casefold()), words_for("reason that says nothing")
    if letters in empty or len(letters) < _SHORTEST or len(set(letters)) < _FEWEST_LETTERS:
        return True
    if rule and letters == re.sub(r"[\W_]", "", rule.casefold()):
        return True
    words, none = re.findall(r"[^\W_]+", reason.casefold()), words_for("none")
    return all(word in none or _is_key_run(word) for word in words) or _is_key_run(letters)


def says_none(text: str) -> bool:
    """True for a text that says that there is none, or none yet: `none`, `?`, `not checked yet`."""
    words = re.findall(r"[^\W_]+", text.casefold().replace("'", "").replace("’", ""))
    said, none = " ".join(words), words_for("none")
    if not words or none >= {"".join(words)} or none.issuperset(words):
        return True
    return bool(pattern_for("not done").match(said) or pattern_for("no such").fullmatch(said))


def says_nobody(text: str) -> bool:
    """True for a name that is nobody's: `nobody`, `no one`, `none`."""
    return "".join(re.findall(r"[^\W_]+", text.casefold())) in words_for("nobody")


def _is_key_run(word: str) -> bool:
    """True for letters that for the most part lie side by side on a keyboard: asdf, qwertz."""
    runs = (word[start : start + _RUN] for start in range(len(word) - _RUN + 1))
    if not any(run in row or run[::-1] in row for run in runs for row in _KEY_ROWS):
        return False
    pairs = [one + other for one, other in pairwise(word)]
    near = sum(any(pair in row or pair[::-1] in row for row in _KEY_ROWS) for pair in pairs)
    return near >= _MOSTLY * len(pairs)


_FILL_IN = re.compile(r"\s*fill[\s\-\u2010\u2011]*in(?!\w)", re.IGNORECASE)
# A text in any kind of quotes; after a figure a double quote is an inch sign.
_QUOTED = re.compile(
    r"(?<![0-9½⅓⅔¼¾⅛⅜⅝⅞])[\"“”„]([^\"“”„]*)[\"“”]|‘([^‘’]*)’|(?<!\w)'([^'\"]*)'|«([^»]*)»"
)


def is_to_fill_in(text: str) -> bool:
    """True for a text that says what is to be filled in instead of it."""
    return bool(_FILL_IN.match(text))


def still_to_fill_in(line: SourceLine) -> TextFault | None:
    """The fault of a line with places to fill in, at the first of them; one for the line."""
    found = [quoted for quoted in _QUOTED.finditer(line.code) if is_to_fill_in(_inner(quoted))]
    if not found:
        return None
    return TextFault(
        "still-to-fill-in",
        Span(line.number, found[0].start() + 1, found[0].end() + 1),
        "What stands here still says what is wanted.",
        "Write that instead; quotes stay only around names and free text.",
    )


def _inner(quoted: re.Match[str]) -> str:
    return next(group for group in quoted.groups() if group is not None)


def names_nobody(text: str) -> bool:
    """True for a text that stands for a name and is none: a pronoun, a number, `?`, `who fires`."""
    words, who_fires = _key(text), pattern_for("who fires")
    if says_none(text) or says_nobody(text) or who_fires.search(" ".join(_words(text))):
        return True
    if words and words[0] in words_for("pronoun"):
        return True
    named = [word for word in words if word not in words_for("no name") and len(word) > 1]
    return not any(_is_word(word) for word in named)


def is_place_holder(text: str) -> bool:
    """True for what stands where a name is still to come: `?`, `tbd`, `name`, `who watches`."""
    words = _key(text)
    return says_none(text) or (len(words) in (1, 2) and words[0] in words_for("name to come"))


def is_thing(text: str) -> bool:
    """True for a watcher that is a camera, a timer, a program or the like, and no person."""
    words = [word for word in _key(text) if word not in words_for("no name")]
    return bool(words) and all(word in words_for("thing") for word in words)


def is_not_there(text: str) -> bool:
    """True for a watcher who is said to be elsewhere, asleep, or there now and then only."""
    return bool(pattern_for("not there").search(" ".join(_words(text))))


def is_one_of(name: str, names: Iterable[str]) -> bool:
    """True if the name is one of these; capitals, blanks and articles apart."""
    return _key(name) in {_key(one) for one in names}


def is_same_person(name: str, people: str) -> bool:
    """True if the person may be among the people of another text, such as `R. Teal and A. Finch`.

    Whoever is named by more words, or fewer, is taken for the same.
    """
    own = set(_key(name))
    return any(
        own <= other or other <= own
        for part in re.split(r",|;|&|/|\+|\band\b|\bwith\b|\bor\b", people.casefold())
        if (other := set(_key(part)))
    )


def _words(text: str) -> list[str]:
    """The words of a text in small letters, width and accents of letters apart."""
    plain = unicodedata.normalize("NFKC", text).casefold().replace("'", "").replace("’", "")
    return re.findall(r"[^\W_]+", plain)


def _key(name: str) -> tuple[str, ...]:
    """The words by which a name is known from others."""
    return tuple(word for word in _words(name) if word not in words_for("little word"))


def _is_word(text: str) -> bool:
    return len(set(text)) > 1 and any(letter.isalpha() for letter in text)
