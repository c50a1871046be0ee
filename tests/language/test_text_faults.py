"""Faulty plans and every fault that is told of them: each faulty line once, the good ones read.

The snapshot shows each fault as `line:start-end rule: found | repair | right line`, below the line
it is about with the place marked. Read them as a potter: short, plain, and of some help.
"""

from pathlib import Path
from textwrap import dedent

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone.language import SourceText, split_lines
from guardcone.language.grammar import plan_grammar
from guardcone.plan import Plan, read_plan
from guardcone.span import Span, Written

NAMES = {"name-unknown", "name-unused"}


def read(text: str) -> Plan:
    return read_plan(SourceText("plan", split_lines(dedent(text).strip("\n") + "\n")))


def told(plan: Plan) -> str:
    """Every fault below the line it is about."""
    told = []
    for fault in plan.faults:
        span = fault.span
        line = plan.source.line(span.line).expandtabs(1)
        told += [
            line,
            " " * (span.start - 1) + "^" * max(span.end - span.start, 1),
            f"{span.line}:{span.start}-{span.end} {fault.rule}: "
            f"{fault.found} | {fault.repair} | {fault.line}",
            "",
        ]
    return "\n".join(told) or "no faults"


PLANS = {
    "the-whole-page": """
        plan "Thursday stoneware
          by     "duty potter"
          starts 2026-13-03 07:30

        kilm "Heron"
          electric, front door, 230 L, 11
          rated to cone 00
          shelfs 4
          cools from 1000 to 100 C in 15 h

        target cone 9, oxidashun

        witness bottom shelf
          large cones
          giude  8
          target 9
          guard  1O
          lean   8, facing one way, staggered
          pad    pricked, dry extra
          seen   through the lower spyhole

        load
          clay  ""  matures cone 8 to cone 10
          glaze "Reed ash"    matures 1220 to 1260
          ware  "mugs"      24 of "Marsh buff" wit "Reed ash", bisque, wall 6
          wear  "planters"   2 of "Marsh buff" with "Reed ash", bisque, wall 14 mm

        schedule
          climb 100 C to 600 C
          climb 150 to 1160 C
          climb 60 C/h
          hold  -5 min
          cool  150 C/h to 1000 C please
          cool  freely to 90
          open

        safety
          vent
          clearance  50
          blah blah
          watch      duty potter from 15:00 to end
          local code checked
        """,
    "units-left-out": """
        kiln "Heron"
          230, 11 kW
          electric, 230
          altitude 1500
          room 20
        witness "top"
          lean 8
          width 60
        load
          ware "mugs" 24 of "Marsh buff", wall 6
          ware "bowls" 10 of "Marsh buff", wall 6-8 mm
          mass 30
        schedule
          climb 60 to 95 C
          climb 60 C/h to 95
          climb 60/h to 95 C
          climb 60 degrees per hour to 95 C
          climb 60 K/h to 600 C
          climb to 600 C in 5
          hold 10
          hold 1:30 at 1252
          cool 100 degrees to 90 C
          open at 90 degrees
        """,
    "numbers-out-of-sense": """
        plan "Thursday"
          starts 2026-13-03
          starts 2026-02-30 07:30
          starts 31 April 2026
          starts 25:00
          starts 7:75 pm
          starts 0026-10-03
          starts 03/10/2026
          starts Monday 2026-10-03
        kiln "Heron"
          rated to cone 00
          rated to cone 43
          rated to cone 5.3
          rated to cone 023
          shelves 0
          shelves -4
          99999999999 V, 48 A
          thermocouple type Q
        schedule
          hold -5 min
          climb -60 C/h to 95 C
          climb 0 C/h to 95 C
          climb 60 C/h to 9500 C
          climb 60 C/h to -300 C
          hold 99999 h
          hold 1 3/2 h
        safety
          clearance -50 cm
          eyes shade 0
          electrics inspected 2026-13
          watch "duty potter" from 15:00 to 24:30
        reading "top"
          guide 9 o'clock
          guard 13 o'clock
          target 500 degrees
        """,
    "cones": """
        plan "Thursday"
        target cone O6
        target cone
        target 1240
        target cone six
        target cone 6 to cone 7
        target cone 5/6
        witness "top"
          guide 8, target 9, guard 10
          guard 1O
          guide cone l0
          guard cone 10 C
          order 8, , 9
        """,
    "quotes": """
        plan ""
          by "   "
          note "second firing
          approved by “head of department
        kiln 'Heron"
        witness bottom shelf
        load
          clay Marsh buff matures cone 8 to cone 10
          glaze "Reed ash matures cone 8 to cone 10
          ware mugs 24 of "Marsh buff"
          ware "mugs" 24 of Marsh buff
        safety
          local code checked with the county fire office
          extinguisher CO2
          watch duty potter from 15:00 to end
          call 4711
        accept pad-damp because pads were fired
        accept pad-damp because ""
        accept because "pads were fired"
        """,
    "misplaced": """
        by "duty potter"
        load
          guide 8
          ware "mugs" 24
          vent on throughout
          clearance 50 cm
        kiln "Heron"
          electric
          climb 60 C/h to 95 C
          hold 2 h
          guide 8
          elements 60 mm away
          shelves washed
        schedule
          climb 60 C/h to 95 C
          seen through the lower spy hole
          watch "duty potter" from 15:00 to end
        safety
          guide down
          11 kW
        """,
    "doubled": """
        plan "Thursday"
          by "duty potter"
          by "studio manager"
          starts 2026-10-03 07:30
          starts 2026-10-04 08:30
        plan "Friday"
        target cone 9
        target cone 6
        kiln "Heron"
          electric, gas
          rated to cone 10
          rated to 1300 C
        kiln "Little Egret"
          electric
        witness "top"
          guide 8
          guide 7
          pad dry, damp
          lean 8 degrees, staggered, in a row
        witness "top"
          guide 5
        load
          clay "Marsh buff" cone 8-10
          clay "Marsh buff" cone 6
          ware "mugs" 24 of "Marsh buff", bisque, damp
          ware "mugs" 12 of "Marsh buff"
        schedule
          from 20 C
          open at 90 C
          open at 50 C
        safety
          vent on throughout
          vent off
        schedule
          hold 2 h
        reading "top"
          guide down
          guide standing
        """,
    "names": """
        witness "bottom shelf"
          guide 8
          pad of "Marsh bluff"
        load
          clay "Marsh buff" cone 8-10
          clay "Fen grey" cone 6
          glaze "Reed ash" cone 8-10
          glaze "Heather" cone 6
          ware "mugs" 24 of "Marsh buf" with "Reed ash"
          ware "bowls" 10 of "Marsh buff" with "Plum", "Reed  ash"
        reading "botom shelf"
          guide down
        reading "roof"
          guide down
        """,
    "names-beside-faulty-lines": """
        witness bottom shelf
          guide 8
        load
          clay "Marsh buff" cone eight
          glaze "Reed ash" cone 8-10
          ware "mugs" 24 of "Marsh buff" wiht "Reed ash"
          ware "bowls" 10 of "Marsh buff"
        reading "bottom shelf"
          guide down
        """,
    "headings": """
        pln "Thursday"
          by "duty potter"
        kiln
          electric
        witnes "top"
          guide 8
        schedule: heavy load
          climb 60 C/h to 95 C
        Shedule
          climb 60 C/h to 95 C
        saftey
          vent on throughout
        readings "top"
          guide down
        """,
    "no-headings": """
        by "duty potter"
        electric, 230 L
        guide 8
        ware "mugs" 24
        climb 60 C/h to 95 C
        hold 2 h
        vent on throughout
        """,
    "spelled-wrong": """
        plan "Thursday"
          strats 2026-10-03
          notes "second firing"
        kiln "Heron"
          elctric, front door
          electric, font door
          coools from 1000 C to 100 C in 15 h
          spyhol 40 mm
        witness "top"
          gaurd 10
          pad prickd, dry
          laen 8 degrees
        load
          clan "Marsh buff" cone 6
          clay "Fen" stonware
          lead glaze
          glase "Reed ash" cone 6
        schedule
          clmib 60 C/h to 95 C
          climb 60 C/h ot 95 C
          climb full pwer to 600 C
          hodl 2 h
          hold 2 huors
          cool frely to 90 C
        safety
          vent on througout
          cut of timer 15 h
          locl code "checked"
          CO alrm fitted
          hands heat glovs
        """,
    "too-much-on-a-line": """
        plan "Thursday" by "duty potter"
        witness "top"
          guide 8 target 9 guard 10
          guide 8, guard 10
        schedule
          climb 60 C/h to 95 C, hold 2 h
          climb 60 C/h to 95 C then hold 2 h
          climb 60 C/h to 95 C (candling)
          hold 2 h please
          hold 2 h,
          climb 60 C/h from 20 C to 95 C
          1. climb 60 C/h to 95 C
          - climb 60 C/h to 95 C
        safety
          vent on throughout!
        """,
    "too-little": """
        plan
        kiln "Heron"
          rated
          rated to
          cools from 1000 C
        target
        witness "top"
          guide
          lean
          seen through
          pad
        load
          clay
          ware "mugs" 24 of
          ware "mugs" with
        schedule
          climb
          climb 60 C/h
          climb 60 C/h to
          hold
          cool
          cool to 90 C
          open
        safety
          vent
          watch "duty potter"
          watch "duty potter" from 15:00
          cut-off
          eyes
        reading "top"
          guide
        accept
        accept pad-damp
        """,
    "rubbish": """
        @@@@
        {"plan": 5}
        <html>
        ½
        -
        \"
        load
          ...
          ,,,
          🙂 mugs
          ware 🙂
          60 C/h
          =
          ٣ C
          クレイ "x"
        """,
}


