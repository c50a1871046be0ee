"""What is wrong with a condition: said at its characters, with the nearest right name."""

import pytest
from syrupy.assertion import SnapshotAssertion
from toy_kiln import VOCABULARY

from guardcone.condition.grammar import Mistake, reserved_words
from guardcone.condition.kinds import LENGTH, RATE
from guardcone.condition.scope import Scope
from guardcone.condition.typing import read_condition, read_place, read_slot, read_wording

LIMITS = {"damp-ware-rate": RATE, "thick-wall": LENGTH}

WRONG = """\
ware: wal is thicker than 12 mm
ware: guide is missing
ware: wall is thicker than 60 C/h
ware: wall is hotter than 12 mm
ware: wall is thicker than 12 furlongs
ware: wall is thicker than 12
ware: wall is thicker than thick-walls
ware: wall is longer than thick-wall
ware: state is dampp
ware: state is damp or leather-hrd
ware: state is above damp
ware: state is damp or leather-hard and wall is thicker than 12 mm
ware: state is damp or dry
ware: state is one of damp, wet
ware: wall is one of damp, wet
ware: wall
ware: wall is missin
ware: wall iss missing
ware: wall is thicker 12 mm
ware: wall is thicker than
ware: wall + rate-of-climb is 5 mm
ware: wall + pieces is 5 mm
ware: wall is 5 m and pieces is 5 m
ware: name mentions ""
ware: name mentions "lustre
ware: wall mentions "lustre"
ware: name is above "a"
ware: clay is cone 9
ware: matures-to of clay of ware is mugs
ware: rating of klin is present
ware: ratin of kiln is present
ware: rating of segment is present
ware: place of wall is "a"
ware: some wares has (state is damp)
ware: some wall has (state is damp)
ware: some ware has (guide is missing)
ware: ware is missing
ware: clay is missing or segment is missing
ware: thick-wall is missing
ware: (wall is missing) is missing
ware: (wall is missing) + 1 is 2
ware: wall is 99999999999 mm
ware: import os
ware: __import__("os").system("true")
witness set: guide is hotter than 6
witness set: guide is hotter than cone 00
witness set: guide is one step thicker than target
witness set: guide is faster than target
witness set: steps from guide to lean is 1
witness set: cones is missing
witness set: cones is cones
witness set: number of cones is cone 9
kiln: vent-on-throughout is vent-on-throughout
kiln: rating + rating is 5 C
kiln: starts is later than rating
kiln: rating is above 5 min
kiln: rating is above
kiln: rating
kiln: rating is ~
kiln: rating is (5 C
"""


def _scope(subject: str) -> Scope:
    concerns = VOCABULARY.subject(subject)
    assert concerns is not None
    return Scope(VOCABULARY, LIMITS, concerns)


def _drawn(text: str, mistake: Mistake) -> str:
    mark = " " * mistake.start + "^" * max(mistake.end - mistake.start, 1)
    hint = f"\n    {mistake.hint}" if mistake.hint else ""
    return f"{text}\n{mark}\n    {mistake.message}{hint}\n"


def test_each_wrong_condition_is_answered_at_its_place(snapshot: SnapshotAssertion) -> None:
    """Every wrong condition is refused with its place, what is wrong, and a way to put it right."""
    told = []
    for line in WRONG.splitlines():
        subject, _, text = line.partition(": ")
        with pytest.raises(Mistake) as raised:
            pytest.fail(f"{text!r} was taken: {read_condition(text, _scope(subject))}")
        told.append(_drawn(text, raised.value))

    assert snapshot == "\n".join(told)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("vent-on-throughout", "a sentence cannot print yes or no"),
        ("rating is missing", "`rating is missing` holds or does not hold: it is no value"),
        ("kiln", "a sentence cannot print a kiln"),
    ],
)
def test_a_slot_asks_for_a_value(text: str, message: str) -> None:
    """A slot that would print a claim, or a thing without a name, is refused."""
    with pytest.raises(Mistake) as raised:
        read_slot(text, _scope("kiln"))

    assert message == raised.value.message


@pytest.mark.parametrize(
    ("text", "where", "message"),
    [
        ("It is [up to {rating}|unsaid", (0, 0), ""),
        ("It is [1], or [{rating|2].", (15, 16), "a slot opens with { and closes with }"),
        ("It is [unsaid|{kiln}].", (15, 19), "a sentence cannot print a kiln"),
    ],
)
def test_a_choice_is_read_like_a_sentence(text: str, where: tuple[int, int], message: str) -> None:
    """A slot of a choice is told at its place; a bracket that is no choice is plain text."""
    try:
        told = (str(read_wording(text, _scope("kiln"))), (0, 0), "")
    except Mistake as mistake:
        told = (text, (mistake.start, mistake.end), mistake.message)

    assert told == (text, where, message)


@pytest.mark.parametrize("text", ["5 mm", "guide is missing", "cones", "steps from guide to guard"])
def test_a_finding_points_at_what_was_written(text: str) -> None:
    """An amount, a claim or a crowd has no one place in the plan."""
    with pytest.raises(Mistake):
        read_place(text, _scope("witness set"))


def test_the_vocabulary_keeps_off_the_words_of_the_language() -> None:
    """A fact named like a word of the language could never be asked for."""
    assert frozenset() == reserved_words() & VOCABULARY.names()
    assert {"is", "than", "hotter", "some", "of"} <= reserved_words()
