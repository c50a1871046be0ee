"""What a line that can't be read is to be, and what of it counts until it is."""

import re
from collections.abc import Callable

from attrs import evolve

from guardcone.language.answers import denies, says_of_ware
from guardcone.language.claims import (
    is_defeated,
    is_no_air,
    is_no_extinguisher,
    is_no_glove,
    is_no_lens,
    is_not_working,
    tells_danger,
)
from guardcone.language.diagnosis import Diagnosis, diagnose
from guardcone.language.grammar import SECTIONS, PlanGrammar
from guardcone.language.kiln_features import burns, features_of
from guardcone.language.line_statements import (
    BETWEEN,
    JOINING,
    Statement,
    all_said,
    as_statement,
    without_joint,
)
from guardcone.language.meanings import FILL_IN, is_not_there
from guardcone.language.parted_lines import TO_FILL_IN, below_heading, pieces_of
from guardcone.language.rewordings import begun_with
from guardcone.language.source import SourceLine, TextFault

__all__ = ["as_told", "said_before_fault"]

# One thing to write in place of what is marked.
_OFFERED = re.compile(r"""Write (?:`([^`]+)`|("[^"]*"))(?:, or put # before a remark)?\.$""")

# Lines to write that belong together.
_TOGETHER = re.compile(r"Write ((?:`[^`]+`(?:, | and )?){2,})(?: or .*\"fill in.*)?\.")

# A climb goes to a temperature.
_TO_CONE = re.compile(r"\bto\s+(?:cone\s*|[\^Δ△∆])(0?[0-9]+(?:\.5|½)?)(?![\w.])", re.IGNORECASE)

# Words of reduction, which are never left behind in a remark alone.
_REDUCES = re.compile(r"\breduc", re.IGNORECASE)

# Lines of safety whose words may say that what they name protects nobody.
_OF_EYES = ("EYES", "GLASSES", "SHADE")
_WARNS: dict[str, Callable[[str], bool]] = {
    "VENT": is_not_working,
    "WATCH": is_not_there,
    "CUT_OFF": is_defeated,
    "CO_ALARM": is_not_working,
    "FLAME_SAFETY": is_not_working,
    "COMBUSTION_AIR": is_no_air,
    "HANDS": is_no_glove,
    "GLOVES": is_no_glove,
    "EXTINGUISHER": is_no_extinguisher,
    **dict.fromkeys(_OF_EYES, is_no_lens),
}

# What begins as a line of a plan may be written anew where it has one of these faults.
_TO_WRITE_ANEW = ("line-unclear", "line-unfinished")

# What parts a thing from what is said of it further on.
_PARTS = re.compile(r"\s*[,;]")

# Before one more of what is said already.
_OR_ELSE = re.compile(r"[\s,]*or\b", re.IGNORECASE)

# With more slips than this in a line it is for a person to say what is meant.
_MOST_SLIPS = 4


def as_told(
    grammar: PlanGrammar,
    line: SourceLine,
    diagnosis: Diagnosis,
    here: str,
    headings: frozenset[str],
    has_kiln: bool,
) -> TextFault:
    """The fault of a line, with the line as it is to be where only one thing can be meant.

    Where the kiln has its heading, a line that begins with `kiln` says something of it.
    """
    if has_kiln and diagnosis.terminal == "KILN":
        found = "The kiln has its heading already, and this says something of it."
        repair = "Write what it says as a line of a plan, or put # before it as a remark."
        return evolve(diagnosis.fault, found=found, repair=repair, line="")
    if warned := _warning(grammar, line, here):
        repair = f"Write `{warned}`."
        return evolve(diagnosis.fault, span=line.span, repair=repair, mended=warned)
    mended = _mended(grammar, line, diagnosis, here, headings)
    return evolve(diagnosis.fault, mended=_with_all_that_warns(line, mended))


def _with_all_that_warns(line: SourceLine, mended: str) -> str:
    """What is to be in place of a line, with its remark, and with no danger left out of it."""
    lost = []
    if mended and tells_danger(line.code) and not tells_danger(mended):
        lost.append(line.code.strip())
    remark = line.comment.lstrip("# ")
    if mended and remark and remark not in mended:
        lost.append(remark)
    if not lost:
        return mended
    *before, last = mended.split("\n")
    joint = ", " if "  # " in last or last.lstrip().startswith("#") else "  # "
    return "\n".join([*before, f"{last}{joint}{', '.join(lost)}"])


