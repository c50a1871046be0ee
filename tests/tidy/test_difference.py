"""The difference that people read before anything is written."""

from guardcone.commands.tidy import difference
from guardcone.tidy import tidy_text

MESSY = """\
plan "mugs"
by "duty potter"
  starts 2026-10-03 07:30

target cone 6
"""


def test_what_changes_is_shown_line_by_line() -> None:
    """Lost lines have a minus, new ones a plus, and those around them stand for orientation."""
    assert (
        difference(MESSY, tidy_text(MESSY), "mugs.firing")
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
    """Equal texts give nothing to read, whatever their line ends."""
    assert difference("a\r\n", "a\r\n", "mugs.firing") == ""


def test_what_no_eye_can_see_is_said() -> None:
    """A change of marks, blanks and line ends alone is told in words."""
    assert (
        difference('\ufeffplan "mugs" \r\n', 'plan "mugs"\n', "mugs.firing")
        == """\
mugs.firing: the byte order mark at the beginning goes.
mugs.firing: every line ends in a line feed alone.
mugs.firing: blanks at the end of one line go.
--- mugs.firing (as it is)
+++ mugs.firing (as it would be)
@@ -1 +1 @@
-plan "mugs"\x20
+plan "mugs"
"""
    )


def test_a_missing_last_line_end_is_said() -> None:
    """A file whose last line has no end gets one, and is told so."""
    assert difference("a", "a\n", "x") == "x: the last line gets a line end.\n"


def test_a_file_that_becomes_empty_is_shown() -> None:
    """Blank lines that go altogether are a difference too."""
    assert difference("\n\n", "", "x").splitlines()[:2] == [
        "--- x (as it is)",
        "+++ x (as it would be)",
    ]
