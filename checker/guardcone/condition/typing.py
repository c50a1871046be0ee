"""Conditions and sentences are typed: the tree of a text becomes a tree of names and kinds."""

import re
from typing import Any

from lark import Token

from guardcone.condition import typed
from guardcone.condition.grammar import Part, bare_name, ends_of, parse_condition, wrong
from guardcone.condition.kinds import (
    CONE,
    NUMBER,
    TEXT,
    Kind,
    Type,
    arithmetic_type,
    comparative_fits,
    comparatives_of,
    ordered,
)
from guardcone.condition.rule_faults import Mistake, did_you_mean
from guardcone.condition.scope import LITERALS, Scope, literal, resolve, resolve_domain, said
from guardcone.condition.sentences import Slot, Wording

__all__ = ["read_amount", "read_condition", "read_place", "read_slot", "read_wording"]


_DEGREES = (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE)
_SIGNS = {"add": "+", "subtract": "-", "multiply": "*", "divide": "/"}
_CANNOT = {
    "+": "they cannot be added",
    "-": "one cannot be taken from the other",
    "*": "they cannot be multiplied",
    "/": "one cannot be divided by the other",
}


def read_condition(text: str, scope: Scope) -> "typed.Condition | Mistake":
    """The typed condition that `text` spells, or what is wrong with it."""
    try:
        return _Typer(text).condition(parse_condition(text), scope)
    except Mistake as mistake:
        return mistake


def read_slot(text: str, scope: Scope) -> "typed.Value | Mistake":
    """The typed value of a slot, without its braces, if a sentence can print it."""
    try:
        part = parse_condition(text)
        value = _Typer(text).value(part, scope)
    except Mistake as mistake:
        return mistake
    if value.type.kind is Kind.FLAG or value.type.is_many:
        return wrong(part, f"a sentence cannot print {said(value.type)}", "name a value")
    if value.type.kind is Kind.SUBJECT and scope.subject_of(value).title is None:
        return wrong(part, f"a sentence cannot print a {value.type}", "name one of its facts")
    return value


def read_place(text: str, scope: Scope) -> "typed.Value | Mistake":
    """The fact or subject that a finding points at."""
    try:
        part = parse_condition(text)
        value = _Typer(text).value(part, scope)
    except Mistake as mistake:
        return mistake
    if not isinstance(value, typed.FactOf | typed.Single | typed.It):
        return wrong(part, "a finding points at a fact or at a subject", "name one fact")
    if value.type.is_many:
        return wrong(part, "there may be several of these: at which one?")
    return value


def read_amount(text: str, kind: Type | None) -> "typed.Constant | Mistake":
    """The one amount that `text` spells, of `kind` if one is given."""
    try:
        part = parse_condition(text)
        if part.data not in LITERALS:
            return Mistake(0, len(text), f"{text!r} is no single amount")
        constant = literal(part, kind.kind if kind else None)
    except Mistake as mistake:
        return mistake
    if kind is not None and constant.type != kind:
        message = f"{text!r} is a {constant.type}, and this limit measures a {kind}"
        return Mistake(0, len(text), message)
    return constant


