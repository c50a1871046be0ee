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


FOLDER = Path(__file__).parent
# Each is named for what is wrong in it.
PLANS = {
    path.stem: path.read_text(encoding="utf-8") for path in sorted(FOLDER.glob("faulty/*.firing"))
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


SOUND = sorted(FOLDER.glob("sound/*.firing"))


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_a_sound_plan_has_no_fault(path: Path) -> None:
    """Plans as the studio writes them, in full, in short, in US units."""
    from guardcone.language import load_source

    assert told(read_plan(load_source(path))) == "no faults"


def test_there_are_plans() -> None:
    """The folders beside this file have not gone astray."""
    assert len(SOUND) >= 6
    assert len(PLANS) >= 15


@pytest.mark.parametrize(
    ("line", "written"),
    [
        ("hands oven gloves", 'hands "oven gloves"'),
        ("gloves have holes", 'hands "gloves have holes"'),
        ("cut-off bypassed", 'cut-off "bypassed"'),
    ],
)
def test_a_warning_is_written_in_place_of_its_line(line: str, written: str) -> None:
    """The marked words are the whole line, so nothing is said twice by who follows the report."""
    (fault,) = read(f"safety\n  {line}").faults

    assert fault.span.of(f"  {line}") == line
    assert fault.mended == written


@pytest.mark.parametrize(
    ("line", "written"),
    [
        ("cool", 'cool "fill in how and to what temperature"'),
        ("hold a bit", 'hold "fill in how long"  # hold a bit'),
        ("open", 'open at "fill in how cool"'),
        # a line of safety is none of the schedule, whatever words it has
        ("vent: door open outside", ""),
    ],
)
def test_a_line_of_the_schedule_that_says_too_little(line: str, written: str) -> None:
    """It is written with what is still to be filled in, and by its first word."""
    (fault,) = read(f"schedule\n  {line}").faults

    assert fault.mended == written
