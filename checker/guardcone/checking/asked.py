"""One rule is asked of each part of a plan, and the values are told that its conditions ask of."""

import re
from collections.abc import Iterator, Sequence
from typing import Any

from attrs import frozen

from guardcone.checking.run import level_of
from guardcone.condition import typed
from guardcone.condition.kinds import Kind
from guardcone.condition.sentences import Slot, Wording
from guardcone.condition.typed import Compiler
from guardcone.condition.vocabulary import UNREADABLE, Subject
from guardcone.facts import PlanCase
from guardcone.language.grammar import plan_grammar
from guardcone.plan.plan import Plan
from guardcone.rulebook.book import CompiledLevel, RuleBook
from guardcone.rulebook.rule import Consequence, Rule
from guardcone.span import Span
from guardcone.values import Quantity

__all__ = ["AskedOf", "AskedValue", "asked_of"]

_TOP = Span(1, 1, 2)
# How the meaning of a fact begins that is yes or no.
_WHETHER = re.compile("^Yes if ")
_UNSAID, _UNKNOWN = "the plan does not say", "not known from this plan"
_NONE, _NONE_READ = "nothing in this plan", "nothing in what can be read of this plan"
_UNREAD = "not known, as what it rests on can't be read or is not there"


@frozen(repr=False)
class AskedValue:
    """One thing that a condition asks of: its name, what it means, and what this plan has for it.

    `of` says of which part it is, where a condition looks at several. `line` is where it was
    written, None where it was not.
    """

    name: str
    of: str
    meaning: str
    told: str
    line: int | None


@frozen(repr=False)
class AskedOf:
    """A rule asked of one part of a plan: whether it tells there, and by which values.

    `title` is what people call it, empty where it has no name of its own; `unknown` are the weights
    of which the plan says too little, and `units` those in which a sentence about it answers.
    """

    span: Span
    title: str
    tells: bool
    unknown: tuple[Consequence, ...]
    values: tuple[AskedValue, ...]
    units: tuple[Quantity, ...]


def asked_of(rule: Rule, plan: Plan, book: RuleBook) -> tuple[AskedOf, ...]:
    """The rule asked of each part of the plan that can be read; nothing where it is turned off."""
    case = PlanCase(plan)
    for subject, rules in book.by_subject:
        for one, levels in rules:
            if one.name == rule.name:
                instances = [found for found in subject.each(case) if found is not UNREADABLE]
                return tuple(_asked(levels, subject, case, it, book) for it in instances)
    return ()


def _asked(
    levels: Sequence[CompiledLevel], subject: Subject, case: PlanCase, it: Any, book: RuleBook
) -> AskedOf:
    span = subject.place(it) or _TOP
    level, unknown = level_of(levels, case, it)
    units = tuple(book.vocabulary.units(it, span))
    found: dict[AskedValue, None] = {}
    for one in levels:
        walk = _Walk(one.compiler, case, units)
        found |= dict.fromkeys(walk.values(one.level.condition, it))
    title = subject.title(it) if subject.title else ""
    return AskedOf(span, title, level is not None, unknown, tuple(found), units)