class _Typer:
    """Types the parts of one condition text, which it keeps only to quote from it."""

    def __init__(self, text: str) -> None:
        self._text = text

    def _source(self, *parts: Part) -> str:
        """The stretch of the condition from the first of these parts to the last."""
        start, end = ends_of(parts[0])[0], ends_of(parts[-1])[1]
        return " ".join(self._text[start:end].split())

    def _is(self, part: Part, kind: Type) -> str:
        """`part` and its kind, for a sentence."""
        return f"`{self._source(part)}` is {said(kind)}"

    # --- what holds or does not ---------------------------------------------------------------

    def condition(self, part: Part, scope: Scope) -> typed.Condition:
        """A typed condition; raises Mistake."""
        children = _children(part)
        match part.data:
            case "group":
                return self.condition(children[0], scope)
            case "negation":
                return typed.NotOf(self.condition(children[0], scope))
            case "both":
                return typed.AllOf(tuple(self.condition(child, scope) for child in children))
            case "either":
                return self._either(children, scope)
            case "compare":
                return self._compare(part, scope)
            case "one_of":
                left, no, *words = children
                return _negate(no, self._one_of(left, words, scope))
            case "presence":
                return self._presence(*children, scope=scope)
            case "mentions":
                return self._mentions(part, scope)
            case "quantified":
                word, path, inner = children
                domain = resolve_domain(path, scope)
                within = scope.inside(scope.subject_of(domain))
                return typed.Quantified(str(word), domain, self.condition(inner, within))
        value = self.value(part, scope)
        if value.type.kind is not Kind.FLAG:
            message = f"{self._is(part, value.type)}, which by itself says nothing"
            raise wrong(part, message, "compare it with something: ... is ...")
        return typed.Flag(value)

    def _either(self, parts: list[Part], scope: Scope) -> typed.Condition:
        """`a or b`; in `state is damp or dry` the last word is said of the state too."""
        found: list[typed.Condition] = []
        said_of: Part | None = None
        for part in parts:
            if part.data == "both":
                message = "`and` and `or` together can be heard in two ways"
                raise wrong(part, message, "put one of them in parentheses")
            name = bare_name(part)
            claim = found[-1].inner if found and isinstance(found[-1], typed.NotOf) else None
            claim = claim or (found[-1] if found else None)
            if said_of is not None and name and isinstance(claim, typed.WordIn):
                if name in claim.left.type.words:
                    if scope.inner.find(name) is not None:
                        message = f"{name!r} is a fact and a word of `{self._source(said_of)}`"
                        raise wrong(part, message, "write is one of ..., ...")
                    more = typed.WordIn(claim.left, (*claim.words, name))
                    found[-1] = more if claim is found[-1] else typed.NotOf(more)
                    continue
                if name not in scope.names():
                    self._word(_children(part)[0], said_of, claim.left)
            found.append(self.condition(part, scope))
            said_of = _children(part)[0] if part.data == "compare" else None
        return found[0] if len(found) == 1 else typed.AnyOf(tuple(found))

    def _compare(self, part: Part, scope: Scope) -> typed.Condition:
        left_part, no, order, right_part = _children(part)
        if order is None:
            word = self._word_claim(left_part, right_part, scope)
            if word is not None:
                return _negate(no, word)
        left, right = self._pair(left_part, right_part, scope)
        self._must_match(left_part, left, right_part, right)
        kind = left.type.kind
        if order is None:
            if kind in (Kind.FLAG, Kind.SUBJECT):
                message = f"{said(left.type)} cannot be compared with `is`"
                raise wrong(part, message, "write the fact alone, or with not")
            return _negate(no, typed.Compare("=", left, right))
        sign, fits = comparative_fits(order.removesuffix(" than").removeprefix("at "), kind)
        if not ordered(kind):
            message = f"{self._is(left_part, left.type)}, which has no order"
            raise wrong(part, message, "write is or is not")
        if not fits:
            message = f"{said(left.type)} is never `{order}`"
            raise wrong(order, message, f"say {', '.join(comparatives_of(kind))}")
        return _negate(no, typed.Compare(sign, left, right))

    def _word_claim(self, left_part: Part, right_part: Part, scope: Scope) -> typed.WordIn | None:
        """`state is dry`, where `dry` is no fact that could be meant."""
        name = bare_name(right_part)
        if name is None:
            return None
        left = self.value(left_part, scope)
        fact = scope.inner.find(name)
        if left.type.kind is not Kind.WORD or (fact and fact.type.kind is Kind.WORD):
            return None
        return typed.WordIn(left, (self._word(_children(right_part)[0], left_part, left),))

    def _one_of(self, part: Part, words: list[Token], scope: Scope) -> typed.Condition:
        left = self.value(part, scope)
        if left.type.kind is not Kind.WORD:
            raise wrong(part, f"{self._is(part, left.type)}, not a word out of a list")
        return typed.WordIn(left, tuple(self._word(word, part, left) for word in words))

    def _word(self, word: Token, of: Part, left: typed.Value) -> str:
        known = left.type.words
        if word not in known:
            hint = did_you_mean(word, known) or f"its words are {', '.join(known)}"
            raise wrong(word, f"`{self._source(of)}` is never {str(word)!r}", hint)
        return str(word)

    def _presence(
        self, part: Part, no: Token | None, state: Token, *, scope: Scope
    ) -> typed.Condition:
        name = bare_name(part)
        subject = scope.vocabulary.subject(name or "")
        if subject is not None and not subject.single and scope.inner.find(subject.name) is None:
            message = f"there may be more than one {subject.name}"
            raise wrong(part, message, f"write count of {subject.name} is 0")
        value = self.value(part, scope)
        if not isinstance(value, typed.FactOf | typed.Single):
            message = f"`{self._source(part)}` is no fact of the plan, so it cannot be missing"
            raise wrong(part, message)
        if value.type.is_many:
            message = f"`{self._source(part)}` may be many or none"
            raise wrong(part, message, f"write count of {self._source(part)} is 0")
        missing = typed.Missing(value)
        return missing if (state == "missing") != (no is not None) else typed.NotOf(missing)

    def _mentions(self, part: Part, scope: Scope) -> typed.Condition:
        left_part, quoted = _children(part)
        left = self.value(left_part, scope)
        if left.type.kind is not Kind.TEXT:
            raise wrong(left_part, f"{self._is(left_part, left.type)}, not a text")
        if not quoted[1:-1].strip():
            raise wrong(part, "every text mentions nothing")
        return typed.Mentions(left, quoted[1:-1])

    def _must_match(
        self, left_part: Part, left: typed.Value, right_part: Part, right: typed.Value
    ) -> None:
        one, other = left.type, right.type
        alike = one.kind is other.kind and one.subject == other.subject
        if alike and (one.kind is not Kind.WORD or set(one.words) & set(other.words)):
            return
        message = (
            f"{self._is(left_part, one)} and {self._is(right_part, other)}: they cannot be compared"
        )
        hint = ""
        for part, kind in ((right_part, one.kind), (left_part, other.kind)):
            if part.data == "number":
                bare = _children(part)[0]
                hint = f"write cone {bare}" if kind is Kind.CONE else f"give {bare} its unit"
                break
        raise Mistake(ends_of(left_part)[0], ends_of(right_part)[1], message, hint)

    # --- values -------------------------------------------------------------------------------

    def value(self, part: Part, scope: Scope, expected: Kind | None = None) -> typed.Value:
        """The typed value; `expected` settles what `20 C` is where the text alone does not."""
        children = _children(part)
        match part.data:
            case "group":
                return self.value(children[0], scope, expected)
            case "path":
                return resolve(part, scope)
            case "text":
                return typed.Constant(TEXT, str(children[0][1:-1]))
            case "steps":
                first, last = (self._cone(child, scope) for child in children)
                return typed.Steps(NUMBER, first, last)
            case "next_cone":
                way, cone = children
                if way not in ("hotter", "cooler"):
                    raise wrong(way, f"a cone is never {way}", "write hotter or cooler")
                return typed.NextCone(CONE, way == "hotter", self._cone(cone, scope))
            case "count":
                return typed.Count(NUMBER, resolve_domain(children[0], scope))
            case rule if rule in LITERALS:
                return literal(part, expected)
            case rule if rule in _SIGNS:
                return self._operation(part, scope, expected)
        message = f"`{self._source(part)}` holds or does not hold: it is no value"
        raise wrong(part, message, "name a fact, a limit or an amount here")

    def _pair(self, left: Part, right: Part, scope: Scope) -> tuple[typed.Value, typed.Value]:
        """Two sides of a comparison; an amount takes its kind from the other side."""
        if _is_open(left) and not _is_open(right):
            second = self.value(right, scope)
            return self.value(left, scope, second.type.kind), second
        first = self.value(left, scope)
        return first, self.value(right, scope, first.type.kind)

    def _operation(self, part: Part, scope: Scope, expected: Kind | None) -> typed.Value:
        sign = _SIGNS[str(part.data)]
        one, other = _children(part)
        left, right = self._operands(sign, one, other, scope, expected)
        kind = arithmetic_type(sign, left.type.kind, right.type.kind)
        if kind is None:
            message = f"{self._is(one, left.type)} and {self._is(other, right.type)}"
            raise wrong(part, f"{message}: {_CANNOT[sign]}")
        return typed.Arithmetic(Type(kind), sign, left, right)

    def _operands(
        self, sign: str, one: Part, other: Part, scope: Scope, expected: Kind | None
    ) -> tuple[typed.Value, typed.Value]:
        """Both sides; degrees added or taken away are a difference, as in `peak - 20 C`."""
        if _is_amount(one) and not _is_amount(other):
            right = self.value(other, scope)
            return self.value(one, scope, _wanted_left(sign, right, expected)), right
        left = self.value(one, scope, expected)
        kind = left.type.kind
        if kind in _DEGREES:
            kind = Kind.TEMPERATURE_DIFFERENCE
        if kind is Kind.NUMBER and sign == "*" and expected is not None:
            kind = expected
        return left, self.value(other, scope, kind)

    def _cone(self, part: Part, scope: Scope) -> typed.Value:
        value = self.value(part, scope)
        if value.type != CONE:
            raise wrong(part, f"{self._is(part, value.type)}, not a cone")
        return value


