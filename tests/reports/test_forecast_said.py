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
HEAD = 'plan "t"\nstarts 2026-10-07 07:30\nkiln "Heron"\nelectric, front door, 230 L, 11 kW\n'
CANDLING = f"{HEAD}schedule\nclimb 15 C/h to 80 C\nhold 20 h\ncool freely to 40 C"
RAKU = """
plan "t"
  starts 2026-10-07 07:30
  firing raku
kiln "Top hat"
  propane, outdoors, 90 L
target 980 C
schedule
  climb 250 C/h to 600 C
  climb 350 C/h to 980 C
  open at 980 C
"""
REDUCED = CLOSE.replace("electric", "natural gas").replace(
    COOL, f"{COOL}\nreduce from 900 C to 1150 C"
)
LUSTRE = """
plan "t"
  starts 2026-10-07 07:30
  firing lustre
kiln "Little Egret"
  electric, 60 L, 3.6 kW
load
  clay  "Snipe" matures cone 6 to cone 8
  glaze "Clear" matures cone 6 to cone 8
  glaze "Gold"  matures cone 019 to cone 017, lustre
  ware  "cups" 24 of "Snipe" with "Clear", "Gold", glazed, refired, wall 4 mm
schedule
  climb 80 C/h to 711 C
  cool freely to 60 C
"""


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
    assert behind is not None
    assert kept_up is not None
    assert behind.opening is not None
    assert kept_up.opening is not None

    assert abs(behind.opening.hour - kept_up.opening.hour) < 0.1
    assert "later than written" in page_of(BEHIND)
    assert "Lines that will not go" not in page_of(KEPT_UP)


def test_cones_see_more_work_only_where_any_works() -> None:
    """Behind from 266 °C down no cone sees anything; behind from the peak on they do."""
    assert "see more work" not in page_of(BEHIND)
    assert "see more work" in page_of(BEHIND_AT_ONCE)


def test_no_cone_is_asked_for_where_none_bends() -> None:
    """Ware is dried at 80 °C without a target or cones; a biscuit without them is told of both."""
    for asked in ("target cone 6", "Three cones on each shelf", "as the peak ends,"):
        assert asked not in page_of(CANDLING)
        assert asked in page_of(CANDLING.replace("to 80 C", "to 980 C"))
    assert "no cone bends in so cool a firing" in short(CANDLING)


def test_cones_that_are_set_are_told_of_however_cool_it_is() -> None:
    """A plan with a target that its schedule is far too cool for is told so."""
    cool = CANDLING.replace("schedule", "target cone 6\nschedule")

    assert "not enough heat" in page_of(cool)
    assert "Three cones on each shelf" in page_of(cool)


def test_somebody_is_at_a_raku_kiln_throughout() -> None:
    """Not only as the peak ends, as in a firing without cones that is no raku."""
    glaze = RAKU.replace("firing raku", "firing glaze")

    assert "somebody is to be at the kiln throughout" in short(RAKU)
    assert "be at the kiln as the peak ends" not in short(RAKU)
    assert "be at the kiln as the peak ends" in short(glaze)


def test_what_is_estimated_from_a_power_has_one() -> None:
    """Without power in the plan it is told what is usual; with one, what that does."""
    unnamed = RAKU.replace("propane", "electric")
    named = unnamed.replace("90 L", "90 L, 4 kW")

    assert "The plan names no power" in page_of(unnamed)
    assert "an estimate from power" not in page_of(unnamed)
    assert "an estimate from power" in page_of(named)
    assert "names no power" not in page_of(named)


def test_a_fuel_kiln_is_not_judged_by_what_is_usual_of_electric_ones() -> None:
    """A raku kiln that cools in 3 h comes to 980 °C; an electric one of usual power does not."""
    quick = RAKU.replace("90 L", "90 L, cools from 1000 C to 100 C in 3 h")

    assert "Lines that will not go" not in page_of(quick)
    assert "980 °C, as written" in short(quick)
    assert "Lines that will not go" in page_of(quick.replace("propane", "electric"))


def test_a_kiln_far_too_weak_has_a_page() -> None:
    """All of it is told, it ends short of what it does not come to, and it only falls behind."""
    weak = CLOSE.replace("24 kW", "3 kW").replace("60 C/h to 1239 C", "60 C/h to 1238 C")
    page = page_of(weak)

    assert "The firing by the clock" in page_of(weak, whole=True)
    for line, far in re.findall(r"bring this kiln to (\d+) °C.*?ends near (\d+) °C", page):
        assert int(far) < int(line)
    assert "the kiln does not keep up with the schedule" in page
    assert "no more heat" not in page


def test_reduction_has_its_moment() -> None:
    """It begins where the climb comes by 900 °C; a plan without it has no such moment."""
    begins = clock_of(REDUCED)["reduce from here, 900 °C"]

    assert abs(begins - (900 - 20) / 100) < 0.02
    assert "reduce from here, 900 °C (to 1150 °C, reached 18:52)" in page_of(REDUCED)
    assert "reduce from here" not in page_of(CLOSE)


def test_reduction_on_the_way_down_begins_there() -> None:
    """Reduced from 900 to 800 °C is reduced as it cools."""
    cooling = REDUCED.replace("to 1150 C", "to 800 C")
    course = told(cooling).course

    assert course is not None
    assert clock_of(cooling)["reduce from here, 900 °C"] > course.peak_ends.hour


def test_a_change_smaller_than_the_error_of_the_thermocouple_is_called_so() -> None:
    """Three degrees less at 1239 °C are within a type S; ten are not."""
    (advice,) = told(CLOSE).advice
    (peak,) = (one for one in advice.settings if one.kind == "peak")

    assert peak.value is not None
    assert advice.thermocouple_good_to_by is not None
    assert 1239 - peak.value <= advice.thermocouple_good_to_by
    assert "within what the thermocouple may be out, 3 °C either way" in short(CLOSE)
    assert "may be out" not in short(HOTTER)


def test_lustre_smokes_and_holds_no_water() -> None:
    """What was fired to its glaze has none left; ware that was not has, and nothing smokes."""
    raw = LUSTRE.replace("glazed, refired", "bisque").replace("firing lustre", "firing glaze")
    raw = raw.replace('"Gold"', '"Amber"').replace("cone 017, lustre", "cone 017")

    assert "smoke of lustre and decals, 200 to 500 °C, going up" in page_of(LUSTRE)
    assert "smoke of lustre and decals, 200 to 500 °C, coming down" not in page_of(LUSTRE)
    assert "free water" not in page_of(LUSTRE)
    assert "free water" in page_of(raw)
    assert "smoke of lustre" not in page_of(raw)
