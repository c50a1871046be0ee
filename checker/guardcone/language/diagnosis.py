"""Why a line can't be read: what was found, what may stand there, one right line."""

import re

from attrs import evolve, frozen

from guardcone.language.answers import answered, other_text_answered
from guardcone.language.grammar import HEADINGS, SECTIONS, PlanGrammar, Stuck
from guardcone.language.meanings import FILL_IN, pattern_for, still_to_fill_in
from guardcone.language.nearest import (
    either,
    in_order,
    may_stand,
    nearest,
    quoted,
    quoted_instead,
    shown,
)
from guardcone.language.rewordings import Reworded, reworded
from guardcone.language.scanner import MEASURES, folded, read, trade_words
from guardcone.language.source import OutOfSense, SourceLine, TextFault
from guardcone.language.units_left_out import (
    bare_number,
    with_degrees,
    with_its_rate,
    without_unit,
)
from guardcone.span import Span
from guardcone.values import Temperature

__all__ = ["Diagnosis", "Slip", "diagnose", "section_meant", "without_quotes"]

_WORD = re.compile(r"[^\W\d_][\w'-]*")
_QUOTED = re.compile(r'"([^"]+)"')
_THING = re.compile(rf"{_WORD.pattern}|[^\s,;\"“”#]+|\S")
# So many words together, with blanks or hyphens between them.
_WORDS = {
    3: re.compile(r"[^\W\d_][^\W_]*(?:[\s_-]+[^\W\d_][\w']*){2}"),
    2: re.compile(r"[^\W\d_][^\W_]*[\s_-]+[^\W\d_][\w']*"),
    1: _WORD,
}
_FIGURES_AND_LETTERS = re.compile(r"(?=\w*[0-9])(?=\w*[OoIl])[0-9OoIl]+")
_DECIMAL_COMMA = re.compile(r"[0-9]+,[0-9]{1,2}(?![0-9])")
_FIGURES = str.maketrans("OoIl", "0011")
_JOINING = re.compile(r"(?:[,;&]\s*)?(?:(?:and|then)\b\s*)?", re.IGNORECASE)
_MOST_OPENINGS = 6
# A hold is counted in hours where ware dries, in minutes where it is fired (own choice).
_DRYING = 300.0
_HOLD_AT_HEAT = "hold 10 min"
_NONE = frozenset({"NO", "NOT"})
# Where a name is one of so few things, a bare word is taken for one.
_FEW = 8


@frozen(repr=False)
class Slip:
    """A slip of the hand: what stands at column `at` (from 0), and the word that was meant."""

    at: int
    written: str
    meant: str = ""

    def span(self, line: SourceLine) -> Span:
        """The place of what is written, in the line that has it."""
        return Span(line.number, self.at + 1, self.at + 1 + len(self.written))

    def mended(self, code: str) -> str:
        """The line with the word that was meant."""
        return code[: self.at] + self.meant + code[self.at + len(self.written) :]


@frozen(repr=False)
class Diagnosis:
    """A fault, with the terminal its first word was meant to be and the section that has it.

    `guessed` is true where that word is not in the line, and only the nearest there is. `slip` is
    there where one word changed may make the line right; where it is `plain` nothing else can be
    meant, and the fault need not be told. `other_text` is true of a line of which nothing is known.
    """

    fault: TextFault
    terminal: str | None
    section: str
    guessed: bool = False
    slip: Slip | None = None
    plain: bool = False
    other_text: bool = False


