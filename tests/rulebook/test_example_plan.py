"""Sections and single lines put into a sound plan, and what is said where they do not fit."""

from collections.abc import Sequence

import pytest
from toy_kiln import SOUND

from guardcone.rulebook.example_plan import Unspliceable, sections_of, splice
from guardcone.rulebook.rule import Change
from guardcone.span import Span, Written

# Where the rule file of these tests names a line, and where a heading.
LINE, HEADING = Span(7, 13, 20), Span(9, 11, 18)

TWO_SETS = """\
# A plan with two sets of cones.
witness "bottom shelf"
  guide  8
  target 9    # the one that counts
witness "top shelf"
  guide  8
  target 9
schedule
  climb 60 C/h to 95 C
  open  at 90 C
"""


def spliced(
    base: str, example: str, without: tuple[str, ...] = (), changes: Sequence[Change] = ()
) -> str:
    """The text of the plan that an example makes."""
    return splice(base, example, without, changes).text


def change(line: str, *lines: str, added: bool = False, inside: str = "") -> Change:
    """A change of the line that is written so, as a rule file would have it."""
    heading = Written(inside, HEADING) if inside else None
    return Change(Written(line, LINE), lines, is_added=added, inside=heading)


def test_an_example_takes_the_place_of_its_sections() -> None:
    """Sections of the same kind go, new kinds come in order, those left out are left out."""
    text = spliced(
        SOUND,
        'witness "top"\n  target 06\nwitness "middle"\n  target 06\nsafety\n  vent on throughout\n',
        without=("load",),
    )

    assert text == (
        'plan "toy"\nkiln "Heron"\n  rating 1280 C\n  vent-on-throughout yes\ntarget cone 9\n'
        'witness "top"\n  target 06\nwitness "middle"\n  target 06\n'
        'schedule\n  segment "first", rate 60 C/h, start 20 C, goal 95 C\n'
        "safety\n  vent on throughout\n"
    )


def test_a_kind_that_the_base_lacks_goes_where_a_plan_has_it() -> None:
    """A schedule put into a plan without one stands before the safety section."""
    base = 'plan "a"\nsafety\n  vent on\nreading "b"\n'

    assert spliced(base, "schedule\n  hold 1 h\n") == (
        'plan "a"\nschedule\n  hold 1 h\nsafety\n  vent on\nreading "b"\n'
    )


def test_sections_joined_are_the_plan_again() -> None:
    """Cutting a plan at its headings loses nothing, comments before the first one included."""
    plan = "# a comment\n\n" + SOUND

    assert plan == "".join(section.text for section in sections_of(plan))


@pytest.mark.parametrize(
    ("changes", "was", "is_now"),
    [
        # Blanks and remarks do not matter, and of several such lines the first is meant.
        (
            [change("target 9", "target 10")],
            "  target 9    # the one that counts\n",
            "  target 10\n",
        ),
        ([change("guide 8", "guide 7")], '"bottom shelf"\n  guide  8', '"bottom shelf"\n  guide 7'),
        (
            [change("guide  8", "guide 7", inside='witness  "top shelf"')],
            'witness "top shelf"\n  guide  8',
            'witness "top shelf"\n  guide 7',
        ),
        # One line becomes two, is left out, or stays and has lines after it.
        (
            [change("climb 60 C/h to 95 C", "climb 50 C/h to 90 C", "hold 1 h")],
            "  climb 60 C/h to 95 C\n",
            "  climb 50 C/h to 90 C\n  hold 1 h\n",
        ),
        ([change("open at 90 C")], "  open  at 90 C\n", ""),
        (
            [change("climb 60 C/h to 95 C", "hold 1 h", added=True)],
            "  climb 60 C/h to 95 C\n",
            "  climb 60 C/h to 95 C\n  hold 1 h\n",
        ),
        # Of a line that has no like, a part is enough.
        ([change("95 C", "90 C")], "  climb 60 C/h to 95 C\n", "  climb 60 C/h to 90 C\n"),
        (
            [change("60 C/h", "50 C/h"), change("95 C", "80 C")],
            "  climb 60 C/h to 95 C\n",
            "  climb 50 C/h to 80 C\n",
        ),
        (
            [change("90 C", "hold 1 h", added=True)],
            "  open  at 90 C\n",
            "  open  at 90 C\n  hold 1 h\n",
        ),
        # A heading keeps to the margin, and what comes after one does not.
        (
            [
                change('witness "top shelf"', 'witness "lid"'),
                change('witness "top shelf"', "large cones", added=True),
            ],
            'witness "top shelf"\n',
            'witness "lid"\n  large cones\n',
        ),
        # A heading that is left out takes its section along.
        ([change('witness "top shelf"')], 'witness "top shelf"\n  guide  8\n  target 9\n', ""),
        # Of a line that stands more than once, a part is the part of the first.
        ([change("target", "guard")], "  target 9    # the one that counts\n", "  guard 9\n"),
        # All changes are of the plan as it stood: the new `open` is not changed again.
        (
            [
                change("climb 60 C/h to 95 C", "open at 90 C"),
                change("open at 90 C", "open at 80 C"),
            ],
            "  climb 60 C/h to 95 C\n  open  at 90 C\n",
            "  open at 90 C\n  open at 80 C\n",
        ),
    ],
)
def test_a_line_is_changed(changes: list[Change], was: str, is_now: str) -> None:
    """Only the line meant is another one; everything else is as it was."""
    assert was in TWO_SETS

    assert spliced(TWO_SETS, "", (), changes) == TWO_SETS.replace(was, is_now, 1)


