"""The book as it is kept between runs is the book of the documents, and never an older one."""

import json
from pathlib import Path

import pytest

from guardcone.rulebook import kept_book
from guardcone.rulebook.kept_book import decoded, encoded, keep, kept
from guardcone.rulebook.library import book_of_documents, kept_parts

BOOK = book_of_documents()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own for what is kept, filled from the documents."""
    monkeypatch.setattr(kept_book, "FOLDER", tmp_path)
    monkeypatch.setattr(kept_book, "_key", lambda: "as made")
    keep(kept_parts(BOOK), tmp_path)
    return tmp_path


def test_what_is_kept_is_what_the_documents_say(folder: Path) -> None:
    """Every limit, rule, level, sentence, source and example comes back equal."""
    limits, rules = kept("rules")

    assert limits == BOOK.limits
    assert rules == BOOK.rules
    assert kept("examples") == tuple((rule.name, rule.examples) for rule in BOOK.rules)


def test_another_key_is_no_answer(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A document or a reader that changed makes all that was kept worthless."""
    monkeypatch.setattr(kept_book, "_key", lambda: "changed since")

    assert [kept("rules"), kept("examples"), kept("text_faults")] == [None] * 3


def test_the_key_follows_every_document_and_reader(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One letter more in a rule, a word, a condition's grammar or the code gives another key."""
    for folder in ("grammar", "rules", "guardcone/condition"):
        (tmp_path / folder).mkdir(parents=True)
    places = ("grammar/words.csv", "rules/kiln.yaml", "guardcone/condition/typing.py")
    for place in places:
        (tmp_path / place).write_text("as it is", encoding="utf-8")
    monkeypatch.setattr(kept_book, "FOLDER", tmp_path / "guardcone" / "compiled")
    monkeypatch.setattr(kept_book, "document_path", lambda folder: tmp_path / folder)
    key_of = kept_book._key.__wrapped__
    keys = [key_of()]
    for place in places:
        (tmp_path / place).write_text("as it is.", encoding="utf-8")
        keys.append(key_of())

    assert len(set(keys)) == 4


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: "",
        lambda text: text[: len(text) // 2],
        lambda text: text.replace("Compare", "system"),
        lambda text: json.dumps({"key": "as made", "pool": [["tuple", [7]]]}),
        lambda text: json.dumps({"key": "as made", "pool": []}),
        lambda text: json.dumps([]),
    ],
)
def test_a_damaged_file_is_no_answer(folder: Path, damage: object) -> None:
    """What can't be read, or is made of anything else than a book, is as if it were not there."""
    file = folder / "rules.json"
    file.write_text(damage(file.read_text(encoding="utf-8")), encoding="utf-8")

    assert kept("rules") is None


def test_a_folder_that_may_not_be_written_keeps_nothing(tmp_path: Path) -> None:
    """The check goes on without."""
    (tmp_path / "compiled").write_text("a file is in the way", encoding="utf-8")
    keep({"text_faults": ()}, tmp_path / "compiled")

    assert (tmp_path / "compiled").is_file()


def test_only_parts_of_a_book_can_be_kept() -> None:
    """A value of a class that no book has is refused, and equal parts stand once."""
    with pytest.raises(TypeError, match="this can't be kept"):
        encoded((object(),))
    pool = encoded((("a", 1.5), ("a", 1.5), frozenset({"b"})))

    assert pool == [["tuple", "a", 1.5], ["frozenset", "b"], ["tuple", [0], [0], [1]]]
    assert decoded(pool) == (("a", 1.5), ("a", 1.5), frozenset({"b"}))
