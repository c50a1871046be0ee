"""What the words in a plan say in passing: food, lead; gloves, glasses, vents that protect nobody.

Such words stand in names, notes and remarks, where no statement of the language asks for them.
People write what they have. A thing that is not there, that does not work, or that does not keep
off what it is named for protects nobody, and the words say so.
"""

import re

from guardcone.language.fillers import says_none
from guardcone.span import Span

__all__ = [
    "food_claim",
    "is_no_glove",
    "is_no_lens",
    "is_no_vent",
    "is_not_working",
    "is_water",
    "lead_or_cadmium",
    "vent_kind",
]


def _pattern(text: str) -> re.Pattern[str]:
    """The pattern, in capitals or not, with any blanks where it has one."""
    return re.compile(text.replace(" ?", r"\s*").replace(" ", r"\s+"), re.IGNORECASE)


# Up to three words may stand between a denial and what it denies: `not to be called food safe`.
_FOOD = _pattern(
    r"\b(food|dinner ?ware|table ?ware|dining|drink|eating|baby)[\s-]*(is |are )?(safe|proof|grade"
    r"|fit|suitable|approved|ok(ay)?)(?!ty)\b"
    r"|\bfoodsafe\b"
    r"|\b(safe|fit|suitable|fine|ok(ay)?|good|approved|certified|cleared|right) "
    r"(for|to|with|as|in) (contact with |holding |hold |serv(e|ing) |all |hot |use with |use as )*"
    r"(food|foods|eat|eating|drink|drinks|drinking|dinner|table|tableware|dinnerware|kitchen use"
    r"|consumption|babies|children to eat|coffee|tea|soup|salad|serve|serving)\b"
    r"|\b(safe|fit) for (daily |everyday |normal |kitchen |table )?use\b"
    r"|\bcan be (eaten|drunk) (from|off|out of)\b"
    r"|\bcan (hold|be used (for|with)|serve) (food|drinks?)\b"
    r"|\bsafely (hold|holds|used? (for|with)) (food|drinks?)\b",
)
_DENIED = _pattern(
    r"\b(not?|never|isn['’]?t|aren['’]?t|cannot|can['’]?t|unless|until|whether|nothing|nobody"
    r"|none|neither|no claim|un)(\W+\w+){0,3}\W*$",
)

_LEAD = _pattern(
    r"\b(lead(ed)?|plumb(ic|ous)|litharge|minium|galena|raw lead|lead[\s-]?(oxide|frit|glaze|glass"
    r"|bisilicate|sesquisilicate|silicate|carbonate|crystal)|(bi|sesqui)silicate of lead"
    r"|(red|white)[\s-]lead|cadmium|cadmic)\b(?![\s-]?free)",
)
_LEAD_DENIED = _pattern(
    r"\b(no|not|never|without|free (of|from)|instead of|replaces?|non|contains no)"
    r"([\s-]+(any|added|raw|more|lead|or|nor|cadmium|and|contain(s|ing)?|have|has))*[\s-]+$",
)
# `lead` that surely is the metal, whatever stands behind it.
_METAL_BEFORE = _pattern(
    r"\b(has|have|had|contain(s|ing)?|of|some|little|much|more|enough|traces? of|is|for)[\s-]+$",
)
# `lead` where it is no metal: who leads, a lead of a cable, the lead that somebody has.
_OTHER_LEAD_AFTER = _pattern(
    r"^[\s-]+(potter|potters|teacher|technician|tech|artist|student|person|instructor|firer|time"
    r"|times|up|to|into|the|by|us|them|wire|wires|cable|role|kiln|class|assistant|member|out)\b",
)
_OTHER_LEAD_BEFORE = _pattern(
    r"\b(to|will|can|may|might|must|should|would|could|they|we|you|i|who|take|takes|takes the"
    r"|thermocouple|power|mains|extension|mains|cable|test|dog|in the|class|studio|team|shift)"
    r"[\s-]+$",
)


# The symbols of the metals and of their compounds, in the capitals that chemistry writes.
_SYMBOL = re.compile(r"\b(Pb(O|O2|3O4|CO3|S)?|Cd(S|Se|O)?)\b")


def food_claim(text: str, line: int) -> Span | None:
    """Where a line claims that ware is fit for food, and does not deny it."""
    for found in _FOOD.finditer(text):
        if not _DENIED.search(text[: found.start()]):
            return Span(line, found.start() + 1, found.end() + 1)
    return None


def lead_or_cadmium(text: str, line: int) -> Span | None:
    """Where a line names lead or cadmium, and does not say that there is none."""
    for found in (*_LEAD.finditer(text), *_SYMBOL.finditer(text)):
        before, after = text[: found.start()], text[found.end() :]
        if _LEAD_DENIED.search(before):
            continue
        unclear = found.group(0).casefold() == "lead" and not _METAL_BEFORE.search(before)
        if unclear and (_OTHER_LEAD_AFTER.match(after) or _OTHER_LEAD_BEFORE.search(before)):
            continue
        return Span(line, found.start() + 1, found.end() + 1)
    return None


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
