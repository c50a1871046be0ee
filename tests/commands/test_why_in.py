"""`guardcone why RULE --in PLAN`: one rule told by the values of one plan."""

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

STUDIO = """\
may accept: ["studio manager"]
limits: {opening-most: 140 C}
rules:
  opening-hot: {advice: off, because: "every load here is opened at 110 °C, and none has cracked"}
"""

# What a plan says in place of a line of the sound stoneware plan, and the rule that is asked of it.
TOLD = {
    "it tells": ("opening-hot", {"open  at 90 C": "open at 126 C"}),
    "it does not tell": ("opening-hot", {}),
    "one of three sets": ("guard-missing", {"  guard  10\n": ""}),
    "the plan does not say": ("pad-damp", {"  pad    pricked, dry\n": ""}),
    "nothing to compare": ("damp-climb-fast", {}),
    "each piece of the load": ("clay-burnout-fast", {"10, stoneware": "10, contains sulphur"}),
    "told by another": (
        "guide-hotter-than-target",
        {"guide  8": "guide 10", "guard  10": "guard 8"},
    ),
    "accepted": (
        "guard-missing",
        {
            "  guard  10\n": "",
            'witness "middle': 'accept guard-missing because "it fell over; a new one is '
            'ordered" by "studio manager"\n\nwitness "middle',
        },
    ),
    "a line that can't be read": ("opening-hot", {"open  at 90 C": "open at 90"}),
    "no such section": ("target-ahead-of-guide", {}),
    "a fault of the text": ("unit-missing", {"open  at 90 C": "open at 90"}),
    "no fault of the text": ("unit-missing", {}),
}


def changed(plan: str, changes: dict[str, str]) -> str:
    """The plan with each text replaced, the first one only but for headings."""
    for old, new in changes.items():
        assert old in plan, old
        plan = plan.replace(old, new, -1 if old == "witness" else 1)
    return plan


@pytest.mark.parametrize("case", TOLD)
def test_a_rule_in_a_plan(
    guardcone, studio: Path, stoneware: str, case: str, snapshot: SnapshotAssertion
) -> None:
    """Where it tells, with the plan's own numbers; where not, the values that it asks of."""
    rule, changes = TOLD[case]
    (studio / "monday.firing").write_text(changed(stoneware, changes))

    assert str(guardcone("why", rule, "--in", "monday.firing")) == snapshot


def test_under_a_studio(
    guardcone, studio: Path, stoneware: str, snapshot: SnapshotAssertion
) -> None:
    """The numbers are those in force; a level that is turned off is told with the reason."""
    (studio / "studio.yaml").write_text(STUDIO)
    (studio / "monday.firing").write_text(changed(stoneware, {"open  at 90 C": "open at 126 C"}))

    assert str(guardcone("why", "opening-hot", "--in", "monday.firing")) == snapshot


def test_a_danger_that_is_acknowledged(
    guardcone, studio: Path, stoneware: str, snapshot: SnapshotAssertion
) -> None:
    """It is told at its weight, with who answers for it and why."""
    (studio / "studio.yaml").write_text(STUDIO)
    changes = {
        "clearance    1 m": "clearance 20 cm",
        "\nsafety": '\naccept clearance-short as danger because "a brick wall, seen by the fire '
        'office" by "studio manager"\nsafety',
    }
    (studio / "monday.firing").write_text(changed(stoneware, changes))

    assert str(guardcone("why", "clearance-short", "--in", "monday.firing")) == snapshot


@pytest.mark.parametrize(
    ("words", "error"),
    [
        (
            ("guard-misssing", "--in", "monday.firing"),
            "there is no rule guard-misssing; the nearest is guard-missing",
        ),
        (
            ("guard-missing", "--in", "tuesday.firing"),
            "tuesday.firing can't be read: no such file or directory",
        ),
        (("", "--in", "monday.firing"), "the name of the rule is empty"),
        (("guard-missing", "--in", ""), "the name of the plan is empty"),
    ],
)
def test_what_is_not_there_is_one_line(
    guardcone, studio: Path, stoneware: str, words: tuple[str, ...], error: str
) -> None:
    """A rule or a plan that is not there is said in one line, with the nearest right name."""
    (studio / "monday.firing").write_text(stoneware)

    said = guardcone("why", *words)

    assert (said.screen, said.errors, said.status) == ("", f"guardcone: {error}\n", 2)


def test_every_rule_can_be_asked_of_every_sound_plan(guardcone, studio: Path) -> None:
    """Nothing is left open in what is told, and no rule that is silent reads as leave to fire."""
    from guardcone.rulebook.library import built_in_book, sound_plans

    rules = [rule.name for rule in built_in_book().rules]
    for number, rule in enumerate(rules):
        plans = [*sound_plans().items()]
        name, text = plans[number % len(plans)]
        (studio / f"{name}.firing").write_text(text)
        said = guardcone("why", rule, "--in", f"{name}.firing")

        assert said.status == 0
        assert "not stated" not in said.screen
        assert "{" not in said.screen
        assert "That it does not tell is no leave to" in " ".join(said.screen.split())
