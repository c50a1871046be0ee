"""The nearest word is the one a slip of the hand leads away from, and never one that says else."""

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.language.nearest import nearest
from guardcone.plan import read_plan

DAYS = ("Sunday", "Monday", "Tuesday")


@pytest.mark.parametrize(
    ("written", "candidates", "meant"),
    [
        ("sMonday", DAYS, "Monday"),
        ("Modnay", DAYS, "Monday"),
        ("kuard", ("guard", "guide"), "guard"),
        ("gguard", ("guard", "guide"), "guard"),
        ("gaurd", ("guide", "guard"), "guard"),
        ("set", ("wet",), None),
        ("nested", ("vented",), None),
        ("seen", ("unseen",), None),
        ("power on", ("power off",), None),
        ("celadon", DAYS, None),
    ],
)
def test_the_nearest_word(written: str, candidates: tuple[str, ...], meant: str | None) -> None:
    """One letter too many, too few, changed or swapped; none that turns round what is said."""
    assert nearest(written, candidates) == meant


def test_a_line_with_a_slip_is_one_fault() -> None:
    """What would follow from the word that was likely meant waits until the slip is mended."""
    text = 'plan "Bisque"\n  starts Sonday, 5 October 2026\n'
    plan = read_plan(SourceText("plan", split_lines(text)))

    assert [(fault.rule, fault.span.line) for fault in plan.faults] == [("line-unclear", 2)]


# Small words, and two that mean nearly one thing.
ALIKE = {
    ("no", "not"), ("no", "on"), ("of", "off"), ("within", "with"), ("electrician", "electrics"),
}  # fmt: skip


def words_of_places() -> list[dict[str, str]]:
    """The words that may open a line of a section, and those of each statement."""
    grammar = plan_grammar()
    places = [grammar.opening[section] for section in SECTIONS]
    places += [
        frozenset(grammar.terminals_of(rule))
        for section in SECTIONS
        for rule in grammar.openings[section]
    ]
    return [
        {word: one for one in sorted(place) for word in grammar.words.get(one, ())}
        for place in places
    ]


def test_no_word_is_a_slip_away_from_another_at_its_place() -> None:
    """Who mistypes one word of the trade is never taken to have written another."""
    near = {
        tuple(sorted((word, meant)))
        for words in words_of_places()
        for word, terminal in words.items()
        if (
            meant := nearest(
                word,
                [
                    other
                    for other, one in words.items()
                    if one != terminal and other.count(" ") == word.count(" ")
                ],
            )
        )
    }

    assert near - {tuple(sorted(pair)) for pair in ALIKE} == set()
