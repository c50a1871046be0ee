"""Room: the vocabulary of plans; here how a sentence names a witness set."""

from guardcone.rulebook.facts.case import part_fact
from guardcone.rulebook.kinds import TEXT
from guardcone.rulebook.vocabulary import Fact
from guardcone.span import Written

__all__ = ["called", "called_facts"]


def called(place: Written[str] | None) -> str:
    """A witness set in a sentence, by its name if it has one."""
    return f'the witness set "{place.value}"' if place else "one witness set"


def called_facts() -> tuple[Fact, ...]:
    """How a sentence names the set of a witness set or reading, whatever its place is called."""

    def first(place: Written[str] | None) -> str:
        return called(place)[0].upper() + called(place)[1:]

    return (
        part_fact(
            "the-set", TEXT, 'In a sentence: the witness set "x".', lambda w: called(w.place)
        ),
        part_fact(
            "this-set", TEXT, "The same at the head of a sentence.", lambda w: first(w.place)
        ),
    )
