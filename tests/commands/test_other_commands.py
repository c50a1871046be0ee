"""`guardcone why`, `rules`, `start`, `tidy`: what they say and what they write."""

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


def test_start_makes_a_plan_that_only_a_person_can_finish(guardcone, studio, snapshot) -> None:
    """A new plan checks clean but for the places that say `fill in`."""
    made = guardcone("start", "new.firing")
    said = guardcone("check", "--form", "line", "new.firing")

    assert made.status == 0
    rules = {line.split(": ")[2] for line in said.screen.splitlines()}
    assert rules == {"still-to-fill-in"}
    assert said.screen == snapshot


def test_start_never_overwrites(guardcone, studio) -> None:
    """A plan that is there is left as it is."""
    (studio / "new.firing").write_text('plan "mine"\n')

    said = guardcone("start", "new.firing")

    assert said.status == 2
    assert (studio / "new.firing").read_text() == 'plan "mine"\n'


def test_tidy_shows_then_writes(guardcone, studio, snapshot) -> None:
    """Tidy shows the difference; with --write it writes, and then has nothing more to say."""
    messy = (
        'PLAN “Thursday”\nby  "duty potter"\n'
        "schedule\n  ramp 60 °C per hour to 95C # slow\n soak 2h30\n"
    )
    (studio / "messy.firing").write_text(messy)

    shown = guardcone("tidy", "messy.firing")
    assert (studio / "messy.firing").read_text() == messy
    written = guardcone("tidy", "--write", "messy.firing")

    assert (shown.status, written.status) == (1, 0)
    assert shown.screen + (studio / "messy.firing").read_text() == snapshot
    assert guardcone("tidy", "messy.firing").status == 0
