"""Conditions and sentences are typed: the tree of a text becomes a tree of names and kinds.

What reads a text raises Mistake at characters of it for what is wrong there.
"""

import re
from collections.abc import Iterator
from typing import Any

from attrs import evolve
from lark import Token

from guardcone.condition import typed
from guardcone.condition.grammar import Mistake, Part, bare_name, ends_of, parse_condition, wrong
from guardcone.condition.kinds import (
    COMPARATIVES,
    CONE,
    FLAG,
    NUMBER,
    ORDERED,
    TEXT,
    Kind,
    Type,
    comparatives_of,
    operation,
)
from guardcone.condition.scope import LITERALS, Scope, literal, resolve, resolve_domain, said
from guardcone.condition.sentences import Choice, Piece, Slot, Wording
from guardcone.language.nearest import did_you_mean

__all__ = ["read_amount", "read_condition", "read_place", "read_slot", "read_wording"]


_DEGREES = (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE)
# The sign of each sort of arithmetic, and what is said of kinds that it does not know.
_OPERATIONS = {
    "add": ("+", "they cannot be added"),
    "subtract": ("-", "one cannot be taken from the other"),
    "multiply": ("*", "they cannot be multiplied"),
    "divide": ("/", "one cannot be divided by the other"),
}


def read_condition(text: str, scope: Scope) -> typed.Value:
    """The typed condition that `text` spells."""
    return _Typer(text, scope).condition(parse_condition(text))


def read_slot(text: str, scope: Scope) -> typed.Value:
    """The typed value of a slot, without its braces, if a sentence can print it."""
    part = parse_condition(text)
    value = _Typer(text, scope).value(part)
    if value.type.kind is Kind.FLAG or value.type.is_many:
        raise wrong(part, f"a sentence cannot print {said(value.type)}", "name a value")
    if value.type.kind is Kind.SUBJECT and scope.vocabulary.subject_of(value.type).title is None:
        raise wrong(part, f"a sentence cannot print a {value.type}", "name one of its facts")
    return value


def read_place(text: str, scope: Scope) -> typed.Value:
    """The fact or subject that a finding points at."""
    part = parse_condition(text)
    value = _Typer(text, scope).value(part)
    if not isinstance(value, typed.FactOf | typed.Single | typed.It):
        raise wrong(part, "a finding points at a fact or at a subject", "name one fact")
    if value.type.is_many:
        raise wrong(part, "there may be several of these: at which one?")
    return value


def read_amount(text: str, kind: Type | None) -> typed.Constant:
    """The one amount that `text` spells, of `kind` if one is given."""
    part = parse_condition(text)
    if part.data not in LITERALS:
        raise Mistake(0, len(text), f"{text!r} is no single amount")
    constant = literal(part, kind.kind if kind else None)
    if kind is not None and constant.type != kind:
        message = f"{text!r} is a {constant.type}, and this limit measures a {kind}"
        raise Mistake(0, len(text), message)
    return constant


