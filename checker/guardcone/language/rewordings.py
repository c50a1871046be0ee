"""Lines that say what a plan can say, in other words than a plan has, said in those of a plan."""

import re
from functools import cache, cached_property

from attrs import define, evolve, frozen

from guardcone.documents import document_rows
from guardcone.language.answers import answered, denies, three_cones
from guardcone.language.grammar import PlanGrammar
from guardcone.language.kiln_features import features_of
from guardcone.language.meanings import FILL_IN
from guardcone.language.nearest import listed, to_write
from guardcone.language.parted_lines import pieces_of
from guardcone.language.source import SourceLine
from guardcone.language.units_left_out import in_degrees, with_degrees, with_its_rate
from guardcone.values import Length, quantity_at

__all__ = ["Reworded", "begins_schedule", "begun_with", "reworded"]

# So often a row may be met in a line.
_MOST_TIMES = 4
_LONGEST = 200
# What a row says beside its words: it becomes a remark, one more line, or another way.
_REMARK, _MORE, _OR = "# ", " + ", " | "
# The group of a pattern that may be any words.
_ANY_WORDS = "words"
# Signs at which nothing stands any more, and a blank before a comma.
_LEFT_OVER = re.compile(r"^[\s,;]+|[\s,;]+$|[\s,;]+(?=[,;])")
_SLOT = re.compile(r"\{([a-z]+)\}")
_BLANK = re.compile(" ")
_JOINT = re.compile(r"^[\s,;]*(?:(?:and|then)\b\s*)*", re.IGNORECASE)
_MOST_WORDS = 30
_HOW_DRY = re.compile(
    r"\b(?:damp|wet|dr(?:y|ied)|cold|leather.?hard|green\w*|bis[cq]\w*)\b", re.IGNORECASE
)
# Ware with its number, and what may be said of it before the next comma.
_COUNTED = re.compile(
    r"([0-9]{1,3}) (?:x )?(?:(bisqued?|biscuit|greenware|bone dry|leather hard|damp|wet) )?"
    r"((?:[a-z][a-z -]*? )?(?:pots?|mugs?|bowls?|cups?|plates?|platters?|tiles?|vases?|jars?|jugs?"
    r"|planters?|teapots?|saucers?|dish(?:es)?|beakers?|pieces|tumblers?|sculptures?|figures?))"
    r"(?: (?:in|of|made of|from) ([^,;]+?))?(?: (?:glazed (?:with|in)|with) ([^,;]+?))?"
    r"(?=[,;]|$| (?:bisque|biscuit|bone dry|leather hard|greenware|damp|wet)\b)",
    re.IGNORECASE,
)
_GLAZED = re.compile(r"(?:glazed (?:with|in)|with|glaze:?) ([^,;]+)$", re.IGNORECASE)
_STILL = re.compile(r"^(?:and |they are |all |still )+", re.IGNORECASE)
_NUMBER = re.compile(r"(?<![\w.,])[0-9]")


@frozen(repr=False)
class Reworded:
    """What a line becomes: the ways that may be meant, each of lines that belong together.

    `whole` is the one line that can be read where the line stands, empty where there is none such.
    """

    ways: tuple[tuple[str, ...], ...]
    whole: str = ""

    @property
    def told(self) -> list[str]:
        """Each way as it is told."""
        return [listed(to_write(way)) for way in self.ways]


@define(slots=False, repr=False)
class _Row:
    """A row of the table: what a line that it knows has in it, its pattern, and what that becomes.

    The pattern is made when the first line has one of the words: most rows meet none.
    """

    has: tuple[str, ...]
    words: str
    becomes: str

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        """The pattern, in which capitals and small letters are alike."""
        return re.compile(self.words, re.IGNORECASE)

    def search(self, code: str) -> re.Match[str] | None:
        """Where the row is met in a line."""
        text = code.casefold()
        if self.has and not any(word in text for word in self.has):
            return None
        return self.pattern.search(code)


@cache
def _rows(section: str) -> tuple[_Row, ...]:
    """The rows for lines of a section, in the order of the table."""
    values: dict[str, str] = {}
    found: list[_Row] = []
    for row in document_rows("grammar", "rewordings.csv"):
        words = re.sub("(?<!P)<([a-z]+)>", lambda value: values[value[1]], row["words"])
        if row["section"] == "value":
            values[row["becomes"]] = f"(?:{words})"
        elif section in row["section"].split() or row["section"] == "any":
            has = tuple(row["has"].split(", ")) if row["has"] else ()
            found.append(_Row(has, words, row["becomes"]))
    return tuple(found)


