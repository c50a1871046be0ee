"""`guardcone start`: the plans that it writes, as people see them, and where it writes them."""

import pytest

STUDIO = """\
kilns:
  Heron: |
    electric, front door, 230 L, 11 kW
    rated to cone 11
    thermocouple type S
    shelves 4
    cools from 1000 C to 100 C in 15 h
  Little Egret: |
    electric, top lid, 2 cu ft, 3.6 kW
    rated to 2350 F
    thermocouple type K
    shelves 2
    cools from 1800 F to 200 F in 10 h
clays:
  Marsh buff: "matures cone 8 to cone 10, stoneware"
  Sandbank white: "matures cone 5 to cone 7, stoneware"
glazes:
  Reed ash: "matures cone 8 to cone 10, stiff"
  Tide pool: "matures cone 5 to cone 7, stiff"
room:
  every kiln: |
    looked at 2026-09-20 by "R. Teal"
    hands heat gloves
    extinguisher "CO2, outside the kiln room"
    call "the number on the kiln-room door, then the studio manager"
    local code "checked with the county fire office"
  Heron: |
    looked at 2026-09-20 by "R. Teal"
    clearance 1 m
    electrics inspected 2026-03 by a licensed electrician
"""


def test_a_student_begins_a_glaze_firing(guardcone, studio, snapshot) -> None:
    """Where nothing is known of the kiln all of it is asked; cones and schedule are worked out."""
    assert guardcone("start", "glaze", "cone", "6", "monday.firing").status == 0
    assert (studio / "monday.firing").read_text() == snapshot


def test_a_teacher_begins_a_bisque_in_the_kiln_of_the_studio(guardcone, studio, snapshot) -> None:
    """What the studio's file says of kiln and room is not said again, nor asked."""
    (studio / "studio.yaml").write_text(STUDIO)

    assert str(guardcone("start", "bisque", "cone", "06", "--kiln", "heron")) == snapshot


def test_a_manager_begins_a_lustre_firing_in_fahrenheit(guardcone, studio, snapshot) -> None:
    """The plan is in the unit of its kiln."""
    (studio / "studio.yaml").write_text(STUDIO)

    assert str(guardcone("start", "lustre", "018", "--kiln", "Little Egret")) == snapshot


def test_a_weak_kiln_is_asked_for_no_more_than_it_gives(guardcone, studio) -> None:
    """Where full power would not keep a rate the climb is slower; so little power is a doubt."""
    (studio / "studio.yaml").write_text(STUDIO.replace("230 L, 11 kW", "230 L, 4 kW"))

    guardcone("start", "glaze", "9", "a.firing", "--kiln", "Heron")

    plan = (studio / "a.firing").read_text()
    assert [line.strip() for line in plan.splitlines() if line.startswith("  climb")] == [
        "climb 60 C/h to 90 C  # below boiling, until all water has left",
        "climb 100 C/h to 600 C",
        "climb 130 C/h to 1145 C",
        "climb 60 C/h to 1248 C  # the last hundred degrees decide what the cones do",
    ]
    told = guardcone("check", "--form", "line", "a.firing").screen
    assert "climb-beyond-power" not in told
    assert "power-unlikely" in told


def test_a_kiln_in_the_mountains(guardcone, studio) -> None:
    """Water boils cooler there, so the hold that dries is cooler too."""
    text = STUDIO.replace("    rated to cone 11\n", "    rated to cone 11\n    altitude 3000 m\n")
    (studio / "studio.yaml").write_text(text)

    assert "to 80 C" in guardcone("start", "bisque", "06", "--kiln", "Heron").screen


def test_a_raku_firing(guardcone, snapshot) -> None:
    """It goes to a temperature and has no cones."""
    assert str(guardcone("start", "raku", "1800 F")) == snapshot


def test_nothing_is_known(guardcone, snapshot) -> None:
    """Every section is there, and all that nobody said is to be filled in."""
    assert str(guardcone("start")) == snapshot


