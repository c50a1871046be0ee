"""A heading with what is said behind it in its line: each thing on a line of its own."""

import re
from collections.abc import Callable, Iterator

from attrs import evolve, frozen

from guardcone.language.answers import denies, three_cones
from guardcone.language.grammar import SECTIONS, PlanGrammar
from guardcone.language.kiln_features import burns, features_of
from guardcone.language.line_statements import (
    JOINING,
    Statement,
    all_said,
    as_statement,
    goes_wrong_at,
    section_opened,
    without_joint,
)
from guardcone.language.meanings import FILL_IN
from guardcone.language.source import SourceLine
from guardcone.language.units_left_out import with_degrees

__all__ = ["TO_FILL_IN", "below_heading", "pieces_of", "said_behind_heading"]

# How a line is mended: as it is to be, and the section it is of.
Mending = Callable[[PlanGrammar, SourceLine, str], tuple[str, str]]

# A name without quotes behind the word of its section, before what is said of it.
_NAMED = re.compile(r"\s*[:–-]?\s*([^\W\d_][\w' -]*?)\s*[:,]\s*")

# A kiln that has a number for a name.
_NUMBERED = re.compile(r"\s*(?:no\.? ?|number )?([0-9]{1,2})\s*(?=[(,:–-])", re.IGNORECASE)

# Between two things behind a heading: a comma, but not the one of `1,5 h`.
_PARTED = re.compile(r";|,(?![0-9])|\s&\s|\bthen\b", re.IGNORECASE)

# The lines of a schedule to fill in, by the word that each begins with.
TO_FILL_IN = {
    "CLIMB": 'climb "fill in at what rate and to what temperature"',
    "HOLD": 'hold "fill in how long"',
    "COOL": 'cool "fill in how and to what temperature"',
    "OPEN": 'open at "fill in how cool"',
}


@frozen(repr=False)
class _Parted:
    """A heading, as it is or to be, and what stands behind it in its line, parted at its commas."""

    section: str
    heading: str
    pieces: list[SourceLine]


def _parted(grammar: PlanGrammar, line: SourceLine, here: str) -> _Parted | None:
    """None for all other lines: what is said of one thing has no heading before it.

    So it is with `schedule: 150 C/h to 1100 C, soak a while`; and `kiln electric, 60 L` has no
    name, and what it is instead.
    """
    end = goes_wrong_at(grammar, line, here)
    heading = evolve(line, text=without_joint(line.code[:end]), code_end=end)
    opened = as_statement(grammar, heading, here) if end < len(line.code) else None
    section, text = section_opened(opened) if opened else None, heading.text.strip()
    word = grammar.opening_word(here, line.code, line.code_start)
    is_nameless = section is None and word and word.kind.lower() in SECTIONS
    if is_nameless and word:
        section, end = word.kind.lower(), word.end
        text = grammar.right_line(section, word.kind).to_copy
        named = _NAMED.match(line.code, end)
        numbered = _NUMBERED.match(line.code, end) if section == "kiln" else None
        if numbered:
            text, end = f'{line.code[:end].strip()} "Kiln {numbered[1]}"', numbered.end()
            is_nameless = False
        elif named and _is_name(grammar, named[1], section):
            text, end = f'{line.code[:end].strip()} "{named[1]}"', named.end()
            is_nameless = False
    if section is None:
        return None
    joint = JOINING.match(line.code, end)
    start = joint.end() if joint else end
    pieces = []
    cones, behind = three_cones(line.code[start:]) if section == "witness" else ({}, "")
    if cones:
        words = "guide {coolest}, target {middle}, guard {hottest}".format(**cones)
        pieces.append(SourceLine(line.number, words, 0, len(words)))
    for words, at in pieces_of(behind if cones else line.code[start:]):
        spaced = " " * (start + at) + words
        pieces.append(evolve(line, text=spaced, code_start=start + at, code_end=len(spaced)))
    tells = section == "kiln" and features_of(grammar, line.code[start:])
    if is_nameless and not tells and not (pieces and all_said(grammar, pieces[0], section)):
        return None
    return _Parted(section, text, pieces)


def _is_name(grammar: PlanGrammar, words: str, section: str) -> bool:
    """True for words without quotes that name a thing, and say neither what it is nor what not."""
    tells = section == "kiln" and features_of(grammar, words)
    numbers = section == "witness" and re.search("[0-9]", words)
    return not (tells or numbers or denies(words) or grammar.is_right(words, section))


def pieces_of(text: str) -> Iterator[tuple[str, int]]:
    """What stands between commas and the like, with the column where each begins."""
    start = 0
    for sign in (*_PARTED.finditer(text), None):
        piece = text[start : sign.start() if sign else len(text)]
        words = piece.strip(" \t:").removeprefix("- ")
        if words:
            yield words, start + piece.index(words)
        start = sign.end() if sign else start