@pytest.mark.parametrize("text", PLANS.values(), ids=PLANS.keys())
def test_every_fault_is_told(text: str, snapshot: SnapshotAssertion) -> None:
    """All faults of a plan in one run, each at its place, with what stands there and a repair."""
    assert told(read(text)) == snapshot


@pytest.mark.parametrize("text", PLANS.values(), ids=PLANS.keys())
def test_each_faulty_line_is_one_fault(text: str) -> None:
    """One line, one fault of its text; what names stand for is another matter."""
    lines = [
        fault.span.line
        for fault in read(text).faults
        if fault.rule not in NAMES | {"fact-doubled", "section-doubled"}
    ]
    assert lines == sorted(set(lines))


@pytest.mark.parametrize("text", PLANS.values(), ids=PLANS.keys())
def test_the_words_of_a_fault(text: str) -> None:
    """Sentences end with a full stop, no name of the grammar leaks, and nothing is long."""
    grammar = plan_grammar()
    terminals = {*grammar.words, *grammar.phrases}
    for fault in read(text).faults:
        for sentence in (fault.found, fault.repair):
            assert sentence.endswith("."), fault
            assert len(sentence) <= 230, fault
            assert not terminals & set(sentence.replace("`", " ").split()) - {"SK", "NO"}, fault
            assert "_" not in sentence, fault
            assert "None" not in sentence, fault
        assert "\n" not in fault.found + fault.repair + fault.line


