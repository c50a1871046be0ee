"""What can mean one thing only is read: names of one word without quotes, marks of a list."""

import pytest

from guardcone.language import SourceText, read_statements, split_lines
from guardcone.plan import read_plan
from guardcone.plan.plan import Plan


def read(text: str) -> tuple[Plan, list[str]]:
    """The plan, and what is told of it but of names that nothing describes."""
    plan = read_plan(SourceText("typed", split_lines(text)))
    return plan, [f.found for f in plan.faults if not f.rule.startswith("name-")]


@pytest.mark.parametrize("written", ["Teal", "R.Teal", "MW"])
def test_a_name_of_one_word_needs_no_quotes(written: str) -> None:
    """Where only a name may stand, and it is like no word of such a line."""
    plan, told = read(f'plan "Test"\n  by {written}\nsafety\n  call 112\n')

    assert told == []
    assert plan.by is not None
    assert plan.by.value == written
    assert plan.safety is not None
    assert plan.safety.emergency is not None
    assert plan.safety.emergency.value == "112"


@pytest.mark.parametrize(
    "line",
    [
        "watch Teal from 16:00 to end",  # it might be nobody, or off
        "hands leather",
        "extinguisher fitted-soon",
        "by whom",  # too like a word of the line
        "by start",  # a word of plans
        "by R. Teal",  # two words
        "kiln off",  # a heading
        "kiln sitter",
    ],
)
def test_other_names_want_quotes(line: str) -> None:
    """Where something else may be meant the line is refused, and how to write it is told."""
    plan, told = read(f'plan "Test"\nsafety\n  {line}\n')

    assert told
    assert plan.safety is not None
    assert plan.kiln is None or plan.kiln.name is None


def test_marks_and_numbers_of_a_list_say_nothing() -> None:
    """A list of steps as people number them is the schedule without the numbers."""
    listed, told = read(
        "schedule\n  - climb 60 C/h to 95 C\n  * hold 2 h\n  1. climb 100 C/h to 600 C\n"
        "  (2) hold 10 min\n  step 3: climb 150 C/h to 1240 C\n  segment 4 80 C/h to 1000 C\n"
        "  ramp 5 100 C/h to 900 C\n".replace("\\\n", "\n")
    )

    assert told == []
    assert listed.schedule is not None
    assert [(one.kind, one.to and one.to.value.celsius) for one in listed.schedule.segments] == [
        ("climb", 95),
        ("hold", None),
        ("climb", 600),
        ("hold", None),
        ("climb", 1240),
        ("cool", 1000),
        ("cool", 900),
    ]


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("150, 1100 C", "`150 C/h, 1100 C`"),
        ("climb 150 to 1100", "`climb 150 C/h to 1100 C` or `climb 150 F/h to 1100 F`"),
        ("1 60 95 0:30", "`60 C/h 95 C 0:30` or `60 F/h 95 F 0:30`"),
        ("5 -100 1000 1:00", "`100 C/h 1000 C 1:00` or `100 F/h 1000 F 1:00`"),
        ("150 1100 10 min", "`150 C/h 1100 C 10 min` or `150 F/h 1100 F 10 min`"),
    ],
)
def test_units_that_a_line_lacks_are_offered_together(line: str, offered: str) -> None:
    """Never guessed: the whole line in °C, and in °F where nothing in it is in °C."""
    plan = read_plan(SourceText("typed", split_lines(f"schedule\n  {line}\n")))

    assert [(one.rule, one.repair) for one in plan.faults] == [
        ("unit-missing", f"Write {offered}.")
    ]
    assert plan.schedule is not None
    assert "segments" in plan.schedule.unreadable


ONE_AFTER_ANOTHER = """\
plan "Quick glaze" by "Jem" starts 2026-08-30 22:00, firing glaze
kiln "Little Egret", electric, top lid, 90 L, rated to cone 8
target cone 4, oxidation
witness "top" large cones, guide 3 target 4, guard 5, lean 8 degrees, facing one way, pad dry
schedule 100 C/h to 600 C, hold 10 min; climb 60 C/h to 1160 C, cool freely to 90 C & open at 90 C
safety vent on throughout, watch "Jem" from 22:00 to end, power off before unloading
"""


