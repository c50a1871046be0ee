"""A recipe or a letter within a plan is told once, and the plan around it is read."""

from textwrap import dedent

from guardcone.checking.plans import check_plan
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence

PLAN = dedent("""\
    plan "Reed ash test"
      Potash feldspar 40
      Whiting 20

      Quartz 25
      firing glaze
      Sieve twice through 80 mesh
      Dip three seconds
    safety
      Dear all, a few words first
      please be kind to each other
      vent off
      thanks to everybody
      see you on Thursday
      yours, the studio committee
    """)


def read() -> list[tuple[str, int, str]]:
    """The faults of the plan: rule, line, and what was found."""
    plan = read_plan(SourceText("plan", split_lines(PLAN)))
    return [(one.rule, one.span.line, one.found) for one in plan.faults]


def test_many_lines_of_other_text_are_one_fault() -> None:
    """Blank lines between do not part them; two alone are told line by line."""
    assert read() == [
        ("other-text", 2, "Lines 2 to 5 are other text: nothing is known of them."),
        (
            "word-unknown",
            7,
            "A plan tells here who fires what, and when; other text may stand as a note.",
        ),
        (
            "word-unknown",
            8,
            "A plan tells here who fires what, and when; other text may stand as a note.",
        ),
        ("word-unknown", 10, "No line of the safety section begins with `Dear`."),
        ("word-unknown", 11, "No line of the safety section begins with `please`."),
        ("other-text", 13, "Lines 13 to 15 are other text: nothing is known of them."),
    ]


def test_a_line_of_the_plan_within_other_text_is_read() -> None:
    """`vent off` between two letters is a danger, and the kind of firing is known."""
    plan = read_plan(SourceText("plan", split_lines(PLAN)))
    dangers = [
        (one.rule, one.span.line)
        for one in check_plan(plan, built_in_book()).findings
        if one.consequence is Consequence.DANGER
    ]

    assert plan.firing is not None
    assert plan.firing.value == "glaze"
    assert ("vent-missing", 12) in dangers
    # What other text leaves out stays missing.
    assert "watch-missing" in dict(dangers)


def test_other_text_in_a_schedule_leaves_the_firing_open() -> None:
    """One of the lines may have been a climb, so the firing is not computed past it."""
    text = "schedule\n  climb 60 C/h to 95 C\n  first words\n  second words\n  third words\n"
    schedule = read_plan(SourceText("plan", split_lines(text))).schedule

    assert schedule is not None
    assert "segments" in schedule.unreadable
    assert schedule.first_fault is not None
    assert schedule.first_fault.line == 3
