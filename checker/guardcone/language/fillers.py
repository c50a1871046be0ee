"""Texts that say nothing: mere fillers, and places still to fill in: `"fill in who fires"`."""

import re
from collections.abc import Iterator
from itertools import pairwise

from guardcone.language.source import SourceLine
from guardcone.language.text_faults import TextFault
from guardcone.span import Span

__all__ = ["is_to_fill_in", "says_nobody", "says_none", "says_nothing", "still_to_fill_in"]


# Reasons that say nothing, in the letters that are left when blanks and signs are taken away.
_EMPTY = frozenset(
    (
        "because bydesign accept accepted ignore ignored dontcare whatever nothing reason reasons "
        "intended intentional onpurpose knownissue seeabove wontfix itsfine itisfine thisisfine "
        "allfine isfine fineasis nocomment noreason noreasons noreasongiven becauseisayso isayso "
        "justbecause todolater tobedone dolater fixlater fixmelater laterplease notimportant "
        "doesntmatter itdoesntmatter nevermind itisok itsok itisokay itsokay thatsok thatsfine "
        "trustme noproblem"
    ).split()
)
_SHORTEST = 6
_FEWEST_LETTERS = 4
# The rows of a keyboard, as a hand runs over them.
_KEY_ROWS = ("qwertyuiop", "qwertzuiop", "azertyuiop", "asdfghjkl", "zxcvbnm", "yxcvbnm")
_RUN = 4
_MOSTLY = 0.7

# What is written where nothing is to be said yet, word for word or as the beginning of a text.
_NONE = frozenset(
    (
        "none no nope nothing nobody noone nil na todo tbd tba tbc fixme unknown later pending "
        "idk dontknow notyet notknown notsure noidea x xx xxx name names your who when where date "
        "insert enter write here see above below example ask someone lorem ipsum dolor"
    ).split()
)
_NOT_DONE = re.compile(
    r"(not (yet|checked|asked|done|known|decided|sure|inspected|fitted|available)"
    r"|(un(checked|known|decided)|todo|to do|tbd|tba|fixme)"
    r"|to be (done|checked|asked|decided|confirmed|found|named|bought|said))\b"
)
_NO_SUCH = re.compile(
    r"(none|nothing|no (gloves?|mitts?|glasses|goggles|eyewear|protection|extinguisher|cut off"
    r"|timer|backup|number|phone|answer|check))"
    r"( (yet|needed|required|here|so far|at all|at hand|available|worn|used|fitted|special))*"
)
_NOBODY = frozenset("nobody noone none no nil nothing notanybody notanyone".split())


def says_nothing(reason: str, rule: str = "") -> bool:
    """True for `todo`, `n/a`, `by design`, `asdfgh` and the like: nobody learns anything from them.

    So do the name of the rule itself and fewer than four different letters.
    """
    letters = re.sub(r"[\W_]", "", reason.casefold())
    if letters in _EMPTY or len(letters) < _SHORTEST or len(set(letters)) < _FEWEST_LETTERS:
        return True
    if rule and letters == re.sub(r"[\W_]", "", rule.casefold()):
        return True
    words = re.findall(r"[^\W_]+", reason.casefold())
    return all(word in _NONE or _is_key_run(word) for word in words) or _is_key_run(letters)


def says_none(text: str) -> bool:
    """True for a text that says that there is none, or none yet: `none`, `?`, `not checked yet`."""
    words = re.findall(r"[^\W_]+", text.casefold().replace("'", "").replace("’", ""))
    said = " ".join(words)
    if not words or "".join(words) in _NONE or all(word in _NONE for word in words):
        return True
    return bool(_NOT_DONE.match(said) or _NO_SUCH.fullmatch(said))


def says_nobody(text: str) -> bool:
    """True for a name that is nobody's: `nobody`, `no one`, `none`."""
    return "".join(re.findall(r"[^\W_]+", text.casefold())) in _NOBODY


def _is_key_run(word: str) -> bool:
    """True for letters that for the most part lie side by side on a keyboard: asdf, qwertz."""
    runs = (word[start : start + _RUN] for start in range(len(word) - _RUN + 1))
    if not any(run in row or run[::-1] in row for run in runs for row in _KEY_ROWS):
        return False
    near = sum(any(pair in row or pair[::-1] in row for row in _KEY_ROWS) for pair in _pairs(word))
    return near >= _MOSTLY * (len(word) - 1)


def _pairs(word: str) -> Iterator[str]:
    return (one + other for one, other in pairwise(word))


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
    wanted = "; ".join(dict.fromkeys(" ".join(_inner(quoted).split()) for quoted in found))
    return TextFault(
        "still-to-fill-in",
        Span(line.number, found[0].start() + 1, found[0].end() + 1),
        f"This still says what is wanted here: {wanted}.",
        "Write that instead; quotes stay only around names and free text.",
    )


def _inner(quoted: re.Match[str]) -> str:
    return next(group for group in quoted.groups() if group is not None)
