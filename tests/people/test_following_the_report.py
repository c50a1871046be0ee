"""A beginner's plan, mended by the report alone."""

from pathlib import Path

import pytest
from measure import HERE, PHRASES, checked_text, faults_of, followed, phrases, verdict
from syrupy.assertion import SnapshotAssertion

from guardcone.checking.plans import CheckedPlan
from guardcone.reports.findings import findings_for_people
from guardcone.reports.page import Style
from guardcone.rulebook.rule import Consequence

FIRST_PLAN = """\
plan "First glaze"
kiln "Little Egret"
  electric
target cone 6
load
  ware "mugs" 12 of "Marsh buff", bisque
schedule
  climb 100 C/h to 1222 C
  hold 10 min
"""


def report(checked: CheckedPlan) -> str:
    """What a person reads."""
    return findings_for_people([checked], Style(), Consequence.DOUBT)


def test_nine_lines_need_one_writing(snapshot: SnapshotAssertion) -> None:
    """Whoever does what the report of a short plan says is left with places to fill in."""
    first = checked_text(FIRST_PLAN, "first.firing")
    text = followed(first)
    second = checked_text(text, "first.firing")

    assert report(first) == snapshot(name="first")
    assert text == snapshot(name="written anew")
    assert report(second) == snapshot(name="second")
    assert {one.rule for one in second.findings} == {"still-to-fill-in"}


def left(checked: CheckedPlan) -> list[str]:
    """The rules that tell of more than places to fill in."""
    return [one.rule for one in checked.findings if one.rule != "still-to-fill-in"]


@pytest.mark.parametrize("path", sorted(HERE.glob("*.firing")), ids=lambda path: path.stem)
def test_who_does_what_the_report_says_is_never_told_more(path: Path) -> None:
    """Followed word for word, a report on a plan as people type them brings no further finding."""
    plan = checked_text(path.read_text(encoding="utf-8"))
    after = checked_text(followed(plan))

    assert len(left(after)) <= len(left(plan))


# So many phrases of each table are read or answered, and so many read, at the fewest.
UNDERSTOOD = {
    "phrases": (155, 80),
    "fresh_phrases": (58, 13),
    "third_phrases": (58, 16),
    "fourth_phrases": (26, 3),  # four are better refused than taken for a ware that nobody named
    "fifth_phrases": (27, 2),
    "sixth_phrases": (28, 8),
    "seventh_phrases": (40, 5),
    "eighth_phrases": (70, 6),
}


@pytest.mark.parametrize("name", PHRASES)
def test_most_phrases_are_read_or_answered(name: str) -> None:
    """Of the words that people were seen to write, and of what potters would write."""
    told = [verdict(section, phrase) for section, phrase in phrases(name)]
    understood, read = UNDERSTOOD[name]

    assert len(told) - told.count("refused") >= understood
    assert told.count("read") >= read


def test_what_means_nothing_is_refused() -> None:
    """The measure tells: a line of nonsense is neither read nor answered."""
    assert verdict("schedule", "xyzzy plugh") == "refused"
    assert faults_of("load", "half past never")


def test_what_heats_the_kiln_is_asked_first(snapshot: SnapshotAssertion) -> None:
    """Until it is said, the dangers of fuel are named, and their lines wait."""
    unsaid = report(checked_text(FIRST_PLAN.replace("  electric\n", ""), "first.firing"))
    gas = report(checked_text(FIRST_PLAN.replace("electric", "propane"), "first.firing"))

    assert unsaid.split("what the plan leaves unsaid\n")[1].split("\n     kiln")[0] == snapshot
    for name in ("co-alarm-missing", "flame-safety-missing", "gas-off-unsaid"):
        assert name in unsaid
        assert f"# danger: {name}" in gas


def test_a_place_to_fill_in_is_no_missing_water() -> None:
    """The line that is asked for at a raku firing ends the asking, though it is still open."""
    plan = 'plan "Raku"\n  firing raku\nsafety\n'
    place = '  extinguisher "fill in what stands beside the kiln"\n'

    assert "raku-water-unsaid" in left(checked_text(plan))
    assert "raku-water-unsaid" not in left(checked_text(plan + place))


def test_a_harmless_remark_hides_no_loss() -> None:
    """Damp ware that the line itself heats too fast is told beside the words nobody can read."""
    plan = """\
plan "Planters"
load
  clay "Grog" matures cone 8 to cone 10
  ware "planters" 6 of "Grog", damp, wall 25 mm
schedule
  climb 100 C/h to 200 C on pilots
  climb 150 C/h to 1000 C
"""

    assert {"line-unclear", "damp-without-hold", "damp-climb-fast"} <= set(left(checked_text(plan)))
