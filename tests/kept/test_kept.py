"""What is kept between runs counts only for the documents and the code that it was made from."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from guardcone import kept as keeping
from guardcone.kept import keep, kept
from guardcone.language.grammar import lark_parser, plan_grammar
from guardcone.language.line_parser import ParserTables


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own in which something is kept."""
    monkeypatch.setattr(keeping, "FOLDER", tmp_path)
    monkeypatch.setattr(keeping, "_key", lambda: "as made")
    keep({"words": {"damp": ["wet", "moist"]}}, tmp_path)
    return tmp_path


def test_what_was_kept_comes_back(folder: Path) -> None:
    """It is looked up by its name."""
    assert kept("words") == {"damp": ["wet", "moist"]}
    assert kept("limits") is None


def test_another_key_is_no_answer(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A document or a reader that changed makes all that was kept worthless."""
    monkeypatch.setattr(keeping, "_key", lambda: "changed since")

    assert kept("words") is None


def test_the_key_follows_every_document_and_reader(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One letter more in a rule, a word, a condition's grammar or the code gives another key."""
    places = ("grammar/words.csv", "rules/kiln.yaml", "guardcone/condition/typing.py")
    for place in places:
        (tmp_path / place).parent.mkdir(parents=True)
        (tmp_path / place).write_text("as it is", encoding="utf-8")
    monkeypatch.setattr(keeping, "FOLDER", tmp_path / "guardcone" / "compiled")
    monkeypatch.setattr(keeping, "document_path", lambda folder: tmp_path / folder)
    key_of = keeping._key.__wrapped__
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
        lambda text: json.dumps({"key": "as made"}),
        lambda text: json.dumps(["as made"]),
    ],
    ids=["empty", "half", "nothing made", "no object"],
)
def test_a_damaged_file_is_no_answer(folder: Path, damage: Callable[[str], str]) -> None:
    """What can't be read is as if it were not there."""
    file = folder / "words.json"
    file.write_text(damage(file.read_text(encoding="utf-8")), encoding="utf-8")

    assert kept("words") is None


def test_a_folder_that_may_not_be_written_keeps_nothing(tmp_path: Path) -> None:
    """The check goes on without."""
    (tmp_path / "compiled").write_text("a file is in the way", encoding="utf-8")
    keep({"words": {}}, tmp_path / "compiled")

    assert (tmp_path / "compiled").is_file()


def test_the_kept_tables_of_the_grammar_are_those_that_lark_makes() -> None:
    """The same rules in the same order; the states, which lark numbers as it likes, as many."""
    now, before = ParserTables.of(lark_parser()), plan_grammar().tables

    assert [[name, [*made_of]] for name, made_of in before.rules] == [
        [name, [*made_of]] for name, made_of in now.rules
    ]
    assert len(before.states) == len(now.states)
    assert before.starts.keys() == now.starts.keys()
