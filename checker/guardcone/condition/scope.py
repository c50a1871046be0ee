"""Names in a condition find their fact, subject or limit; measures and cones get their value."""

from collections.abc import Mapping
from typing import Any

from attrs import evolve, frozen
from lark import Token

from guardcone.condition import typed
from guardcone.condition.grammar import Mistake, Part, bare_name, reserved_words, wrong
from guardcone.condition.kinds import CONE, NUMBER, QUANTITY_CLASS, Kind, Type, one
from guardcone.condition.vocabulary import Subject, Vocabulary
from guardcone.language.nearest import did_you_mean
from guardcone.values import (
    Cone,
    ConeNumber,
    ConeSeries,
    Misspelled,
    Numbering,
    Quantity,
    UnknownCone,
    read_quantity,
)

__all__ = ["LITERALS", "Scope", "literal", "resolve", "resolve_domain", "said"]


# The rules of the grammar that are one value each.
LITERALS = ("measure", "cone", "number")
# No figure of a kiln comes near; beyond it, arithmetic would only run into infinity.
_LARGEST = 1e9


def literal(part: Part, expected: Kind | None) -> typed.Constant:
    """The constant that a literal spells; an amount is read as `expected` where it can be that.

    `20 C` may be a temperature or a temperature difference, `5 m` a length or a duration. Where
    nothing is expected, degrees are a temperature. Raises Mistake.
    """
    text = str(part.children[0]).strip()
    if part.data == "cone":
        maker, _, spelled = text.rpartition("cone")
        series = ConeSeries(numbering=Numbering.SEGER) if maker.strip() else ConeSeries()
        try:
            return typed.Constant(CONE, Cone(ConeNumber.read(spelled.strip()), series))
        except UnknownCone as unknown:
            raise wrong(part, str(unknown)) from None
    if part.data == "number":
        constant, size = typed.Constant(NUMBER, float(text)), float(text)
    else:
        readings = _readings(part, text)
        usual = (kind for kind in (expected, Kind.TEMPERATURE) if kind in readings)
        kind = next(usual, None) or next(iter(readings))
        if expected is None and kind is not Kind.TEMPERATURE and len(readings) > 1:
            kinds = " or a ".join(kind.value for kind in readings)
            raise wrong(part, f"{text!r} may be a {kinds}", "spell the unit out")
        constant, size = typed.Constant(Type(kind), readings[kind]), abs(readings[kind].base)
    if size > _LARGEST:
        raise wrong(part, f"{text!r} is out of any sense")
    return constant


def _readings(part: Part, text: str) -> dict[Kind, Quantity]:
    """What an amount with a unit may be, by kind; raises Mistake if it is nothing."""
    found: dict[Kind, Quantity] = {}
    for kind, quantity in QUANTITY_CLASS.items():
        try:
            found[kind] = read_quantity(quantity, text)
        except (Misspelled, OverflowError):
            continue
    digits = text.split(".")[0].split(":")[0]
    if not found and len(digits) - len(digits.lstrip("0123456789")) > 9:
        raise wrong(part, f"{text!r} is out of any sense")
    if not found:
        kinds = QUANTITY_CLASS.values()
        units = ", ".join(dict.fromkeys(unit.plain for kind in kinds for unit in kind.units))
        raise wrong(part, f"{text!r} is no amount with a unit known here", f"units are {units}")
    return found


@frozen(repr=False)
class Scope:
    """What names mean at one spot of a rule.

    `inner` is the subject whose facts may be named barely: that of the rule, or inside
    `some ... has (...)` the one looked at. `limits` gives the type of each named limit.
    """

    vocabulary: Vocabulary
    limits: Mapping[str, Type]
    inner: Subject

    def inside(self, subject: Subject) -> "Scope":
        """The scope within the parentheses of a quantifier over `subject`."""
        return evolve(self, inner=subject)

    def names(self) -> list[str]:
        """Everything that may be named barely here."""
        singles = [subject.name for subject in self.vocabulary.subjects if subject.single]
        return [*(fact.name for fact in self.inner.facts), *singles, *self.limits, self.inner.name]


