"""Why a line can't be read: what was found, what may stand there, one right line."""

import re

from attrs import frozen
from lark import UnexpectedInput

from guardcone.language.faults import OutOfSense, TextFault
from guardcone.language.grammar import SECTIONS, PlanGrammar
from guardcone.language.nearest import nearest
from guardcone.language.source import SourceLine
from guardcone.span import Span

__all__ = ["Diagnosis", "diagnose"]

_WORD = re.compile(r"[^\W\d_][\w'-]*")
_NUMBER = re.compile(r"[-+−]?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?(?:[½¼¾])?")
_HALF_UNIT = re.compile(
    r"\s*(?:°|º|deg(?:ree)?s?\b\.?)?\s*(?:(?:/|per\b|an\b)\s*(?:h\w*|m\w*))?", re.I
)
_WITH_UNIT = (
    "TEMPERATURE",
    "RATE",
    "DURATION",
    "LENGTH",
    "VOLUME",
    "POWER",
    "MASS_AMOUNT",
    "ANGLE",
)
_NEGATION = {"NOT", "NO"}
# Enough to see what may stand there; past this a list of words helps nobody.
_MOST_CHOICES = 7


@frozen
class _Stuck:
    """How far a line could be read: the column (from 0), the terminals that may stand there."""

    at: int
    accepts: frozenset[str]
    read: tuple[str, ...]


def _stuck_at(grammar: PlanGrammar, code: str, section: str) -> _Stuck | OutOfSense:
    """Read the line again, step by step, up to the place where it goes wrong."""
    interactive = grammar.parser.parse_interactive(code, start=f"{section}_line")
    read: list[str] = []
    last_end = 0
    try:
        for token in interactive.iter_parse():
            read.append(token.type)
            last_end = token.end_pos or last_end
        at = len(code)
    except OutOfSense as error:
        return error
    except UnexpectedInput as error:
        at = error.pos_in_stream if error.pos_in_stream is not None else last_end
    accepts: set[str] = interactive.accepts()  # type: ignore[no-untyped-call]
    return _Stuck(at, frozenset(accepts), tuple(read))


@frozen
class Diagnosis:
    """A fault, with the terminal its first word was meant to be and the section that has it."""

    fault: TextFault
    terminal: str | None
    section: str


def diagnose(grammar: PlanGrammar, line: SourceLine, section: str) -> Diagnosis:
    """The fault of a line that can't be read in this section."""
    section = _section_meant(grammar, line, section)
    stuck = _stuck_at(grammar, line.code, section)
    if isinstance(stuck, OutOfSense):
        first = _opening_terminal(grammar, line, section)
        right = grammar.example_of.get((section, first or ""), "")
        fault = TextFault(stuck.rule, stuck.span, stuck.found, stuck.repair, right)
        return Diagnosis(fault, first, section)
    if not stuck.read:
        return _unknown_opening(grammar, line, section)
    first = stuck.read[0]
    right = grammar.example_of.get((section, first), "")
    return Diagnosis(_within(grammar, line, stuck, right), first, section)


def _section_meant(grammar: PlanGrammar, line: SourceLine, section: str) -> str:
    """The section whose word opens the line: this one, or else the first that has such a word."""
    for place in (section, *SECTIONS):
        if _opening_terminal(grammar, line, place):
            return place
    return section


def _opening_terminal(grammar: PlanGrammar, line: SourceLine, section: str) -> str | None:
    found = _WORD.match(line.code, line.code_start)
    if not found:
        return None
    rest = line.code[line.code_start :].lower()
    for terminal in grammar.opening[section]:
        for word in grammar.words.get(terminal, ()):
            if re.match(re.escape(word.lower()) + r"(?!\w)", rest):
                return terminal
    return None


def _unknown_opening(grammar: PlanGrammar, line: SourceLine, section: str) -> Diagnosis:
    """The line begins with nothing that may begin a line here."""
    found = _WORD.match(line.code, line.code_start)
    text = found[0] if found else line.code[line.code_start :].split()[0]
    span = Span(line.number, line.code_start + 1, line.code_start + 1 + len(text))
    for place in (section, *SECTIONS) if found else ():
        meant = _nearest_terminal(grammar, text, grammar.opening[place])
        if meant:
            word, terminal = meant
            fault = TextFault(
                "word-unknown",
                span,
                f"`{text}` is no word of a plan; the nearest is `{word}`.",
                f"Write `{word}`, or put # before a remark.",
                grammar.example_of.get((place, terminal), ""),
            )
            return Diagnosis(fault, terminal, place)
    words = [
        f"`{grammar.words[terminal][0]}`"
        for terminal in sorted(grammar.opening[section] - grammar.headings)
        if terminal in grammar.words
    ]
    fault = TextFault(
        "word-unknown",
        span,
        f"`{text}` is no word that begins a line of the {section} section.",
        f"Begin the line with {_either(words)}, or put # before a remark.",
    )
    return Diagnosis(fault, None, section)