def test_the_next_firing_like_an_older_one(guardcone, studio, stoneware) -> None:
    """The new file is begun from the old one, which stays as it is."""
    (studio / "old.firing").write_text(stoneware)

    said = guardcone("start", "--from", "old.firing", "new.firing")

    assert (said.errors, said.status) == ("", 0)
    assert said.screen == (
        "new.firing: fill in the places that say so, then run guardcone check new.firing\n"
    )
    new = (studio / "new.firing").read_text()
    assert "climb 60 C/h to 1246 C" in new
    assert "inspected 20" not in new
    assert (studio / "old.firing").read_text() == stoneware


@pytest.mark.parametrize("words", ["glaze cone 6", "--from old.firing", ""])
def test_a_started_plan_is_told_what_is_open_and_nothing_else(
    guardcone, studio, stoneware, words: str
) -> None:
    """A check of it finds places to fill in, and no danger that is not asked about."""
    (studio / "old.firing").write_text(stoneware)
    guardcone("start", *words.split(), "new.firing")

    said = guardcone("check", "--form", "line", "new.firing")

    assert said.status == 1
    assert {line.split(": ")[2] for line in said.screen.splitlines()} == {"still-to-fill-in"}


def test_what_is_found_in_a_new_plan(guardcone, studio, snapshot) -> None:
    """Each place is told once, with what is wanted there."""
    guardcone("start", "new.firing")

    assert guardcone("check", "--form", "line", "new.firing").screen == snapshot


def test_start_never_overwrites(guardcone, studio) -> None:
    """A plan that is there is left as it is."""
    (studio / "new.firing").write_text('plan "mine"\n')

    for words in ("glaze cone 6 new.firing", "--from new.firing new.firing", "new.firing"):
        assert guardcone("start", *words.split()).status == 2

    assert (studio / "new.firing").read_text() == 'plan "mine"\n'


REFUSED = {
    "glase cone 6": "'glase' is no kind of firing: guardcone start glaze cone 6",
    "glaze cone 12 --kiln Heron": "Heron is rated to cone 11, and cone 12 lies beyond that",
    "glaze cone 13 --kiln Little_Egret": (
        "Little Egret is rated to 2350 °F, and cone 13 lies beyond that"
    ),
    "glaze cone 6": (
        "studio.yaml has Heron and Little Egret; say which: "
        "guardcone start glaze cone 6 --kiln Heron"
    ),
    "bisque 06 --kiln Hern a.firing": (
        "studio.yaml has no kiln 'Hern', but Heron and Little Egret: "
        "guardcone start bisque cone 06 a.firing --kiln Heron"
    ),
    "--from old.firing --kiln Heron": (
        "--from takes all from the old plan, so nothing but the file to make stands beside it: "
        "guardcone start --from old.firing NAME.firing"
    ),
    "--from none.firing": "none.firing can't be read: no such file or directory",
    "--from old.firing": (
        "old.firing: line 2 can't be read as it stands; guardcone check tells what to mend"
    ),
    "--from old.firing none/new.firing": (
        "old.firing: line 2 can't be read as it stands; guardcone check tells what to mend"
    ),
}


@pytest.mark.parametrize("words", REFUSED)
def test_what_is_refused(guardcone, studio, words: str) -> None:
    """One line tells why, and no file is made."""
    (studio / "studio.yaml").write_text(STUDIO)
    (studio / "old.firing").write_text('plan "x"\n  strts 7:00\n')

    said = guardcone("start", *(word.replace("_", " ") for word in words.split()))

    assert said.errors == f"guardcone: {REFUSED[words]}\n"
    assert (said.screen, said.status) == ("", 2)
    assert {path.name for path in studio.iterdir()} == {"studio.yaml", "old.firing"}


def test_the_unit_that_is_asked_for(guardcone) -> None:
    """`--in F` stands for any kiln, as in `guardcone cones`."""
    assert "climb 108 F/h to 2215 F" in guardcone("start", "glaze", "6", "--in", "F").screen
