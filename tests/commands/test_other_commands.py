"""`guardcone why`, `rules`, `tidy`: what they say and what they write."""

import os

from syrupy.assertion import SnapshotAssertion


def test_why(guardcone, snapshot: SnapshotAssertion) -> None:
    """A rule explains itself: what, why, what to do, its source, and plans as examples."""
    assert str(guardcone("why", "guard-missing")) == snapshot


def test_why_of_a_rule_with_levels(guardcone, snapshot: SnapshotAssertion) -> None:
    """Each level says when it is found, what to do, and when it may be let stand."""
    assert str(guardcone("why", "clearance-short")) == snapshot


def test_why_of_a_text_fault(guardcone, snapshot: SnapshotAssertion) -> None:
    """Faults of the text have a page too."""
    assert str(guardcone("why", "unit-missing")) == snapshot


def test_every_name_has_a_page(guardcone) -> None:
    """Each name that the list of rules gives can be asked about."""
    listed = guardcone("rules").screen
    names = [
        line.split()[0] for line in listed.splitlines() if line.startswith("  ") and line[2] != " "
    ]

    assert len(names) > 20
    for name in names:
        assert guardcone("why", name).status == 0, name


MESSY = (
    'PLAN “Thursday”\nby  "duty potter"\n'
    "schedule\n  ramp 60 °C per hour to 95C # slow\n soak 2h30\n"
)


def test_tidy_shows_then_writes(guardcone, studio, snapshot) -> None:
    """Tidy tells what would change; with --write it writes, and then has nothing more to say."""
    (studio / "messy.firing").write_text(MESSY)

    shown = guardcone("tidy", "messy.firing")
    assert (studio / "messy.firing").read_text() == MESSY
    written = guardcone("tidy", "--write", "messy.firing")

    assert (shown.status, written.status) == (1, 0)
    assert written.screen == "messy.firing: tidied\n"
    assert shown.screen + (studio / "messy.firing").read_text() == snapshot
    again = guardcone("tidy", "messy.firing")
    assert again.screen == "1 plan looked at: the layout would not change.\n"
    assert again.status == 0


def test_tidy_shows_a_difference_to_who_asks_for_one(guardcone, studio, snapshot) -> None:
    """`--form diff` is for programs and programmers; of a tidy plan it says nothing."""
    (studio / "messy.firing").write_text(MESSY)

    shown = guardcone("tidy", "--form", "diff", "messy.firing")
    guardcone("tidy", "--write", "messy.firing")
    again = guardcone("tidy", "--form", "diff", "messy.firing")

    assert shown.status == 1
    assert shown.screen == snapshot
    assert (again.screen, again.status) == ("", 0)


def test_tidy_tells_of_each_plan_and_then_how_many(guardcone, studio, snapshot) -> None:
    """Each plan that would change is told by itself; the last line counts all."""
    (studio / "messy.firing").write_text(MESSY)
    (studio / "tidy.firing").write_text('plan "Friday"\n')
    (studio / "untidy.firing").write_text('plan  "Saturday"\n')

    assert str(guardcone("tidy", ".")) == snapshot


def test_tidy_keeps_a_mark_that_nobody_sees_till_it_writes(guardcone, studio) -> None:
    """A byte order mark is no reason to write a file anew; with another change it goes, as told."""
    (studio / "plan.firing").write_text('plan "x"\n', encoding="utf-8-sig")
    alone = guardcone("tidy", "plan.firing")
    (studio / "plan.firing").write_text('plan  "x"\n', encoding="utf-8-sig")
    with_another = guardcone("tidy", "plan.firing")
    guardcone("tidy", "--write", "plan.firing")

    assert alone.status == 0
    assert "The byte order mark at the beginning goes" in with_another.screen
    assert (studio / "plan.firing").read_bytes() == b'plan "x"\n'


def test_tidy_reads_a_plan_once(guardcone, studio) -> None:
    """What comes out of a pipe is gone when it has been read, and is tidied all the same."""
    read, write = os.pipe()
    os.write(write, MESSY.encode())
    os.close(write)

    said = guardcone("tidy", f"/dev/fd/{read}")

    assert said.status == 1
    assert "ramp" in said.screen