def _nearest_terminal(
    grammar: PlanGrammar, text: str, terminals: frozenset[str]
) -> tuple[str, str] | None:
    """The word most like `text` among the spellings of these keywords, and its terminal.

    The first spelling of a keyword is preferred to its other spellings.
    """
    for most in (1, None):
        words = {
            word: terminal
            for terminal in sorted(terminals)
            for word in grammar.words.get(terminal, ())[:most]
        }
        meant = nearest(text, words)
        if meant:
            return meant, words[meant]
    return None


def _within(grammar: PlanGrammar, line: SourceLine, stuck: _Stuck, right: str) -> TextFault:
    """The line began well and goes wrong further on."""
    code = line.code
    may_stand = _choices(grammar, stuck.accepts)
    if stuck.at >= len(code):
        return TextFault(
            "line-unfinished",
            line.span,
            "The line stops too early.",
            f"Go on with {may_stand}.",
            right,
        )
    rest = code[stuck.at :]
    units = [terminal for terminal in _WITH_UNIT if terminal in stuck.accepts]
    number = _NUMBER.match(rest)
    if number and units and not _known_value(grammar, rest):
        return _without_unit(grammar, line, stuck, number[0], units, right)
    text = _known_value(grammar, rest) or _first_thing(rest)
    span = Span(line.number, stuck.at + 1, stuck.at + 1 + len(text))
    meant = _nearest_terminal(grammar, text, stuck.accepts) if _WORD.match(text) else None
    found = f"`{text}` can't stand here."
    if meant:
        found = f"{found[:-1]}; the nearest right word is `{meant[0]}`."
    if stuck.accepts == {"$END"}:
        return TextFault(
            "line-unclear",
            span,
            f"The line is complete before `{text}`.",
            "One fact stands on a line: take it away, or move it to a line of its own.",
            right,
        )
    return TextFault("line-unclear", span, found, f"Here may stand {may_stand}.", right)


def _without_unit(
    grammar: PlanGrammar,
    line: SourceLine,
    stuck: _Stuck,
    number: str,
    units: list[str],
    right: str,
) -> TextFault:
    """A bare number where the unit decides what it means: never guessed."""
    rest = line.code[stuck.at :]
    half = _HALF_UNIT.match(rest, len(number))
    text = rest[: half.end()].rstrip() if half else number
    unknown = re.match(r"\s*([^\s,;\d]+)", rest[len(text) :])
    span = Span(line.number, stuck.at + 1, stuck.at + 1 + len(text))
    kinds = _either([grammar.phrases[terminal] for terminal in units])
    if text != number:
        found = f"`{text}` does not say Celsius or Fahrenheit."
    elif unknown and not _is_word_of_plans(grammar, unknown[1]):
        text = rest[: len(number) + unknown.end()]
        span = Span(line.number, stuck.at + 1, stuck.at + 1 + len(text))
        found = f"`{text}` has no unit that fits here."
    else:
        found = f"`{number}` has no unit."
    return TextFault("unit-missing", span, found, f"Write {kinds}.", right)


def _is_word_of_plans(grammar: PlanGrammar, word: str) -> bool:
    return any(word.lower() == known.lower() for words in grammar.words.values() for known in words)


def _known_value(grammar: PlanGrammar, rest: str) -> str:
    """The quantity or name at the start of `rest`, if one is there: right in itself, wrong here."""
    best = ""
    for terminal in grammar.parser.terminals:
        if terminal.name in _WITH_UNIT or terminal.name == "NAME":
            found = re.match(terminal.pattern.to_regexp(), rest)
            if found and len(found[0]) > len(best):
                best = found[0]
    return best


def _first_thing(rest: str) -> str:
    """The word, number or sign at the start of `rest`."""
    found = _WORD.match(rest) or re.match(r"[^\s,;\"“”#]+", rest) or re.match(r"\S", rest)
    return found[0] if found else rest[:1]


def _choices(grammar: PlanGrammar, accepts: frozenset[str]) -> str:
    """What may stand here, in words; values first, then words, a comma only if nothing else."""
    values = [
        grammar.phrases[terminal] for terminal in sorted(accepts) if terminal in grammar.phrases
    ]
    words = [
        f"`{grammar.words[terminal][0]}`"
        for terminal in sorted(accepts)
        if terminal in grammar.words and terminal not in _NEGATION
    ]
    choices = values + words
    if not choices:
        return "a comma" if "COMMA" in accepts else "nothing more"
    if len(choices) > _MOST_CHOICES:
        return ", ".join(choices[:_MOST_CHOICES]) + " and others"
    return _either(choices)


def _either(choices: list[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    if len(choices) < 2:
        return "".join(choices)
    return ", ".join(choices[:-1]) + " or " + choices[-1]
