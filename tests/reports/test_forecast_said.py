"""What a forecast says is so: of the chance that it tells, and of the kiln that it is told of."""

import re

from test_forecast_setting import COOL, RATED, page_of, plan, short, told

from guardcone.firing.uncertainty import likelihood
from guardcone.reports.forecast_figures import events_of
from guardcone.reports.forecast_words import Units

CLOSE = plan(
    *(f"24 kW, {RATED}, spread 1 cone", ("7", "8", "9")),
    *("climb 100 C/h to 1140 C", "climb 60 C/h to 1239 C", "hold 10 min", COOL),
).replace("230 L", "450 L")
HOTTER = CLOSE.replace("1239 C", "1265 C")
BEHIND = plan(
    *(f"11 kW, {RATED}", ("07", "06", "05")),
    *("climb 60 C/h to 992 C", "hold 5 min", "cool 40 C/h to 150 C", "cool freely to 70 C"),
    "open at 70 C",
)
KEPT_UP = BEHIND.replace("cool 40 C/h to 150 C", "cool 40 C/h to 270 C")
BEHIND_AT_ONCE = plan(
    *(f"11 kW, {RATED}", ("07", "06", "05")),
    *("climb 60 C/h to 992 C", "hold 5 min", "cool 900 C/h to 150 C", "open at 70 C"),
)


def clock_of(text: str) -> dict[str, float]:
    """The hour of each moment by its name."""
    return {one.name: one.moment.hour for one in events_of(told(text), Units("C"))}


def test_a_guard_goes_down_only_where_that_is_likelier_than_not() -> None:
    """Past half-way is not down, and the words for it are those of its chance."""
    for text, outcome in ((CLOSE, "guard bends"), (HOTTER, "guard goes")):
        (advice,) = told(text).advice
        guards = [one for shelf in told(text).shelves for one in shelf.cones if one.role == "guard"]
        chance = max(one.forecast.chance_down for one in guards if one.forecast)

        assert advice.as_written == outcome
        assert (chance >= 0.5) == (outcome == "guard goes")
        assert advice.guard_down_likelihood == f"{likelihood(chance)} to go down"
        assert advice.guard_down_likelihood in short(text)
    assert "bends past half-way, and is less likely than not to go down" in short(CLOSE)
    assert "too much heat" not in short(CLOSE)
    assert "goes with it" in short(HOTTER)


def test_power_is_needed_until_the_kiln_falls_behind() -> None:
    """From where it cools more slowly by itself than is asked, nothing switches on any more."""
    behind, course = clock_of(BEHIND), told(BEHIND).course
    assert course is not None
    at = re.search(r"less than asked from (\d+) °C down", page_of(BEHIND))
    assert at is not None

    expected = course.peak_ends.hour + (992 - int(at[1])) / 40
    assert abs(course.power_needed_until.hour - expected) < 0.05
    assert behind["no more power is needed; from here on the kiln cools by itself"] < (
        course.peak_ends.hour + (992 - 150) / 40 - 2
    )


def test_a_kiln_that_falls_behind_is_opened_when_it_is_cool() -> None:
    """Asked to cool faster than it can or not, the same kiln is at 70 °C at the same hour."""
    behind, kept_up = told(BEHIND).course, told(KEPT_UP).course
    assert behind and kept_up and behind.opening and kept_up.opening

    assert abs(behind.opening.hour - kept_up.opening.hour) < 0.1
    assert "later than written" in page_of(BEHIND)
    assert "Lines that will not go" not in page_of(KEPT_UP)


def test_cones_see_more_work_only_where_any_works() -> None:
    """Behind from 266 °C down no cone sees anything; behind from the peak on they do."""
    assert "see more work" not in page_of(BEHIND)
    assert "see more work" in page_of(BEHIND_AT_ONCE)
