"""Places to fill in: told wherever they stand, and nothing is taken as said there."""

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.plan import Plan, read_plan

HEADINGS = {"witness": 'witness "bottom shelf"', "plan": 'plan "Thursday"', "kiln": 'kiln "Heron"'}


def read(text: str) -> Plan:
    """The plan in a text."""
    return read_plan(SourceText("plan", split_lines(text)))


def told(plan: Plan) -> list[tuple[str, int, str]]:
    """Each fault with its line and the text it points at."""
    return [
        (
            fault.rule,
            fault.span.line,
            plan.source.line(fault.span.line)[fault.span.start - 1 : fault.span.end - 1],
        )
        for fault in plan.faults
    ]


@pytest.mark.parametrize(
    ("section", "line", "at", "unreadable"),
    [
        ("plan", 'by "fill in who fires"', '"fill in who fires"', ""),
        ("plan", 'starts "fill in the day and time"', '"fill in the day and time"', "starts_at"),
        ("kiln", 'rated "fill in the plate"', '"fill in the plate"', "rated_cone"),
        ("kiln", '"fill in what heats it"', '"fill in what heats it"', "fuel"),
        ("kiln", 'electric, "fill in the inside"', '"fill in the inside"', "volume"),
        ("kiln", 'thermocouple type "fill in"', '"fill in"', "thermocouple"),
        ("witness", 'pad "fill in pricked or not"', '"fill in pricked or not"', "pricking"),
        ("load", 'ware "mugs" 24, bisque, wall "fill in"', '"fill in"', "wares"),
        ("load", 'clay "Marsh buff" matures "fill in"', '"fill in"', "clays"),
        ("schedule", 'climb "fill in the rate" to 95 C', '"fill in the rate"', "segments"),
        ("schedule", '"fill in how it climbs"', '"fill in how it climbs"', "segments"),
        ("safety", 'clearance "fill in how far, with its unit"',
         '"fill in how far, with its unit"', "clearance"),
        ("safety", 'clearance 1 m "fill in from what"', '"fill in from what"', ""),
        ("safety", 'watch "fill in who" from "fill in when" to end', '"fill in who"', "watches"),
        ("safety", 'watch "Mia" from "fill in when" to end', '"fill in when"', "watches"),
        ("safety", 'CO alarm "fill in fitted or no"', '"fill in fitted or no"', ""),
        ("safety", 'power off "Fill In when"', '"Fill In when"', "power_off"),
        ("safety", "vent: “FILL IN how”, on throughout", "“FILL IN how”", ""),
        ("safety", "electrics inspected ‘fill-in when’", "‘fill-in when’", "electrics"),
        ("safety", 'eyes shade "  fill  in the number"', '"  fill  in the number"', "eyes"),
    ],
)  # fmt: skip
def test_a_place_to_fill_in_is_one_finding(
    section: str, line: str, at: str, unreadable: str
) -> None:
    """It stands at the quote; what can't be read without it is neither said nor missing."""
    plan = read(f"{HEADINGS.get(section, section)}\n  {line}\n")

    places = [fault for fault in told(plan) if fault[0] != "name-unused"]
    assert places == [("still-to-fill-in", 2, at)]
    part = {"plan": plan, "witness": plan.witness_sets[0] if plan.witness_sets else None}
    facts = part.get(section) or getattr(plan, section)
    assert (unreadable in facts.unreadable) == bool(unreadable)
    if unreadable:
        assert not getattr(facts, unreadable)


@pytest.mark.parametrize(
    "text",
    [
        'plan "fill in a name"',
        'kiln "fill in the kiln"',
        'witness "fill in where"',
        'target "fill in the cone"',
        'accept pad-damp because "fill in why"',
        'accept pad-damp because "the pad is of last week" by "fill in who"',
        'accept "fill in which rule" because "the pad is of last week"',
    ],
)
def test_headings_and_acceptances_have_places_too(text: str) -> None:
    """A heading or an acceptance with such a place is told as one, and as nothing else."""
    assert [fault.rule for fault in read(text).faults] == ["still-to-fill-in"]


@pytest.mark.parametrize(
    "line",
    [
        'note "filling in the crack took all day"',
        'note "the fill inside is sand"',
        'note "what to fill in"',
        'by "Mia"  # "fill in who fires"',
        'clearance 1/4" "the shed"',
    ],
)
def test_other_words_are_no_place_to_fill_in(line: str) -> None:
    """Only a text that begins with `fill in` is one, and only where a remark is not."""
    section = "safety" if line.startswith("clearance") else 'plan "Thursday"'

    assert told(read(f"{section}\n  {line}\n")) == []


def test_an_unknown_word_is_told_beside_the_place() -> None:
    """Of a line whose first word nobody knows, filling in alone would make nothing right."""
    plan = read('safety\n  wacth "fill in who" from 15:00 to end\n')

    assert told(plan) == [
        ("word-unknown", 2, "wacth"),
        ("still-to-fill-in", 2, '"fill in who"'),
    ]


@pytest.mark.parametrize("section", SECTIONS)
def test_a_line_to_copy_is_right_or_to_be_filled_in(section: str) -> None:
    """Each line offered for copying is a right line, or wrong only in what is to be filled in."""
    grammar = plan_grammar()
    heading = grammar.right_line(section, section.upper()).right
    for rule in sorted(grammar.facts_of(section)):
        plan = read(f"{heading}\n  {grammar.right_lines[rule][0].to_copy}")
        below = {fault.rule for fault in plan.faults if fault.span.line == 2}

        to_fill_in = any(line.to_copy != line.right for line in grammar.right_lines[rule])
        assert below - {"name-unused"} == ({"still-to-fill-in"} if to_fill_in else set()), rule
