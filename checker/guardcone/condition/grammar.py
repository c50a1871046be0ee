"""Condition text becomes a tree, by grammar/condition.lark."""

from functools import cache
from typing import Any, cast

from attrs import frozen
from lark import Lark, Token, Transformer, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from guardcone.documents import document_text
from guardcone.language.nearest import did_you_mean

__all__ = ["Mistake", "Part", "bare_name", "ends_of", "parse_condition", "reserved_words", "wrong"]

# A part of a condition as written, named by its rule of the grammar.
Part = Tree[Any]

# Deeper nesting than this is no condition that a person reads aloud; it also keeps every walk
# through a condition far from Python's own limit.
_DEEPEST = 40


@frozen(repr=False)
class Mistake(Exception):
    """What is wrong with a condition, at characters `start` to `end` of its text (from 0)."""

    start: int
    end: int
    message: str
    hint: str = ""

    def __str__(self) -> str:
        return f"{self.start}-{self.end}: {self.message}" + (f" ({self.hint})" if self.hint else "")


class _Words(Transformer[Token, Any]):
    """Makes one token of a name of several words, and of the words of a comparison."""

    def name(self, words: list[Token]) -> Token:
        """`witness set`, or `at least`, as one."""
        first, last = words[0], words[-1]
        return Token("NAME", " ".join(words), first.start_pos, end_pos=last.end_pos)

    order = name

    def comparative(self, words: list[Token]) -> Token:
        """The one word it is made of."""
        return words[0]

    state = quantifier = comparative


@cache
def _parser() -> Lark:
    return Lark(
        document_text("grammar", "condition.lark"),
        parser="lalr",
        transformer=_Words(),
        propagate_positions=True,
        maybe_placeholders=True,
    )


@cache
def reserved_words() -> frozenset[str]:
    """The words of the condition language itself, which no fact, limit or subject may be named."""
    plain = (terminal.pattern.value for terminal in _parser().terminals)
    return frozenset(word for word in plain if word.isalpha() and word.islower())


def parse_condition(text: str) -> Part:
    """The tree of a condition, or of a slot without its braces; raises Mistake."""
    if not text.strip():
        raise Mistake(0, max(len(text), 1), "nothing is written here", "write a condition")
    try:
        tree = _parser().parse(text)
    except UnexpectedInput as unexpected:
        raise _mistake(text, unexpected) from None
    if _too_deep(tree):
        raise Mistake(0, len(text), "this is nested too deep to be read aloud")
    return cast(Part, tree.children[0])


def ends_of(part: Part | Token) -> tuple[int, int]:
    """The first character of a part, counted from 0, and the one after its last."""
    place = part if isinstance(part, Token) else part.meta
    return place.start_pos or 0, place.end_pos or 0


def bare_name(part: Part) -> str | None:
    """The name, where a part is one name and no more."""
    return str(part.children[0]) if part.data == "path" and len(part.children) == 1 else None


def wrong(part: Part | Token, message: str, hint: str = "") -> Mistake:
    """What is wrong with a part of a condition, at its place."""
    return Mistake(*ends_of(part), message, hint)


def _too_deep(tree: Tree[Token]) -> bool:
    level = [tree]
    for _ in range(_DEEPEST):
        level = [child for node in level for child in node.children if isinstance(child, Tree)]
    return bool(level)


def _mistake(text: str, unexpected: UnexpectedInput) -> Mistake:
    if isinstance(unexpected, UnexpectedCharacters):
        at = min(unexpected.pos_in_stream or 0, max(len(text) - 1, 0))
        allowed: set[str] = unexpected.allowed or set()
        found = text[at:].split(maxsplit=1)[0] if text[at:].strip() else text[at]
        return Mistake(at, at + len(found), f"{found!r} cannot stand here", _expected(allowed))
    assert isinstance(unexpected, UnexpectedToken)
    token, names = unexpected.token, unexpected.accepts or unexpected.expected
    if token.type == "$END":
        end = len(text.rstrip())
        return Mistake(max(end - 1, 0), end, "the condition stops too early", _expected(names))
    start, _ = ends_of(token)
    hint = _near_keyword(text[:start]) or _mixture(token) or _expected(names)
    return Mistake(start, start + len(token), f"{str(token)!r} cannot stand here", hint)


def _near_keyword(before: str) -> str:
    """A misspelled word of the language is read as a name, and trouble shows at the next word."""
    last = before.split()[-1] if before.split() else ""
    if last in reserved_words() or not last.isalpha():
        return ""
    return did_you_mean(last, reserved_words())


def _mixture(token: Token) -> str:
    if token.type == "OR":
        return "put the parts with `and` in parentheses before joining them with `or`"
    return ""


_PLAIN = {
    "WORD": "a name",
    "MEASURE": "an amount with its unit",
    "NUMBER": "a number",
    "CONE": "a cone",
    "TEXT": 'a text in "quotes"',
    "LPAR": "(",
    "RPAR": ")",
    "$END": "the end",
}


def _expected(names: "set[str] | frozenset[str]") -> str:
    """What may stand here, in words; long lists are cut to the kinds of things."""
    spelled = {terminal.name: terminal.pattern.value for terminal in _parser().terminals}
    known = [_PLAIN.get(name) or spelled.get(name, "") for name in sorted(names) if name != "WS"]
    if len(known) > 8:
        known = [_PLAIN[name] for name in sorted(names) if name in _PLAIN]
    return f"here may stand {', '.join(word for word in known if word)}" if known else ""
