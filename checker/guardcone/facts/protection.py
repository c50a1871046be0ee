"""Words in a safety section are told that name no protection.

People write what they have. A thing that is not there, that does not work, or that does not keep
off what it is named for protects nobody, and the words say so.
"""

import re

from guardcone.language.fillers import says_none

__all__ = [
    "is_no_glove",
    "is_no_lens",
    "is_no_vent",
    "is_not_working",
    "is_water",
    "vent_kind",
]

# A thing named to be kept away: `never water`, `no sunglasses`, `CO2 instead of water`.
_NOT = r"(?<!\bno )(?<!\bnot )(?<!\bnever )(?<!\bwithout )(?<!\bnot with )(?<!\binstead of )"

_NOT_WORKING = re.compile(
    r"\b(broken|out of order|(not|isnt|never) (working|running|connected|fitted|installed|on|used"
    r"|there|plugged|needed|necessary|available|yet)|(doesnt|does not|wont|will not) (work|run)"
    r"|defective|faulty|disconnected|unplugged|dismantled|broke|without (a |its |the )?(fan|motor)"
    r"|(being|to be|out for|waiting for|awaiting) (repair(ed|s)?|fitted|installed|bought|replaced"
    r"|mended|parts|a fan|the electrician)"
    r"|(is|switched|turned|vent|fan|hood) (off|missing|blocked)|(vent|fan|hood) (is |was )?removed"
    r"|(windows?|doors?|damper) (is |are )?(kept )?(closed|shut)"
    r"|no (vent|hood|fan|flue|extraction|ventilation))\b|^off$"
)
# Something in the words must be what carries fumes out, or an opening.
_A_VENT = re.compile(
    r"vent|extract|exhaust|\b(fans?|blowers?|ducts?|ducting|ducted|hose|pipe|outlet|suction|lev|roof"
    r"|cowl|out(side|doors)|open)\b"
)
_HOOD = re.compile(r"\b(hood|canopy)\b")
_FLUE = re.compile(r"\b(flue|chimney|stack)\b")
_DOWNDRAFT = re.compile(r"\bdown ?dra(ft|ught)\b")
_OPENING = re.compile(
    r"\b(windows?|doors?|skylights?|shutters?|louvres?|louvers?|fresh air|open air|draught|draft"
    r"|breeze|gap|garage|air ?brick|natural(ly)?)\b"
)

# Infrared goes through all of these (sunglasses: a college chart, read in a copy; the others follow
# from EN 171, which gives infrared filters a shade number: from memory).
_NO_LENS = re.compile(
    _NOT + r"\b(sun ?glass(es)?|sunnies|dark glasses|tinted glasses|polari[sz]ed|clear|transparent"
    r"|reading|prescription|spectacles|specs|contact lens(es)?|(own|normal|ordinary|everyday|usual)"
    r" (glasses|goggles)|swim(ming)?|ski(ing)?|snorkel\w*|cycling|plastic|squint\w*|naked|bare"
    r"|phone|camera|mirror|hands?|fingers?|look(ing)? away|close(d)? (eyes|ones)|eyelids?"
    r"|cardboard|paper|3d)\b"
)
_LENS_WORD = re.compile(
    r"\b(goggles|glasses|lens(es)?|shades?|shield|visor|filter|mask|helmet|eyewear|protection)\b"
)
_A_LENS = re.compile(r"\b(shade ?[1-9]|infra ?red|ir|weld\w*|cobalt|didymium|en ?171|en ?169)\b")

# What melts on the skin, soaks through, or is wet: steam burns (dry gloves: workshop texts; that
# synthetics melt: workshop texts; common practice, no source).
_NO_GLOVE = re.compile(
    _NOT + r"\b(rubber|latex|nitrile|vinyl|plastic|polythene|pvc|neoprene|silicone|disposable"
    r"|surgical|medical|examination|dish(washing)?|wash(ing)?[ -]?up|household|kitchen|marigolds?"
    r"|cotton|wool(len|ly)?|knit(ted)?|acrylic|fleece|winter|ski|garden(ing)?|work(ing)? gloves"
    r"|oven|pot ?holders?|tea ?towels?|towels?|rags?|cloths?|sleeves?|socks?|bare|wet|damp"
    r"|mittens?|newspaper|paper)\b"
)
_GLOVE_WORD = re.compile(r"\b(gloves?|mitts?|mittens?|gauntlets?)\b")
_A_GLOVE = re.compile(
    r"\b(heat|kiln|weld\w*|leather|kevlar|aramid|foundry|furnace|raku|fire|en ?407)\b"
)
# Beside a glove that keeps the heat off these still spoil it.
_SPOILS = re.compile(_NOT + r"\b(rubber|latex|nitrile|vinyl|plastic|wet|damp|soaked|holes?|torn)\b")

_WATER = re.compile(
    _NOT + r"\b(water|h2o|hose ?pipes?|hoses?|foam|wet|sprinklers?|garden hose|tap"
    r"|buckets?(?! (of|with|full of) (dry )?sand))\b"
)
_NEVER_WATER = re.compile(
    r"\b(no|not|never|without|dont use|do not use|keep) (any |with |use )?(water|foam|hose)\b"
)


def is_not_working(text: str) -> bool:
    """True for words that say that there is none, or that it is off, broken or still to come."""
    return says_none(text) or bool(_NOT_WORKING.search(_plain(text)))


def is_no_vent(text: str) -> bool:
    """True for words in which nothing carries fumes out: `no need`, `as usual`."""
    return vent_kind(text) is None and not _A_VENT.search(_plain(text))


def vent_kind(text: str) -> str | None:
    """What sort of vent these words name: hood, flue, downdraft, or window for any opening."""
    plain = _plain(text)
    for kind, pattern in (
        ("hood", _HOOD),
        ("flue", _FLUE),
        ("downdraft", _DOWNDRAFT),
        ("window", _OPENING),
    ):
        if pattern.search(plain):
            return kind
    return None


def is_no_lens(text: str) -> bool:
    """True for words that name no eye protection, or such as lets infrared through."""
    plain = _plain(text)
    if says_none(text):
        return True
    is_none = bool(_NO_LENS.search(plain)) or not _LENS_WORD.search(plain)
    return is_none and not _A_LENS.search(plain)


def is_no_glove(text: str) -> bool:
    """True for words that name no gloves, or such as melt, burn or lead the heat through."""
    plain = _plain(text)
    if says_none(text) or _SPOILS.search(plain):
        return True
    is_none = bool(_NO_GLOVE.search(plain)) or not _GLOVE_WORD.search(plain)
    return is_none and not _A_GLOVE.search(plain)


def is_water(text: str) -> bool:
    """True for words that put water, or what is made of it, at hand against a fire."""
    plain = _plain(text)
    return bool(_WATER.search(_NEVER_WATER.sub(" ", plain)))


def _plain(text: str) -> str:
    """The words in small letters with one blank between them."""
    without = text.casefold().replace("'", "").replace("’", "")
    return " ".join(re.findall(r"[^\W_]+", without))
