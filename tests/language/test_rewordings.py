"""What people say in other words than a plan has is offered in those of a plan, nothing lost."""

import csv
import re
from pathlib import Path

import pytest

from guardcone.documents import document_path
from guardcone.language import SourceText, read_statements, rewordings, split_lines
from guardcone.language.grammar import SECTIONS

with document_path("grammar", "rewordings.csv").open(encoding="utf-8", newline="") as file:
    ROWS = [row for row in csv.DictReader(file) if row["section"] != "value"]
NAMED = {"plan", "kiln", "witness", "reading"}
PEOPLE = Path(__file__).parents[1] / "people"


def told(section: str, line: str) -> list[str]:
    """What is wrong with a line of a section, places to fill in apart."""
    heading = f'{section} "x"' if section in NAMED else section
    faults = read_statements(SourceText("plan", split_lines(f"{heading}\n  {line}\n"))).faults
    return [f"{one.found} {one.repair}" for one in faults if one.rule != "still-to-fill-in"]


def offered(section: str, line: str) -> list[str]:
    """The lines that are offered in its place; nothing where it is read."""
    ways = (fault.partition(" Write ")[2] for fault in told(section, line))
    return [one for way in ways for one in re.findall("`([^`]+)`", way)]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["example"])
def test_the_example_of_a_row_is_reworded(
    row: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each line that is offered can be read, and without the row others are offered."""
    section, _, line = row["example"].partition(": ")
    lines = offered(section, line)
    rows = list(rewordings._rows(section))
    of_section = [
        one for one in ROWS if section in one["section"].split() or one["section"] == "any"
    ]
    del rows[of_section.index(row)]
    monkeypatch.setattr(rewordings, "_rows", lambda _: rows)

    assert lines
    assert [one for one in lines if all(told(other, one) for other in SECTIONS)] == []
    assert offered(section, line) != lines


@pytest.mark.parametrize(
    ("section", "line", "lines"),
    [
        ("schedule", "100 - 600 C at 80 C/h", ["80 C/h to 600 C  # from 100 C"]),
        ("schedule", "900 C to 700 C in 4 hours", [
            "climb in 4 hours to 700 C  # from 900 C", "cool in 4 hours to 700 C  # from 900 C",
        ]),
        ("schedule", "stoke every 5 minutes, 30 C/h to 1260 C", [
            "30 C/h to 1260 C  # stoke every 5 minutes",
        ]),
        ("schedule", "climb 60 C/h to 120 C with the bung out", [
            "climb 60 C/h to 120 C  # with the bung out",
        ]),
        ("schedule", "no hold", ["# no hold"]),
        ("schedule", "then 100 an hour to 600", ["100 C/h to 600 C", "100 F/h to 600 F"]),
        ("schedule", "down 100 C/h to 600 C, then off", ["cool 100 C/h to 600 C  # then off"]),
        ("kiln", "one element is broken", ['note "one element is broken"']),
        ("kiln", "tin glaze, cobalt and manganese decoration", [
            'glaze "fill in the glaze" matures "fill in its range, from the recipe or label", '
            "contains manganese  # tin glaze, cobalt and manganese decoration",
        ]),
        ("kiln", "takes about 15 hours to cool to 100 C", [
            'cools from "fill in how hot" to 100 C in 15 hours',
        ]),
        ("witness", "cone pack dried for two days", [
            'pad "fill in pricked or not pricked, and dry or damp, as it is"  # dried for two days',
        ]),
        ("safety", "clearance 5 ft 2 in to the wall, 6 ft at the back", [
            "clearance 5 ft  # 5 ft 2 in to the wall, 6 ft at the back",
        ]),
        ("safety", "clearance 45 cm to the wall, 12 in at the back", [
            "clearance 12 in  # 45 cm to the wall, 12 in at the back",
        ]),
        ("load", "shelves: 12 x 24, kiln washed", ["shelves washed  # shelves: 12 x 24, kiln"]),
        ("load", 'ware "plates" two dozen of "B" with "C", 26 cm across, stood on edge', [
            'ware "plates" 24 of "B" with "C"  # stood on edge, 26 cm across',
        ]),
        ("load", 'ware "26 cm wide plates" x24 of "B", lids off', [
            'ware "26 cm wide plates" x24 of "B"  # lids off',
        ]),
        ("witness", "three cones 7-6-5, small pad, damp", [
            "guide 5", "target 6", "guard 7", "pad damp  # small pad",
        ]),
        ("schedule", "150 F/h to cone 9 (2300 F) medium reduction", [
            "150 F/h to 2300 F",
            'reduce from "fill in from what temperature to what"  # cone 9, medium reduction',
        ]),
        ("schedule", "60 C/h to 600 C and then let it soak for a while", [
            "60 C/h to 600 C",
            'hold "fill in how long, and at what temperature"  # let it soak for a while',
        ]),
        ("schedule", "medium speed: 120 F/h to 200 F, 300 F/h to 2000 F, 20 min hold", [
            "120 F/h to 200 F", "300 F/h to 2000 F", "20 min hold  # medium speed",
        ]),
        ("schedule", "slow cool from 1000 C to 800 C at 60/h", [
            "slow cool 60 C/h to 800 C  # from 1000 C",
        ]),
        ("schedule", "kiln off, cool naturally", ['cool freely to "fill in how cool"  # off']),
        ("kiln", "cone packs: 010 for body reduction, 8 guide, 10 target, 11 guard", [
            'witness "fill in where this set stands"', "guide 8", "target 10",
            "guard 11  # cone packs: 010 for body reduction, 8 guide, 10 target, 11 guard",
        ]),
        ("witness", "6 is the target, 7 guard, 5 guide", ["guide 5", "target 6", "guard 7"]),
        ("load", "half an inch apart, feet waxed, new kiln wash on all the shelves", [
            "spacing 1/2 inch",
            "shelves washed  # apart, feet waxed, new kiln wash on all the shelves",
        ]),
        ("load", "pots 12 mm apart, some still damp", [
            'ware "fill in what" "fill in how many" of "fill in the clay", damp'
            "  # pots 12 mm apart, some still damp",
        ]),
        ("load", "20 mugs, stoneware, bisqued", [
            'ware "mugs" 20 of "stoneware", bisqued',
            'clay "stoneware" matures "fill in its range, from the bag"',
        ]),
        ("safety", "wear welding glasses shade 5 and leather gauntlets", [
            "eyes shade 5", 'hands "leather gauntlets"',
        ]),
        ("safety", "gas line checked by licensed plumber 2026-03", [
            'gas line inspected 2026-03 by "licensed plumber"',
        ]),
        ("safety", "long gauntlets, face shield, cotton clothes", [
            'hands "long gauntlets"  # face shield, cotton clothes',
        ]),
        ("safety", "members kept out of the kiln room", [
            'bystanders "members kept out of the kiln room"',
        ]),
        ("safety", "lit candles by the window", [
            'vent "fill in what carries the fumes out, and when it is on"'
            "  # lit candles by the window",
        ]),
    ],
)  # fmt: skip
def test_what_was_written_is_kept(section: str, line: str, lines: list[str]) -> None:
    """What a plan has no words for stands behind the line as a remark."""
    assert offered(section, line) == lines


DENIED = [
    ("safety", "no CO2 extinguisher by the door"),
    ("safety", "CO2 extinguisher missing by the door"),
    ("safety", "CO2 extinguisher on order"),
    ("safety", "hood fan not on throughout"),
    ("safety", "hood fan on until somebody turns it off"),
    ("safety", "CO alarm by the door, not tested"),
    ("safety", "never pull the plug before you unpack"),
    ("safety", "pull the plug before you unpack if you like"),
    ("safety", "electrics not inspected 2026-11-30 by K. Osei, licensed electrician"),
    ("load", "no manganese in any glaze"),
    ("load", "shelves need to be kiln washed"),
    ("load", "shelves kiln washed, but never the top one"),
    ("safety", "pull the trolley out before unloading"),
    ("load", "glazes without lead frit"),
    ("safety", "members not kept out of the kiln room"),
    ("safety", "breaker not off before unloading"),
    ("safety", "breaker off before unloading if we remember"),
    ("safety", "lock-out tag never on isolator before unloading"),
    ("safety", "nobody watches from 15:00 to end"),
    ("safety", "shift nobody 18:00 to 00:00"),
    ("safety", "not inspected by an electrician in May 2026"),
    ("safety", "never wear kiln glasses shade 3"),
    ("safety", "kiln glasses shade 3 broken"),
    ("safety", "call nobody"),
    ("witness", "three cones 5-6-7 in a pad, not dry"),
    ("witness", "pad not pricked and dried"),
    ("witness", "pad pricked and dried, maybe"),
    ("safety", "no fan on whole firing"),
    ("safety", "fan not on whole firing"),
    ("safety", "gas line not checked by licensed plumber 2026-03"),
    ("safety", "gas line checked by nobody 2026-03"),
    ("safety", "no gauntlets, face shield"),
    ("safety", "goggles shade 5, no leather gloves"),
    ("safety", "Ben will not be there for the last two hours"),
    ("safety", "somebody will be there"),
    ("safety", "nearest wall not 50 cm away"),
    ("load", "new kiln wash needed on all the shelves"),
    ("load", "no kiln wash on the shelves"),
    ("load", "pots 12 mm apart, shelves not washed yet"),
    ("witness", "7 guide, 6 target, 5 guard"),
    ("schedule", "reduction, climb 60 C/h to 1200 C"),
    ("schedule", "do not, 60 C/h to 1200 C"),
]


@pytest.mark.parametrize(("section", "line"), DENIED)
def test_what_is_denied_is_not_offered(section: str, line: str) -> None:
    """Words that say no never become a line that says yes."""
    lines = [one for one in offered(section, line) if " " in one and "fill in" not in one]

    assert [one for one in lines if not told(section, one)] == []


@pytest.mark.parametrize(
    "line", ["1  full power to 600 C", "2  150 C/h, 1100 C, 10 min", "4 cool freely to 60 C"]
)
def test_the_number_of_a_row_says_nothing(line: str) -> None:
    """Numbers before the lines of a list may stand there without a full stop."""
    assert told("schedule", line) == []


@pytest.mark.parametrize("line", ["B. Jones built it", "S hooks hang on the lid", "I stay here"])
def test_a_letter_is_a_thermocouple_beside_its_word_only(line: str) -> None:
    """A line that only begins with one says nothing of thermocouples."""
    assert "thermocouple of type" not in " ".join(told("kiln", line))
    assert told("kiln", "K type thermocouple") == []


def test_a_schedule_without_its_heading_is_known_by_its_words() -> None:
    """The lines below such a line are read as lines of that schedule."""
    lines = (
        'kiln "Heron"\n  down 100 C/h to 600 C, then off\n  no hold, switch off\n  open at 90 C\n'
    )
    kinds = [
        (one.kind, [said.name for said in one.statements])
        for one in read_statements(SourceText("plan", split_lines(lines))).sections
    ]

    assert kinds == [("kiln", []), ("schedule", ["cool", "open"])]


def test_a_line_of_safety_is_missing_until_it_is_written() -> None:
    """It is offered, and not taken for said; a line of the schedule is."""
    lines = "schedule\n  100 - 600 C at 80 C/h\nsafety\n  kiln 30 cm from the wall\n"
    schedule, safety = read_statements(SourceText("plan", split_lines(lines))).sections

    assert [one.name for one in schedule.statements] == ["step"]
    assert (safety.statements, safety.unreadable) == ([], set())


@pytest.mark.parametrize(
    ("line", "written"),
    [
        ("2 big platters, 1/2 inch thick, still leather hard",
         'ware "big platters" 2 of "fill in the clay", 1/2 inch thick, leather hard'),
        ("20 mugs in Marsh buff, cone 6, glazed with floating blue",
         'ware "mugs" 20 of "Marsh buff" with "floating blue", "fill in how dry"  # cone 6'),
        ("12 bisqued bowls", 'ware "bowls" 12 of "fill in the clay", bisqued'),
        # what is damp among it is not left in a remark
        ("20 mugs, dry, some damp",
         'ware "fill in what" "fill in how many" of "fill in the clay", damp'
         "  # 20 mugs, dry, some damp"),
    ],
)  # fmt: skip
def test_what_is_said_of_ware_is_kept(line: str, written: str) -> None:
    """Its name, number, clay, glaze, and what else a plan has words for."""
    assert offered("load", line) == [written]


def phrases() -> list[str]:
    """Lines as people write them: the examples, and the tables of phrases."""
    found = [row["example"].partition(": ")[2] for row in ROWS]
    for table in sorted(PEOPLE.glob("*phrases.csv")):
        with table.open(encoding="utf-8", newline="") as file:
            found += [row["phrase"] for row in csv.DictReader(file)]
    return found


def test_what_a_row_has_hides_no_line() -> None:
    """A line that the pattern of a row meets has one of the words that stand beside it."""
    lines = phrases()
    rows = {id(row): row for section in SECTIONS for row in rewordings._rows(section)}

    assert len(lines) > 500
    assert [
        (row.has, line)
        for row in rows.values()
        for line in lines
        if row.pattern.search(line) and not row.search(line)
    ] == []
