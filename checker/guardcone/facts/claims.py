"""What a plan says in passing is found: food, lead and cadmium.

Such words stand in names, notes and remarks, where no statement of the language asks for them.
"""

import re

from guardcone.span import Span

__all__ = ["food_claim", "lead_or_cadmium"]


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