class _Typer:
    """Types the parts of one condition text, which it keeps only to quote from it."""

    def __init__(self, text: str, scope: Scope) -> None:
        self._text = text
        self._scope = scope

    def _source(self, part: Part) -> str:
        """How the condition spells this part."""
        start, end = ends_of(part)
        return " ".join(self._text[start:end].split())

    def _is(self, part: Part, value: typed.Value) -> str:
        """`part` and its kind, for a sentence."""
        return f"`{self._source(part)}` is {said(value.type)}"

    def _of_kind(self, part: Part, kind: Kind, otherwise: str, hint: str = "") -> typed.Value:
        """The value of a part that must be of this kind."""
        value = self.value(part)
        if value.type.kind is not kind:
            raise wrong(part, f"{self._is(part, value)}, {otherwise}", hint)
        return value

    # --- what holds or does not ---------------------------------------------------------------

    def condition(self, part: Part) -> typed.Value:
        """A typed condition; raises Mistake."""
        children = _children(part)
        match part.data:
            case "group":
                return self.condition(children[0])
            case "negation":
                return typed.denied(self.condition(children[0]))
            case "both":
                return typed.AllOf(tuple(map(self.condition, children)))
            case "either":
                return self._either(children)
            case "compare":
                return self._compare(part)
            case "one_of":
                left, no, *words = children
                value = self._of_kind(left, Kind.WORD, "not a word out of a list")
                chosen = tuple(self._word(word, left, value) for word in words)
                return _negate(no, _one_of(value, chosen))
            case "presence":
                return self._presence(*children)
            case "mentions":
                return self._mentions(part)
            case "quantified":
                word, path, inner = children
                domain = resolve_domain(path, self._scope)
                within = self._scope.inside(self._scope.vocabulary.subject_of(domain.type))
                condition = _Typer(self._text, within).condition(inner)
                return typed.Quantified(str(word), domain, condition)
        hint = "compare it with something: ... is ..."
        return self._of_kind(part, Kind.FLAG, "which by itself says nothing", hint)

    def _either(self, parts: list[Part]) -> typed.Value:
        """`a or b`; in `state is damp or dry` the last word is said of the state too."""
        found: list[typed.Value] = []
        said_of: tuple[Any, ...] | None = None
        for part in parts:
            if part.data == "both":
                message = "`and` and `or` together can be heard in two ways"
                raise wrong(part, message, "put one of them in parentheses")
            name = bare_name(part)
            if said_of is not None and name and (claim := _word_said(found[-1])):
                (left_part, no), (left, chosen) = said_of, claim
                if name in left.type.words:
                    if self._scope.inner.find(name) is not None:
                        message = f"{name!r} is a fact and a word of `{self._source(left_part)}`"
                        raise wrong(part, message, "write is one of ..., ...")
                    found[-1] = _negate(no, _one_of(left, (*chosen, name)))
                    continue
                if name not in self._scope.names():
                    self._word(_children(part)[0], left_part, left)
            found.append(self.condition(part))
            said_of = tuple(_children(part)[:2]) if part.data == "compare" else None
        return found[0] if len(found) == 1 else typed.AnyOf(tuple(found))

    def _compare(self, part: Part) -> typed.Value:
        left_part, no, order, right_part = _children(part)
        if order is None:
            word = self._word_claim(left_part, right_part)
            if word is not None:
                return _negate(no, word)
        left, right = self._pair(left_part, right_part)
        self._must_match(left_part, left, right_part, right)
        kind = left.type.kind
        if order is None:
            if kind in (Kind.FLAG, Kind.SUBJECT):
                message = f"{said(left.type)} cannot be compared with `is`"
                raise wrong(part, message, "write the fact alone, or with not")
            return _negate(no, typed.Operation(FLAG, "=", (left, right)))
        sign, kinds = COMPARATIVES[order]
        if kind not in ORDERED:
            message = f"{self._is(left_part, left)}, which has no order"
            raise wrong(part, message, "write is or is not")
        if kind not in kinds:
            message = f"{said(left.type)} is never `{order}`"
            raise wrong(order, message, f"say {', '.join(comparatives_of(kind))}")
        return _negate(no, typed.Operation(FLAG, sign, (left, right)))

    def _word_claim(self, left_part: Part, right_part: Part) -> typed.Operation | None:
        """`state is dry`, where `dry` is no fact that could be meant."""
        name = bare_name(right_part)
        if name is None:
            return None
        left = self.value(left_part)
        fact = self._scope.inner.find(name)
        if left.type.kind is not Kind.WORD or (fact and fact.type.kind is Kind.WORD):
            return None
        return _one_of(left, (self._word(_children(right_part)[0], left_part, left),))

    def _word(self, word: Token, of: Part, left: typed.Value) -> str:
        known = left.type.words
        if word not in known:
            hint = did_you_mean(word, known) or f"its words are {', '.join(known)}"
            raise wrong(word, f"`{self._source(of)}` is never {str(word)!r}", hint)
        return str(word)

    def _presence(self, part: Part, no: Token | None, state: Token) -> typed.Value:
        name = bare_name(part)
        scope = self._scope
        subject = scope.vocabulary.subject(name or "")
        if subject is not None and not subject.single and scope.inner.find(subject.name) is None:
            message = f"there may be more than one {subject.name}"
            raise wrong(part, message, f"write count of {subject.name} is 0")
        value = self.value(part)
        if not isinstance(value, typed.FactOf | typed.Single):
            message = f"`{self._source(part)}` is no fact of the plan, so it cannot be missing"
            raise wrong(part, message)
        if value.type.is_many:
            message = f"`{self._source(part)}` may be many or none"
            raise wrong(part, message, f"write count of {self._source(part)} is 0")
        missing = typed.Missing(value)
        return missing if (state == "missing") != (no is not None) else typed.denied(missing)

    def _mentions(self, part: Part) -> typed.Value:
        left_part, quoted = _children(part)
        left = self._of_kind(left_part, Kind.TEXT, "not a text")
        if not quoted[1:-1].strip():
            raise wrong(part, "every text mentions nothing")
        return typed.Operation(FLAG, "mentions", (left, typed.Constant(TEXT, quoted[1:-1])))

    def _must_match(
        self, left_part: Part, left: typed.Value, right_part: Part, right: typed.Value
    ) -> None:
        one, other = left.type, right.type
        alike = one.kind is other.kind and one.subject == other.subject
        if alike and (one.kind is not Kind.WORD or set(one.words) & set(other.words)):
            return
        both = f"{self._is(left_part, left)} and {self._is(right_part, right)}"
        hint = ""
        for part, kind in ((right_part, one.kind), (left_part, other.kind)):
            if part.data == "number":
                bare = _children(part)[0]
                hint = f"write cone {bare}" if kind is Kind.CONE else f"give {bare} its unit"
                break
        raise Mistake(
            ends_of(left_part)[0], ends_of(right_part)[1], f"{both}: they cannot be compared", hint
        )

    # --- values -------------------------------------------------------------------------------

    def value(self, part: Part, expected: Kind | None = None) -> typed.Value:
        """The typed value; `expected` settles what `20 C` is where the text alone does not."""
        children = _children(part)
        match part.data:
            case "group":
                return self.value(children[0], expected)
            case "path":
                return resolve(part, self._scope)
            case "text":
                return typed.Constant(TEXT, str(children[0][1:-1]))
            case "steps":
                cones = tuple(self._of_kind(child, Kind.CONE, "not a cone") for child in children)
                return typed.Operation(NUMBER, "steps", cones)
            case "next_cone":
                way, part = children
                if way not in ("hotter", "cooler"):
                    raise wrong(way, f"a cone is never {way}", "write hotter or cooler")
                cone = self._of_kind(part, Kind.CONE, "not a cone")
                return typed.Operation(CONE, str(way), (cone,))
            case "count":
                return typed.Count(resolve_domain(children[0], self._scope))
            case rule if rule in LITERALS:
                return literal(part, expected)
            case rule if rule in _OPERATIONS:
                return self._operation(part, expected)
        message = f"`{self._source(part)}` holds or does not hold: it is no value"
        raise wrong(part, message, "name a fact, a limit or an amount here")

    def _pair(self, left: Part, right: Part) -> tuple[typed.Value, typed.Value]:
        """Two sides of a comparison; an amount takes its kind from the other side."""
        if _is_open(left) and not _is_open(right):
            second = self.value(right)
            return self.value(left, second.type.kind), second
        first = self.value(left)
        return first, self.value(right, first.type.kind)

    def _operation(self, part: Part, expected: Kind | None) -> typed.Value:
        sign, cannot = _OPERATIONS[str(part.data)]
        one, other = _children(part)
        left, right = self._operands(sign, one, other, expected)
        known = operation(sign, left.type.kind, right.type.kind)
        if known is None:
            raise wrong(part, f"{self._is(one, left)} and {self._is(other, right)}: {cannot}")
        return typed.Operation(Type(known[0]), sign, (left, right))

    def _operands(
        self, sign: str, one: Part, other: Part, expected: Kind | None
    ) -> tuple[typed.Value, typed.Value]:
        """Both sides; degrees added or taken away are a difference, as in `peak - 20 C`."""
        if _is_amount(one) and not _is_amount(other):
            right = self.value(other)
            return self.value(one, _wanted_left(sign, right, expected)), right
        left = self.value(one, expected)
        kind = left.type.kind
        if kind in _DEGREES:
            kind = Kind.TEMPERATURE_DIFFERENCE
        if kind is Kind.NUMBER and sign == "*" and expected is not None:
            kind = expected
        return left, self.value(other, kind)


