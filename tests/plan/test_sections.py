"""Sections put together: lines in the wrong place, said twice, and what the studio's file knows."""

from textwrap import dedent

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.plan import Described, Plan, read_plan

NOTHING = Described()


def read(text: str, described: Described = NOTHING) -> Plan:
    return read_plan(SourceText("plan", split_lines(dedent(text).strip() + "\n")), described)


def rules(plan: Plan) -> list[tuple[int, str]]:
    return [(fault.span.line, fault.rule) for fault in plan.faults]


def test_a_forgotten_heading_is_one_fault() -> None:
    """A run of lines without their heading is read as if it stood there."""
    plan = read("""
        kiln "Heron"
          electric
          climb 60 C/h to 95 C
          hold 2 h
          climb 100 C/h to 600 C
          11 kW
        """)
    assert rules(plan) == [(3, "fact-misplaced")]
    assert plan.schedule is not None
    assert plan.kiln is not None
    assert [segment.kind for segment in plan.schedule.segments] == ["climb", "hold", "climb"]
    assert plan.kiln.power is not None


def test_a_line_before_its_heading_joins_the_section() -> None:
    """A line that stands too early takes nothing away from the section that comes later."""
    plan = read("""
        by "duty potter"
        plan "Thursday"
          starts 07:30
        kiln "Heron"
          climb 60 C/h to 95 C
        schedule
          hold 2 h
        """)
    assert rules(plan) == [(1, "fact-misplaced"), (5, "fact-misplaced")]
    assert (plan.by and plan.by.value, plan.name and plan.name.value) == ("duty potter", "Thursday")
    assert plan.schedule is not None
    assert [segment.kind for segment in plan.schedule.segments] == ["climb", "hold"]
    assert plan.schedule.heading.line == 6


def test_a_second_heading_that_is_faulty_loses_no_line() -> None:
    """Below a heading that can't be read, of a section there is already, lines join that one."""
    plan = read("""
        schedule
          climb 60 C/h to 95 C
        safety
          vent on throughout
        schedule again
          hold 2 h
        """)
    assert rules(plan) == [(5, "line-unclear")]
    assert plan.schedule is not None
    assert [segment.kind for segment in plan.schedule.segments] == ["climb", "hold"]


def test_a_misplaced_guide_is_not_missing() -> None:
    """Nobody can say whose `guide 8` under load is, so no set is told that it has none."""
    plan = read("""
        witness "top"
          target 9
        load
          guide 8
        witness "bottom"
          guide 7
        """)
    assert rules(plan) == [(4, "fact-misplaced")]
    top, bottom = plan.witness_sets
    assert (top.guide, "guide" in top.unreadable) == (None, True)
    assert (bottom.guide is not None, "guide" in bottom.unreadable) == (True, False)


def test_the_target_of_the_plan_may_follow_a_witness_set() -> None:
    """With an atmosphere, or as the second in a set, a target is the plan's and not the set's."""
    with_atmosphere = read('witness "top"\n  target 9\ntarget cone 10, oxidation')
    second = read('witness "top"\n  target 9\ntarget cone 10')
    for plan in (with_atmosphere, second):
        assert plan.faults == ()
        assert plan.target is not None
        assert plan.target.cone is not None
        target = plan.witness_sets[0].target
        assert target is not None
        assert (str(plan.target.cone.value), str(target.value)) == ("cone 10", "cone 9")


def test_what_is_said_first_is_used() -> None:
    """A fact said twice is one fault at its second place, and keeps its first value."""
    plan = read("""
        plan "Thursday"
          starts 2026-10-03 07:30
          starts 2026-10-04 08:30
        kiln "Heron"
          electric, gas, 11 kW
          12 kW
        """)
    assert rules(plan) == [(3, "fact-doubled"), (5, "fact-doubled"), (6, "fact-doubled")]
    assert plan.kiln is not None
    assert plan.kiln.fuel is not None
    assert plan.kiln.power is not None
    assert (plan.kiln.fuel.value, str(plan.kiln.power.value)) == ("electric", "11 kW")
    assert str(plan.starts_on and plan.starts_on.value) == "2026-10-03"


def test_two_readings_of_one_set_are_doubled() -> None:
    """A witness set is read once; sets of other places stand beside it."""
    plan = read("""
        witness "top"
        witness "bottom"
        witness "top"
        reading "top"
        reading "bottom"
        reading "bottom"
        """)
    assert rules(plan) == [(3, "section-doubled"), (6, "section-doubled")]
    assert [witness.place and witness.place.value for witness in plan.witness_sets] == [
        "top",
        "bottom",
    ]


STUDIO = read("""
    kiln "Heron"
      electric, 11 kW
      shelves 4
    load
      clay "Marsh buff" matures cone 8 to cone 10
      glaze "Reed ash" matures cone 8 to cone 10
      ware "all" of "Marsh buff" with "Reed ash"
    """)


def described() -> Described:
    assert STUDIO.kiln is not None
    assert STUDIO.load is not None
    return Described(
        kilns={"Heron": STUDIO.kiln},
        clays={clay.name.value: clay for clay in STUDIO.load.clays},
        glazes={glaze.name.value: glaze for glaze in STUDIO.load.glazes},
    )


def test_what_the_studio_describes_need_not_be_said_again() -> None:
    """A plan names kiln, clay and glaze and says no more; what it does say comes first."""
    plan = read(
        """
        kiln "Heron"
          shelves 3
        load
          ware "mugs" 24 of "Marsh buff" with "Reed ash"
          ware "bowls" 8 of "Marsh bluff"
        """,
        described(),
    )
    assert rules(plan) == [(5, "name-unknown")]
    assert "Marsh buff" in plan.faults[0].repair
    assert plan.kiln is not None
    assert plan.load is not None
    assert (plan.kiln.shelves and plan.kiln.shelves.value) == 3
    assert str(plan.kiln.power and plan.kiln.power.value) == "11 kW"
    assert plan.load.wares[0].clay is not None
    assert [glaze.name.value for glaze in plan.load.wares[0].glazes] == ["Reed ash"]


def test_a_misread_line_is_not_filled_in_from_the_studio() -> None:
    """Where the plan says something that can't be read, the studio's word takes no place of it."""
    plan = read('kiln "Heron"\n  shelves 3 or 4', described())
    assert plan.kiln is not None
    assert (plan.kiln.shelves, "shelves" in plan.kiln.unreadable) == (None, True)


@pytest.mark.parametrize(
    ("said", "fuel"),
    [
        ("48 A, 240 V, top lid", "electric"),
        ("propane, 48 A, 240 V", "propane"),
        ("2 A, 240 V, top lid", None),
        ("11 kW, top lid", None),
    ],
)
def test_what_draws_so_much_is_heated_by_it(said: str, fuel: str | None) -> None:
    """Volts and amperes of some kilowatts show an electric kiln; a fan and a spark show none."""
    plan = read_plan(SourceText("plan", split_lines(f'kiln "Heron"\n  {said}\n')))

    assert plan.kiln is not None
    assert (plan.kiln.fuel.value if plan.kiln.fuel else None) == fuel
