"""What is fitted in the kiln room is said once, in the studio's file, with who looked and when."""

import json

import pytest
from syrupy.assertion import SnapshotAssertion

ROOM = """\
kilns:
  Heron: |
    electric, front door, 230 L, 11 kW
    rated to cone 11
    thermocouple type S
    cools from 1000 C to 100 C in 15 h
clays:
  Marsh buff: matures cone 8 to cone 10
glazes:
  Reed ash: matures cone 8 to cone 10
room:
  every kiln: |
    looked at 2026-09-20 by "R. Teal"
    eyes shade 4
    hands heat gloves
    local code "checked with the county fire office"
    extinguisher "CO2, outside the kiln room"
    call "the number on the kiln-room door, then the studio manager"
  Heron: |
    looked at 2026-09-21 by "R. Teal"
    vent downdraft
    clearance 1 m
    electrics inspected 2026-03 by a licensed electrician
"""

# In 18 lines nothing is found.
PLAN = """\
plan "Saturday stoneware" by "duty potter", starts 2026-10-03 07:30, firing glaze
kiln "Heron"
target cone 9, oxidation
witness "bottom shelf"
  large cones, guide 8, target 9, guard 10, lean 8 degrees, pad dry, seen, elements 60 mm
load spacing 10 mm, shelves washed, elements 40 mm
  ware "mugs" 24 of "Marsh buff" with "Reed ash", bisque, wall 6 mm, foot wiped 6 mm
schedule
  climb 100 C/h to 600 C
  climb 150 C/h to 1140 C
  climb 60 C/h to 1252 C
  open at 90 C
safety
  vent on throughout
  watch "duty potter" from 15:00 to end
  cut-off backup timer 13 h
  bystanders kept out, dust respirator
  power off before unloading
"""


@pytest.fixture
def check(guardcone, studio):
    """Checks a plan beside a studio's file."""

    def run(plan: str = PLAN, room: str = ROOM, form: str = "line"):
        (studio / "plan.firing").write_text(plan)
        (studio / "studio.yaml").write_text(room)
        return guardcone("check", "--form", form, "plan.firing")

    return run


def found(said) -> list[str]:
    """What is found, as line, weight and rule."""
    lines = (line.split(": ") for line in said.screen.splitlines() if ": studio:" not in line)
    return [f"{place.split(':')[1]} {weight} {rule}" for place, weight, rule, *_ in lines]


def test_a_short_plan_leans_on_the_room(check, snapshot: SnapshotAssertion) -> None:
    """The plan says what is done that day; the report lists what to confirm, and who saw it."""
    assert check(form="people").screen == snapshot


def test_the_forecast_asks_for_the_same(check, guardcone) -> None:
    """What the room is said to have is to be looked at before the firing that is forecast."""
    check()
    told = " ".join(guardcone("forecast", "plan.firing").screen.split())
    document = json.loads(guardcone("forecast", "--form", "json", "plan.firing").screen)

    assert "Look before firing whether it is still so; no plan shows it: - vent downdraft;" in told
    assert "found by R. Teal on 2026-09-20 (studio.yaml:12)" in told
    assert [one["place"] for one in document["to_confirm"]] == ["studio.yaml:19", "studio.yaml:12"]


def test_other_programs_are_told_as_well(check) -> None:
    """The line form has a line for each place of the file, JSON a list in each plan."""
    lines = check().screen.splitlines()
    (plan,) = json.loads(check(form="json").screen)["plans"]

    assert [line.split(": ")[:3] for line in lines if "to-confirm" in line] == [
        ["studio.yaml:19:1", "studio", "to-confirm"],
        ["studio.yaml:12:1", "studio", "to-confirm"],
    ]
    assert plan["to_confirm"][0] == {
        "place": "studio.yaml:19",
        "on": "2026-09-21",
        "by": "R. Teal",
        "lines": [
            "vent downdraft",
            "clearance 1 m",
            "electrics inspected 2026-03 by a licensed electrician",
        ],
    }


