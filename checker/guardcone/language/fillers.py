"""Texts that say nothing, and names that are nobody: fillers, places to fill in, things."""

import re
import unicodedata
from collections.abc import Iterable
from itertools import pairwise

from guardcone.language.source import SourceLine, TextFault
from guardcone.span import Span

__all__ = [
    "is_not_there",
    "is_one_of",
    "is_place_holder",
    "is_same_person",
    "is_thing",
    "is_to_fill_in",
    "names_nobody",
    "says_nobody",
    "says_none",
    "says_nothing",
    "still_to_fill_in",
]


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
    wanted = "; ".join(dict.fromkeys(" ".join(_inner(quoted).split()) for quoted in found))
    return TextFault(
        "still-to-fill-in",
        Span(line.number, found[0].start() + 1, found[0].end() + 1),
        f"This still says what is wanted here: {wanted}.",
        "Write that instead; quotes stay only around names and free text.",
    )


def _inner(quoted: re.Match[str]) -> str:
    return next(group for group in quoted.groups() if group is not None)


# What may stand where a name is asked for and is none.
_NOT_A_NAME = frozenset(
    (
        "i me my mine myself you your yourself we us our ours ourselves he him his himself she her "
        "herself they them their themselves it its itself one oneself same self who whoever whom "
        "anyone anybody any someone somebody some everyone everybody every all both each other "
        "others another else person people name names user admin owner none no not nobody noone "
        "yes ok here there this that tbd todo tba test firer operator human man woman"
    ).split()
)
# With one of these first nobody is named, whatever follows: `somebody from the office`, `my uncle`.
_PRONOUNS = frozenset(
    (
        "i me my mine myself you your yourself we us our he him his she her they them their it its "
        "who whoever anyone anybody any someone somebody everyone everybody every each nobody"
    ).split()
)
_STILL_TO_COME = frozenset("name names who whoever person watcher somebodys".split())
_LITTLE_WORDS = frozenset("a an the of in on at to for by with from and or is are am was s".split())
# Who fires, said in other words than a name.
_WHO_FIRES = re.compile(
    r"\b(who|whoever|person|people|one|potter|student|somebody|someone|anyone|anybody|he|she|they)"
    r"( that| who)?( is| are)? (fires?|firing|loads?|runs?)\b"
)
# What stands or runs in a kiln room and is nobody.
_THINGS = frozenset(
    (
        "camera cam webcam cctv video controller timer clock alarm alarms app phone telephone "
        "smartphone mobile cell tablet laptop computer pc monitor screen sensor sensors probe "
        "thermostat thermocouple pyrometer detector switch relay sitter kiln kilns program "
        "programme software system wifi internet web browser site link feed stream robot drone "
        "automatic automatically automation auto autopilot electronic electronics digital smart "
        "remote cut off backup cutoff dog cat cones cone guard guide target log logger machine "
        "device notification notifications text message sms baby speaker bell lamp light"
    ).split()
)
_NOT_THERE = re.compile(
    r"\b(remotely|remote|from (home|afar|upstairs|bed|work|the (office|house|pub))|at home|in bed"
    r"|(by|over the|via|on the|through the|through a|through an|on a|on an|with the|with a) "
    r"(phone|telephone|app|camera|webcam|cam|video|internet|web|computer|alarm|cctv|monitor)"
    r"|nobody|no one|unattended|unwatched|unsupervised|(kiln|runs|fires|left) alone|by itself"
    r"|on its own|itself|themselves|not needed"
    r"|no need|now and then|from time to time|once in a while|occasionally|sometimes"
    r"|every (\w+ )?(hours?|minutes|so often|now and then)|looks? in|checks? in|pops? in"
    r"|left overnight|from (his|her|their|my|our|a|the) (flat|house|home|room|car|phone|bed)"
    r"|asleep|sleeping|sleeps|on call|off[ -]?site|away|absent|out of town"
    r"|not (there|here|present))\b"
)


def names_nobody(text: str) -> bool:
    """True for a text that stands for a name and is none: a pronoun, a number, `?`, `who fires`."""
    words = _key(text)
    if says_none(text) or says_nobody(text) or _WHO_FIRES.search(" ".join(_words(text))):
        return True
    if words and words[0] in _PRONOUNS:
        return True
    named = [word for word in words if word not in _NOT_A_NAME and len(word) > 1]
    return not any(_is_word(word) for word in named)


def is_place_holder(text: str) -> bool:
    """True for what stands where a name is still to come: `?`, `tbd`, `name`, `who watches`."""
    words = _key(text)
    return says_none(text) or (bool(words) and words[0] in _STILL_TO_COME and len(words) <= 2)


def is_thing(text: str) -> bool:
    """True for a watcher that is a camera, a timer, a program or the like, and no person."""
    words = [word for word in _key(text) if word not in _NOT_A_NAME]
    return bool(words) and all(word in _THINGS for word in words)


def is_not_there(text: str) -> bool:
    """True for a watcher who is said to be elsewhere, asleep, or there now and then only."""
    return bool(_NOT_THERE.search(" ".join(_words(text))))


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
    return tuple(word for word in _words(name) if word not in _LITTLE_WORDS)


def _is_word(text: str) -> bool:
    return len(set(text)) > 1 and any(letter.isalpha() for letter in text)