def test_sections_come_first_and_then_lines() -> None:
    """A change finds its line in a section that the example brings along."""
    text = spliced(
        TWO_SETS, "schedule\n  hold 2 h\n", ("witness",), [change("hold 2 h", "hold 3 h")]
    )

    assert text == "# A plan with two sets of cones.\nschedule\n  hold 3 h\n"


@pytest.mark.parametrize(
    ("changes", "message", "hint", "span"),
    [
        (
            [change("climb 60 C/h to 96 C", "hold 1 h")],
            "there is no 'climb 60 C/h to 96 C' in this plan",
            "the nearest is: climb 60 C/h to 95 C",
            LINE,
        ),
        (
            [change("gaurd", "guard 10")],
            "there is no 'gaurd' in this plan",
            "the nearest is: guide 8",
            LINE,
        ),
        (
            [change("open at 90 C", inside='witness "top shelf"')],
            "there is no line 'open at 90 C' under 'witness \"top shelf\"'",
            "it stands under schedule",
            LINE,
        ),
        (
            [change("guide 8", "guide 7", inside='witness "botom shelf"')],
            "there is no section 'witness \"botom shelf\"' in this plan",
            'the nearest is: witness "bottom shelf"',
            HEADING,
        ),
        (
            [change("guide 8", "guide 7"), change("guide 8", "guide 9")],
            "'guide 8' is changed twice",
            "put it below its heading",
            LINE,
        ),
        ([change("guide 8", "guide  8")], "'guide 8' becomes what it was", "", LINE),
        # A part must say which line is meant, and stays one line.
        (
            [change("C", "F")],
            "'C' stands in this plan 3 times",
            "write more of one line: climb 60 C/h to 95 C or open at 90 C",
            LINE,
        ),
        (
            [change("95 C", "95 C", "hold 1 h")],
            "a part of 'climb 60 C/h to 95 C' becomes one text",
            "write the whole line",
            LINE,
        ),
        ([change("5 C", "6 C")], "there is no '5 C' in this plan", "", LINE),
        # A blank line is no line that could be meant, though the plan may have some.
        ([change("# remark", "guide 8")], "there is no '' in this plan", "", LINE),
    ],
)
def test_what_does_not_fit_is_told_with_its_place(
    changes: list[Change], message: str, hint: str, span: Span
) -> None:
    """The error says what is not there, the nearest that is, and where the rule file names it."""
    with pytest.raises(Unspliceable) as wrong:
        spliced(TWO_SETS + "\n", "", (), changes)

    assert (wrong.value.message, wrong.value.hint, wrong.value.span) == (message, hint, span)


def test_an_example_begins_with_a_heading() -> None:
    """A fact without its section would vanish into the section before, so it is refused."""
    with pytest.raises(Unspliceable, match="begins with a heading at the margin, not with 'guard"):
        spliced(SOUND, "  guard 9\n")


def test_what_an_example_has_of_its_own_is_known() -> None:
    """The words that differ, whole lines that are added, and sections that it brings along."""
    changes = [change("60 C/h", "50 C/h"), change("open at 90 C", "hold 1 h", added=True)]
    made = splice(TWO_SETS, 'witness "lid"\n  target 8\n', (), changes)

    lines = made.text.splitlines()
    assert [place.of(lines[place.line - 1]) for place in made.own] == [
        'witness "lid"',
        "target 8",
        "50 C/h",
        "hold 1 h",
    ]
