"""Fillers are told from reasons, and `none yet` from a thing that is there."""

import pytest

from guardcone.language.meanings import says_nobody, says_none, says_nothing

FILLERS = (
    "todo",
    "asdfgh",
    "asdf asdf",
    "qwertz",
    "aaaaaaaa",
    "aabbcc aabbcc",
    "no reason",
    "because i say so",
    "It is fine.",
    "to do later",
    "tbd tbd",
    "pad-damp",
)
REASONS = (
    "the pad was fired with last week's bisque",
    "pads are dry",
    "pad-damp is known: it stood on the warm kiln for a night",
    "property of the county",
)
NONE = ("none", "not checked yet", "TODO", "no gloves", "?", "-", "n/a", "to be confirmed", "x")
SOME = (
    "CO2, outside the kiln room",
    "555, then the studio manager",
    "no local code applies here, says the county",
    "nobody may enter",
    "open air",
    "fill in what was checked",
)


@pytest.mark.parametrize("text", FILLERS)
def test_fillers_say_nothing(text: str) -> None:
    """Placeholders, keyboard runs and the rule's own name tell nobody anything."""
    assert says_nothing(text, "pad-damp")


@pytest.mark.parametrize("text", REASONS)
def test_a_reason_says_something(text: str) -> None:
    """A sentence about the firing is a reason, also one with the rule's name in it."""
    assert not says_nothing(text, "pad-damp")


@pytest.mark.parametrize("text", NONE)
def test_none_is_none(text: str) -> None:
    """What is written where there is nothing, or nothing yet, is no thing."""
    assert says_none(text)


@pytest.mark.parametrize("text", SOME)
def test_a_thing_is_a_thing(text: str) -> None:
    """A text that names something is taken at its word, also one that begins with `no`."""
    assert not says_none(text)


def test_nobody_is_nobody() -> None:
    """A watch given to nobody is told from one given to somebody."""
    assert says_nobody("Nobody")
    assert says_nobody("no one")
    assert not says_nobody("Noone Patel")