def test_without_the_room_each_thing_is_asked_for(check) -> None:
    """What the file said is what is found when it says nothing of the room."""
    assert found(check(room=ROOM[: ROOM.index("room:")])) == [
        "13 doubt clearance-unsaid",
        "13 doubt electrics-inspection-unsaid",
        "13 doubt eye-shade-unsaid",
        "13 doubt gloves-unsaid",
        "13 doubt local-code-unsaid",
        "13 advice emergency-call-unsaid",
        "13 advice extinguisher-unsaid",
    ]


def test_a_vent_that_stands_there_is_not_one_that_is_on(check) -> None:
    """The file says of what kind the vent is; that it is on each plan must say."""
    assert found(check(PLAN.replace("  vent on throughout\n", ""))) == ["13 danger vent-missing"]
    assert found(check(PLAN.replace("vent on throughout", "vent off"))) == [
        "14 danger vent-missing"
    ]


def test_without_a_safety_section_nothing_is_lent(check) -> None:
    """A plan that says nothing of safety is told all that it leaves unsaid."""
    told = found(check(PLAN[: PLAN.index("safety\n")]))

    assert "1 danger safety-section-missing" in told
    assert "1 doubt clearance-unsaid" in told


def test_what_stands_at_one_kiln_is_not_lent_to_another(check) -> None:
    """The lines under Heron hold for no plan of Little Egret."""
    kiln = 'kiln "Little Egret"\n  electric, top lid, 230 L, 11 kW\n  rated to cone 11\n'
    told = found(check(PLAN.replace('kiln "Heron"\n', kiln)))

    assert [one for one in told if one.endswith(("clearance-unsaid", "inspection-unsaid"))]
    assert not [one for one in told if one.endswith(("gloves-unsaid", "eye-shade-unsaid"))]


def test_a_danger_of_plan_or_room_is_told(check) -> None:
    """Where the two say otherwise nobody knows which is right, and the worse one counts."""
    near = ROOM.replace("clearance 1 m", "clearance 5 cm")
    own = PLAN.replace("  vent on", "  clearance 1 m\n  vent on")

    assert found(check(own, near)) == ["13 danger clearance-short"]
    assert found(check(own.replace("clearance 1 m", "clearance 5 cm"))) == [
        "14 danger clearance-short"
    ]


def test_the_last_look_counts(check) -> None:
    """Of two looks at one thing the later one is what is there now."""
    twice = ROOM.replace("  Heron: |\n    looked", "  Heron:\n  - |\n    looked")
    moved = '  - |\n    looked at 2026-09-28 by "R. Teal"\n    clearance 20 cm\n'

    assert found(check(room=twice)) == []
    assert found(check(room=twice + moved)) == ["13 danger clearance-short"]


def test_a_look_long_ago(check, snapshot: SnapshotAssertion) -> None:
    """A list of two years ago is a finding that says who must write where."""
    told = check(room=ROOM.replace("2026-09-20", "2024-09-20"), form="people").screen

    assert told.split("\n\n")[1] == snapshot


@pytest.mark.parametrize(
    "line",
    [
        "vent downdraft, on throughout",
        "vent off",
        'watch "R. Teal" from 15:00 to end',
        "bystanders kept out",
        "power off before unloading",
        "gas off before unloading",
        "cut-off backup timer 13 h",
        'looked at 2026-09-22 by "R. Teal"',
        "clearance 1 yard stick",
        "guard 10",
        'kiln "Heron"',
        'extinguisher "fill in what hangs there"',
    ],
)
def test_what_the_room_may_not_say(check, line: str, snapshot: SnapshotAssertion) -> None:
    """Acts of the day, faulty lines and other parts of a plan are refused at their place."""
    said = check(room=ROOM.replace("vent downdraft", line))

    assert said.status == 2
    assert said.errors == snapshot


@pytest.mark.parametrize(
    ("was", "becomes"),
    [
        ('    looked at 2026-09-20 by "R. Teal"\n', ""),
        ("  every kiln: |", "  all kilns: |"),
        ("  every kiln: |", "  Herron: |"),
    ],
)
def test_whose_room_it_is(check, was: str, becomes: str, snapshot: SnapshotAssertion) -> None:
    """Nobody's look, and a kiln that there is not, are told."""
    assert check(room=ROOM.replace(was, becomes, 1)).errors == snapshot