def diagnose(
    grammar: PlanGrammar, line: SourceLine, section: str, reached: Temperature | None = None
) -> Diagnosis:
    """The fault of a line that can't be read in this section.

    `reached` is how hot the lines of a schedule above it have come, if that is known.
    """
    here, section = section, section_meant(grammar, line, section)
    if unquoted := without_quotes(grammar, line, here):
        return unquoted
    said = None if still_to_fill_in(line) else reworded(grammar, line, here)
    if said:
        return _in_other_words(grammar, line, here, said)
    if here == "schedule" and (bare := _bare_rate(grammar, line, here)):
        return bare
    word = grammar.opening_word(here, line.code, line.code_start)
    opens = word is not None and word.kind not in _NONE  # `no` begins `no gloves` too
    opens = opens or section != here or _misspelt_opening(grammar, line, here) is not None
    told = None if still_to_fill_in(line) else answered(grammar, line, here, opens=opens)
    if told:
        # Nobody knows yet which line it stands for, so that line still counts as missing; but for
        # ware, of which there are many lines: what is named in none of the others may be in this.
        is_ware = here == "load" and "Write `ware " in told.repair
        return Diagnosis(told, "WARE" if is_ware else None, here, guessed=True)
    try:
        stuck = grammar.how_far(line.code, section)
    except OutOfSense as error:
        first = grammar.opening_word(section, line.code, line.code_start)
        terminal = first.kind if first else None
        like = grammar.right_line(section, terminal).to_copy
        return Diagnosis(evolve(error.fault, line=like), terminal, section)
    if {*stuck.read} <= _NONE:
        return _bare_rate(grammar, line, section) or _unknown_opening(grammar, line, section)
    if not still_to_fill_in(line) and stuck.read and grammar.phrases.keys() >= {*stuck.read}:
        told = other_text_answered(grammar, line, section)  # numbers alone: `5 6 7` in a set
        if told:
            return Diagnosis(told, None, section)
    if stuck.read == ("COUNT",):
        # A number opens a line in `4 shelves`, but here it is more likely one that lacks its unit.
        stuck = Stuck(line.code_start, grammar.opening[section], stuck.read)
    return _further_on(grammar, line, section, stuck, reached)


def without_quotes(grammar: PlanGrammar, line: SourceLine, here: str) -> Diagnosis | None:
    """A line with quotes about what is no name: `power off "before unloading"`; None for others.

    A place to fill in stands in quotes, so what is filled in there often does too.
    """
    word = grammar.opening_word(here, line.code, line.code_start)
    for found in _QUOTED.finditer(line.code) if word and FILL_IN not in line.code else ():
        slip = Slip(found.start(), found[0], f" {found[1]} ")
        if grammar.is_right(slip.mended(line.code), here):
            repair = f"Write it without quotes: `{found[1]}`."
            fault = TextFault("line-unclear", slip.span(line), "This is no name.", repair)
            return Diagnosis(fault, word.kind if word else None, here, slip=slip, plain=True)
    return None


def _in_other_words(grammar: PlanGrammar, line: SourceLine, here: str, said: Reworded) -> Diagnosis:
    """The fault of a line that says in other words what a plan can say.

    It is used as that; of safety only what says that something does not work or nobody is there,
    and all else counts as missing until it is written.
    """
    is_remark = said.ways[0][-1].startswith(("#", "note "))
    found = f"A plan {'has no line for this' if is_remark else 'says this in other words'}."
    fault = TextFault("word-unknown", line.span, found, f"Write {either(said.told)}.")
    word = grammar.opening_word(here, said.ways[0][0], 0) if here == "load" else None
    slip = Slip(line.code_start, line.code[line.code_start :], said.whole)
    used = slip if said.whole and (here != "safety" or _warns(said.whole)) else None
    return Diagnosis(fault, word.kind if word else None, here, guessed=True, slip=used)


def _warns(line: str) -> bool:
    """True for a line of safety that can calm nobody: what it names is bypassed, nobody watches."""
    plain = line.casefold().replace("'", "").replace("’", "")
    return plain.startswith("watch nobody") or bool(pattern_for("defeated").search(plain))


def section_meant(grammar: PlanGrammar, line: SourceLine, section: str) -> str:
    """The section whose word opens the line: this one, or else the first that has such a word."""
    for place in (section, *SECTIONS):
        word = grammar.opening_word(place, line.code, line.code_start)
        if word and (place == section or word.kind not in _NONE):
            return place
    return section


# -- the first word ---------------------------------------------------------------------------


def _bare_rate(grammar: PlanGrammar, line: SourceLine, section: str) -> Diagnosis | None:
    """A line of a table whose rate has no unit: `150 to 1100 C`; None for any other."""
    met = with_its_rate(grammar, line, section)
    if met is None:
        return None
    number, lines = met
    span = Slip(line.code.index(number, line.code_start), number).span(line)
    found = f"{shown(number)} has no unit."
    fault = TextFault("unit-missing", span, found, f"Write {either(lines)}.")
    return Diagnosis(fault, "RATE", section)


def _unknown_opening(grammar: PlanGrammar, line: SourceLine, section: str) -> Diagnosis:
    """The line begins with nothing that may begin a line here."""
    places = (section, *(one for one in SECTIONS if one != section))
    near = (_misspelt_opening(grammar, line, one, whole=one != section) for one in places)
    misspelt = next(filter(None, near), None)
    return misspelt or _other_text(grammar, line, section)