def _warning(grammar: PlanGrammar, line: SourceLine, here: str) -> str:
    """A line of safety that says that something protects nobody, as a plan says that; else empty.

    So it counts: `flame safety taped down` is no line that may be put right as if it were fitted.
    """
    word = grammar.opening_word(here, line.code, line.code_start) if here == "safety" else None
    rest = re.sub('["“”„]', "", line.code[word.end :]).strip(" \t:,-") if word else ""
    if word is None or not rest or not _WARNS.get(word.kind, str.isspace)(rest):
        return ""
    if word.kind == "WATCH":
        return f"{line.code[line.code_start : word.end]} nobody  # {rest}"
    begins = "eyes" if word.kind in _OF_EYES else line.code[line.code_start : word.end]
    if word.kind == "GLOVES":
        begins, rest = "hands", line.code.strip()
    said = f'{begins} "{rest}"'
    return said if grammar.is_right(said, here) else ""


def _mended(
    grammar: PlanGrammar,
    line: SourceLine,
    diagnosis: Diagnosis,
    here: str,
    headings: frozenset[str] = frozenset(SECTIONS),
) -> str:
    """The line as it is to be, where only one thing can be meant; else empty.

    What only a person knows is left to be filled in. Words that can't stand there are for a person
    to take away. Sections of which the plan has no heading yet, as it has these, may be begun.
    """
    if here == "schedule" and (heats := _to_a_heat(grammar, line)):
        return heats
    offered = _OFFERED.match(diagnosis.fault.repair)
    if diagnosis.slip is None and offered:
        span, words = diagnosis.fault.span, offered[1] or offered[2]
        code = line.code[: span.start - 1] + words + line.code[span.end - 1 :]
        # An answer to how the line begins is the whole line; else it is a part of one.
        ways = (words, code) if span.start == line.code_start + 1 else (code, words)
        right = (one for one in ways if _is_right(grammar, line, one, diagnosis.section))
        to_fill_in = words if " " in words and FILL_IN in words else ""
        found = next(right, to_fill_in).strip()
        at_home = any(grammar.is_right(words, one) for one in SECTIONS)
        return found or (_at_home(grammar, [words], here, headings) if at_home else "")
    together = _TOGETHER.fullmatch(diagnosis.fault.repair)
    if diagnosis.slip is None and together:
        return _at_home(grammar, re.findall("`([^`]+)`", together[1]), here, headings)
    return (
        _without_slips(grammar, line, diagnosis, here)
        or below_heading(grammar, line, here, headings, _anew)
        or _two_lines(grammar, line, diagnosis, here)
        or _written_anew(grammar, line, diagnosis, here)
    )


def _anew(grammar: PlanGrammar, line: SourceLine, section: str) -> tuple[str, str]:
    """A line of a section as it is to be, and the section that it is of."""
    diagnosis = diagnose(grammar, line, section)
    return _mended(grammar, line, diagnosis, diagnosis.section), diagnosis.section


def _to_a_heat(grammar: PlanGrammar, line: SourceLine) -> str:
    """A line of a schedule that goes to a cone, with that to be filled in as a temperature."""
    if not _is_right(grammar, line, _TO_CONE.sub("to 1000 C", line.code), "schedule"):
        return ""
    return _TO_CONE.sub(r'to "fill in how hot: guardcone cones \1 tells"', line.code).strip()


def _at_home(grammar: PlanGrammar, lines: list[str], here: str, headings: frozenset[str]) -> str:
    """Lines that belong together, below a heading where they need one; empty where one stands."""
    homes = (here, *SECTIONS)
    are_right = (one for one in homes if all(grammar.is_right(line, one) for line in lines))
    home = next(are_right, here)
    word = grammar.opening_word(home, lines[0], 0)
    if word and word.kind == home.upper():
        return "\n  ".join(lines)
    if home == here:
        return "\n".join(lines)
    if home in headings:
        return ""
    return "\n  ".join((grammar.right_line(home, home.upper()).to_copy, *lines))


def _without_slips(grammar: PlanGrammar, line: SourceLine, diagnosis: Diagnosis, here: str) -> str:
    """The line with each word that was meant; empty where it is not right then."""
    for _ in range(_MOST_SLIPS):
        if diagnosis.slip is None or not diagnosis.slip.meant:
            break
        code = diagnosis.slip.mended(line.code)
        if _is_right(grammar, line, code, diagnosis.section):
            return code.strip()
        line = evolve(line, text=code, code_end=len(code))
        diagnosis = diagnose(grammar, line, here)
    return ""


def _two_lines(grammar: PlanGrammar, line: SourceLine, diagnosis: Diagnosis, here: str) -> str:
    """What is right and what begins another line, each on one: `firing glaze, starts Friday`."""
    at = diagnosis.fault.span.start - 1
    begun = without_joint(line.code[:at]).strip()
    joint = JOINING.match(line.code, at)
    rest = line.code[joint.end() if joint else at :].strip()
    if not begun or not grammar.opening_word(here, rest, 0) or not grammar.is_right(begun, here):
        return ""
    part = SourceLine(line.number, rest, 0, len(rest))
    mended = _mended(grammar, part, diagnose(grammar, part, here), here)
    return f"{begun}\n{mended}" if mended else ""


