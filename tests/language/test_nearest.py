"""The nearest word is the one a slip of the hand leads away from, and never one that says else."""

import pytest

from guardcone.language import SourceText, split_lines
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
