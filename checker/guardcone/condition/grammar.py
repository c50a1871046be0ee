"""Condition text becomes syntax, by grammar/condition.lark."""

from functools import cache
from typing import Any

from lark import Lark, Token, Transformer, Tree, v_args
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from guardcone.condition import syntax
from guardcone.condition.rule_faults import Mistake, did_you_mean
from guardcone.documents import document_text

__all__ = ["parse_condition", "reserved_words"]

# Deeper nesting than this is no condition that a person reads aloud; it also keeps every walk
# through a condition far from Python's own limit.
_DEEPEST = 40


class _ToSyntax(Transformer[Token, Any]):
    """Turns lark's tree into syntax, each part with its place; `_MAKERS` has the rules."""

    def start(self, parts: list[Any]) -> syntax.Node:
        root: syntax.Node = parts[0]
        return root


def _of_text(kind: type[Any]) -> Any:
    @v_args(meta=True)
    def build(_self: Any, meta: Any, parts: list[Any]) -> Any:
        return kind(meta.start_pos, meta.end_pos, str(parts[0]))

    return build


def _built(make: Any) -> Any:
    @v_args(meta=True)
    def build(_self: Any, meta: Any, parts: list[Any]) -> Any:
        return make(meta.start_pos, meta.end_pos, *parts)

    return build


def _name(start: int, end: int, *parts: Any) -> syntax.Name:
    spoken = (part.text if isinstance(part, syntax.Name) else str(part) for part in parts)
    return syntax.Name(start, end, " ".join(spoken))


def _path(start: int, end: int, *names: syntax.Name) -> syntax.Path:
    return syntax.Path(start, end, names)


def _order(start: int, end: int, *parts: Any) -> syntax.Name:
    last = next(part for part in reversed(parts) if str(part) != "than")
    return syntax.Name(start, end, last.text if isinstance(last, syntax.Name) else str(last))


def _compare(s: int, e: int, left: Any, no: Any, word: Any, right: Any) -> syntax.Compare:
    return syntax.Compare(s, e, left, no is not None, word, right)


def _one_of(s: int, e: int, left: Any, no: Any, *chosen: Token) -> syntax.OneOf:
    names = tuple(syntax.Name(_start(word), _start(word) + len(word), str(word)) for word in chosen)
    return syntax.OneOf(s, e, left, no is not None, names)


def _presence(s: int, e: int, left: Any, no: Any, state: syntax.Name) -> syntax.Presence:
    return syntax.Presence(s, e, left, (state.text == "missing") != (no is not None))


def _unquoted(s: int, e: int, quoted: Token) -> syntax.Text:
    return syntax.Text(s, e, quoted[1:-1])


def _mentions(s: int, e: int, left: Any, quoted: Token) -> syntax.Mentions:
    return syntax.Mentions(s, e, left, quoted[1:-1])


def _sign(sign: str) -> Any:
    def operation(s: int, e: int, left: Any, right: Any) -> syntax.Operation:
        return syntax.Operation(s, e, sign, left, right)

    return operation


def _quantified(s: int, e: int, word: syntax.Name, path: Any, inner: Any) -> syntax.Quantified:
    return syntax.Quantified(s, e, word.text, path, inner)


def _start(token: Token) -> int:
    return token.start_pos or 0


_MAKERS: dict[str, Any] = {
    "measure": _of_text(syntax.Measure),
    "cone": _of_text(syntax.Cone),
    "number": _of_text(syntax.Number),
    "comparative": _of_text(syntax.Name),
    "own_count": _of_text(syntax.Name),
    "quantifier": _of_text(syntax.Name),
    "state": _of_text(syntax.Name),
    "text": _built(_unquoted),
    "name": _built(_name),
    "path": _built(_path),
    "order": _built(_order),
    "compare": _built(_compare),
    "one_of": _built(_one_of),
    "presence": _built(_presence),
    "mentions": _built(_mentions),
    "quantified": _built(_quantified),
    "negation": _built(syntax.Negation),
    "group": _built(syntax.Group),
    "steps": _built(syntax.Steps),
    "next_cone": _built(syntax.NextCone),
    "count": _built(syntax.Count),
    "both": _built(lambda s, e, *parts: syntax.Both(s, e, parts)),
    "either": _built(lambda s, e, *parts: syntax.Either(s, e, parts)),
    "add": _built(_sign("+")),
    "subtract": _built(_sign("-")),
    "multiply": _built(_sign("*")),
    "divide": _built(_sign("/")),
}
for _rule, _make in _MAKERS.items():
    setattr(_ToSyntax, _rule, _make)


@cache
def _parser() -> Lark:
    return Lark(
        document_text("grammar", "condition.lark"),
        parser="lalr",
        propagate_positions=True,
        maybe_placeholders=True,
    )


@cache
def reserved_words() -> frozenset[str]:
    """The words of the condition language itself, which no fact, limit or subject may be named."""
    plain = (terminal.pattern.value for terminal in _parser().terminals)
    return frozenset(word for word in plain if word.isalpha() and word.islower())


def parse_condition(text: str) -> syntax.Node:
    """The syntax of a condition, or of a slot without its braces; raises Mistake."""
    if not text.strip():
        raise Mistake(0, max(len(text), 1), "nothing is written here", "write a condition")
    try:
        tree = _parser().parse(text)
    except UnexpectedInput as unexpected:
        raise _mistake(text, unexpected) from None
    if _too_deep(tree):
        raise Mistake(0, len(text), "this is nested too deep to be read aloud")
    root: syntax.Node = _ToSyntax().transform(tree)
    return root


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
    if isinstance(unexpected, UnexpectedToken) and unexpected.token.type != "$END":
        token = unexpected.token
        start = _start(token)
        names = unexpected.accepts or unexpected.expected
        hint = _near_keyword(text[:start]) or _mixture(token) or _expected(names)
        return Mistake(start, start + len(token), f"{str(token)!r} cannot stand here", hint)
    end = len(text.rstrip())
    accepts = getattr(unexpected, "accepts", None) or getattr(unexpected, "expected", None) or ()
    return Mistake(max(end - 1, 0), end, "the condition stops too early", _expected(set(accepts)))


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