def _children(part: Part) -> list[Any]:
    """The parts and the words of a part; which they are follows from its rule of the grammar."""
    return part.children


def _is_amount(part: Part) -> bool:
    while part.data == "group":
        part = _children(part)[0]
    return part.data == "measure"


def _is_open(part: Part) -> bool:
    """True if what surrounds this part may decide its kind: `20 C`, `20 C + gap`."""
    if part.data == "group" or part.data in _OPERATIONS:
        return any(map(_is_open, part.children))
    return part.data == "measure"


def _wanted_left(sign: str, right: typed.Value, expected: Kind | None) -> Kind | None:
    """What an amount on the left of a sign is, given what stands on the right."""
    kind = right.type.kind
    if sign == "/":
        return Kind.TEMPERATURE_DIFFERENCE if kind is Kind.RATE else kind
    if sign == "*" and kind is Kind.NUMBER:
        return expected
    if kind is Kind.TEMPERATURE_DIFFERENCE and expected in _DEGREES:
        return expected
    return kind


def _negate(no: Token | None, condition: typed.Value) -> typed.Value:
    return condition if no is None else typed.denied(condition)


def _one_of(left: typed.Value, chosen: tuple[str, ...]) -> typed.Operation:
    """The word is one of these."""
    return typed.Operation(FLAG, "one of", (left, typed.Constant(left.type, chosen)))