def _misspelt_opening(
    grammar: PlanGrammar, line: SourceLine, section: str, *, whole: bool = False
) -> Diagnosis | None:
    """The line begins with a slip for a word that may open a line of the section.

    Where it must be `whole` the line is right but for that.
    """
    code, start = line.code, line.code_start
    if not _WORD.match(code, start):
        return None
    terminals = [
        one
        for rule, firsts in grammar.openings[section].items()
        for one in grammar.terminals_of(rule)
        if one in firsts
    ]
    near = _nearest_terminal(grammar, code[start:], list(dict.fromkeys(terminals)))
    if near is None or trade_words().is_spelling(near[0]):
        return None  # `lead` is no slip for `load`
    slip, terminal = Slip(start, near[0], near[1]), near[2]
    if whole and not grammar.is_right(slip.mended(code), section):
        return None
    fault = TextFault(
        "word-unknown",
        slip.span(line),
        f"{shown(slip.written)} is no word of a plan; the nearest is `{slip.meant}`.",
        f"Write `{slip.meant}`, or put # before a remark.",
        grammar.right_line(section, terminal).to_copy,
    )
    return Diagnosis(fault, terminal, section, guessed=True, slip=slip)


def _other_text(grammar: PlanGrammar, line: SourceLine, section: str) -> Diagnosis:
    """Nothing is known of the line: what may begin one here, and where other text may stand."""
    told = None if still_to_fill_in(line) else other_text_answered(grammar, line, section)
    if told:
        return Diagnosis(told, None, section, other_text=True)
    code, start = line.code, line.code_start
    found = _WORD.match(code, start)
    text = found[0] if found else code[start:].split()[0]
    words: dict[str, None] = {}
    for rule, firsts in grammar.openings[section].items():
        if rule not in HEADINGS:
            first = next((one for one in grammar.terminals_of(rule) if one in firsts), "")
            words.setdefault(grammar.words.get(first, ("",))[0])
    offered = [f"`{word}`" for word in words if word]
    more = "and so on" if len(offered) > _MOST_OPENINGS else ""
    listed = ", ".join([*offered[:_MOST_OPENINGS], more]) if more else either(offered)
    fault = TextFault(
        "word-unknown",
        Slip(start, text).span(line),
        f"No line of the {section} section begins with {shown(text)}.",
        f"Begin it with {listed}; put # before a remark.",
    )
    return Diagnosis(fault, None, section, other_text=True)


def _nearest_terminal(
    grammar: PlanGrammar, rest: str, terminals: list[str]
) -> tuple[str, str, str] | None:
    """What is written at the start of `rest`, the word most like it, and its terminal.

    A spelling of two or three words is compared with as many words of the line, and a hyphen is a
    blank in both.
    """
    words = {
        folded(word): (word, terminal)
        for terminal in terminals
        for word in grammar.words.get(terminal, ())
        if len(word) > 1  # one letter or sign is like too many others
    }
    for count, several in _WORDS.items():
        found = several.match(rest)
        written = folded(found[0].replace("_", " ")) if found else ""
        meant = found and nearest(written, (one for one in words if one.count(" ") == count - 1))
        if found and meant:
            word, terminal = words[meant]
            # The first spelling of the word, where it is near enough too.
            first = grammar.words[terminal][0]
            return found[0], first if nearest(written, [folded(first)]) else word, terminal
    return None


# -- further on -------------------------------------------------------------------------------


