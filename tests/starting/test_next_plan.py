"""The next plan like an older one: what is made once is kept, what is of the day is open again."""

import re
from pathlib import Path

import pytest

from guardcone.checking.plans import check_plan
from guardcone.documents import document_path
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book
from guardcone.starting.asked import NotUnderstood
from guardcone.starting.next_plan import next_plan
from guardcone.tidy import tidy_text

SOUND = sorted(document_path("rules", "sound_plans").glob("*.firing"))

OLD = """\
# Third firing with the new shelves; the vent was on all day, all ware bone dry.
plan "Saturday 3 October"   # a good day
  by "R. Teal"
  starts 2026-10-03 07:30
  firing bisque
  approved by "A. Finch"
  note "the lower spy hole is cracked"

kiln "Heron"
  electric, front door, 230 L, 11 kW  # from the plate
  room 24 C
  rated to cone 11

target cone 06, oxidation  # never hotter: the glaze needs the pores
accept guard-missing at "top shelf" because "it fell over" by "studio manager"

# This shelf is the cool one.
witness "top shelf"
  large cones
  guide 07
  target 06
  lean 8 degrees, facing one way, staggered
  pad pricked, dry  # from Tuesday
  elements 60 mm away

load
  clay "Marsh buff" matures cone 8 to cone 10  # from the bag
  ware 24 "mugs" of "Marsh buff" unglazed, bone-dry, wall 6 mm
  ware "jars" 3 of "Marsh buff", closed form, vented, damp, wall 9 mm, on "top shelf"
  ware "tiles" 9 of "Marsh buff", bisque, flat
  shelves washed

schedule
  climb 60 C/h to 90 C  # a glass held over the spy hole stays clear
  hold 3 h

  # slow through the smoke
  climb 80 C/h to 600 C
  climb 60 C/h to 992 C

# All of it looked at on Friday.
safety
  # switched on by the caretaker
  vent downdraft, on throughout
  watch "R. Teal" from 07:30 to 15:00, "A. Finch" from 15:00 to end
  watch "night porter" throughout
  electrics inspected 2026-03 by a licensed electrician
  power off before unloading

reading "top shelf"
  guide down
  target down  # at last
"""


def text_of_next(text: str) -> str:
    """The next plan like the one in a text."""
    return next_plan(SourceText("old.firing", split_lines(text)))


def test_the_next_firing(snapshot) -> None:
    """Remarks stay beside what stays; the day, its people, its states and its cones are open."""
    assert text_of_next(OLD) == snapshot


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_a_sound_plan_is_begun_again(path: Path) -> None:
    """The next plan is tidy, and a check finds places to fill in and nothing else."""
    text = text_of_next(path.read_text(encoding="utf-8"))
    found = check_plan(read_plan(SourceText("new", split_lines(text))), built_in_book()).findings

    assert {one.rule for one in found} == {"still-to-fill-in"}
    assert tidy_text(text) == text


# That something is on, fitted, inspected, clear, dry or off, who fires, and when.
SAID = re.compile(
    r'(?<!power )(?<!gas )(?<!cut-)\b(on|off|fitted|inspected (?!"" by "")|dry|damp|washed|pricked'
    r"|wiped|kept|before unloading|\d{4}-\d\d|\d\d:\d\d|shade \d|backup timer|down|standing"
    r"|reading)\b"
)


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_nothing_of_the_day_is_carried_over(path: Path) -> None:
    """Outside of quotes no line of the next plan says how something is, or was."""
    text = text_of_next(path.read_text(encoding="utf-8"))
    code = [re.sub(r'"[^"]*"', '""', line.code) for line in split_lines(text)]

    assert [line.strip() for line in code if SAID.search(line)] == []


def test_a_line_half_filled_in_says_nothing_of_the_day() -> None:
    """What stands beside a place to fill in is of the older day too."""
    old = 'safety\n  vent downdraft, on throughout, "fill in since when"\n'

    assert "downdraft" not in text_of_next(old)
    assert "throughout" not in text_of_next(old)


def test_cones_that_stand_by_themselves_are_asked_for_no_lean() -> None:
    """Where the older set told no lean, the next is asked how it faces."""
    text = text_of_next('witness "top"\n  self-supporting cones\n  facing one way, staggered\n')

    assert 'facing "fill in one way or different ways, and if staggered"' in text
    assert "lean" not in text


@pytest.mark.parametrize("accept", ['accept guard-missing as "fill in" because "x"', "accept"])
def test_an_acceptance_is_never_made_up(accept: str) -> None:
    """One that is not whole is not handed on, under its own name or another."""
    old = f'safety\n  vent downdraft, on\n{accept} because "fill in why"\n'

    assert "accept" not in text_of_next(old)


def test_several_things_of_one_line_are_taken_one_by_one() -> None:
    """What stays does not carry with it what stands behind it in its line."""
    text = text_of_next('witness "top"\n  guide 07, target 06, guard 05, pad pricked, dry\n')

    assert "guard  05" in text
    assert "pricked, dry" not in text


def test_a_plan_with_faults_is_refused() -> None:
    """What a line says that can't be read nobody knows, so it is not handed on."""
    with pytest.raises(NotUnderstood) as told:
        text_of_next('plan "x"\n  by "y"\nsafety\n  vnt on throughout\n  clearance 3\n')

    assert str(told.value) == (
        "old.firing: line 4 can't be read as it stands; guardcone check tells what to mend"
    )


def test_a_text_that_is_no_plan_is_refused() -> None:
    """An empty file has nothing to begin from."""
    with pytest.raises(NotUnderstood) as told:
        text_of_next("\n")

    assert "it has no section" in str(told.value)
