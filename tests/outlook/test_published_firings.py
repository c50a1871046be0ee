"""Firings that potters published with the cones they gave: each reading lies in its range.

The schedules are typed as printed. Each is one kiln with a thermocouple of its own, not a standard.
A bend of so many per cent is so much of the way from standing to down, six hours of the clock.
"""

import pytest

from guardcone.firing.cone_forecast import degrees_short, work_at_clock
from guardcone.language import SourceText, split_lines
from guardcone.outlook.outlook import forecast_of
from guardcone.outlook.records import ConeOutlook
from guardcone.plan import read_plan

DOWN = 6.0


def forecast(text: str) -> dict[tuple[str | None, str], ConeOutlook]:
    """Each cone of a plan's sets, by the place of its set and its number."""
    plan = read_plan(SourceText("published.firing", split_lines(text)))
    assert plan.faults == ()
    shelves = forecast_of(plan).shelves
    return {(one.place, str(cone.cone.number)): cone for one in shelves for cone in one.cones}


# mtvision.studio, "The studio kilns and firing schedules", entries 12/23/23 and 1/9/26.
STUDIO = """plan "the studio kiln"
kiln "published"
  electric
witness "top shelf"
  self-supporting cones
  guide 6
  target 7
  guard 8
witness "middle shelf"
  self-supporting cones
  guide 6
  target 7
  guard 8
witness "bottom shelf"
  self-supporting cones
  guide 5
  target 6
  guard 7
schedule
  climb 80 F/h to 180 F
  hold 1 h
  climb 200 F/h to 250 F
  climb 400 F/h to 1000 F
  climb 180 F/h to 1150 F
  climb 300 F/h to 1695 F
  climb 120 F/h to 2210 F
  hold 20 min
  cool freely to 200 F
"""
# A potter on the ceramic arts community forum, posts of user 26604: one kiln, two peaks.
FORUM = """plan "the forum kiln"
kiln "published"
  electric
witness "no shelf is said"
  self-supporting cones
  guide 5
  target 6
  guard 7
schedule
  climb 100 F/h to 220 F
  climb 350 F/h to 2000 F
  climb 150 F/h to {peak} F
  hold {hold} min
  cool freely to 1900 F
  cool 125 F/h to 1400 F
  cool freely to 200 F
"""


@pytest.mark.parametrize(
    ("place", "cone", "least", "most"),
    [
        # "cone 7 bent about 30 %"; over 60 firings 30 to 40 %
        ("top shelf", "7", 0.3, 0.4),
        ("middle shelf", "7", 0.3, 0.3),
        # "cone 6 about 80 %"; over 60 firings 30 to 80 % with the loading
        ("bottom shelf", "6", 0.3, 0.8),
    ],
)
def test_the_studio_kiln_shelf_by_shelf(place: str, cone: str, least: float, most: float) -> None:
    """What 60 firings of one kiln bent a cone to on each of its shelves (mtvision.studio)."""
    found = forecast(STUDIO)[place, cone].forecast

    assert found is not None
    assert found.clock_least <= least * DOWN <= most * DOWN <= found.clock_most


def test_the_middle_of_the_studio_kiln_is_met() -> None:
    """Where the shelf counts for little the forecast is within 3 C, a tenth of the bend."""
    found = forecast(STUDIO)["middle shelf", "7"].forecast

    assert found is not None
    read = degrees_short(found.kinetics, work_at_clock(found.kinetics, 0.3 * DOWN))
    assert -found.over == pytest.approx(read, abs=3.0)


@pytest.mark.parametrize("peak", [2170, 2195])
def test_cone_6_touching_from_kiln_to_kiln(peak: int) -> None:
    """Kilns show 2170 to 2195 F as cone 6 touches after 20 min, new thermocouples the most.

    J. Hesselberth on the Clayart list, 25 July 2005. All of them show less than the chart asks; the
    lowest is held only by a range that reaches further to its hotter side.
    """
    found = forecast(FORUM.format(peak=peak, hold=20))["no shelf is said", "6"].forecast

    assert found is not None
    assert found.clock_most == DOWN
    assert -found.spread.hotter < found.over < 0.0
    if peak == 2170:
        assert found.over < -found.spread.cooler


def test_the_cooler_firing_of_the_forum_kiln() -> None:
    """Peak 2127 F, 15 min, "between cones 5 and 6": 5 may be down by its range, and 6 is not."""
    cones = forecast(FORUM.format(peak=2127, hold=15))
    five, six = (cones["no shelf is said", cone].forecast for cone in ("5", "6"))

    assert five is not None
    assert six is not None
    assert five.clock_most == DOWN
    assert six.clock_least < DOWN


def test_the_hotter_firing_of_the_forum_kiln_is_missed() -> None:
    """Peak 2185 F, 15 min, "cone 7" in the same kiln: that lies outside the range.

    No range that is of use holds every kiln: this one does the work of about 30 C more than it
    shows. Its cooler firing says so too: what brings 5 down there and leaves 6 is more than 10 C
    and less than 50, so whoever reads the cones of one firing is told of the next.
    """
    seven = forecast(FORUM.format(peak=2185, hold=15))["no shelf is said", "7"].forecast
    cooler = forecast(FORUM.format(peak=2127, hold=15))
    five, six = (cooler["no shelf is said", cone].forecast for cone in ("5", "6"))

    assert seven is not None
    assert five is not None
    assert six is not None
    assert seven.clock_most < DOWN
    assert seven.over < -seven.spread.hotter
    assert -five.over < -seven.over < -six.over
