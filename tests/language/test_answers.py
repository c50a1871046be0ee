"""What people write that is no line of a plan is answered with a right line."""

import csv

import pytest

from guardcone.documents import document_path
from guardcone.language import SourceText, read_statements, split_lines
from guardcone.language.grammar import SECTIONS

with document_path("grammar", "answers.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
NAMED = {"plan", "kiln", "witness", "reading"}


def told(section: str, line: str) -> list[str]:
    """What is wrong with a line of a section, places to fill in apart."""
    section = "plan" if section == "any" else section
    heading = f'{section} "x"' if section in NAMED else section
    faults = read_statements(SourceText("plan", split_lines(f"{heading}\n  {line}\n"))).faults
    return [f"{one.found} {one.repair}" for one in faults if one.rule != "still-to-fill-in"]


PHRASES = [(row["section"], phrase, row) for row in ROWS for phrase in row["phrases"].split(", ")]


@pytest.mark.parametrize(("section", "phrase", "row"), PHRASES, ids=lambda one: str(one)[:20])
def test_a_phrase_is_answered(section: str, phrase: str, row: dict[str, str]) -> None:
    """Alone, or with something behind it, it is answered, and each line offered can be read."""
    rests = {"cone {rest}": "6", "hold": "10 min", "drop to": "900 C", "timer": "12 h"}
    rest = next((one for key, one in rests.items() if key in row["lines"] + phrase), "bottom")
    written = f"{phrase} {rest}" if "{rest}" in row["lines"] else phrase

    assert told(section, written)
    assert row["answer"] in told(section, written)[0]
    for line in row["lines"].split(" | "):
        right = line.replace("{rest}", rest)
        assert any(told(one, right) == [] for one in SECTIONS), right


def test_an_answer_hides_no_danger() -> None:
    """Nobody knows yet what the line will say, so what it may stand for is still missing."""
    source = SourceText("plan", split_lines("safety\n  window open\n"))
    (section,) = read_statements(source).sections

    assert section.unreadable == set()
