"""Names in a condition find their fact, subject or limit."""

from collections.abc import Mapping

from attrs import evolve, frozen

from guardcone.condition import syntax, typed
from guardcone.condition.grammar import reserved_words
from guardcone.condition.kinds import Kind, Type, one
from guardcone.condition.rule_faults import Mistake, did_you_mean
from guardcone.condition.vocabulary import Subject, Vocabulary

__all__ = ["Scope", "resolve", "resolve_domain", "said"]


@frozen
class Scope:
    """What names mean at one spot of a rule.

    `concerns` is the subject of the rule; `inner` the one whose facts may be named barely, which
    differs inside `some ... has (...)`. `limits` gives the type of each named limit.
    """

    vocabulary: Vocabulary
    limits: Mapping[str, Type]
    concerns: Subject
    inner: Subject

    @classmethod
    def of(cls, vocabulary: Vocabulary, limits: Mapping[str, Type], concerns: Subject) -> "Scope":
        """The scope of a whole condition of a rule about this subject."""
        return cls(vocabulary, limits, concerns, concerns)

    def inside(self, subject: Subject) -> "Scope":
        """The scope within the parentheses of a quantifier over `subject`."""
        return evolve(self, inner=subject)

    def subject_of(self, value: typed.Value) -> Subject:
        """The subject to which a value of the kind subject leads."""
        found = self.vocabulary.subject(value.type.subject)
        assert found is not None, "Vocabulary checks what its facts lead to"
        return found

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


def resolve(path: syntax.Path, scope: Scope) -> typed.Value:
    """The value a path leads to; raises Mistake for a name that means nothing there."""
    value = _root(path, scope)
    for name in reversed(path.names[:-1]):
        value = _step(name, value, scope)
    return value


def resolve_domain(path: syntax.Path, scope: Scope) -> typed.Value:
    """What `some ...` or `count of ...` runs through; raises Mistake."""
    name = path.bare
    fact = scope.inner.find(name) if name else None
    # `some clay has` means all clays, though the ware in question has a clay of its own.
    if name and (fact is None or not fact.type.is_many):
        subject = scope.vocabulary.subject(name)
        if subject is not None:
            return typed.EachOf(one(subject.name))
    try:
        value = resolve(path, scope)
    except Mistake as mistake:
        if not name:
            raise
        known = [subject.name for subject in scope.vocabulary.subjects]
        hint = did_you_mean(name, known + scope.names()) or f"subjects are {', '.join(known)}"
        raise Mistake(mistake.start, mistake.end, f"there is no subject {name!r}", hint) from None
    if not value.type.is_many:
        message = f"this leads to {said(value.type)}, not to several things"
        raise Mistake(path.start, path.end, message, "name a subject, or a fact that has many")
    return value


def _root(path: syntax.Path, scope: Scope) -> typed.Value:
    name = path.names[-1]
    fact = scope.inner.find(name.text)
    if fact is not None:
        return typed.FactOf(fact.type, typed.It(one(scope.inner.name)), fact.name)
    subject = scope.vocabulary.subject(name.text)
    if subject is not None and subject.single:
        return typed.Single(one(subject.name))
    if subject is scope.inner:
        return typed.It(one(subject.name))
    if name.text in scope.limits and len(path.names) == 1:
        return typed.LimitOf(scope.limits[name.text], name.text)
    raise _unknown(name, scope, subject)


def _step(name: syntax.Name, owner: typed.Value, scope: Scope) -> typed.Value:
    if owner.type.kind is not Kind.SUBJECT:
        message = f"what stands after `of` is {said(owner.type)}, which has no facts"
        raise Mistake(name.start, name.end, message, "only a subject has facts")
    if owner.type.is_many:
        message = f"there may be more than one {owner.type.subject}: the {name.text} of which?"
        raise Mistake(name.start, name.end, message, "write some ... has (...), or every")
    subject = scope.subject_of(owner)
    fact = subject.find(name.text)
    if fact is None:
        known = [fact.name for fact in subject.facts]
        hint = did_you_mean(name.text, known) or f"facts of {subject.name}: {', '.join(known)}"
        raise Mistake(name.start, name.end, f"{subject.name} has no fact {name.text!r}", hint)
    return typed.FactOf(fact.type, owner, fact.name)


def _unknown(name: syntax.Name, scope: Scope, subject: Subject | None) -> Mistake:
    if subject is not None:
        hint = f"write some {subject.name} has (...), every, or count of {subject.name}"
        return Mistake(
            name.start, name.end, f"there may be more than one {subject.name}: which?", hint
        )
    known = scope.names()
    if " " in name.text:
        return _run_on(name, known)
    message = f"{scope.inner.name} has no fact {name.text!r}, nor is there such a limit"
    owners = [
        owner.name for owner in scope.vocabulary.subjects if owner.find(name.text) is not None
    ]
    where = " and of ".join(owners)
    hint = f"it is a fact of {where}" if owners else _nearest(name.text, known)
    return Mistake(name.start, name.end, message, hint)


def _nearest(word: str, known: list[str]) -> str:
    # `guide is missin` reads as a comparison with a fact of that name.
    return did_you_mean(word, [*known, "missing", "present"])


def _run_on(name: syntax.Name, known: list[str]) -> Mistake:
    """Several words in a row where one known name is followed by what should be `is`."""
    spoken = name.text.split()
    for count in range(len(spoken) - 1, 0, -1):
        start = " ".join(spoken[:count])
        if start in known:
            message = f"{spoken[count]!r} cannot stand after {start}"
            return Mistake(
                name.start, name.end, message, did_you_mean(spoken[count], reserved_words())
            )
    message = f"there is nothing named {name.text!r}"
    return Mistake(name.start, name.end, message, did_you_mean(name.text, known))