def reworded(grammar: PlanGrammar, line: SourceLine, section: str) -> Reworded | None:
    """What a line that can't be read says in the words of a plan; None where no row knows it.

    Every row is tried one after another, and what comes of it must be right. What a plan has no
    words for is kept as a remark.
    """
    code = " ".join(line.code[line.code_start :].split())
    if len(code) > _LONGEST or "#" in code:
        return None
    told = features_of(grammar, code) if section == "kiln" else None
    if told and told.line != code:
        return Reworded(((told.written,),), told.written)
    if section in ("kiln", "load") and (said := _piece_by_piece(grammar, line, code)):
        return said
    before, remarks = code, []
    slots_filled = {"least": _shortest(code), **three_cones(code)[0]}
    for row in _rows(section):
        for _ in range(_MOST_TIMES):
            met = row.search(code)
            if not met or (_ANY_WORDS in row.pattern.groupindex and denies(met[_ANY_WORDS] or "")):
                break
            slots = _SLOT.findall(row.becomes)
            if not all(slots_filled.get(name) for name in slots):
                break
            new = met.expand(_SLOT.sub(lambda slot: slots_filled[slot[1]], row.becomes))
            words, _, remark = new.rpartition(_REMARK) if _REMARK in new else (new, "", "")
            remark = _LEFT_OVER.sub("", " ".join(remark.split()))
            remarks += [remark] if remark else []
            code = code[: met.start()] + words + code[met.end() :]
            code = " ".join(_LEFT_OVER.sub("", code).split())
    if code == before or not (code or remarks):
        return _begun(grammar, line, before) if section == "schedule" else _ware(grammar, before)
    ways = [_lines(grammar, way, section) for way in code.split(_OR)]
    if not all(FILL_IN in one or grammar.is_right_somewhere(one) for way in ways for one in way):
        # A number may lack its unit still; then it is one of two.
        pieces = [words for words, _ in pieces_of(code)] if section == "schedule" else []
        ways = [(one[1:-1],) for one in with_degrees(grammar, code, section, fewest=1)]
        ways = ways or (_in_one_scale(grammar, pieces) if len(pieces) > 1 else [])
    whole = len(ways) == 1 and len(ways[0]) == 1 and grammar.is_right(code, section)
    behind = f"  # {', '.join(remarks)}" if remarks else ""
    ways = [(*way[:-1], f"{way[-1]}{behind}") if way else (behind.strip(),) for way in ways]
    if not ways or not all(len(to_write(way)) == len(way) for way in ways):
        return None
    return Reworded(tuple(ways), ways[0][0] if whole else "")


def _lines(grammar: PlanGrammar, way: str, section: str) -> tuple[str, ...]:
    """The lines of a way, those of a table apart that stand in one line."""
    lines: list[str] = []
    for line in way.split(_MORE) if way else ():
        pieces = [words for words, _ in pieces_of(line)] if section == "schedule" else []
        apart = len(pieces) > 1 and not grammar.is_right(line, section)
        if apart and all(grammar.is_right(one, section) for one in pieces):
            lines += pieces
        else:
            lines.append(line)
    return tuple(lines)


def _piece_by_piece(grammar: PlanGrammar, line: SourceLine, code: str) -> Reworded | None:
    """What a line says of the load one thing after another: `pots 10 mm apart, shelves washed`.

    What nothing is known of is kept as a remark; but how damp ware is belongs to that.
    """
    pieces = [words for words, _ in pieces_of(code)]
    word = grammar.opening_word("load", code, 0)
    if (
        len(pieces) < 2
        or '"' in code
        or denies(code)
        or (word and word.kind in ("WARE", "CLAY", "GLAZE"))
    ):
        return None
    lines, remarks = [], []
    for piece in pieces:
        part = evolve(line, text=piece, code_start=0, code_end=len(piece))
        heads = grammar.opening_word("load", piece, 0)
        is_line = heads and heads.kind not in grammar.headings and grammar.is_right(piece, "load")
        said = None if is_line else reworded(grammar, part, "load")
        if is_line:
            lines.append(piece)
        elif said and said.whole and not said.whole.startswith("#") and FILL_IN not in said.whole:
            words, _, remark = said.whole.partition("  # ")
            lines.append(words)
            remarks += [remark] if remark else []
        elif _HOW_DRY.search(piece):
            return None
        else:
            remarks.append(piece)
    if not lines:
        return None
    behind = f"  # {', '.join(remarks)}" if remarks else ""
    return Reworded(((*lines[:-1], f"{lines[-1]}{behind}"),))