def _word_said(claim: typed.Value) -> tuple[typed.Value, tuple[str, ...]] | None:
    """Of what the claim, or what it denies, says that it is one of some words, and which."""
    match claim:
        case typed.Operation(sign="not", operands=(inner,)):
            return _word_said(inner)
        case typed.Operation(sign="one of", operands=(left, typed.Constant(value=chosen))):
            return left, chosen
    return None


_SLOT = re.compile(r"\{(?P<slot>[^{}]*)\}|(?P<stray>[{}])")
_CHOICE = re.compile(r"\[([^\[\]]*\{[^\[\]]*)\]")


def read_wording(text: str, scope: Scope, is_plan_line: bool = False) -> Wording:
    """The sentence that `text` spells.

    Brackets without a slot in them are plain text.
    """
    pieces: list[Piece] = []
    end = 0
    for found in _CHOICE.finditer(text):
        pieces += _pieces(text, end, found.start(), scope)
        end, start, options = found.end(), found.start(1), []
        for option in found[1].split("|"):
            options.append(tuple(_pieces(text, start, start + len(option), scope)))
            start += len(option) + 1
        pieces.append(Choice(tuple(options)))
    return Wording((*pieces, *_pieces(text, end, len(text), scope)), is_plan_line)


def _pieces(text: str, start: int, end: int, scope: Scope) -> Iterator[str | Slot]:
    """The plain text and the slots from one character of `text` to another."""
    for found in _SLOT.finditer(text, start, end):
        if start < found.start():
            yield text[start : found.start()]
        start = found.end()
        if found["stray"]:
            raise Mistake(found.start(), start, "a slot opens with { and closes with }")
        try:
            slot = read_slot(found["slot"], scope)
        except Mistake as mistake:
            at = found.start("slot")
            raise evolve(mistake, start=mistake.start + at, end=mistake.end + at) from None
        yield Slot(found["slot"].strip(), slot)
    if start < end:
        yield text[start:end]
