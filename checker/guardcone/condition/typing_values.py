"""The values in a condition are typed: facts, amounts, arithmetic."""

from guardcone.condition import literals, syntax, typed
from guardcone.condition.kinds import (
    CONE,
    NUMBER,
    TEXT,
    Kind,
    Type,
    product_type,
    quotient_type,
    sum_type,
)
from guardcone.condition.rule_faults import Mistake
from guardcone.condition.scope import Scope, resolve, resolve_domain, said

__all__ = ["Valuer"]

_DEGREES = (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE)


class Valuer:
    """Types the values of one condition text, which it keeps only to quote from it."""

    def __init__(self, text: str) -> None:
        self._text = text

    def source(self, node: syntax.Node) -> str:
        """The stretch of the condition that a part covers."""
        return " ".join(self._text[node.start : node.end].split())

    def quoted(self, node: syntax.Node) -> str:
        """The same for a sentence."""
        return f"`{self.source(node)}`"

    def value(self, node: syntax.Node, scope: Scope, expected: Kind | None = None) -> typed.Value:
        """The typed value; `expected` settles what `20 C` is where the text alone does not."""
        match node:
            case syntax.Group(inner=inner):
                return self.value(inner, scope, expected)
            case syntax.Path():
                return resolve(node, scope)
            case syntax.Measure():
                return literals.measure(node, expected)
            case syntax.Cone():
                return literals.cone(node)
            case syntax.Number():
                return literals.number(node)
            case syntax.Text(text=text):
                return typed.Constant(TEXT, text)
            case syntax.Operation():
                return self._operation(node, scope, expected)
            case syntax.Steps(first=first, last=last):
                return typed.Steps(NUMBER, self._cone(first, scope), self._cone(last, scope))
            case syntax.NextCone():
                return self._next_cone(node, scope)
            case syntax.Count(domain=path):
                return typed.Count(NUMBER, resolve_domain(path, scope))
        message = f"{self.quoted(node)} holds or does not hold: it is no value"
        raise Mistake(node.start, node.end, message, "name a fact, a limit or an amount here")

    def pair(
        self, left: syntax.Node, right: syntax.Node, scope: Scope
    ) -> tuple[typed.Value, typed.Value]:
        """Two sides of a comparison; an amount takes its kind from the other side."""
        if _is_open(left) and not _is_open(right):
            second = self.value(right, scope)
            return self.value(left, scope, second.type.kind), second
        first = self.value(left, scope)
        return first, self.value(right, scope, first.type.kind)

    def _operation(
        self, node: syntax.Operation, scope: Scope, expected: Kind | None
    ) -> typed.Value:
        left, right = self._operands(node, scope, expected)
        kinds = left.type.kind, right.type.kind
        if node.sign in "+-":
            kind = sum_type(node.sign, *kinds)
        else:
            kind = product_type(*kinds) if node.sign == "*" else quotient_type(*kinds)
        if kind is None:
            message = (
                f"{self.quoted(node.left)} is {said(left.type)} and {self.quoted(node.right)} is "
                f"{said(right.type)}: {_VERB[node.sign]}"
            )
            raise Mistake(node.start, node.end, message)
        return typed.Arithmetic(Type(kind), node.sign, left, right)

    def _operands(
        self, node: syntax.Operation, scope: Scope, expected: Kind | None
    ) -> tuple[typed.Value, typed.Value]:
        """Both sides; degrees added or taken away are a difference, as in `peak - 20 C`."""
        if _is_amount(node.left) and not _is_amount(node.right):
            right = self.value(node.right, scope)
            return self.value(node.left, scope, _wanted_left(node.sign, right, expected)), right
        left = self.value(node.left, scope, expected)
        kind = left.type.kind
        if kind in _DEGREES:
            kind = Kind.TEMPERATURE_DIFFERENCE
        if kind is Kind.NUMBER and node.sign == "*" and expected is not None:
            kind = expected
        return left, self.value(node.right, scope, kind)

    def _cone(self, node: syntax.Node, scope: Scope) -> typed.Value:
        value = self.value(node, scope)
        if value.type != CONE:
            message = f"{self.quoted(node)} is {said(value.type)}, not a cone"
            raise Mistake(node.start, node.end, message)
        return value

    def _next_cone(self, node: syntax.NextCone, scope: Scope) -> typed.Value:
        if node.way.text not in ("hotter", "cooler"):
            message = f"a cone is never {node.way.text}"
            raise Mistake(node.way.start, node.way.end, message, "write hotter or cooler")
        return typed.NextCone(CONE, node.way.text == "hotter", self._cone(node.cone, scope))


_VERB = {
    "+": "they cannot be added",
    "-": "one cannot be taken from the other",
    "*": "they cannot be multiplied",
    "/": "one cannot be divided by the other",
}


def _is_amount(node: syntax.Node) -> bool:
    while isinstance(node, syntax.Group):
        node = node.inner
    return isinstance(node, syntax.Measure)


def _is_open(node: syntax.Node) -> bool:
    """True if what surrounds this part may decide its kind: `20 C`, `20 C + gap`."""
    while isinstance(node, syntax.Group):
        node = node.inner
    if isinstance(node, syntax.Operation):
        return _is_open(node.left) or _is_open(node.right)
    return isinstance(node, syntax.Measure)


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
