"""Small changes to a typed condition, each of which an example of its rule should notice.

What is changed, one at a time:

- a comparison, turned round (`>` becomes `<=`) and at its boundary (`>` becomes `>=`); a claim
  without a sign (`is`, `mentions`, `is missing`, a yes-or-no fact) is denied;
- `not`, taken away;
- a part of `and` or of `or`, dropped;
- a word of a list of words, dropped;
- a limit, moved up and down by 10 % of its amount as it is written, and a cone or a whole number by
  one. It is moved in this rule alone, wherever the condition names it.
"""

from collections.abc import Callable, Iterator
from typing import Any

from attrs import evolve, fields, frozen, has

from guardcone.condition import typed
from guardcone.condition.kinds import FLAG, Type
from guardcone.rulebook.rule import Level, Rule
from guardcone.values import Cone, Quantity

__all__ = ["Mutant", "RuleMutant", "limits_in", "moved", "mutants", "rule_mutants", "told"]

_OPPOSITE = {">": "<=", "<=": ">", "<": ">=", ">=": "<"}
_BOUNDARY = {">": ">=", ">=": ">", "<": "<=", "<=": "<"}
TEN_PERCENT = 0.1


@frozen
class Mutant:
    """A condition that differs from the rule's in one thing, and what that is, in words."""

    what: str
    condition: typed.Value


@frozen
class RuleMutant:
    """The levels of a rule with one thing changed, and what that is, in words."""

    what: str
    levels: tuple[Level, ...]


def rule_mutants(rule: Rule, limits: dict[str, Any]) -> Iterator[RuleMutant]:
    """A rule with one level's condition changed, one level left out, or two in the other order."""
    levels = rule.levels
    several = len(levels) > 1
    for at, level in enumerate(levels):
        name = f"{level.consequence.value} {level.case}".strip() + ", " if several else ""
        for mutant in mutants(level.condition, limits):
            changed = evolve(level, condition=mutant.condition)
            yield RuleMutant(f"{name}{mutant.what}", (*levels[:at], changed, *levels[at + 1 :]))
        if several:
            yield RuleMutant(f"{name}level left out", (*levels[:at], *levels[at + 1 :]))
        if at:
            turned = (*levels[: at - 1], level, levels[at - 1], *levels[at + 1 :])
            yield RuleMutant(f"{name}asked before the one above", turned)


def mutants(condition: typed.Value, limits: dict[str, Any]) -> tuple[Mutant, ...]:
    """Every mutant of a condition, each once; `limits` gives the value in force of each limit."""
    found: dict[str, Mutant] = {}
    for what, changed in (*_variants(condition), *_moved_limits(condition, limits)):
        plain = _without_double_not(changed)
        found.setdefault(shown(plain), Mutant(what, plain))
    found.pop(shown(_without_double_not(condition)), None)
    return tuple(found.values())


def shown(value: Any) -> str:
    """A condition with all that is in it, as a text."""
    if isinstance(value, tuple):
        return f"({', '.join(map(shown, value))})"
    if not has(type(value)) or not isinstance(value, typed.Value):
        return f"{type(value).__name__} {value}"
    said = (f"{one.name}={shown(getattr(value, one.name))}" for one in fields(type(value)))
    return f"{type(value).__name__}({', '.join(said)})"


def moved(value: Any) -> tuple[Any, ...]:
    """The values next to this one: 10 % up and down, or one step; without those there are not."""
    if isinstance(value, Cone):
        numbers = (value.number.hotter(), value.number.cooler())
        return tuple(value.numbered(number) for number in numbers if number)
    if isinstance(value, Quantity):
        amount = value.amount()
        step = abs(amount) * TEN_PERCENT or 1.0
        return tuple(type(value).of(amount + by, value.unit.plain) for by in (step, -step))
    step = 1.0 if value == int(value) else abs(value) * TEN_PERCENT
    return value + step, value - step


def limits_in(node: Any) -> Iterator[str]:
    """The limits that a typed tree names."""
    if isinstance(node, typed.LimitOf):
        yield node.name
    for _, child in _children(node):
        yield from limits_in(child)


def told(node: Any) -> str:
    """A typed tree in words near to those of the rule."""
    match node:
        case typed.Constant(value=value):
            return str(value)
        case typed.LimitOf(name=name):
            return name
        case typed.It():
            return "it"
        case typed.Single() | typed.EachOf():
            return node.type.subject
        case typed.FactOf(owner=typed.It(), fact=fact):
            return fact
        case typed.FactOf(owner=owner, fact=fact):
            return f"{fact} of {told(owner)}"
        case typed.Operation(type=kind) if kind == FLAG:
            return _claim_told(node)
        case typed.Operation(sign="steps", operands=(first, last)):
            return f"steps from {told(first)} to {told(last)}"
        case typed.Operation(sign=way, operands=(cone,)):
            return f"one step {way} than {told(cone)}"
        case typed.Operation(sign=sign, operands=(left, right)):
            return f"({told(left)} {sign} {told(right)})"
        case typed.Count(domain=domain):
            return f"count of {told(domain)}"
    return _claim_told(node)


