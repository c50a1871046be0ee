"""A heading with what is said behind it in its line is offered as lines, and nothing is cut."""

import re

import pytest

from guardcone.language import SourceText, read_statements, split_lines
from guardcone.language.parted_lines import pieces_of


def faults(text: str) -> list[str]:
    """What is wrong in a plan, places to fill in apart."""
    read = read_statements(SourceText("plan", split_lines(f"{text}\n"))).faults
    return [one.rule for one in read if one.rule != "still-to-fill-in"]


def mended(line: str) -> str:
    """What is offered in place of a line."""
    (fault,) = read_statements(SourceText("plan", split_lines(f'plan "Mugs"\n{line}\n'))).faults
    return fault.mended


def test_pieces_are_whole_words() -> None:
    """What parts them is none of them, word or sign; a comma in a number parts nothing."""
    text = "hold 1,5 h, then full power to 1000 C & open; done"

    assert [words for words, _ in pieces_of(text)] == [
        "hold 1,5 h", "full power to 1000 C", "open", "done",
    ]  # fmt: skip
    assert all(text[at:].startswith(words) for words, at in pieces_of(text))


LINES = [
    "load: white clay, bisqued to 06, stood on wads",
    "load: wood-fire stoneware, shino and ash glazes",
    "load: children's animals, solid in places 25 mm, dried one week",
    "load: members' work, 12 mm apart",
    "schedule: 15 minutes up to 500 C then full power to 1000 C, pull with tongs",
    "schedule: small fire in the ashpit, 80 C/h to 1000 C",
    "safety: two on every shift, leather gloves, grass raked back",
    "kiln: anagama, wood fired, kiln wash on the floor",
]


@pytest.mark.parametrize("line", LINES)
def test_what_is_offered_can_be_read(line: str) -> None:
    """Nothing in the lines that are offered is a fault in the next round."""
    assert faults(f'plan "Mugs"\n{mended(line)}') == []


@pytest.mark.parametrize("line", LINES)
def test_every_word_is_kept(line: str) -> None:
    """Each word of the line stands in what is offered, whole, and no fuel is asked under load."""
    words = re.findall(r"[\w']+", line.casefold())

    assert [one for one in words if one not in re.findall(r"[\w']+", mended(line).casefold())] in (
        [], ["then"],
    )  # fmt: skip
    assert "heats" not in mended(line)
