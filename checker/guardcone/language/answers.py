"""What people write that is no line of a plan, and the right lines with which it is answered."""

import re
from collections.abc import Mapping
from functools import cache

from attrs import frozen

from guardcone.documents import document_rows
from guardcone.language.grammar import SECTIONS, PlanGrammar
from guardcone.language.meanings import FILL_IN, pattern_for
from guardcone.language.nearest import either, listed, shown, to_write
from guardcone.language.scanner import MEASURES, folded, read
from guardcone.language.source import SourceLine, TextFault
from guardcone.span import Span
from guardcone.values import ConeNumber, UnknownCone

__all__ = ["answered", "denies", "other_text_answered", "says_of_ware", "three_cones"]

# In a phrase of the table: the words may stand anywhere in a line; alone, any line at all.
_ANYWHERE = "..."
# Words that are compared with the table together, and words of a line of which each may begin one.
_MOST_TOGETHER = 6
_MOST_LOOKED_AT = 30
_WORD = re.compile(r"[^\W_]+|[\^Δ△∆]")
_CONE_SIGN = re.compile(r"[\^Δ△∆]")
_ARTICLE = re.compile(r"\b(?:the|an?) ")
_SLOT = re.compile(r"\{(\w+)\}")
_LONGEST_NAME = 60
# The sections whose answers count everywhere, for lines of more words than so many.
_ANSWERED_ELSEWHERE = ("load", "safety")
_FEW_WORDS = 2
# So many whole lines are offered.
_MOST_LINES = 3
# What is said of ware, and words there that say nothing alone.
_OF_WARE = ("state", "wall", "form", "foot", "support", "again", "matured")
_LITTLE = frozenset({"TO", "ON"})
_CONE = r"[0-9]+(?:\.5|½)?"
_BETWEEN_CONES = "(?:and|cones?|guide|target|guard)"
_OF_CONES = re.compile(
    r"\b(?:witness|cones?|packs?|sets?|guide|target|guard|and|the|is|are|three|for|as)\b",
    re.IGNORECASE,
)
_CONES = re.compile(
    rf"(?<![\w.:/])({_CONE})" + rf"\W+(?:{_BETWEEN_CONES}\W+)*({_CONE})" * 2 + r"(?![\w.:/])"
)
# A cone with its part in a set: `6 is the target`, `guard cone 7`.
_ROLE = {
    one: re.compile(
        rf"(?<![\w.])(?:({_CONE})(?: is)?(?: for| as)?(?: the)? {one}\b"
        rf"|{one}:?(?: cone)? ({_CONE})(?![\w.]))",
        re.IGNORECASE,
    )
    for one in ("guide", "target", "guard")
}


@frozen(repr=False)
class _Answer:
    """A row of the table: its place there, what is answered, and the lines to write.

    Bars part lines of which one is meant, plus signs such as belong together. Those that keep
    nothing of what was written, because no slot is in them, are for where nothing can be kept.
    """

    place: int
    told: str
    lines: str


def _key(text: str) -> str:
    """Words as they are compared: without capitals, hyphens, articles and signs for a cone."""
    return _ARTICLE.sub("", folded(_CONE_SIGN.sub("cone ", text.replace("’", "'"))))


@cache
def _answers(section: str) -> tuple[Mapping[str, _Answer], Mapping[str, _Answer]]:
    """What is answered to the words that a line of a section begins with, and that it has in it."""
    beginning: dict[str, _Answer] = {}
    anywhere: dict[str, _Answer] = {}
    for place, row in enumerate(document_rows("grammar", "answers.csv")):
        if row["section"] == "any" or section in row["section"].split():
            answer = _Answer(place, row["answer"], row["lines"])
            for phrase in row["phrases"].split(", "):
                table = anywhere if phrase.startswith(_ANYWHERE) else beginning
                table.setdefault(_key(phrase.removeprefix(_ANYWHERE)), answer)
    return beginning, anywhere


def answered(
    grammar: PlanGrammar, line: SourceLine, section: str, *, opens: bool
) -> TextFault | None:
    """The fault of a line that people write and that is none of a plan, if there is an answer.

    Where it `opens` as a line of the section only its first words count. An answer that leaves
    nothing to be filled in comes first.
    """
    ways = (_line_within, _begins_with_words, _first_word_left_out, _has_words)
    some = (_begins_with_words,) if opens else ways
    told = [one for one in (way(grammar, line, section) for way in some) if one]
    return next((one for one in told if '"' not in one.repair), next(iter(told), None))


