"""A name that somebody wrote without its quotes."""

import re

from lark import UnexpectedInput

from guardcone.language.faults import OutOfSense
from guardcone.language.grammar import PlanGrammar
from guardcone.language.words import trade_words

__all__ = ["quoted_instead"]

_UNQUOTED = re.compile(r"\w[^\s,;\"“”„#]*(?:\s+\w[^\s,;\"“”„#]*)*")
_MOST_WORDS = 8


def quoted_instead(
    grammar: PlanGrammar, code: str, at: int, section: str, sure: bool
) -> tuple[str, str] | None:
    """The words from column `at` (from 0) that make a name, and the line with quotes about them.

    The line is empty where quotes alone do not make it right; None if no word stands there, or only
    a number, unless it is `sure` that a name is wanted.
    """
    found = _UNQUOTED.match(code, at)
    if not found or not (sure or any(letter.isalpha() for letter in found[0])):
        return None
    words = list(re.finditer(r"\S+", found[0]))[:_MOST_WORDS]
    # The shortest name that leaves the rest of the line right: `watch duty potter from 15:00 ...`.
    for word in words:
        name = found[0][: word.end()]
        line = f'{code[:at]}"{name}"{code[at + len(name) :]}'
        try:
            grammar.parse(line, section)
        except (UnexpectedInput, OutOfSense):
            continue
        return name, " ".join(line.split())
    return None if found[0][0].isdigit() else (_up_to_a_keyword(found[0]), "")


def _up_to_a_keyword(text: str) -> str:
    """The words before the first that the grammar knows, or all of them."""
    words = list(re.finditer(r"\S+", text))
    for word in words[1:]:
        if trade_words().is_spelling(word[0]):
            return text[: word.start()].rstrip()
    return text
