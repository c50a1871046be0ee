"""What a report says of cones and schedule: only what was asked, and never beside a danger."""

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone.checking.plans import CheckedPlan, check_plan
from guardcone.documents import document_text
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.reports.findings import findings_for_people
from guardcone.reports.page import Style
from guardcone.reports.right_as_written import right_as_written
from guardcone.rulebook.book import RuleBook, RuleChange
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence

BOOK = built_in_book()
# What is said in place of a text of the sound stoneware plan, wherever it stands.
SAID = {
    "as it is": {},
    "climbs that are advised against": {"climb 100 C/h to 600": "climb 210 C/h to 600"},
    "a target that the clay may not reach": {"cone 8 to cone 10, st": "cone 10 to cone 11, st"},
    "no guard": {"  guard  10\n": ""},
}
UNSAID = {
    "a loss, of the ware": {"cone 8 to cone 10, stoneware": "cone 5 to cone 6, stoneware"},
    "a vent that is off, a danger of safety": {"downdraft, on throughout": "off"},
    "a danger, of the kiln": {"rated to cone 11": "rated to 1100 C"},
    "a line that can't be read": {"hold  10 min": "hold 10"},
    "a line twice": {"open  at 90 C": "open  at 90 C\n  open at 80 C"},
    "a loss that is accepted": {
        "cone 8 to cone 10, stoneware": "cone 5 to cone 6, stoneware",
        "\nsafety": '\naccept target-above-clay because "a test piece stood it"\nsafety',
    },
}


def checked(changes: dict[str, str], book: RuleBook = BOOK, base: str = "stoneware") -> CheckedPlan:
    """A sound plan with these texts changed, checked."""
    text = document_text("rules", "sound_plans", f"{base}.firing")
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new)
    return check_plan(read_plan(SourceText("monday.firing", split_lines(text))), book)


@pytest.mark.parametrize("case", SAID)
def test_what_is_said(case: str, snapshot: SnapshotAssertion) -> None:
    """The cones in order, and on which of climbs, peak and cooling the rules found nothing."""
    assert right_as_written(checked(SAID[case])) == snapshot


@pytest.mark.parametrize("case", UNSAID)
def test_what_is_not_said(case: str) -> None:
    """Beside a danger or a loss, or a line that can't be read, nothing is called right."""
    assert checked(UNSAID[case]).findings or checked(UNSAID[case]).accepted
    assert right_as_written(checked(UNSAID[case])) == ""


def test_sets_that_differ(snapshot: SnapshotAssertion) -> None:
    """Where the shelves have other cones each, their order is told without the numbers."""
    top = """witness "top shelf"
  self-supporting cones
"""
    cooler = """  guide  4
  target 5
  guard  6
"""
    plan = checked(
        {
            top + "  guide  5\n  target 6\n  guard  7\n": top + cooler,
            "  shelves 2": "  shelves 2\n  spread 1 cone",
        },
        base="mid_range",
    )

    assert right_as_written(plan) == snapshot


def test_a_rule_that_was_not_asked_proves_nothing() -> None:
    """A studio that turns a rule on the order of cones off is not told that they are in order."""
    turned_off = RuleChange({Consequence.DOUBT: None}, "the pack is drawn on the wall")
    book = BOOK.with_overrides({}, {"guard-cooler-than-target": turned_off})

    assert "stand in order" in right_as_written(checked({}))
    assert "stand in order" not in right_as_written(checked({}, book))


def test_where_it_stands() -> None:
    """It is told last before the reminder, of one plan alone, and gives no leave to fire."""
    one = checked({})
    told = " ".join(findings_for_people([one], Style(), Consequence.DOUBT).split())
    of_two = findings_for_people([one, one], Style(), Consequence.DOUBT)

    after = told.partition("Cones and schedule alone, and no leave to fire: ")[2]
    assert after.partition("Before any firing")[1]
    assert "." in after.partition("Before any firing")[0]
    assert "Cones and schedule alone" not in of_two
