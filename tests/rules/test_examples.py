"""The examples of the built-in rules, each a test of its own, and the sound plans."""

import pytest
from the_book import READING, SOUND, all_examples, check_text, run

from guardcone.rulebook.rule import Consequence, Example


def test_the_book_has_no_fault() -> None:
    """Every rule and limit is read: names, kinds, silences, and no limit without a use."""
    assert [str(fault) for fault in READING.faults] == []


@pytest.mark.parametrize("example", list(all_examples()), ids=lambda example: example.id)
def test_example(example: Example) -> None:
    """A plan that passes gives nothing of its rule; one that fails gives it alone, at its place."""
    assert run(example).problems == ()


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_plan_gives_nothing_at_doubt_or_worse(name: str) -> None:
    """None of the eight kinds of sound plan raises a false alarm, and no rule breaks on it."""
    outcome = check_text(SOUND[name])

    assert outcome.broken == ()
    assert [
        (finding.rule, finding.span.line, finding.text)
        for finding in outcome.findings
        if finding.consequence.at_least(Consequence.DOUBT)
    ] == []


def test_there_are_sound_plans_of_eight_kinds() -> None:
    """The yardstick of false alarms has the eight kinds of firing that potters do."""
    assert set(SOUND) >= {
        "bisque",
        "low_fire",
        "mid_range",
        "stoneware",
        "porcelain",
        "raku",
        "lustre",
        "bone_china",
    }