def test_one_thing_after_another_in_a_line() -> None:
    """A line that is whole up to another whole line of its section says both, a heading as well."""
    plan = read_plan(SourceText("typed", split_lines(ONE_AFTER_ANOTHER)))
    (witness,) = plan.witness_sets
    kiln, schedule, safety = plan.kiln, plan.schedule, plan.safety

    assert plan.faults == ()
    assert kiln
    assert schedule
    assert safety
    said = (plan.name, plan.by, plan.starts_on, plan.firing, kiln.fuel, kiln.rated_cone)
    said += (witness.guide, witness.target, witness.guard, witness.pad)
    said += (schedule.opens, safety.vent, safety.power_off)
    assert None not in said
    assert len(safety.watches) == 1
    assert [one.kind for one in schedule.segments] == ["climb", "hold", "climb", "cool"]


@pytest.mark.parametrize(
    "line",
    [
        'by "Jem", and her brother',
        'by "Jem", firing glase',
        'by "Jem", firing',
        'by "Jem", kiln "Heron"',
        'by "Jem", accept pad-damp because "pads were fired last week" by "studio manager"',
        'by "Jem", guard 10',
    ],
)
def test_a_line_is_read_whole_or_not_at_all(line: str) -> None:
    """Where one part can't be read, or is a heading or an acceptance, nothing of it is taken."""
    plan = read_plan(SourceText("typed", split_lines(f'plan "Quick glaze"\n  {line}\n')))

    assert len(plan.faults) == 1
    assert plan.by is None
    assert plan.accepts == ()
    assert plan.kiln is None


def test_what_is_said_twice_in_one_line_and_another() -> None:
    """Each part that is said again is told, and a plan is read with either of them."""
    text = "safety\n  vent on, clearance 1 m\n  clearance 5 cm, vent off\n"
    plan = read_plan(SourceText("typed", split_lines(text)))

    assert [(one.rule, one.span.line) for one in plan.faults] == [("fact-doubled", 3)] * 2
    said = {
        (one.safety.vent.switched.value, one.safety.clearance.value.millimetres)
        for one in (plan, *plan.otherwise)
        if one.safety and one.safety.vent and one.safety.vent.switched and one.safety.clearance
    }
    assert said == {("on", 1000), ("on", 50), ("off", 1000), ("off", 50)}


@pytest.mark.parametrize(
    ("lines", "parts"),
    [
        ("order 5, 6, 7", "5 6 7"),
        ("order 5, 6, 7 | target 6", "5 6 7"),
        ("order 7, 6, 5", "5 6 7"),  # that it stands the wrong way round is told
        ("order 06, 05, 04", "06 05 04"),
        ("order 5, 6, 8", "- - -"),  # a guard so far off may be another cone
        ("order 5, 6", "- - -"),
        ("order 5, 6, 7, 8", "- - -"),
        ("order 5, 6, 7 | target 7", "- 7 -"),
        ("order 5, 6, 7 | extra cone 5", "- - -"),
        ("order 5, 6, 7 | guide 7", "7 - -"),
        ("order 5, 6, 7 | guard cone %", "- - -"),
    ],
)
def test_an_order_of_three_names_the_parts_of_a_set(lines: str, parts: str) -> None:
    """The coolest is the guide and the hottest the guard, where nothing else can be meant."""
    plan, _ = read('witness "bottom"\n  ' + lines.replace(" | ", "\n  ") + "\n")
    (witness,) = plan.witness_sets
    cones = (witness.guide, witness.target, witness.guard)

    assert " ".join(str(one.value.number) if one else "-" for one in cones) == parts


@pytest.mark.parametrize(
    ("lines", "offered"),
    [
        ("climb 60 C/h to 95 C | hold 20", "`20 h` or `20 min`"),
        ("climb 60 C/h to 1222 C | hold 20", "`20 min` or `20 h`"),
        ("climb 60 C/h to 95 C | 150 C/h 1222 C | soak for 20", "`20 min` or `20 h`"),
        ("climb 60 C/h to 95 C | climb 100 to 600 | hold 20", "`20 min` or `20 h`"),
        ("hold 20", "`20 min` or `20 h`"),
    ],
)
def test_a_hold_is_of_hours_where_ware_dries(lines: str, offered: str) -> None:
    """A hold without its unit is offered both, and minutes first unless it is known to be cool."""
    plan = read_plan(SourceText("typed", split_lines("schedule\n" + lines.replace(" | ", "\n"))))

    assert plan.faults[-1].repair == f"Write {offered}."


