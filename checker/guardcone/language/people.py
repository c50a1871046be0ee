"""A person who is named is told from nobody, from a thing, and from
another person.
"""

import re
import unicodedata
from collections.abc import Iterable

from guardcone.language.fillers import says_nobody, says_none

__all__ = [
    "is_not_there",
    "is_one_of",
    "is_place_holder",
    "is_same_person",
    "is_thing",
    "names_nobody",
]

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
    words = [word for word in _words(text) if word not in _LITTLE_WORDS]
    if says_none(text) or says_nobody(text) or _WHO_FIRES.search(" ".join(_words(text))):
        return True
    if words and words[0] in _PRONOUNS:
        return True
    named = [word for word in words if word not in _NOT_A_NAME and len(word) > 1]
    return not any(_is_word(word) for word in named)


def is_place_holder(text: str) -> bool:
    """True for what stands where a name is still to come: `?`, `tbd`, `name`, `who watches`."""
    words = [word for word in _words(text) if word not in _LITTLE_WORDS]
    return says_none(text) or (bool(words) and words[0] in _STILL_TO_COME and len(words) <= 2)


def is_thing(text: str) -> bool:
    """True for a watcher that is a camera, a timer, a program or the like, and no person."""
    words = [word for word in _words(text) if word not in _LITTLE_WORDS | _NOT_A_NAME]
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
    return tuple(word for word in _words(name) if word not in _LITTLE_WORDS)


def _is_word(text: str) -> bool:
    return len(set(text)) > 1 and any(letter.isalpha() for letter in text)
