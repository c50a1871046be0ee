"""What people write that is no line of a plan is answered with a right line."""

import csv
import re

import pytest

from guardcone.documents import document_path
from guardcone.language import SourceText, read_statements, split_lines
from guardcone.language.grammar import SECTIONS

with document_path("grammar", "answers.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
NAMED = {"plan", "kiln", "witness", "reading"}


def told(section: str, line: str) -> list[str]:
    """What is wrong with a line of a section, places to fill in apart."""
    section = "plan" if section == "any" else section.split()[0]
    heading = f'{section} "x"' if section in NAMED else section
    faults = read_statements(SourceText("plan", split_lines(f"{heading}\n  {line}\n"))).faults
    return [f"{one.found} {one.repair}" for one in faults if one.rule != "still-to-fill-in"]


# A row with a phrase of its own; three dots stand for any words before it.
PHRASES = [(row["section"], phrase, row) for row in ROWS for phrase in row["phrases"].split(", ")]
# What may stand behind the words of a phrase.
FURTHER = (
    "6", "cone 6", "10 min", "900 C", "to 90 C", "60 C/h to 95 C", "12 h", "melted", "shade 5",
    "from 15:00 to end", "5 6 7", "A. Finch", "bottom", "not yet",
)  # fmt: skip


def parts(lines: str) -> list[list[str]]:
    """The lines of a row: of each way that may be meant those that belong together."""
    return [way.split(" + ") for way in lines.split(" | ")]


@pytest.mark.parametrize(("section", "phrase", "row"), PHRASES, ids=lambda one: str(one)[:20])
def test_a_phrase_is_answered(section: str, phrase: str, row: dict[str, str]) -> None:
    """With its words alone, or with more behind them, and each line offered can be read."""
    words = phrase.replace("...", "somehow").strip()
    further = [f"{words} {one}" for one in FURTHER] if "{" in row["lines"] else []
    answers = [told(section, one) for one in (words, *further)]
    answers = [one for one in answers if one and row["answer"] in one[0]]
    offered = [line for one in answers for line in re.findall("`([^`]+)`", one[0])]

    assert answers
    assert [line for line in offered if all(told(one, line) for one in SECTIONS)] == []
    for line in (line for way in parts(row["lines"]) for line in way):
        pattern = re.sub(r"\\{\w+\\}", ".+", re.escape(line)) + "(?:  # .+)?"
        assert any(re.fullmatch(pattern, one) for one in offered), line


@pytest.mark.parametrize(
    ("section", "line", "offered"),
    [
        ("witness", "cones 7 6 5 on the middle shelf", [
            "guide 5", "target 6", "guard 7  # cones 7 6 5 on the middle shelf",
        ]),
        ("witness", "cones 5 6 7 8", ["order cones 5 6 7 8"]),
        ("kiln", "cone 5 guide, cone 6 target, cone 7 guard", ["guide 5", "target 6", "guard 7"]),
        ("witness", "pack A: 04 05 06", ["guide 06", "target 05", "guard 04"]),
        ("witness", "5 6 7", ["order 5 6 7"]),
        ("plan", "^6 oxidation", ["target cone 6 oxidation"]),
        ("load", "12 mm", ["spacing 12 mm", "elements 12 mm"]),
        ("safety", "until 600 C", ["vent until 600 C"]),
        ("reading", "5 o'clock", ["target 5 o'clock", "guide 5 o'clock", "guard 5 o'clock"]),
        ("plan", "going for a soft cone 6 in oxidation", ["target cone 6 in oxidation"]),
        ("plan", "second firing of the big platters", ['note "second firing of the big platters"']),
        ("schedule", "leave to cool naturally until 95 C", ["cool naturally until 95 C"]),
        ("schedule", "60 degrees per hour up to 95 C", ["60 C/h up to 95 C"]),
        ("schedule", "go to 600 at 100 an hour", [
            "go to 600 C at 100 C/h", "go to 600 F at 100 F/h",
        ]),
        ("safety", "wear welding goggles shade 5", ["eyes shade 5"]),
        ("kiln", "I usually go to bed", [
            'watch "fill in who watches" from "fill in the time" to end  # I usually go to bed',
        ]),
        ("safety", "alarm clock set for 8", [
            'watch "fill in who watches" from "fill in the time" to end  # alarm clock set for 8',
        ]),
        ("kiln", "some pots still cold to the touch", [
            'ware "fill in what" "fill in how many" of "fill in the clay", "fill in how dry", '
            'wall "fill in how thick"  # some pots still cold to the touch',
        ]),
        ("reading", "all three melted", ["guide melted", "target melted", "guard melted"]),
    ],
)  # fmt: skip
def test_what_was_written_is_kept(section: str, line: str, offered: list[str]) -> None:
    """Where a right line can be made of the words it is offered, and no place to fill in."""
    (fault,) = told(section, line)

    assert re.findall("`([^`]+)`", fault.partition(" Write ")[2]) == offered


DENIED = [
    ("safety", "no leather gloves yet"),
    ("safety", "nobody watching from 15:00 to end"),
    ("safety", "we never wear goggles shade 5"),
    ("safety", "remote watch from 15:00 to end"),
    ("safety", "not until 600 C"),
    ("schedule", "do not open at 300 C"),
    ("schedule", "never full power to 1000 C"),
    ("schedule", "in reduction climb 60 C/h to 1200 C"),
    ("plan", "not checked by A. Finch"),
    ("plan", "checked by nobody"),
    ("plan", "maybe cone 6"),
]


@pytest.mark.parametrize(("section", "line"), DENIED)
def test_what_is_denied_is_not_offered(section: str, line: str) -> None:
    """Words that say no, or perhaps, never become a line that says yes."""
    for fault in told(section, line):
        lines = [
            one for one in re.findall("`([^`]+)`", fault.partition(" Write ")[2]) if " " in one
        ]
        assert [one for one in lines if "fill in" not in one] == [], fault


def test_an_answer_hides_no_danger() -> None:
    """Nobody knows yet what the line will say, so what it may stand for is still missing."""
    source = SourceText("plan", split_lines("safety\n  window open\n"))
    (section,) = read_statements(source).sections

    assert section.unreadable == set()


def test_a_line_that_is_offered_is_whole() -> None:
    """However long it is to its end; of one that is too long only the form is offered."""
    line = "cool at 150 degrees Celsius per hour down to 1000 degrees Celsius"
    (short,) = told("schedule", f"when all is well {line}")
    (long,) = told("schedule", f"when all is well {line}{' ' * 200}.")

    assert short.endswith(f" Write `{line}`, or put # before a remark.")
    assert long.endswith(' Write `cool "fill in how and to what temperature"`.')