def _begins_with_words(grammar: PlanGrammar, line: SourceLine, section: str) -> TextFault | None:
    """The fault of a line that begins with words to which there is an answer; the longest count."""
    code, table = line.code[line.code_start :], _answers(section)[0]
    for word in reversed(list(_WORD.finditer(code))[:_MOST_TOGETHER]):
        found = table.get(_key(code[: word.end()]))
        told = found and _told(grammar, line, found, 0, word.end())
        if told:
            return told
    return None


def _has_words(grammar: PlanGrammar, line: SourceLine, section: str) -> TextFault | None:
    """The fault of a line that has words to which there is an answer; the table's first counts."""
    code, table = line.code[line.code_start :], _answers(section)[1]
    words = list(_WORD.finditer(code))[:_MOST_LOOKED_AT]
    found: list[tuple[_Answer, int, int]] = []
    for at, first in enumerate(words):
        for last in reversed(words[at : at + _MOST_TOGETHER]):
            answer = table.get(_key(code[first.start() : last.end()]))
            if answer:
                found.append((answer, first.start(), last.end()))
                break
    place = min((answer.place for answer, *_ in found), default=None)
    told = [
        told
        for answer, start, end in reversed(found)
        if answer.place == place and (told := _told(grammar, line, answer, start, end, True))
    ]
    return next((one for one in told if "fill in" not in one.repair), next(iter(told), None))


def _line_within(grammar: PlanGrammar, line: SourceLine, section: str) -> TextFault | None:
    """The fault of a line that ends as a right one: `leave to cool naturally until 95 C`.

    Only in a schedule: elsewhere a word before a line may make it another, as `remote watch`.
    """
    code = line.code[line.code_start :]
    words = list(_WORD.finditer(code))[:_MOST_LOOKED_AT] if section == "schedule" else []
    wanted = grammar.opening[section] & (grammar.words.keys() | MEASURES.keys())
    for word in words[1:]:
        before, rest = code[: word.start()], code[word.start() :]
        if re.search("[0-9]", before) or denies(before):
            return None  # what would be left out says something
        starts = read(rest, 0, wanted) and re.search("[0-9]", rest)
        offered = to_write([rest]) if starts and grammar.is_right(rest, section) else []
        if offered:
            found = f"{shown(before.strip())} says nothing in a plan, and a line stands behind it."
            repair = f"Write {offered[0]}, or put # before a remark."
            return TextFault("word-unknown", line.span, found, repair)
        if any(grammar.opening_word(one, rest, 0) for one in SECTIONS):
            return None  # likewise
    return None


def _first_word_left_out(grammar: PlanGrammar, line: SourceLine, section: str) -> TextFault | None:
    """The fault of a line that is right behind a word of the section: `until 600 C`, `shade 5`."""
    code = line.code[line.code_start :]
    if not re.search("[0-9]", code):
        return None
    words = [
        grammar.words[one][0]
        for rule, firsts in grammar.openings[section].items()
        for one in grammar.terminals_of(rule)
        if one in firsts and one in grammar.words and rule not in ("section", "accept")
    ]
    lines = [f"{word} {code}" for word in dict.fromkeys(words)]
    offered = to_write(one for one in lines if grammar.is_right(one, section))[:_MOST_LINES]
    if not offered:
        return None
    found = "The word of the trade is not there with which such a line begins."
    return TextFault("word-unknown", line.span, found, f"Write {either(offered)}.")


def other_text_answered(grammar: PlanGrammar, line: SourceLine, section: str) -> TextFault | None:
    """The fault of a line of which nothing is known, in a section that has an answer to it."""
    words = _WORD.findall(line.code[line.code_start :])
    found = _answers(section)[1].get("") if len(words) > 1 else None
    if found:
        return _told(grammar, line, found, 0, 0)
    others = [one for one in _ANSWERED_ELSEWHERE if one != section and len(words) > _FEW_WORDS]
    told = (way(grammar, line, one) for one in others for way in (_has_words, _begins_with_words))
    return next(filter(None, told), None)