def _children(part: Part) -> list[Any]:
    """The parts and the words of a part; which they are follows from its rule of the grammar."""
    return part.children


def _is_amount(part: Part) -> bool:
    while part.data == "group":
        part = _children(part)[0]
    return part.data == "measure"


def _is_open(part: Part) -> bool:
    """True if what surrounds this part may decide its kind: `20 C`, `20 C + gap`."""
    if part.data == "group" or part.data in _SIGNS:
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


def _negate(no: Token | None, condition: typed.Condition) -> typed.Condition:
    return condition if no is None else typed.NotOf(condition)


_SLOT = re.compile(r"\{(?P<slot>[^{}]*)\}|(?P<stray>[{}])")


def read_wording(text: str, scope: Scope, is_plan_line: bool = False) -> "Wording | Mistake":
    """The sentence that `text` spells, or what is wrong with it at characters of `text`."""
    pieces: list[str | Slot] = []
    end = 0
    for found in _SLOT.finditer(text):
        pieces.append(text[end : found.start()])
        end = found.end()
        if found["stray"]:
            return Mistake(found.start(), found.end(), "a slot opens with { and closes with }")
        slot = read_slot(found["slot"], scope)
        if isinstance(slot, Mistake):
            shift = found.start() + 1
            return Mistake(slot.start + shift, slot.end + shift, slot.message, slot.hint)
        pieces.append(Slot(found["slot"].strip(), slot))
    pieces.append(text[end:])
    return Wording(tuple(piece for piece in pieces if piece), is_plan_line)
