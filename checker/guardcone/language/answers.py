"""What people write that is no line of a plan, and the right lines with which it is answered."""

import re
from collections.abc import Iterator
from functools import cache

from guardcone.documents import document_rows
from guardcone.language.grammar import SECTIONS, PlanGrammar
from guardcone.language.nearest import either
from guardcone.language.scanner import folded
from guardcone.language.source import SourceLine, TextFault
from guardcone.span import Span

__all__ = ["answered"]

# Words of which the beginning of a line is compared with the table.
_MOST_WORDS = 4


@cache
def _answers(section: str) -> dict[str, tuple[str, str]]:
    """What is written in a section: what is answered, and the right lines, parted by bars."""
    return {
        folded(phrase): (row["answer"], row["lines"])
        for row in document_rows("grammar", "answers.csv")
        if row["section"] in (section, "any")
        for phrase in row["phrases"].split(", ")
    }


def answered(grammar: PlanGrammar, line: SourceLine, section: str) -> TextFault | None:
    """The fault of a line that begins with words to which there is an answer; the longest count."""
    code = line.code[line.code_start :]
    for word in reversed(list(re.finditer(r"[^\W_]+", code))[:_MOST_WORDS]):
        found = _answers(section).get(folded(code[: word.end()]))
        offered = list(_right_lines(grammar, found[1], code[word.end() :])) if found else []
        if found and offered:
            end = line.code_start + word.end() + 1
            repair = f"Write {either([f'`{one}`' for one in offered])}."
            span = Span(line.number, line.code_start + 1, end)
            return TextFault("word-unknown", span, found[0], repair)
    return None


def _right_lines(grammar: PlanGrammar, lines: str, rest: str) -> Iterator[str]:
    """Those of the lines that can be read, with what stands behind the words in its place."""
    rest = rest.strip(" :,")
    for line in lines.split(" | "):
        right = line.replace("{rest}", rest)
        if right == line or (rest and any(grammar.is_right(right, one) for one in SECTIONS)):
            yield right