def _told(
    grammar: PlanGrammar,
    line: SourceLine,
    answer: _Answer,
    start: int,
    end: int,
    anywhere: bool = False,
) -> TextFault | None:
    """The answer to words at these columns of what a line says, if any line can be offered."""
    code = line.code[line.code_start :]
    slots = {
        "words": code[start:end],
        "rest": code[end:].strip(" :,"),
        "line": code,
        "name": "" if says_of_ware(grammar, code) else code,
        **three_cones(code)[0],
    }
    # Words that may stand anywhere say something themselves: `pilots overnight`.
    further = code if anywhere else code[:start] + code[end:]
    more = end and "#" not in code and _WORD.search(further)
    ways: dict[str, list[str]] = {}
    for way in answer.lines.split(" | "):
        together = _filled(grammar, way, {} if denies(code) else slots)
        before = bool(re.search("[0-9]", code[:start])) and "{rest}" in way
        before = bool(before or ("{coolest}" in way and _says_more(three_cones(code)[1])))
        if together and more and (before or (not _SLOT.search(way) and FILL_IN in together[-1])):
            # What only a person can put in its place is kept behind the line.
            kept_behind = [*together[:-1], f"{together[-1]}  # {code}"]
            together = kept_behind if len(to_write(kept_behind)) == len(together) else together
        if together and (lines := to_write(together)) and len(lines) == len(together):
            ways[way] = lines
    kept = [way for way in ways if _SLOT.search(way)] or [*ways]
    if not kept:
        return None
    offered = either([listed(ways[way]) for way in kept])
    first = line.code_start + 1
    span = Span(line.number, first + start, first + end) if end else line.span
    return TextFault("word-unknown", span, answer.told, f"Write {offered}.")


def _filled(grammar: PlanGrammar, way: str, slots: Mapping[str, str]) -> list[str] | None:
    """Lines that belong together with what stands in their slots; None where one is not right."""
    lines = []
    for line in way.split(" + "):
        wanted = _SLOT.findall(line)
        if not all(slots.get(name) for name in wanted):
            return None
        filled = _SLOT.sub(lambda slot: slots[slot[1]], line)
        if wanted and not (_is_name(line, slots, wanted) or grammar.is_right_somewhere(filled)):
            return None
        lines.append(filled)
    return lines


def _is_name(line: str, slots: Mapping[str, str], wanted: list[str]) -> bool:
    """True where each slot of a line is a name, and what stands in it can be one."""
    return all(
        f'"{{{name}}}"' in line
        and len(slots[name]) <= _LONGEST_NAME
        and not re.search('["“”„`#{}]', slots[name])
        for name in wanted
    )


def says_of_ware(grammar: PlanGrammar, code: str) -> bool:
    """True for words such as `sealed` or `nested`, which would say nothing within a name."""
    wanted = {one for rule in _OF_WARE for one in grammar.terminals_of(rule)} - _LITTLE
    starts = (word.start() for word in list(_WORD.finditer(code))[:_MOST_LOOKED_AT])
    return any(read(code, at, wanted & grammar.words.keys()) for at in starts)


def denies(text: str) -> bool:
    """True for words by which something is not so: they must not become a line that says it is."""
    plain = text.casefold().replace("'", "").replace("’", "")
    return bool(pattern_for("denied").search(plain))


def three_cones(text: str) -> tuple[dict[str, str], str]:
    """The cones that are named, if they are just three, by their heat; and the text without them.

    There is no other number in the text, or each is told its part; else nothing is known, and the
    text is whole.
    """
    roles = {one: list(_ROLE[one].finditer(text)) for one in _ROLE}
    if all(len(one) == 1 for one in roles.values()):
        return _cones_of_roles(text, {role: met[0] for role, met in roles.items()})
    named = _CONES.search(text)
    if named is None or re.search("[0-9]", text[: named.start()] + text[named.end() :]):
        return {}, text
    try:
        cones = sorted({ConeNumber.read(number): number for number in named.groups()}.items())
    except UnknownCone:
        return {}, text
    names = [number for _, number in cones]
    if len(names) != 3:
        return {}, text
    left = text[: named.start()] + " " * len(named[0]) + text[named.end() :]
    return dict(zip(("coolest", "middle", "hottest"), names, strict=True)), left


def _says_more(text: str) -> bool:
    """True where a text of cones says more than that they are cones of a set."""
    return bool(_WORD.search(_OF_CONES.sub(" ", text)))


def _cones_of_roles(text: str, roles: Mapping[str, re.Match[str]]) -> tuple[dict[str, str], str]:
    """The cones that have their parts told, and the rest of the text; nothing out of order."""
    told = [next(filter(None, roles[one].groups())) for one in ("guide", "target", "guard")]
    try:
        cones = [ConeNumber.read(one) for one in told]
    except UnknownCone:
        return {}, text
    if not cones[0] < cones[1] < cones[2]:
        return {}, text
    for met in roles.values():
        text = text[: met.start()] + " " * len(met[0]) + text[met.end() :]
    return dict(zip(("coolest", "middle", "hottest"), told, strict=True)), text