def _claim_told(node: Any) -> str:
    match node:
        case typed.Operation(sign="one of", operands=(left, typed.Constant(value=words))):
            return f"{told(left)} is {' or '.join(words)}"
        case typed.Operation(sign="mentions", operands=(left, text)):
            return f'{told(left)} mentions "{told(text)}"'
        case typed.Operation(sign="not", operands=(inner,)):
            return f"not ({told(inner)})"
        case typed.Operation(sign=sign, operands=(left, right)):
            return f"{told(left)} {'is' if sign == '=' else sign} {told(right)}"
        case typed.Missing(value=value):
            return f"{told(value)} is missing"
        case typed.AllOf(parts=parts):
            return " and ".join(f"({told(part)})" for part in parts)
        case typed.AnyOf(parts=parts):
            return " or ".join(f"({told(part)})" for part in parts)
        case typed.Quantified(word=word, domain=domain, condition=condition):
            return f"{word} {told(domain)} has ({told(condition)})"
    raise TypeError(f"no such part of a condition: {node!r}")


def _children(node: Any) -> Iterator[tuple[Callable[[Any], Any], Any]]:
    """Each typed part directly within a node, with the function that puts another in its place."""
    if not has(type(node)) or isinstance(node, Type):
        return
    for one in fields(type(node)):
        part = getattr(node, one.name)
        if isinstance(part, typed.Value):
            yield (lambda new, name=one.name: evolve(node, **{name: new})), part
        elif isinstance(part, tuple):
            for at, item in enumerate(part):
                if isinstance(item, typed.Value):
                    yield (
                        (
                            lambda new, name=one.name, part=part, at=at: evolve(
                                node, **{name: (*part[:at], new, *part[at + 1 :])}
                            )
                        ),
                        item,
                    )


def _variants(node: Any) -> Iterator[tuple[str, Any]]:
    """The node with one thing in it changed, and what."""
    yield from _own_variants(node)
    for put, child in _children(node):
        for what, changed in _variants(child):
            yield what, put(changed)


def _own_variants(node: typed.Value) -> Iterator[tuple[str, Any]]:
    match node:
        case typed.Operation(sign=sign) if sign in _OPPOSITE:
            for signs in (_OPPOSITE, _BOUNDARY):
                yield f"{told(node)}: {sign} becomes {signs[sign]}", evolve(node, sign=signs[sign])
        case typed.Operation(sign="not", operands=(inner,)):
            yield f"{told(node)}: not taken away", inner
        case typed.AllOf(parts=parts) | typed.AnyOf(parts=parts):
            for at, part in enumerate(parts):
                others = (*parts[:at], *parts[at + 1 :])
                rest = others[0] if len(others) == 1 else evolve(node, parts=others)
                word = "and" if isinstance(node, typed.AllOf) else "or"
                yield f"{word} {told(part)}: dropped", rest
        case typed.Value(type=kind) if kind == FLAG and not isinstance(node, typed.Quantified):
            yield f"{told(node)}: denied", typed.denied(node)
    match node:
        case typed.Operation(sign="one of", operands=(left, typed.Constant(value=words) as chosen)):
            for word in words:
                kept = evolve(chosen, value=tuple(other for other in words if other != word))
                yield f"{told(node)}: {word} dropped", evolve(node, operands=(left, kept))


def _moved_limits(condition: Any, limits: dict[str, Any]) -> Iterator[tuple[str, Any]]:
    for name in sorted(set(limits_in(condition))):
        for value in moved(limits[name]):
            yield f"limit {name}: {limits[name]} becomes {value}", _with(condition, name, value)


def _with(node: Any, name: str, value: Any) -> Any:
    """The tree with a value in place of a limit."""
    if isinstance(node, typed.LimitOf) and node.name == name:
        return typed.Constant(node.type, value)
    changed = node
    for at, (_, child) in enumerate(_children(node)):
        # `put` of a changed node keeps the earlier changes.
        put, _ = tuple(_children(changed))[at]
        changed = put(_with(child, name, value))
    return changed


def _without_double_not(node: Any) -> Any:
    """The tree in which nothing is denied twice, so that no mutant is counted twice."""
    match node:
        case typed.Operation(
            sign="not", operands=(typed.Operation(sign="not", operands=(inner,)),)
        ):
            return _without_double_not(inner)
    changed = node
    for at, (_, child) in enumerate(_children(node)):
        put, _ = tuple(_children(changed))[at]
        changed = put(_without_double_not(child))
    return changed