def below_heading(
    grammar: PlanGrammar, line: SourceLine, here: str, headings: frozenset[str], mend: Mending
) -> str:
    """A heading and what stands behind it in its line, each on a line, mended where it can be.

    What can't be made a line of its section is kept there as a remark.
    """
    parted = _parted(grammar, line, here)
    if parted is None:
        return ""
    section, lines = parted.section, [parted.heading]
    others: dict[str, list[str]] = {}
    left: list[str] = []
    pieces = parted.pieces
    if section == "kiln":
        told, pieces = _build(grammar, pieces, mend)
        lines += [f"  {told}"] if told else []
    for piece in pieces:
        words = piece.code.strip()
        if len(lines) > 1 and grammar.is_right(joined := f"{lines[-1].strip()}, {words}", section):
            lines[-1] = f"  {joined}"  # `8 cm wide, staggered` is one line
            continue
        home = _home(grammar, piece, section)
        if not home:
            anew, home = _to_be(grammar, words, section, mend)
            words = anew if home else words
        if not home and not _lacks_unit(grammar, piece, section):
            if section == "schedule":  # its lines have an order
                lines += [f"  {one}" for one in _with_remark(grammar, section, lines, [words])]
            else:
                left.append(words)
            continue
        below = others.setdefault(home, []) if home and home not in headings else lines
        below += [f"  {one}" for one in words.split("\n")]
    lines += [f"  {one}" for one in _with_remark(grammar, section, lines, left)]
    for other, below in others.items():
        lines += [grammar.right_line(other, other.upper()).to_copy, *below]
    return "\n".join(lines)


def _home(grammar: PlanGrammar, piece: SourceLine, section: str) -> str:
    """The section where a piece is right as it is, this one before others; empty without one."""
    homes = (one for one in (section, *SECTIONS) if all_said(grammar, piece, one))
    return next(homes, "")


def _lacks_unit(grammar: PlanGrammar, piece: SourceLine, section: str) -> bool:
    """True for a piece that is right but for its units, which are for a person to tell."""
    return bool(with_degrees(grammar, piece.code.strip(), section, fewest=1))


def _to_be(grammar: PlanGrammar, words: str, section: str, mend: Mending) -> tuple[str, str]:
    """A piece as it is to be, and its section; that is empty where none is known.

    What is left to be filled in is a line of this section: in another it would only be guessed.
    """
    part = SourceLine(1, words, 0, len(words))
    anew, home = mend(grammar, part, section)
    mended = SourceLine(1, anew, 0, len(anew))
    if anew and FILL_IN not in anew:
        return anew, _home(grammar, mended, section)
    first = grammar.opening_word(section, anew, 0) if anew else None
    at_home = first is not None and first.kind not in grammar.headings
    is_guess = section != "kiln" and not (at_home and home == section)
    return (anew, "" if not anew or is_guess or anew.startswith('"') else home)


def _build(
    grammar: PlanGrammar, pieces: list[SourceLine], mend: Mending
) -> tuple[str, list[SourceLine]]:
    """The line that says what a kiln is, of all pieces that do; and the other pieces.

    What nothing is known of is kept behind that line as a remark.
    """
    said, others = [], []
    for piece in pieces:
        words = piece.code.strip()
        known = [one.name for one in all_said(grammar, piece, "kiln")]
        if known == ["kiln_build"] or (not known and features_of(grammar, words)):
            said.append(words)
        elif known or _home(grammar, piece, "kiln") or _to_be(grammar, words, "kiln", mend)[1]:
            others.append(piece)
        else:
            said.append(words)
    together = ", ".join(said)
    told = features_of(grammar, together)
    like = grammar.right_line("kiln", "ELECTRIC").to_copy
    return told.written if told else f"{like}  # {together}" if said else "", others


def _with_remark(
    grammar: PlanGrammar, section: str, lines: list[str], left: list[str]
) -> list[str]:
    """What of a line nothing is known of: behind a line to fill in where one is wanted anyway."""
    if not left:
        return []
    remark = ", ".join(left)
    is_ware = section == "load" and not any(one.strip().startswith("ware ") for one in lines)
    is_climb = section == "schedule" and re.search("[0-9]", remark)
    like = grammar.right_line("load", "WARE").to_copy if is_ware else ""
    word = grammar.opening_word(section, remark, 0) if is_climb else None
    like = TO_FILL_IN["HOLD" if word and word.kind == "HOLD" else "CLIMB"] if is_climb else like
    return [f"{like}  # {remark}" if like else f"# {remark}"]


def said_behind_heading(grammar: PlanGrammar, line: SourceLine, here: str) -> list[Statement]:
    """What a line that can't be read says of a kiln behind its heading, as far as it can be read.

    `kiln "Heron", electric, 48 amps at 240 volts` is electric all the same.
    """
    parted = _parted(grammar, line, here)
    if parted is None or parted.section != "kiln":
        return []
    said = []
    for piece in parted.pieces:
        told = features_of(grammar, piece.code)
        known = all_said(grammar, piece, "kiln")
        if not known and told:
            known = all_said(grammar, evolve(piece, text=told.masked), "kiln")
        said += known
    fuel = any((fuel := one.part("fuel")) and fuel.word("electric") for one in said)
    return [] if fuel and burns(grammar, line.code) else said