def _ware(grammar: PlanGrammar, code: str) -> Reworded | None:
    """What a line says of ware: `2 big platters, 1/2 inch thick, still leather hard`.

    What a plan has no words for is kept as a remark; where it is not said how dry the ware is, that
    is to be filled in.
    """
    said = _COUNTED.match(code)
    if said is None or '"' in code or denies(code):
        return None
    count, dry, name, clay, glaze = said.groups()
    kept, remarks = [dry] if dry else [], []
    for words, _ in pieces_of(code[said.end() :]):
        piece = _STILL.sub("", words)
        glazed = None if glaze else _GLAZED.match(piece)
        if glazed:
            glaze = glazed[1]
        elif grammar.is_right(f'ware "pots" 1 of "clay", {piece}', "load"):
            kept.append(piece)
        else:
            remarks.append(words)
    states = [piece for piece in kept if _HOW_DRY.search(piece)]
    if len(states) > 1 or any(map(_HOW_DRY.search, remarks)):
        return None  # `dry, some damp`
    if not states:
        kept.insert(0, '"fill in how dry"')
    with_glaze = f' with "{glaze}"' if glaze else ""
    ware = f'ware "{name}" {count} of "{clay or "fill in the clay"}"{with_glaze}'
    behind = f"  # {', '.join(remarks)}" if remarks else ""
    return Reworded(((f"{', '.join([ware, *kept])}{behind}",),))


def begun_with(grammar: PlanGrammar, code: str) -> str:
    """What a line of a schedule begins with that is whole, with a number in it; else empty."""
    ends = [blank.start() for blank in _BLANK.finditer(code)][:_MOST_WORDS]
    begun = (code[:end].rstrip(" ,;") for end in reversed(ends))
    return next(
        (one for one in begun if re.search("[0-9]", one) and grammar.is_right(one, "schedule")), ""
    )


def _begun(grammar: PlanGrammar, line: SourceLine, code: str) -> Reworded | None:
    """A line of a schedule that begins as a right one and goes on with what there is an answer to.

    The climb is kept: `60 C/h to 600 C hold a bit` is no hold alone. Of several things that stand
    one after another each is kept: `100 C/h to 900 C, body reduction, 60 C/h to 1260 C`.
    """
    pieces = [words for words, _ in pieces_of(code)]
    right = [grammar.is_right(piece, "schedule") for piece in pieces]
    if sum(right) > 1:
        lines = [
            piece if is_right else _asked(grammar, line, piece)
            for piece, is_right in zip(pieces, right, strict=True)
        ]
        return Reworded((tuple(lines),)) if all(lines) else None
    if len(pieces) > 1 and (ways := _in_one_scale(grammar, pieces)):
        return Reworded(tuple(ways))
    first = begun_with(grammar, code)
    rest = _JOINT.sub("", code[len(first) :]).strip(" ,;")
    more = _asked(grammar, line, rest) if first else ""
    return Reworded(((first, more),)) if more else None


def _in_one_scale(grammar: PlanGrammar, pieces: list[str]) -> list[tuple[str, ...]]:
    """Lines of a schedule of which some lack a unit, all in °C and all in °F; empty for others."""
    ways = []
    for scale in ("C", "F"):
        lines = [in_degrees(grammar, piece, "schedule", scale, fewest=0) for piece in pieces]
        ways.append(tuple(line for line in lines if line))
    return [way for way in dict.fromkeys(ways) if len(way) == len(pieces)]


def _asked(grammar: PlanGrammar, line: SourceLine, words: str) -> str:
    """The line of a schedule to fill in that answers words, with these behind it; else empty."""
    part = evolve(line, text=words, code_start=0, code_end=len(words))
    told = answered(grammar, part, "schedule", opens=False)
    offered = re.findall("`([^`]+)`", told.repair) if told else []
    offered = [one for one in offered if FILL_IN in one]
    if len(offered) != 1 or not _opens(grammar, offered[0]):
        return ""
    return offered[0] if "  # " in offered[0] else f"{offered[0]}  # {words}"


def begins_schedule(grammar: PlanGrammar, line: SourceLine) -> bool:
    """True for a line that says with a number, in whatever words, what a schedule says."""
    if not re.search("[0-9]", line.code):
        return False
    if with_its_rate(grammar, line, "schedule"):
        return True
    said = reworded(grammar, line, "schedule")
    if said:
        return all(
            grammar.is_right(one, "schedule") or _opens(grammar, one) for one in said.ways[0]
        )
    return bool(answered(grammar, line, "schedule", opens=True))


def _opens(grammar: PlanGrammar, line: str) -> bool:
    """True for a line to fill in of a schedule."""
    word = grammar.opening_word("schedule", line, 0)
    return bool(word and word.kind not in grammar.headings and FILL_IN in line)


def _shortest(text: str) -> str:
    """The shortest length in a text as it is written there; empty where there is none."""
    lengths: list[tuple[Length, str]] = []
    at = 0
    while number := _NUMBER.search(text, at):
        # `5 ft 2 in` is no shorter than 5 ft.
        is_more = lengths and not text[at : number.start()].strip()
        at, length = quantity_at(Length, text, number.start()) or (number.end(), None)
        lengths += [(length, text[number.start() : at])] if length and not is_more else []
    return min(lengths, key=lambda one: one[0], default=(None, ""))[1]
