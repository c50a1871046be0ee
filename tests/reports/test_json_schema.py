"""The JSON Schemas agree with the readers: what one takes or refuses, the other does.

Checked with the library `jsonschema` against JSON Schema, draft 2020-12.
"""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from plan_book import LIMITS, RULES, plan_book
from ruamel.yaml import YAML

from guardcone.facts import VOCABULARY
from guardcone.firing.tables import table
from guardcone.reports.json_schema import as_text, rules_schema, studio_schema
from guardcone.rulebook.book import StudioFaults
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.example_file import EXAMPLE_KEYS
from guardcone.rulebook.library import rule_files
from guardcone.rulebook.rule_file import CASE_KEYS, LIMIT_KEYS, REASON_KEYS, RULE_KEYS
from guardcone.rulebook.studio_file import CHANGE_KEYS, STUDIO_KEYS, read_studio

BOOK = plan_book()


def _wrong(schema: dict[str, Any], text: str) -> list[str]:
    """What a validator finds in a YAML text; the schema goes through JSON, as for users."""
    validator = Draft202012Validator(json.loads(as_text(schema)))
    loaded = YAML(typ="safe", pure=True).load(text)
    return [error.message for error in validator.iter_errors(loaded)]


@pytest.mark.parametrize("schema", [rules_schema(VOCABULARY), studio_schema(BOOK)])
def test_the_schemas_are_schemas(schema: dict[str, Any]) -> None:
    """Each is itself a right schema of the draft it names."""
    Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("file", rule_files(), ids=lambda file: file.file)
def test_the_built_in_files_are_valid(file: BookFile) -> None:
    """Every file of the rule book is what the schema says a file of rules is."""
    assert _wrong(rules_schema(VOCABULARY), file.source) == []


BROKEN_RULES = [
    # (what stands in the rules, what to put there instead)
    ("concerns: segment", "concerns: segments"),
    ("  doubt when: rate", "  doubtful when: rate"),
    ("  doubt when: rate", "  doubt: rate"),
    ("  why: Fast climbs crack ware.\n", ""),
    ("why: Fast", "wy: Fast"),
    ("rule: climb-too-fast", "rule: Climb too fast"),
    ("  at: rate\n", "  at: {rate: rate}\n"),
    ("      at: 201 C/h\n", "      at: [201 C/h]\n"),
    ("finding: Segment {number} climbs at {rate}.", "finding: [Segment, climbs]"),
    ("    - rated to cone 11: rated to cone 8\n", "    - rated to cone 11:\n"),
    ("        shelves 4: altitude", '        kiln "Heron": {load: {shelves 4: altitude'),
    ("      without: thermocouple type S\n", "      without: [[thermocouple type S]]\n"),
    ("    - from: stoneware\n", "    - {}\n"),
]

RIGHT_RULES = [
    ("    - rated to cone 11: rated", '    - kiln "Heron":\n        rated to cone 11: rated'),
    ("    - from: stoneware\n", "    - stoneware\n"),
    ("altitude 30 m\n", "[altitude 30 m, shelves 2]\n"),
    ("      without: thermocouple type S\n", "      without: [load, thermocouple type S]\n"),
    ("without: thermocouple type S\n", 'without: {kiln "Heron": [thermocouple type S]}\n'),
]


def test_the_small_book_is_valid() -> None:
    """The rules and limits that the broken ones are made from are right by the schema."""
    assert _wrong(rules_schema(VOCABULARY), RULES) == []
    assert _wrong(rules_schema(VOCABULARY), LIMITS + RULES) == []


@pytest.mark.parametrize(("one", "other"), RIGHT_RULES)
def test_other_ways_to_change_a_plan_are_taken_by_both(one: str, other: str) -> None:
    """Lines below a heading, several lines for one, a section left out: right for both."""
    assert one in RULES
    text = RULES.replace(one, other, 1)

    assert _wrong(rules_schema(VOCABULARY), text) == []
    assert not read_book([BookFile("r", text), BookFile("l", LIMITS)], VOCABULARY).faults


@pytest.mark.parametrize(("right", "wrong"), BROKEN_RULES)
def test_broken_rules_are_refused_by_both(right: str, wrong: str) -> None:
    """A rule that the schema refuses is refused by the reader too."""
    assert right in RULES
    text = RULES.replace(right, wrong, 1)
    if "load: {shelves" in wrong:
        text = text.replace("altitude 30 m", "altitude 30 m}}")

    assert _wrong(rules_schema(VOCABULARY), text)
    assert read_book([BookFile("r", text), BookFile("l", LIMITS)], VOCABULARY).faults


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("  value: 200 C/h\n", ""),
        ("  range: 100 C/h to 300 C/h\n", "  range: 100 C/h to 300 C/h\n  measures: rates\n"),
        ("  sources: common practice, no source\n", ""),
        ("limit: quickest-climb", "limit: Quickest climb"),
        ("  value: 200 C/h\n", "  value: 200 C/h\n  remark: none\n"),
    ],
)
def test_broken_limits_are_refused_by_both(right: str, wrong: str) -> None:
    """A limit that the schema refuses is refused by the reader too."""
    text = LIMITS.replace(right, wrong, 1)

    assert _wrong(rules_schema(VOCABULARY), text)
    assert read_book([BookFile("r", RULES), BookFile("l", text)], VOCABULARY).faults


STUDIO = """\
local authority: county fire office
emergency: the number on the kiln-room door
kilns:
  Heron: |
    electric, front door
    rated to cone 11
  Little Egret: [electric, top lid, 60 L]
clays: {Marsh buff: "matures cone 8 to cone 10"}
glazes:
limits: {quickest-climb: 170 C/h}
rules:
  kiln-too-cool: {consequence: off, because: new elements in Heron}
  local-code-unsaid: {consequence: danger, because: the office visits each week}
"""


@pytest.mark.parametrize(
    ("right", "wrong", "is_right"),
    [
        ("emergency", "emergency", True),
        ("emergency: the number on the kiln-room door", "emergncy: the number", False),
        ("glazes:\n", "glazes: [Reed ash]\n", False),
        ("quickest-climb:", "quickest-clim:", False),
        ("kiln-too-cool:", "kiln-to-cool:", False),
        ("consequence: off, because: new elements in Heron", "consequence: off", False),
        ("consequence: off,", "consequence: of,", False),
        ("consequence: danger,", "consequence: doubt,", False),
    ],
)
def test_a_studio_file(right: str, wrong: str, is_right: bool) -> None:
    """The schema of studio.yaml and its reader take and refuse the same."""
    text = STUDIO.replace(right, wrong, 1)
    studio = read_studio(
        "studio.yaml", text, BOOK, lambda name: "it is not there", lambda book, names: ()
    )

    assert (_wrong(studio_schema(BOOK), text) == []) is is_right
    assert isinstance(studio, StudioFaults) is not is_right


def test_every_key_says_what_it_is_for() -> None:
    """The table of keys has each key of each record once, in the reader's order, and no other."""
    read = {
        "rule": RULE_KEYS,
        "level": CASE_KEYS,
        "example": EXAMPLE_KEYS,
        "limit": LIMIT_KEYS,
        "reason": REASON_KEYS,
        "studio": STUDIO_KEYS,
        "change": CHANGE_KEYS,
    }
    told: dict[str, list[str]] = {}
    for row in table("keys"):
        told.setdefault(row["record"], []).append(row["key"])
        assert row["meaning"].endswith(".")

    assert told == {record: list(keys) for record, keys in read.items()}