def said(kind: Type) -> str:
    """The kind with its article, for a sentence: `a rate`, `an angle`."""
    if kind.kind is Kind.FLAG:
        return str(kind)
    if kind.is_many:
        return f"more than one {kind.subject}"
    name = kind.subject or str(kind.kind.value)
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def resolve(path: Part, scope: Scope) -> typed.Value:
    """The value a path leads to; raises Mistake for a name that means nothing there."""
    value = _root(path, scope)
    names: list[Any] = path.children[:-1]
    for name in reversed(names):
        value = _step(name, value, scope)
    return value


def resolve_domain(path: Part, scope: Scope) -> typed.Value:
    """What `some ...` or `count of ...` runs through; raises Mistake."""
    name = bare_name(path)
    fact = scope.inner.find(name) if name else None
    # `some clay has` means all clays, though the ware in question has a clay of its own.
    if name and (fact is None or not fact.type.is_many):
        subject = scope.vocabulary.subject(name)
        if subject is not None:
            return typed.EachOf(one(subject.name))
    try:
        value = resolve(path, scope)
    except Mistake:
        if not name:
            raise
        known = [subject.name for subject in scope.vocabulary.subjects]
        hint = did_you_mean(str(name), known + scope.names()) or f"subjects are {', '.join(known)}"
        raise wrong(path, f"there is no subject {str(name)!r}", hint) from None
    if not value.type.is_many:
        message = f"this leads to {said(value.type)}, not to several things"
        raise wrong(path, message, "name a subject, or a fact that has many")
    return value


def _root(path: Part, scope: Scope) -> typed.Value:
    name: Any = path.children[-1]
    fact = scope.inner.find(name)
    if fact is not None:
        return typed.FactOf(fact.type, typed.It(one(scope.inner.name)), fact.name)
    subject = scope.vocabulary.subject(name)
    if subject is not None and subject.single:
        return typed.Single(one(subject.name))
    if subject is scope.inner:
        return typed.It(one(subject.name))
    if name in scope.limits and len(path.children) == 1:
        return typed.LimitOf(scope.limits[name], str(name))
    raise _unknown(name, scope, subject)


def _step(name: Token, owner: typed.Value, scope: Scope) -> typed.Value:
    if owner.type.kind is not Kind.SUBJECT:
        message = f"what stands after `of` is {said(owner.type)}, which has no facts"
        raise wrong(name, message, "only a subject has facts")
    if owner.type.is_many:
        message = f"there may be more than one {owner.type.subject}: the {name} of which?"
        raise wrong(name, message, "write some ... has (...), or every")
    subject = scope.vocabulary.subject_of(owner.type)
    fact = subject.find(name)
    if fact is None:
        known = [fact.name for fact in subject.facts]
        hint = did_you_mean(str(name), known) or f"facts of {subject.name}: {', '.join(known)}"
        raise wrong(name, f"{subject.name} has no fact {str(name)!r}", hint)
    return typed.FactOf(fact.type, owner, fact.name)


def _unknown(name: Token, scope: Scope, subject: Subject | None) -> Mistake:
    if subject is not None:
        hint = f"write some {subject.name} has (...), every, or count of {subject.name}"
        return wrong(name, f"there may be more than one {subject.name}: which?", hint)
    known = scope.names()
    if " " in name:
        return _run_on(name, known)
    message = f"{scope.inner.name} has no fact {str(name)!r}, nor is there such a limit"
    owners = [owner.name for owner in scope.vocabulary.subjects if owner.find(name) is not None]
    where = " and of ".join(owners)
    # `guide is missin` reads as a comparison with a fact of that name.
    near = did_you_mean(name, [*known, "missing", "present"])
    return wrong(name, message, f"it is a fact of {where}" if owners else near)


def _run_on(name: Token, known: list[str]) -> Mistake:
    """Several words in a row where one known name is followed by what should be `is`."""
    spoken = name.split()
    for count in range(len(spoken) - 1, 0, -1):
        start = " ".join(spoken[:count])
        if start in known:
            message = f"{spoken[count]!r} cannot stand after {start}"
            return wrong(name, message, did_you_mean(spoken[count], reserved_words()))
    message = f"there is nothing named {str(name)!r}"
    return wrong(name, message, did_you_mean(str(name), known))
