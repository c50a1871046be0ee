"""The words of a line in canonical spelling: each token anew, from its terminal and its value."""

import re
from contextlib import suppress
from datetime import date, time
from functools import lru_cache
from unicodedata import normalize

from attrs import evolve, frozen

from guardcone.language import Quoted
from guardcone.language.grammar import PlanGrammar, plan_grammar
from guardcone.language.line_parser import Misread
from guardcone.language.scanner import SIGNS, read
from guardcone.language.source import OutOfSense
from guardcone.language.tokens import Amperes, Count, Number, Token, Volts
from guardcone.values import Duration, Quantity, number_at
from guardcone.values.units import every_digit

__all__ = ["Word", "words_of"]


@frozen(repr=False)
class Word:
    """A token in canonical spelling, with the articles before it and the comma after it.

    `meaning` is what the token says, for comparing: equal before and after, or the line is not
    tidied. It holds no place, and the unit that a quantity was written in. `first_spelling` is what
    stands for the token where it is the label of its line: `hold` for `soak`. `written` is how it
    stands in the line, from column `start` (from 0), and `sign` what stands there for the comma,
    with the blanks before it.
    """

    terminal: str
    text: str
    meaning: str
    first_spelling: str
    written: str
    start: int
    sign: str = ""

    @property
    def end(self) -> int:
        """The column behind the word and its sign."""
        return self.start + len(self.written) + len(self.sign)


_ARTICLE = re.compile(r"\b(?:the|an|a)\b", re.IGNORECASE)
_FRACTION_SIGN = re.compile("[¼-¾⅐-⅞]")


@lru_cache(maxsize=1024)
def words_of(code: str, section: str) -> tuple[Word, ...] | None:
    """The words of a line, comment left out, as read in this section; None if it can't be read."""
    grammar = plan_grammar()
    words: list[Word] = []
    end = 0
    try:
        for token in grammar.reading(section).tokens(code, grammar.values):
            found = [*_ARTICLE.finditer(code, end, token.start)]
            start = found[0].start() if found else token.start
            articles = [article[0].lower() for article in found]
            end = token.start + len(token)
            if token.kind in SIGNS and words:
                last = words[-1]  # the grammar takes all of these for a comma
                words[-1] = evolve(
                    last,
                    text=f"{last.text},",
                    meaning=f"{last.meaning},",
                    sign=last.sign + code[last.end : end],
                )
                continue
            text = " ".join([*articles, _spelled(grammar, token)])
            first = " ".join([*articles, *grammar.words.get(token.kind, (text,))[:1]])
            meaning = f"{token.kind} {token.value.value}"
            words.append(Word(token.kind, text, meaning, first, code[start:end], start))
    except (Misread, OutOfSense):
        return None
    return tuple(words)


def _spelled(grammar: PlanGrammar, token: Token) -> str:
    """The canonical spelling, if it says the same; else the token with its blanks made single."""
    if token.kind in grammar.words:
        return _same_word(grammar.words[token.kind], token)
    if token.kind == "DASH":
        return "-"
    value = token.value.value
    spelling = _with_fraction(token, value) or _spelling_of(value)
    again = read(spelling, 0, {token.kind})
    same = False
    if again is not None and again.end == len(spelling):
        with suppress(OutOfSense):
            other = grammar.values.written(Token(token.kind, spelling), again.value).value
            same = (type(other), other, str(other)) == (type(value), value, str(value))
    return spelling if same else " ".join(token.split())


def _with_fraction(written: str, value: object) -> str | None:
    """A measure that was written with a fraction, as `1 1/2 in`: no potter thinks in 0.1875 in.

    None for any other value. Hours and minutes need no fraction.
    """
    if not isinstance(value, Quantity) or isinstance(value, Duration):
        return None
    found = number_at(written, 0)
    number = written[: found[0]] if found else ""
    if not re.search("[/⁄]", number) and not _FRACTION_SIGN.search(number):
        return None
    number = _FRACTION_SIGN.sub(lambda sign: " " + normalize("NFKC", sign[0]), number)
    number = re.sub(r"\s*[/⁄]\s*", "/", number)
    number = re.sub(r"(?<=[0-9])[\s-]+", " ", number).strip()
    return f"{number} {value.unit.plain}"


def _same_word(spellings: tuple[str, ...], written: str) -> str:
    """The first spelling of a keyword for any way to write that word, or a sign for it.

    Another word stays the word it is, as the grammar spells it. The program may take `electrician`
    for `licensed electrician` and `lustre` for `overglaze`, but a person who reads the tidied plan
    must not find a claim in it that nobody made.
    """
    letters = _letters(written)
    if letters in ("", _letters(spellings[0])):
        return spellings[0]
    return next((word for word in spellings if _letters(word) == letters), written.lower())


def _letters(word: str) -> str:
    return re.sub(r"[^a-z]", "", word.lower())


def _spelling_of(value: object) -> str:
    match value:
        case Quantity():
            return value.plain()
        case Quoted():
            return f'"{value}"'
        case Volts():
            return f"{every_digit(float(value))} V"
        case Amperes():
            return f"{every_digit(float(value))} A"
        case Number():
            return every_digit(float(value))
        case Count():
            return f"{value:d}"
        case time():
            return f"{value:%H:%M}"
        case date():
            return value.isoformat()
    return str(value)
