"""A plan that goes to the published end temperature of its target is no doubtful plan."""

import re

import pytest
from the_book import BOOK, SOUND

from guardcone.checking import Finding
from guardcone.checking.plans import check_plan
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.rule import Consequence

# Large cones 06, 8, 10: 998, 1247, 1282 °C, self-supporting cone 6: 1222 °C, all at 60 °C/h (cone
# chart, read in a copy). The forecast is good to some 13 °C either way at best, so a few degrees
# more, or ten minutes, are nothing to be sure of. Cones 8 and 9 lie so close that ten minutes on
# top of the chart's temperature make the guard more likely down than not: there it stands without.
CHART = [
    ("bisque", "992 C", "998 C", "", ""),
    ("bisque", "992 C", "998 C", "5 min", "10 min"),
    ("mid_range", "2215 F", "1222 C", "", ""),
    ("mid_range", "2215 F", "1222 C", "10 min", "0.1 min"),
    ("porcelain", "1270 C", "1282 C", "10 min", "0.1 min"),
    ("porcelain", "1270 C", "1285 C", "10 min", "0.1 min"),
    ("cone 8", "1246 C", "1247 C", "10 min", "0.1 min"),
]


def _base(name: str) -> str:
    if name != "cone 8":
        return SOUND[name]
    # The sound stoneware plan, one cone cooler.
    text = SOUND["stoneware"].replace("target cone 9,", "target cone 8,")
    for role, cone in (("guide", 7), ("target", 8), ("guard", 9)):
        text = re.sub(rf"^  {role} +\d+$", f"  {role} {cone}", text, flags=re.MULTILINE)
    return text


def _found(text: str) -> tuple[Finding, ...]:
    return check_plan(read_plan(SourceText("chart", split_lines(text))), BOOK).outcome.findings


@pytest.mark.parametrize(("base", "peak", "chart", "hold", "shorter"), CHART)
def test_chart_temperature(base: str, peak: str, chart: str, hold: str, shorter: str) -> None:
    """Nothing at doubt or worse where the last climb ends at the chart's temperature."""
    text = _base(base)
    assert text.count(f"to {peak}") == 1
    text = text.replace(f"to {peak}", f"to {chart}")
    if hold:
        text, changed = re.subn(rf"^  hold +{hold}$", f"  hold {shorter}", text, flags=re.MULTILINE)
        assert changed == 1

    grave = [one for one in _found(text) if one.consequence is not Consequence.ADVICE]

    assert [(one.rule, one.text) for one in grave] == []


def test_half_a_cone_past_the_chart() -> None:
    """Well past the chart's temperature the guard is told of, so that silence says something."""
    text = SOUND["porcelain"].replace("to 1270 C", "to 1310 C")

    assert "guard-goes-down" in {one.rule for one in _found(text)}
