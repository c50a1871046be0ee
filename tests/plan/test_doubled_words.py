"""A line that is said twice is told by the words of the plan language, not by names of fields."""

import re

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.plan import read_plan

GRAMMAR = plan_grammar()
WORDS = {word for words in GRAMMAR.words.values() for word in words}
# They may stand as often as one likes: each says something of its own.
MANY = {"climb", "hold", "cool", "step", "reduce", "watch", "note", "clay", "glaze", "ware"}
MANY |= {"accept", "looked", "witness_extra", "witness_order", "witness_series"}
LINES = [
    (section, rule)
    for section in SECTIONS
    for rule in GRAMMAR.openings[section]
    if rule in GRAMMAR.right_lines and rule not in {"section", "target", *MANY}
]


@pytest.mark.parametrize(("section", "rule"), LINES)
def test_a_doubled_line_is_told_in_words_of_the_plan(section: str, rule: str) -> None:
    """Each right line written twice is told with its own opening word, or by what it gives."""
    heading = f'{section} "one"' if section in ("plan", "kiln", "witness", "reading") else section
    line = GRAMMAR.right_lines[rule][0].right
    text = f"{heading}\n  {line}\n  {line}\n"

    faults = read_plan(SourceText("doubled", split_lines(text))).faults
    told = [fault.found for fault in faults if fault.rule == "fact-doubled"]

    assert len(told) == 1, faults
    named = re.match(r"`(.+?)`|The (\w+) ", told[0])
    assert named
    if named[1]:
        assert named[1] in WORDS
        assert line.lower().startswith(named[1].lower())