@pytest.mark.parametrize("text", PLANS.values(), ids=PLANS.keys())
def test_a_right_line_is_right(text: str) -> None:
    """The line that a fault shows can be read somewhere in a plan, or lacks only its places."""
    heading = ['plan "p"', 'kiln "k"', 'witness "w"', "load", "schedule", "safety", 'reading "r"']
    for fault in read(text).faults:
        if fault.line and fault.rule != "name-unknown":
            faults = [read(f"{one}\n{fault.line}").faults for one in heading]
            assert any(
                all(
                    other.rule in (*NAMES, "still-to-fill-in") or "doubled" in other.rule
                    for other in found
                )
                for found in faults
            ), fault


GOOD_BESIDE_BAD = """
    plan "Thursday"
      by duty potter
      starts 2026-10-03 07:30
    target cone 9, oxidashun
    kiln "Heron"
      electric, 11 kW
      rated to cone 00
      shelves 4
    witness "top"
      giude 8
      target 9
      guard 10
    schedule
      climb 60 C/h to 95
      hold 2 h
      climb 100 C/h to 600 C
    safety
      vnt on throughout
      clearance 50 cm
    """


def test_good_lines_beside_faulty_ones_are_read() -> None:
    """What stands right is in the plan; of a slip, what was meant; the rest is not missing."""
    plan = read(GOOD_BESIDE_BAD)

    assert [fault.span.line for fault in plan.faults] == [2, 4, 7, 10, 14, 18]
    assert plan.kiln is not None
    assert plan.target is not None
    assert plan.schedule is not None
    assert plan.safety is not None
    (witness,) = plan.witness_sets
    # One word mended makes these lines right, and the places are those of the line as written.
    assert (plan.by and plan.by.value, plan.by and plan.by.span) == ("duty potter", Span(2, 6, 17))
    assert plan.target.atmosphere == Written("oxidation", Span(4, 16, 25))
    assert witness.guide is not None
    assert (str(witness.guide.value), witness.guide.span) == ("cone 8", Span(10, 9, 10))
    assert plan.safety.vent is not None
    # Nobody knows what these were to say: unreadable, not missing.
    assert plan.kiln.unreadable == {"rated_cone", "rated_temperature"}
    assert [segment.kind for segment in plan.schedule.segments] == ["hold", "climb"]
    assert (plan.schedule.unreadable, plan.schedule.first_fault) == (
        {"segments"},
        Span(14, 3, 21),
    )


SOUND = sorted((Path(__file__).parent / "sound").glob("*.firing"))


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_a_sound_plan_has_no_fault(path: Path) -> None:
    """Plans as the studio writes them, in full, in short, in US units."""
    from guardcone.language import load_source

    assert told(read_plan(load_source(path))) == "no faults"


def test_there_are_sound_plans() -> None:
    """The folder beside this file has not gone astray."""
    assert len(SOUND) >= 6
