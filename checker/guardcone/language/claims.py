"""What the words in a plan say in passing: food, lead; gloves, glasses, vents that protect nobody.

Such words stand in names, notes and remarks, where no statement of the language asks for them.
People write what they have. A thing that is not there, that does not work, or that does not keep
off what it is named for protects nobody, and the words say so.
"""

import re
from itertools import pairwise, product

from guardcone.language.meanings import has_any, pattern_for, says_none
from guardcone.span import Span

__all__ = [
    "food_claim",
    "is_controller",
    "is_defeated",
    "is_no_air",
    "is_no_code",
    "is_no_cut_off",
    "is_no_extinguisher",
    "is_no_glove",
    "is_no_lens",
    "is_no_vent",
    "is_not_working",
    "is_on_throughout",
    "is_refused",
    "is_unproven_lens",
    "is_water",
    "lead_or_cadmium",
    "lets_in",
    "raises_dust",
    "reaches_nobody",
    "tells_danger",
    "vent_kind",
]


def food_claim(text: str, line: int) -> Span | None:
    """Where a line claims that ware is fit for food, and does not deny it."""
    for found in pattern_for("food", any_blanks=True).finditer(text):
        if not _as_written(text[: found.start()], "food denied"):
            return Span(line, found.start() + 1, found.end() + 1)
    return None


def lead_or_cadmium(text: str, line: int) -> Span | None:
    """Where a line names lead or cadmium, and does not say that there is none."""
    lead, symbol = pattern_for("lead", any_blanks=True), pattern_for("metal symbol")
    for found in (*lead.finditer(text), *symbol.finditer(text)):
        before, after = text[: found.start()], text[found.end() :]
        if _as_written(before, "lead denied"):
            continue
        surely = found[0].casefold() != "lead" or _as_written(before, "lead is the metal")
        if surely or not (
            _as_written(after, "lead is none after") or _as_written(before, "lead is none before")
        ):
            return Span(line, found.start() + 1, found.end() + 1)
    return None


def _as_written(text: str, meaning: str) -> bool:
    return bool(pattern_for(meaning, any_blanks=True).search(text))


def is_not_working(text: str) -> bool:
    """True for words that say that there is none, or that it is off, broken or still to come."""
    return says_none(text) or _says(text, "not working") or _says(text, "kept away", "spoilt")


def is_defeated(text: str) -> bool:
    """True for a device that does not work, is bridged or stuck; not for what is to happen if."""
    return _says(pattern_for("condition").sub("", _plain(text)), "kept away", "defeated")


def is_no_code(text: str) -> bool:
    """True for words by which nobody goes by the local rules."""
    return _says(text, "no code")


def is_refused(text: str) -> bool:
    """True for words by which whoever answers for the local rules has said no."""
    return _says(pattern_for("condition").sub("", _plain(text)), "kept away", "refused")


def raises_dust(text: str) -> bool:
    """True for words that put dust into the air: dry sweeping."""
    return _says(text, "kept away", "dust raised") and not _says(text, "wet against dust")


def reaches_nobody(text: str) -> bool:
    """True for a call that nobody hears: `nobody answers`, `no signal`."""
    return _says(text, "unheard")


def is_no_vent(text: str) -> bool:
    """True for words in which nothing carries fumes out: `no need`, `as usual`."""
    return vent_kind(text) is None and not _says(text, "vent")


def is_no_air(text: str) -> bool:
    """True for words by which no air comes to a flame: shut, or blocked, now or in winter."""
    plain = _plain(text)
    left = pattern_for("air kept open").sub(" ", plain)
    return _says(left, "air blocked" if left != plain else "air shut")


def is_no_extinguisher(text: str) -> bool:
    """True for none, for one that is empty or past its date, and for what is none."""
    return says_none(text) or _says(text, "kept away", "no extinguisher")


def is_controller(text: str) -> bool:
    """True for words that leave it to what fires the kiln, and to no device of its own."""
    return _says(text, "controller") and not _says(text, "stops by itself")


def is_no_cut_off(text: str, by_hand: bool) -> bool:
    """True for words in which nothing stops the kiln; `by_hand` where somebody may shut it off."""
    hand = not by_hand and _says(text, "cut off by hand")
    return (hand or _says(text, "no cut-off")) and not _says(text, "stops by itself")