def _written_anew(grammar: PlanGrammar, line: SourceLine, diagnosis: Diagnosis, here: str) -> str:
    """What the line begins with, as a line to fill in; of ware that would lose too much."""
    if diagnosis.section != here or diagnosis.fault.rule not in _TO_WRITE_ANEW:
        return ""
    if here == "schedule":
        # What a climb is told with says nothing of it: `climb 100 C/h to 200 C with bungs out`.
        start = diagnosis.fault.span.start - 1
        begun = line.code[:start].rstrip(BETWEEN).strip()
        if _is_right(grammar, line, begun, here):
            rest = line.code[start:].lstrip(BETWEEN)
            reduced = _REDUCES.search(rest) and not denies(rest)
            more = f"\n{grammar.right_line(here, 'REDUCE').to_copy}" if reduced else ""
            return f"{begun}{more}  # {rest}"
        to_fill_in = TO_FILL_IN.get(diagnosis.terminal or "")
        if to_fill_in and not re.search("[0-9]", line.code):
            return _with_remark(to_fill_in, line)
    if kept := _without_remarks(grammar, line, here):
        return kept
    like = "" if diagnosis.terminal in ("WARE", "CLAY", "GLAZE") else diagnosis.fault.line
    return _with_remark(like, line) if FILL_IN in like else ""


def _with_remark(to_fill_in: str, line: SourceLine) -> str:
    """A line to fill in with what was written there behind it, if that was more than its word."""
    written = line.code.strip()
    return f"{to_fill_in}  # {written}" if " " in written else to_fill_in


def _without_remarks(grammar: PlanGrammar, line: SourceLine, here: str) -> str:
    """The line with what says nothing in a plan behind it: `propane, outdoors  # 1 burner`.

    Of ware that is for a person to do where it may say how damp or thick that is; of safety always.
    """
    if here not in ("kiln", "load", "witness"):
        return ""
    said, other = "", []
    for piece in (words for words, _ in pieces_of(line.code)):
        if grammar.is_right(longer := f"{said}, {piece}" if said else piece, here):
            said = longer
        else:
            other.append(piece)
    remark = ", ".join(other)
    if _REDUCES.search(remark) or (here == "kiln" and burns(grammar, remark)):
        return ""
    if here != "kiln" and (
        re.search("[0-9]", remark) or says_of_ware(grammar, remark) or denies(remark)
    ):
        return ""
    return f"{said}  # {remark}" if said else ""


def _changed(grammar: PlanGrammar, line: SourceLine, code: str, section: str) -> Statement | None:
    return as_statement(grammar, evolve(line, text=code, code_end=len(code)), section)


def _is_right(grammar: PlanGrammar, line: SourceLine, code: str, section: str) -> bool:
    return bool(all_said(grammar, evolve(line, text=code, code_end=len(code)), section))


# The lines that count as far as they can be read; of safety only that nobody watches.
_COUNTING = ("kiln_build", "ware", "clay", "glaze", "climb", "hold", "cool", "open", "reduce")


def said_before_fault(
    grammar: PlanGrammar, line: SourceLine, diagnosis: Diagnosis, here: str
) -> Statement | None:
    """What a line says up to where it can't be read, if that is whole: `propane, 4 burners`.

    So what it says already is not hidden: the fuel of a kiln, what ware is made of. Of safety it is
    taken for nothing but a warning, `watch nobody, I'll be asleep`: else half a line might calm.
    """
    if diagnosis.section != here:
        return None
    code = line.code[: diagnosis.fault.span.start - 1].rstrip(BETWEEN)
    if here == "schedule" and not code.strip():
        code = begun_with(grammar, line.code)
    said = _changed(grammar, line, code, here) if code.strip() else None
    if warned := _warning(grammar, line, here):
        return _changed(grammar, line, warned.partition("  # ")[0], here)
    if here == "safety" and said and said.word("off") and _PARTS.match(line.code, len(code)):
        return said  # what stands behind `vent off,` is why; `vent off (` may say for how long
    fuel = said.part("fuel") if said else None
    if fuel and fuel.word("electric"):
        # `electric ignition, propane` is no electric kiln: then any fuel may be meant.
        rest = line.code[len(code) :]
        if not _PARTS.match(rest) or burns(grammar, rest):
            return None
    elif fuel and features_of(grammar, line.code) is None and _OR_ELSE.match(line.code, len(code)):
        return None  # nobody knows which heats it
    return said if said and (said.name in _COUNTING or said.word("nobody")) else None
