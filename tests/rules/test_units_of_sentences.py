"""A plan in °F is answered in °F: no sentence of a finding keeps a °C of its own."""

import re

from the_book import BOOK, SOUND

from guardcone.engine.plan_check import check_plan
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan

# The sound plan in °F, made to climb, end and cool badly: ware, quartz, last climb, cones, cooling.
SLIPS = (
    ("climb 200 F/h to 1100 F", "climb 460 F/h to 1100 F"),
    ("climb 108 F/h to 2215 F", "climb 60 F/h to 2300 F"),
    ("cools from 1800 F to 200 F in 10 h", "cools from 1800 F to 200 F in 4 h"),
    ('with "Tide pool", bisque, wall 1/4 in', 'with "Tide pool", bisque, wall 5/8 in'),
)
# What these must bring, so that the test can't pass on a plan in which nothing is found.
EXPECTED = {
    "quartz-climbed-fast",
    "quartz-cooled-fast",
    "last-climb-slow",
    "guard-goes-down",
    "cristobalite-fast-down",
}


def test_fahrenheit_is_answered_in_fahrenheit() -> None:
    """Temperatures, differences and rates of findings and repairs follow the plan into °F."""
    text = SOUND["mid_range"]
    for written, slip in SLIPS:
        found = re.sub(r"\s+", " ", written)
        pattern = r"\s+".join(re.escape(word) for word in found.split(" "))
        text, changed = re.subn(pattern, slip, text)
        assert changed == 1, written

    plan = read_plan(SourceText("fahrenheit", split_lines(text)))
    findings = check_plan(plan, BOOK).outcome.findings

    assert {finding.rule for finding in findings} >= EXPECTED
    for finding in findings:
        assert "°C" not in finding.text, finding.rule
        assert "°C" not in finding.repair, finding.rule