@pytest.mark.parametrize(
    ("line", "kinds"),
    [
        ("climb 80 C/h to 120 C then hold 1 h", ["climb", "hold"]),
        ("climb 80 C/h to 120 C, and then hold 1 h, then full power to 900 C",
         ["climb", "hold", "climb"]),
        ("cool freely to 1050 C and hold 30 min", ["cool", "hold"]),
    ],
)  # fmt: skip
def test_words_may_join_what_a_line_says(line: str, kinds: list[str]) -> None:
    """`and` and `then` between two whole statements say nothing."""
    plan, told = read(f"schedule\n  {line}\n")

    assert plan.schedule is not None
    assert [one.kind for one in plan.schedule.segments] == kinds
    assert not told


@pytest.mark.parametrize("line", ["hold 2 h and then", "climb 80 C/h to 120 C then rest a while"])
def test_half_a_statement_is_told(line: str) -> None:
    """What stands before it counts for the beginning of the firing, which is not known further."""
    plan, told = read(f"schedule\n  {line}\n")

    assert told
    assert plan.schedule is not None
    assert [one.kind for one in plan.schedule.segments] == [line.split()[0]]
    assert "segments" in plan.schedule.unreadable


def test_what_a_kiln_line_says_before_its_fault_counts() -> None:
    """The fuel round words nobody can read is that of the kiln, and its inside is too."""
    plan = read_plan(
        SourceText("typed", split_lines('kiln "Egret"\n  propane, 4 burners, 700 L\n'))
    )
    (fault,) = plan.faults

    assert fault.mended == "propane, 700 L  # 4 burners"
    assert plan.kiln
    assert plan.kiln.fuel
    assert plan.kiln.fuel.value == "propane"
    assert plan.kiln.volume
    assert str(plan.kiln.volume.value) == "700 L"


def test_a_point_that_parts_thousands() -> None:
    """1.260 °C is not taken for a kiln hardly warm: the line is offered with 1260 °C."""
    plan, _ = read("schedule\n  climb 60 C/h to 1.260 °C\n")
    (fault,) = plan.faults

    assert fault.rule == "value-senseless"
    assert fault.mended == "climb 60 C/h to 1260 °C"


@pytest.mark.parametrize(
    ("line", "is_electric"),
    [
        ("electric, 13 amp plug", True),
        ("electric ignition, propane", False),
        ("electric, for the fan, burners on bottled gas", False),
    ],
)
def test_half_a_line_makes_no_kiln_electric(line: str, is_electric: bool) -> None:
    """A kiln is electric by a line that can't be read only if nothing in it may burn.

    Else it is read, at least once, as one of which nobody knows what heats it.
    """
    plan, told = read(f'kiln "Egret"\n  {line}\n')
    kilns = [one.kiln for one in (plan, *plan.otherwise)]

    assert told
    assert is_electric == all(kiln and kiln.fuel for kiln in kilns)


@pytest.mark.parametrize(
    ("lines", "meant"),
    [
        (
            "schedule: 150/hr to 1100, hold overnight, cool freely to 90 C",
            'schedule\n  150/hr to 1100\n  hold "fill in how long, and at what temperature"\n'
            "  cool freely to 90 C",
        ),
        ("schedule\n  climb 100 C/h to 200 C, bungs out", "climb 100 C/h to 200 C  # bungs out"),
        (
            "safety\n  vent blower on",
            'vent "fill in what carries the fumes out, and when it is on"  # vent blower on',
        ),
        ('plan "Mugs"\nclimb 60 C/h to 95 C', "schedule\n  climb 60 C/h to 95 C"),
        (
            'plan "Mugs"\nclimb 60 C/h to 95 C, hold 2 h',
            "schedule\n  climb 60 C/h to 95 C, hold 2 h",
        ),
        # Whatever else is said of ware would be lost.
        ('load\n  ware "cups" 8 of "Marsh buff", a bit damp', ""),
        # Nobody knows which heading is meant.
        ("12 mm, throughout", ""),
    ],
)
def test_a_line_that_can_not_be_read_is_written_anew(lines: str, meant: str) -> None:
    """The whole line is offered, with places to fill in; below a heading each thing has its own."""
    (fault,) = read(f"{lines}\n")[0].faults

    assert fault.mended.replace("schedule:", "schedule") == meant