@frozen(repr=False)
class _Walk:
    """Goes through a condition with one plan, and tells each value that it meets."""

    compiler: Compiler
    case: PlanCase
    units: Sequence[Quantity]

    def values(self, node: typed.Value, it: Any, of: str = "") -> Iterator[AskedValue]:
        """What the condition asks of, in the order in which it does."""
        match node:
            case typed.AllOf(parts=parts) | typed.AnyOf(parts=parts):
                for part in parts:
                    yield from self.values(part, it, of)
            case typed.Missing(value=fact):
                yield self._leaf(fact, it, of)
            case typed.Quantified(domain=domain, condition=condition):
                yield from self._each(domain, condition, it)
            case typed.Count(domain=domain):
                yield self._said(node, it, of, f"count of {self._name(domain)}", "")
            case typed.Operation(sign=sign, operands=operands):
                for operand in operands:
                    yield from self.values(operand, it, of)
                computed = sign in ("+", "-", "*", "/", "steps")
                if computed and self.compiler.value(node)(self.case, it) is not None:
                    name = self._name(node)
                    yield self._said(node, it, of, name[1:-1] if name[0] == "(" else name, "")
            case typed.FactOf() | typed.Single():
                yield self._leaf(node, it, of)

    def _each(self, domain: typed.Value, condition: typed.Value, it: Any) -> Iterator[AskedValue]:
        """The values of each instance that a condition looks at."""
        subject = self.compiler.subject(domain)
        instances = self.compiler.instances(domain)(self.case, it)
        known = [one for one in instances or () if one is not UNREADABLE]
        if not known:
            told = _UNREAD if instances is None else _NONE
            yield AskedValue(self._name(domain), "", subject.doc, told, None)
        for one in known:
            place = subject.place(one)
            line = f" of line {place.line}" if place else ""
            title = subject.title(one) if subject.title else f"the {subject.name}{line}"
            yield from self.values(condition, one, title)

    def _leaf(self, node: typed.Value, it: Any, of: str) -> AskedValue:
        meaning, is_written = self.compiler.subject(node).doc if node.type.subject else "", True
        if isinstance(node, typed.FactOf):
            fact = self.compiler.subject(node.owner).find(node.fact)
            assert fact
            meaning, is_written = _WHETHER.sub("Whether ", fact.doc), fact.is_written
        return self._said(node, it, of, self._name(node), meaning, is_written)

    def _said(
        self,
        node: typed.Value,
        it: Any,
        of: str,
        name: str,
        meaning: str,
        is_written: bool = False,
    ) -> AskedValue:
        found = self.compiler.value(node)(self.case, it)
        is_leaf = isinstance(node, typed.FactOf | typed.Single)
        place = self.compiler.place(node, self.case, it) if is_leaf else None
        if found is None:
            told = self._unknown(node, it, is_written=is_written)
        elif node.type.kind is Kind.FLAG:
            told = "yes" if found else "no"
        elif node.type.kind is Kind.WORD:
            word = found.upper().replace("-", "_")
            told = next(iter(plan_grammar().words.get(word, ())), found)
        elif node.type.subject and self.compiler.subject(node).title is None:
            told = "there is one"
        else:
            told, _ = Wording((Slot(name, node),)).told(self.compiler, self.case, it, self.units)
        return AskedValue(name, of, meaning, told, place.line if place else None)

    def _unknown(self, node: typed.Value, it: Any, *, is_written: bool) -> str:
        """Why there is no value."""
        if not isinstance(node, typed.FactOf | typed.Single):
            return _NONE
        if self.compiler.value(typed.Missing(node))(self.case, it):
            none = _NONE_READ if self.case.plan.faults else _NONE
            return _UNSAID if is_written else _UNKNOWN if node.type.kind is Kind.FLAG else none
        owner = node.owner if isinstance(node, typed.FactOf) else None
        is_named = isinstance(owner, typed.FactOf | typed.Single)
        if owner and is_named and self.compiler.value(typed.Missing(owner))(self.case, it):
            return f"there is no {self._name(owner)} in this plan"
        return _UNREAD

    def _name(self, node: typed.Value) -> str:
        """A value as a rule asks for it, without hyphens; empty for the thing in question."""
        match node:
            case typed.FactOf(owner=owner, fact=fact):
                of = self._name(owner)
                return f"{fact.replace('-', ' ')} of {of}" if of else fact.replace("-", " ")
            case typed.Single() | typed.EachOf():
                return node.type.subject
            case typed.Count(domain=domain):
                return f"count of {self._name(domain)}"
            case typed.LimitOf() | typed.Constant():
                number = self.compiler.value(node)(self.case, None)
                return f"{number:g}" if isinstance(number, float) else str(number)
            case typed.Operation(sign="steps", operands=(first, last)):
                return f"steps from {self._name(first)} to {self._name(last)}"
            case typed.Operation(sign="hotter" | "cooler" as way, operands=(cone,)):
                return f"one step {way} than {self._name(cone)}"
            case typed.Operation(sign=sign, operands=operands):
                names = map(self._name, operands)
                return "(" + f" {sign} ".join(names) + ")"
        return ""
