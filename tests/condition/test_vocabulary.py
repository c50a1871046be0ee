"""The vocabulary of rules: what it lists, what it refuses, and that all of it can be asked."""

import pytest
from syrupy.assertion import SnapshotAssertion
from toy_kiln import VOCABULARY, with_facts

from guardcone.condition.grammar import Mistake
from guardcone.condition.kinds import NUMBER, TEXT, one, words
from guardcone.condition.scope import Scope
from guardcone.condition.typing import read_condition
from guardcone.condition.vocabulary import Fact, Subject, Vocabulary
from guardcone.facts import VOCABULARY as PLANS


def test_the_vocabulary_lists_itself(snapshot: SnapshotAssertion) -> None:
    """Every subject and fact stands in the listing with its kind and meaning."""
    told = []
    for subject in VOCABULARY.subjects:
        told.append(f"{subject.name}: {subject.doc}")
        told += [f"  {fact.name} ({fact.type}): {fact.doc}" for fact in subject.facts]

    assert snapshot == "\n".join(told)


@pytest.mark.parametrize(
    ("facts", "message"),
    [
        ([("wall", NUMBER), ("wall", TEXT)], "two facts of plan have the same name"),
        ([("clay", one("clya"))], "clay of plan leads to no subject: 'clya'"),
        ([("state", words())], "state of plan has an empty list of words"),
    ],
)
def test_a_vocabulary_that_contradicts_itself_is_refused(facts: list, message: str) -> None:
    """A vocabulary that no condition could use right is an error when it is made."""
    made = tuple(Fact(name, kind, "", lambda part: part) for name, kind in facts)

    with pytest.raises(ValueError, match=message):
        Vocabulary((with_facts(VOCABULARY.subjects[0], *made),))
    with pytest.raises(ValueError, match="two subjects of the vocabulary have the same name"):
        Vocabulary((VOCABULARY.subjects[0],) * 2)


def _questions(fact: Fact) -> list[str]:
    """Conditions that ask for a fact, and for each word it may be."""
    if fact.type.is_many:
        return [f"some {fact.name} has (1 is 1)"]
    return [f"{fact.name} is missing", *(f"{fact.name} is {word}" for word in fact.type.words)]


@pytest.mark.parametrize("subject", PLANS.subjects, ids=lambda subject: subject.name)
def test_every_fact_of_a_plan_can_be_asked_for(subject: Subject) -> None:
    """No subject, fact or word of the vocabulary is hidden by a word of the condition language."""
    scope = Scope(PLANS, {}, subject)
    asked = [question for fact in subject.facts for question in _questions(fact)]
    if subject.single:
        asked.append(f"{subject.name} is present")
    asked.append(f"count of {subject.name} is 1")
    refused = {}
    for question in asked:
        try:
            read_condition(question, scope)
        except Mistake as mistake:
            refused[question] = str(mistake)

    assert refused == {}
