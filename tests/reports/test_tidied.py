"""What people read before anything is written: a plan first, then what is told of it."""

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone.reports.page import Style
from guardcone.reports.tidied import summary_of_tidied, tidied_as_difference, tidied_for_people
from guardcone.tidy import laid_out

MESSY = """\
plan "mugs"
by "duty potter"
  starts 2026-10-03 07:30

target cone 6
"""
WITH_EVERYTHING = """\
\ufeffFIRING PLAN “Thursday   stoneware”\r
By “duty potter”    # keys in the office\r
  Start on 3 October 2026 at 7.30  \r
firing glost\r
kiln "Heron"\r

electric;front loading ,230 litres& 11 kilowatts\r
max cone 10\r
  shelf 4\r
# the county answers on Monday\r
  kilns are warm\r
schedule\r
ramp 60 °C per hour up to 95 Celsius # while it is damp\r
soak 2h30   # the planters are thick\r
ramp 60 °C per hour to 600C\r


ramp 150 C/h to 1140C\r
soak 2h30"""


def shown(text: str, style: Style = Style()) -> str:  # noqa: B008 - it is frozen
    """What people are told of a plan in the file mugs.firing."""
    return tidied_for_people(laid_out(text), "mugs.firing", style)


def difference(text: str) -> str:
    """The difference of a plan in the file mugs.firing."""
    return tidied_as_difference(laid_out(text), "mugs.firing")


@pytest.mark.parametrize("text", [MESSY, WITH_EVERYTHING], ids=["one line", "everything"])
def test_people_are_told_what_changes_and_where(text: str, snapshot: SnapshotAssertion) -> None:
    """Each kind of change is told once, with its lines, and shows a line as it is and becomes."""
    assert shown(text) == snapshot


def test_a_narrow_screen_and_plain_letters(snapshot: SnapshotAssertion) -> None:
    """What is told fits a narrow screen of plain letters; a line of the plan stays one line."""
    assert shown(WITH_EVERYTHING, Style(unicode=False, width=40)) == snapshot


def test_nothing_to_tell() -> None:
    """Of a tidy plan nothing is told, nor of one in which only lines that can't be read stand."""
    assert shown('plan "mugs"\n  by "duty potter"\n') == ""
    assert shown("schedule\n  climb 60 to 95\n") == ""


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ("3", "line 3"),
        ("3 4", "lines 3 and 4"),
        ("3 4 5", "lines 3 to 5"),
        ("2 3 4 6 8 9", "lines 2 to 4, 6, 8 and 9"),
    ],
)
def test_the_lines_of_one_change(lines: str, told: str) -> None:
    """Neighbours are told from the first to the last, single ones by themselves."""
    numbers = {int(number) for number in lines.split()}
    text = "".join(f"# so{' ' if number in numbers else ''}\n" for number in range(1, 10))

    assert shown(text) == f"mugs.firing\n\nBlanks at the end go: {told}.\n\n"


@pytest.mark.parametrize(
    ("plans", "changed", "told"),
    [
        (1, 0, "1 plan looked at: the layout would not change.\n"),
        (
            3,
            2,
            "3 plans looked at: 2 would change, in layout and spelling alone. Nothing is\n"
            "written yet; guardcone tidy --write does that.\n",
        ),
    ],
)
def test_the_last_line(plans: int, changed: int, told: str) -> None:
    """How many plans would change is the last that people read."""
    assert summary_of_tidied(plans, changed, Style()) == told


def test_what_changes_is_shown_line_by_line() -> None:
    """Lost lines have a minus, new ones a plus, and those around them stand for orientation."""
    assert (
        difference(MESSY)
        == """\
--- mugs.firing (as it is)
+++ mugs.firing (as it would be)
@@ -1,5 +1,5 @@
 plan "mugs"
-by "duty potter"
+  by     "duty potter"
   starts 2026-10-03 07:30
\x20
 target cone 6
"""
    )


def test_no_change_is_no_difference() -> None:
    """A tidy plan gives nothing to read."""
    assert difference('plan "mugs"\n') == ""


def test_what_no_eye_can_see_is_said() -> None:
    """A change of marks, blanks and line ends alone is told in words."""
    assert (
        difference('\ufeffplan "mugs" \r\n')
        == """\
mugs.firing: the byte order mark at the beginning goes.
mugs.firing: every line ends in a line feed alone.
mugs.firing: blanks at the end of 1 line go.
--- mugs.firing (as it is)
+++ mugs.firing (as it would be)
@@ -1 +1 @@
-plan "mugs"\x20
+plan "mugs"
"""
    )


def test_a_missing_last_line_end_is_said() -> None:
    """A file whose last line has no end gets one, and is told so."""
    assert difference('plan "mugs"') == "mugs.firing: the last line gets a line end.\n"


def test_a_file_that_becomes_empty_is_shown() -> None:
    """Blank lines that go altogether are a difference too."""
    assert difference("\n\n").splitlines()[:2] == [
        "--- mugs.firing (as it is)",
        "+++ mugs.firing (as it would be)",
    ]