def test_lines_of_a_section_without_its_heading() -> None:
    """One fault for the heading; a faulty line among them is told as one of that section."""
    plan, _ = read('plan "Mugs"\nkiln "Egret"\nclimb 60 C/h to 95 C, hold 2 h\ncool to 90 C\n')

    assert [(one.span.line, one.rule) for one in plan.faults] == [
        (3, "fact-misplaced"),
        (4, "word-unknown"),
    ]
    assert "cool freely to 90 C" in plan.faults[1].repair
    assert plan.schedule
    assert len(plan.schedule.segments) == 2
    assert "segments" in plan.schedule.unreadable


def test_an_exclamation_mark_says_nothing() -> None:
    """`vent on!!` is a vent that is on."""
    plan, _ = read("safety\n  vent on throughout!!\n")

    assert not plan.faults


@pytest.mark.parametrize(
    ("section", "line"),
    [
        ("safety", 'power off "before unloading"'),
        ("safety", 'gas off "before unloading"'),
        ("load", 'shelves "washed"'),
        ("witness", 'lean "8 degrees, facing one way"'),
        ("kiln", 'rated "cone 10"'),
        ("schedule", 'climb "60 C/h to 95 C"'),
    ],
)
def test_what_is_filled_in_may_keep_its_quotes(section: str, line: str) -> None:
    """A place to fill in stands in quotes; what is no name is read without them."""
    heading = f'{section} "x"' if section in ("kiln", "witness") else section
    quoted = read_statements(SourceText("typed", split_lines(f"{heading}\n  {line}\n")))
    without = line.replace('"', "")
    plain = read_statements(SourceText("typed", split_lines(f"{heading}\n  {without}\n")))

    assert quoted.faults == plain.faults == []
    assert [one.name for one in quoted.sections[-1].statements] == [
        one.name for one in plain.sections[-1].statements
    ]


def test_a_table_without_its_heading_begins_a_schedule() -> None:
    """Its lines are asked for their units, and none of them is taken for other text."""
    plan, _ = read('kiln "Heron"\n  electric\nSegment 1: 100/h to 600\nSegment 2: 60/h to 1220\n')

    assert [one.repair for one in plan.faults] == [
        "Write `100 C/h to 600 C` or `100 F/h to 600 F`.",
        "Write `60 C/h to 1220 C` or `60 F/h to 1220 F`.",
    ]


def test_a_line_that_stands_too_early_is_sent_below_its_heading() -> None:
    """That heading may stand further down."""
    plan, _ = read("schedule\n  vent on throughout\nsafety\n  eyes shade 4\n")

    assert [one.repair for one in plan.faults] == [
        "Move the line below the heading `safety` of line 3."
    ]


@pytest.mark.parametrize(
    ("lines", "repair"),
    [
        ("target 1222 C\nschedule\n  100/h to 600\n", "Write `100 C/h to 600 C`."),
        ("target 2232 F\nschedule\n  200/h to 1100\n", "Write `200 F/h to 1100 F`."),
        ("schedule\n  100/h to 600\n", "Write `100 C/h to 600 C` or `100 F/h to 600 F`."),
        # In °C no kiln is so hot, and a plan with both has no scale of its own.
        ("kiln \"Heron\"\n  room 20 C\nschedule\n  400/h to 2000\n",
         "Write `400 C/h to 2000 C` or `400 F/h to 2000 F`."),
        ("target 1222 C\nkiln \"Heron\"\n  room 70 F\nschedule\n  100/h to 600\n",
         "Write `100 C/h to 600 C` or `100 F/h to 600 F`."),
    ],
)  # fmt: skip
def test_a_plan_has_one_scale(lines: str, repair: str) -> None:
    """A number without its unit is offered in the scale of all others, which is told."""
    (fault,) = read(f'plan "Mugs"\n{lines}')[0].faults

    assert fault.repair == repair
    assert ("elsewhere" in fault.found) == (" or " not in repair)


@pytest.mark.parametrize("line", ["walls about 6 mm thick", "bottoms wiped back 5 mm"])
def test_what_is_said_of_ware_begins_no_second_ware(line: str) -> None:
    """It belongs into the line of that ware; only where there is none a line is offered."""
    ware = 'load\n  ware "mugs" 4 of "Marsh buff", bisque\n'
    (fault,) = read_statements(SourceText("typed", split_lines(f"{ware}  {line}\n"))).faults
    (alone,) = read_statements(SourceText("typed", split_lines(f"load\n  {line}\n"))).faults

    assert fault.mended == ""
    assert "in line 2;" in fault.repair
    assert alone.mended.startswith('ware "fill in what"')
