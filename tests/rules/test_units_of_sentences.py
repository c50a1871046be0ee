"""A finding answers in the unit of the line that it points at, in a sentence and as a line."""

import re
from collections.abc import Iterator

import pytest
from the_book import BOOK, SOUND

from guardcone.checking.plans import check_plan
from guardcone.checking.run import Finding
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


# A schedule of the sound plan in °F that is slow, cool, hot or fast: findings with lines to copy.
SLIPPED_PLANS = {
    "stops short": ("climb 108 F/h to 2215 F", "climb 108 F/h to 2150 F"),
    "goes too far": ("climb 108 F/h to 2215 F", "climb 108 F/h to 2300 F"),
    "climbs too fast": ("climb 200 F/h to 1100 F", "climb 460 F/h to 1100 F"),
    "asks too much power": ("climb 270 F/h to 2000 F", "climb 2000 F/h to 2000 F"),
    "damp ware": ("bisque, wall 1/4 in", "leather hard, wall 5/8 in"),
    "goes down": ("climb 270 F/h to 2000 F", "climb 270 F/h to 900 F"),
}
# They ask whether the other unit was meant, so both stand there.
ABOUT_UNITS = {"peak-in-other-unit", "climb-in-other-unit"}
_DEGREES = re.compile(r"(?<![\w.])([0-9.]+) ([CF])(/h)?\b")


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


def _findings(text: str) -> tuple[Finding, ...]:
    plan = read_plan(SourceText("mixed", split_lines(text)))
    return check_plan(plan, BOOK).outcome.findings


def _in_celsius(found: re.Match[str]) -> str:
    number = float(found[1]) if found[3] else float(found[1]) - 32
    return f"{round(number / 1.8, 3):g} C{found[3] or ''}"


def _mixed(text: str) -> Iterator[str]:
    """The plan with one of its measures in °C, and with all of a line, each in its turn."""
    for found in _DEGREES.finditer(text):
        yield text[: found.start()] + _in_celsius(found) + text[found.end() :]
    lines = text.splitlines(keepends=True)
    for place, line in enumerate(lines):
        if len(_DEGREES.findall(line)) > 1:
            yield "".join([*lines[:place], _DEGREES.sub(_in_celsius, line), *lines[place + 1 :]])


def _units(line: str) -> list[str]:
    return [unit + per_hour for _, unit, per_hour in _DEGREES.findall(line)]


@pytest.mark.parametrize("slip", SLIPPED_PLANS)
def test_a_mixed_plan_is_answered_in_the_unit_of_each_line(slip: str) -> None:
    """No sentence has both °C and °F, and no line to copy changes the unit of its line."""
    good, bad = SLIPPED_PLANS[slip]
    assert good in SOUND["mid_range"]
    lines_to_copy = 0
    for text in _mixed(SOUND["mid_range"].replace(good, bad)):
        for finding in _findings(text):
            if finding.rule in ABOUT_UNITS:
                continue
            for sentence in (finding.text, finding.repair):
                assert not {"°C", "°F"} <= set(re.findall("°[CF]", sentence)), (text, finding)
            repair = finding.line_repair
            stands = _units(text.splitlines()[repair.span.line - 1]) if repair else []
            if repair and _units(repair.text) and stands:
                lines_to_copy += 1
                assert _units(repair.text) == stands, (text, finding)
    assert lines_to_copy or slip not in ("stops short", "goes too far")
