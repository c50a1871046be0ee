"""What a rule may ask: subjects, their facts, and the listing of both."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from enum import Enum
from typing import Any, Final

from attrs import define, field, frozen

from guardcone.condition.kinds import Kind, Type
from guardcone.span import Span
from guardcone.values import Quantity

__all__ = ["UNREADABLE", "Case", "Fact", "Subject", "Unreadable", "Vocabulary"]

# One plan under check with its computed firing and the studio's file. Only the functions of the
# vocabulary look inside; to this framework it is a closed box.
Case = Any


class Unreadable(Enum):
    """The mark of a fact that was written, but not so that it could be read."""

    UNREADABLE = "unreadable"


# Nothing is known of such a fact, not even that it is missing: the fault of its line has been
# reported once, and no rule builds a second finding on it.
UNREADABLE: Final = Unreadable.UNREADABLE


@frozen(repr=False)
class Fact:
    """One thing a rule may ask of a subject.

    `get` gives, for an instance of the subject, a value of `type` (a Quantity of that kind, a Cone,
    float, str, bool, date, datetime, an instance of another subject, or for `many` an iterable of
    instances), the same wrapped in Written where a person wrote it, None where it is missing, or
    UNREADABLE. One that `is_written` is a line of the plan or a part of one, and computed of none.
    """

    name: str
    type: Type
    doc: str
    get: Callable[[Any], Any] = field(repr=False)
    is_written: bool = False

    def asked_by(self, get: Callable[[Any], Any]) -> "Fact":
        """The same fact, asked by another function."""
        return Fact(self.name, self.type, self.doc, get, self.is_written)


@define(eq=False, repr=False)
class Subject:
    """What a rule may concern: the kiln, a witness set, a ware.

    `each` gives the instances in a case, UNREADABLE in place of one whose heading could not be
    read; a `single` subject has one or none. `place` is where a finding about an instance points
    if its rule names nothing better. `title` names an instance in a sentence.
    """

    name: str
    doc: str
    each: Callable[[Case], Iterable[Any]] = field(repr=False)
    place: Callable[[Any], Span | None] = field(repr=False)
    single: bool = False
    title: Callable[[Any], str] | None = field(default=None, repr=False)
    _facts: dict[str, Fact] = field(factory=dict, init=False, repr=False)

    def add(self, *facts: Fact) -> None:
        """Let rules ask these facts too; ValueError where one of the same name is there."""
        for fact in facts:
            if fact.name in self._facts:
                raise ValueError(f"two facts of {self.name} have the same name: {fact.name!r}")
            self._facts[fact.name] = fact

    @property
    def facts(self) -> tuple[Fact, ...]:
        """The facts in the order in which they were added."""
        return tuple(self._facts.values())

    def find(self, name: str) -> Fact | None:
        """The fact of this name, None if this subject has none such."""
        return self._facts.get(name)


@frozen(repr=False)
class Vocabulary:
    """Every subject and fact that conditions may name; raises ValueError where two contradict.

    `units` gives, for an instance and a place, the measures in whose units a sentence about that
    place answers. Two instances are the same if `identity` of both gives the same object; a
    vocabulary that wraps the parts of a plan afresh on every call gives the part itself there.
    """

    subjects: tuple[Subject, ...]
    units: Callable[[Any, Span], Sequence[Quantity]] = field(
        default=lambda _instance, _place: (), repr=False
    )
    identity: Callable[[Any], Any] = field(default=lambda one: one, repr=False)
    _by_name: Mapping[str, Subject] = field(init=False, repr=False, eq=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "_by_name", {subject.name: subject for subject in self.subjects})
        if len(self._by_name) < len(self.subjects):
            raise ValueError("two subjects of the vocabulary have the same name")
        for subject in self.subjects:
            self._check(subject)

    def _check(self, subject: Subject) -> None:
        for fact in subject.facts:
            target = fact.type.subject
            if fact.type.kind is Kind.SUBJECT and target not in self._by_name:
                raise ValueError(f"{fact.name} of {subject.name} leads to no subject: {target!r}")
            if fact.type.kind is Kind.WORD and not fact.type.words:
                raise ValueError(f"{fact.name} of {subject.name} has an empty list of words")

    def subject(self, name: str) -> Subject | None:
        """The subject of this name, None if there is none such."""
        return self._by_name.get(name)

    def subject_of(self, kind: Type) -> Subject:
        """The subject that values of this type are; LookupError where there is none such."""
        return self._by_name[kind.subject]

    def names(self) -> frozenset[str]:
        """Every name that means something by itself: subjects, facts, and words of word lists."""
        facts = [fact for subject in self.subjects for fact in subject.facts]
        return frozenset(
            [subject.name for subject in self.subjects]
            + [fact.name for fact in facts]
            + [word for fact in facts for word in fact.type.words]
        )

    def related(self, one: str, other: str) -> bool:
        """True if a finding about subject `one` can stand for a finding about `other`.

        They are the same subject, one of them is single, or a fact of one leads to the other.
        """
        first, second = self._by_name[one], self._by_name[other]
        return (
            first is second
            or first.single
            or second.single
            or any(fact.type.subject == other for fact in first.facts)
            or any(fact.type.subject == one for fact in second.facts)
        )