def vent_kind(text: str) -> str | None:
    """What sort of vent these words name: hood, flue, downdraft, or window for an opening alone."""
    kinds = ("hood", "flue", "downdraft", *(() if _says(text, "draws air") else ("window",)))
    return next((kind for kind in kinds if _says(text, kind)), None)


def is_no_lens(text: str) -> bool:
    """True for words that name no eye protection, or such as lets infrared through."""
    if _says(text, "kept away", "lens spoilt"):
        return True
    return _protects_not(text, "lens") and not is_unproven_lens(text)


def is_unproven_lens(text: str) -> bool:
    """True for a lens of which nobody can tell what infrared it stops: `didymium`, `goggles`."""
    proven_or_unfit = _says(text, "lens") or _says(text, "kept away", "no lens")
    return _says(text, "kept away", "lens unproven") and not proven_or_unfit


def is_no_glove(text: str) -> bool:
    """True for words that name no gloves, or such as melt, burn or lead the heat through."""
    return _says(text, "kept away", "glove spoilt") or _protects_not(text, "glove")


def _protects_not(text: str, what: str) -> bool:
    """True where no such thing is named, or one that does not keep off what it is named for."""
    names_none = _says(text, "kept away", f"no {what}") or not _says(text, f"{what} word")
    return says_none(text) or (names_none and not _says(text, what))


def is_water(text: str) -> bool:
    """True for words that put water, or what is made of it, at hand against a fire."""
    return _says(pattern_for("never water").sub(" ", _plain(text)), "kept away", "water")


def lets_in(text: str) -> bool:
    """True for words by which bystanders may come to the kiln: `welcome`, `may watch`."""
    if _says(text, "not kept off"):
        return True
    return _says(text, "let in") and not _says(text, "kept off")


# A thing, and what is said of it by which it is a danger.
_DANGERS = (
    ("device", ("kept away", "defeated")),
    ("device", ("kept away", "spoilt")),
    ("device", ("kept away", "device useless")),
    ("fan", ("fan useless",)),
    ("gas", ("gas escapes",)),
    ("wiring", ("wiring overheats",)),
    ("earth", ("earth broken",)),
)
# So many words may stand between the two.
_WORDS_BETWEEN = 7
_CLAUSE = re.compile(r"[;:()\"“”„#]|[.,](?![0-9])")


def tells_danger(text: str) -> bool:
    """True for words that tell a danger in passing: a fan that is broken, a kiln nobody watches.

    What is only thought of, `if the relay sticks`, and what is mended since is none.
    """
    plain = [_plain(clause) for clause in _CLAUSE.split(text)]
    clauses = [pattern_for("condition").sub("", clause) for clause in plain if clause]
    # `flame safety fitted, taped down`: of what something is said may stand before the comma.
    joined = [f"{one} {other}" for one, other in pairwise(clauses)]
    if any(has_any("danger word", one) and _says(one, "danger in words") for one in clauses):
        return True
    told = any(
        _is_said_of(clause, thing, meanings)
        for clause in (*clauses, *joined)
        for thing, meanings in _DANGERS
    )
    return told and (not _says(text, "mended") or _says(text, "not mended"))


def _is_said_of(clause: str, thing: str, meanings: tuple[str, ...]) -> bool:
    """True where something is said of a thing, a few words behind it or before it."""
    named = [one.span() for one in pattern_for(thing).finditer(clause)]
    said = [one.span() for one in pattern_for(*meanings).finditer(clause)] if named else []
    return any(
        len(clause[min(one[1], other[1]) : max(one[0], other[0])].split()) <= _WORDS_BETWEEN
        for one, other in product(named, said)
    )


def _says(text: str, *meanings: str) -> bool:
    return bool(pattern_for(*meanings).search(_plain(text)))


def _plain(text: str) -> str:
    """The words in small letters with one blank between them."""
    without = text.casefold().replace("'", "").replace("’", "")
    return " ".join(re.findall(r"[^\W_]+", without))


def is_on_throughout(text: str) -> bool:
    """True for words by which a vent is on from the first to the last: `fan, on throughout`."""
    plain = _plain(text)
    part = pattern_for("on for a part").search(plain) or pattern_for("denied").search(plain)
    return bool(pattern_for("on throughout").search(plain)) and not part