def _further_on(
    grammar: PlanGrammar,
    line: SourceLine,
    section: str,
    stuck: Stuck,
    reached: Temperature | None,
) -> Diagnosis:
    """The line began well and goes wrong further on: the first of these slips that it may be."""
    code, at, accepts, opened = line.code, stuck.at, stuck.accepts, stuck.read[0]
    rest, like = code[at:], grammar.right_line(section, opened)
    # What the right line has from here on, if both go the same way so far.
    right = grammar.how_far(like.right, section).read
    expected = right[len(stuck.read) :] if right[: len(stuck.read)] == stuck.read else ()
    rules = grammar.rules_opened_by(section, opened)
    terminals = in_order(grammar, accepts, rules, expected)
    choices = may_stand(grammar, terminals, expected)
    measures = accepts & MEASURES.keys()

    def told(
        written: str,
        found: str,
        repair: str,
        meant: str | None = None,
        rule: str = "line-unclear",
        copy: str = like.to_copy,
    ) -> Diagnosis:
        slip = Slip(at, written, meant or "")
        fault = TextFault(rule, slip.span(line), found, repair, copy)
        return Diagnosis(fault, opened, section, slip=None if meant is None else slip)

    if not rest:
        found, repair = "The line stops too early.", f"Go on with {choices}."
        fault = TextFault("line-unfinished", line.span, found, repair, like.to_copy)
        return Diagnosis(fault, opened, section)
    near = expected[:1] != ("NAME",) and _nearest_terminal(grammar, rest, terminals)
    if near and (near[1].startswith(near[0]) or not trade_words().is_spelling(near[0])):
        written, meant, _ = near
        found = f"{shown(written)} can't stand here; the nearest right word is `{meant}`."
        return told(written, found, f"Write `{meant}`.", meant)
    if "NAME" in accepts and len(accepts) <= _FEW:
        below = opened.lower() if "section" in rules else ""
        named = quoted_instead(grammar, code, at, section, len(accepts) == 1, below)
        name, whole = named or ("", "")
        # A heading names a place or a thing: a number alone is no name of one, nor is what could be
        # a line below it.
        is_other = "section" in rules and (
            not re.search(r"[^\W\d_]", name) or grammar.is_right(name, opened.lower())
        )
        if named and not is_other:
            repair, copy = f"Write {quoted(name)}.", whole or like.to_copy
            diagnosis = told(name, "A name stands in quotes.", repair, quoted(name), copy=copy)
            words = [word for one in rules for word in grammar.spellings_of(one)]
            plain = accepts == {"NAME"} and whole and " " not in name and "section" not in rules
            known = trade_words().is_spelling(name) or nearest(name, words)
            return evolve(diagnosis, plain=bool(plain) and not known)
    value = _known_value(grammar, rest)
    if value and value[1] == "an angle" and accepts & {"TEMPERATURE", "RATE"}:
        value = None  # `100 degrees` is half a temperature
    comma = None if value else _DECIMAL_COMMA.match(rest)
    if comma and (measures or "NUMBER" in accepts):
        figures = comma[0].replace(",", ".")
        found = f"`{comma[0]}` has a comma for a point."
        return told(comma[0], found, f"Write `{figures}`.", figures)
    number = None if value else bare_number(rest)
    letters = _FIGURES_AND_LETTERS.match(rest)
    if number and measures and not (letters and re.search("[Oo]", letters[0])):
        drying = reached is not None and reached.celsius < _DRYING
        usual = _HOLD_AT_HEAT if opened == "HOLD" and not drying else like.right
        rule, text, found, repair = without_unit(rest, number, terminals, usual)
        lines = with_degrees(grammar, code, section, fewest=2)
        repair = f"Write {either(lines)}." if lines else repair
        return told(text, found, repair, rule=rule)
    text = value[0] if value else letters[0] if letters else _first_thing(rest)
    if _FIGURES_AND_LETTERS.fullmatch(text) and (measures or accepts & {"CONE_NUMBER", "COUNT"}):
        figures = text.translate(_FIGURES)
        found = f"`{text}` has a letter among its figures."
        return told(text, found, f"Write `{figures}`.", figures)
    complete = "$END" in accepts
    joint = _JOINING.match(rest)
    begins = at + joint.end() if joint else at
    other = grammar.opening_word(section, code, begins) if complete else None
    if other and other.end < len(code):
        found = f"A line says one thing, and `{code[begins : other.end]}` begins another."
        repair = f"Write {shown(code[begins:])} on a line of its own."
        return told(code[at : other.end], found, repair)
    # Without the word that can't stand here a line that is complete may be right.
    without = "" if complete else None
    if accepts == {"$END"} or not choices:
        found = f"The line is understood up to {shown(text)}, and no further."
        repair = "Write what follows as a line of its own, or put # before it as a remark."
        return told(text, found, repair, without)
    found = f"{shown(text)} can't stand here."
    if value:
        found = f"{shown(text)} is {value[1]}, which can't stand here."
    repair = f"Here may stand {choices}."
    if complete:
        repair = f"Go on with {choices}, or put # before it as a remark."
    return told(text, found, repair, without)


def _known_value(grammar: PlanGrammar, rest: str) -> tuple[str, str] | None:
    """The quantity or name at the start of `rest`, and what it is: right in itself, wrong here."""
    found = read(rest, 0, {*MEASURES, "NAME"})
    if found is None:
        return None
    return rest[: found.end], grammar.phrases[found.kind].partition(" such as")[0]


def _first_thing(rest: str) -> str:
    """The word, number or sign at the start of `rest`."""
    found = _THING.match(rest)
    return found[0] if found else rest[:1]
