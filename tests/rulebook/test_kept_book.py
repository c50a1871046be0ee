"""The book as it is kept between runs is the book of the documents, part by part."""

import json

import pytest

from guardcone.rulebook import kept_book
from guardcone.rulebook.kept_book import KeptTuple, decoded, encoded, kept_part
from guardcone.rulebook.library import book_of_documents, parts_to_keep

BOOK = book_of_documents()
MADE = parts_to_keep(BOOK)


def keeps(monkeypatch: pytest.MonkeyPatch, made: object) -> None:
    """Let this be what was kept."""
    monkeypatch.setattr(kept_book, "kept", lambda name: made)


def test_what_is_kept_is_what_the_documents_say(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every limit, rule, level, sentence, source and example comes back equal, by way of JSON."""
    monkeypatch.setattr(kept_book, "kept", json.loads(json.dumps(MADE)).get)
    limits, rules = kept_part("rules", lambda part, number: KeptTuple(kept_book.kept(part))[number])

    assert limits == BOOK.limits
    assert rules == BOOK.rules
    for one, other in zip(rules, BOOK.rules, strict=True):
        assert one.background() == other.background()
        assert [level.said() for level in one.levels] == [level.said() for level in other.levels]
    assert kept_part("nothing of the kind") is None


@pytest.mark.parametrize(
    "damaged",
    [
        json.loads(json.dumps(MADE["rules"]).replace("Operation", "system")),
        json.loads(json.dumps(MADE["rules"]))[::-1],
        [["tuple", [7]]],
        [["FrozenSet"]],
        [[]],
        [7],
        7,
    ],
    ids=["strange class", "another order", "no such part", "strange name", "nameless", "no part",
         "no pool"],
)  # fmt: skip
def test_what_is_damaged_is_no_answer(monkeypatch: pytest.MonkeyPatch, damaged: object) -> None:
    """What is made of anything else than a book is as if it were not there."""
    keeps(monkeypatch, damaged)

    assert kept_part("rules") is None


def test_only_parts_of_a_book_can_be_kept() -> None:
    """A value of a class that no book has is refused, and equal parts stand once."""
    with pytest.raises(TypeError, match="this can't be kept"):
        encoded((object(),))
    pool = encoded((("a", 1.5), ("a", 1.5), frozenset({"b"})))

    assert pool == [["tuple", "a", 1.5], ["frozenset", "b"], ["tuple", [0], [0], [1]]]
    assert decoded(pool) == (("a", 1.5), ("a", 1.5), frozenset({"b"}))
