"""What can mean one thing only is read: names of one word without quotes, marks of a list."""

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.plan.plan import Plan


def read(text: str) -> tuple[Plan, list[str]]:
    """The plan, and what is told of it but of names that nothing describes."""
    plan = read_plan(SourceText("typed", split_lines(text)))
    return plan, [f.found for f in plan.faults if not f.rule.startswith("name-")]


@pytest.mark.parametrize("written", ["Teal", "R.Teal", "MW"])
def test_a_name_of_one_word_needs_no_quotes(written: str) -> None:
    """Where only a name may stand, and it is like no word of such a line."""
    plan, told = read(f'plan "Test"\n  by {written}\nsafety\n  call 112\n')

    assert told == []
    assert plan.by is not None
    assert plan.by.value == written
    assert plan.safety is not None
    assert plan.safety.emergency is not None
    assert plan.safety.emergency.value == "112"


@pytest.mark.parametrize(
    "line",
    [
        "watch Teal from 16:00 to end",  # it might be nobody, or off
        "hands leather",
        "extinguisher fitted-soon",
        "by whom",  # too like a word of the line
        "by start",  # a word of plans
        "by R. Teal",  # two words
        "kiln off",  # a heading
        "kiln sitter",
    ],
)
def test_other_names_want_quotes(line: str) -> None:
    """Where something else may be meant the line is refused, and how to write it is told."""
    plan, told = read(f'plan "Test"\nsafety\n  {line}\n')

    assert told
    assert plan.safety is not None
    assert plan.kiln is None or plan.kiln.name is None


def test_marks_and_numbers_of_a_list_say_nothing() -> None:
    """A list of steps as people number them is the schedule without the numbers."""
    listed, told = read(
        "schedule\n  - climb 60 C/h to 95 C\n  * hold 2 h\n  1. climb 100 C/h to 600 C\n"
        "  (2) hold 10 min\n  step 3: climb 150 C/h to 1240 C\n  segment 4 80 C/h to 1000 C\n"
        "  ramp 5 100 C/h to 900 C\n".replace("\\\n", "\n")
    )

    assert told == []
    assert listed.schedule is not None
    assert [(one.kind, one.to and one.to.value.celsius) for one in listed.schedule.segments] == [
        ("climb", 95),
        ("hold", None),
        ("climb", 600),
        ("hold", None),
        ("climb", 1240),
        ("cool", 1000),
        ("cool", 900),
    ]


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("150, 1100 C", "`150 C/h, 1100 C`"),
        ("climb 150 to 1100", "`climb 150 C/h to 1100 C` or `climb 150 F/h to 1100 F`"),
        ("150 1100 10 min", "`150 C/h 1100 C 10 min` or `150 F/h 1100 F 10 min`"),
    ],
)
def test_units_that_a_line_lacks_are_offered_together(line: str, offered: str) -> None:
    """Never guessed: the whole line in °C, and in °F where nothing in it is in °C."""
    plan = read_plan(SourceText("typed", split_lines(f"schedule\n  {line}\n")))

    assert [(one.rule, one.repair) for one in plan.faults] == [
        ("unit-missing", f"Write {offered}.")
    ]
    assert plan.schedule is not None
    assert "segments" in plan.schedule.unreadable
