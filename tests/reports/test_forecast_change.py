"""Two firings compared: what a reviewer is told of a change, whole pages, and the JSON."""

import json
from typing import Any

import pytest
from plans_to_forecast import FAULTY, NOTHING, RAKU, THURSDAY, TOO_WEAK, TWO_SETS, plan_of
from test_forecast_properties import in_fahrenheit

from guardcone.checking.plans import check_plan
from guardcone.outlook.outlook import forecast_of
from guardcone.reports.forecast_change import Forecasted, change_as_json, change_for_people
from guardcone.reports.page import Style, reminder
from guardcone.rulebook.library import built_in_book

# What is written in place of what, of the Thursday plan.
CHANGES = {
    "a cooler peak": ("climb 60 C/h to 1252 C", "climb 60 C/h to 1245 C"),
    "no hold": ("  hold  10 min\n", ""),
    "another guard": ("guard  10", "guard  11"),
    "another shelf too": (
        "load\n",
        'witness "top shelf"\n  large cones\n  guide 8\n  target 9\n  guard 10\nload\n',
    ),
    "an hour later": ("07:30", "08:30"),
    "a week later": ("2026-10-03", "2026-10-10"),
    "no start": ("  starts 2026-10-03 07:30\n", ""),
    "too fast a climb": ("climb 150 C/h to 1160 C", "climb 450 C/h to 1160 C"),
}
# What a person may write otherwise without another firing.
SAME = {
    "the same": THURSDAY,
    "in fahrenheit": in_fahrenheit(THURSDAY),
    "another name": THURSDAY.replace("Thursday stoneware", "Friday stoneware"),
    "remarks": THURSDAY.replace("hold  2 h", "hold  120 min  # until the glass stays clear"),
}


def known(text: str, name: str, checked: bool = False) -> Forecasted:
    """A plan with its forecast in °C."""
    plan = plan_of(text, name)
    found = check_plan(plan, built_in_book())
    # What is missing of a whole plan is not what these tests are about.
    return Forecasted(
        forecast_of(plan, unit="C"), found if checked else without_findings(found), ""
    )


def without_findings(checked: Any) -> Any:
    return type(checked)(checked.plan, checked.book, (), (), (), ())


def page_of(new: str, old: str, width: int = 80) -> str:
    page = change_for_people(known(new, "new.firing"), known(old, "old.firing"), Style(width=width))
    told, _, end = page.rpartition("\n\n")
    assert " ".join(end.split()) == " ".join(reminder().split())
    return told


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_of_the_plan(name: str, snapshot: object) -> None:
    """The Thursday plan with one thing written otherwise, against itself as it was."""
    before, after = CHANGES[name]
    assert THURSDAY.count(before) == 1

    assert page_of(THURSDAY.replace(before, after), THURSDAY) == snapshot


@pytest.mark.parametrize("name", SAME)
def test_nothing_changes(name: str) -> None:
    """What fires the same is said to, whatever else is written otherwise."""
    page = " ".join(page_of(SAME[name], THURSDAY).split())

    assert page.endswith(
        "was: old.firing is: new.firing Nothing of the firing changes: to the minute and the "
        "degree the same times, cones and settings."
    )


def test_a_line_that_only_moved_is_no_change() -> None:
    """A remark above a target that is a temperature moves its line, and nothing of the firing."""
    page = page_of(f"# For the evening.\n{RAKU.lstrip()}", RAKU)

    assert "Nothing of the firing changes" in page


def test_only_what_differs_is_told() -> None:
    """A hold at the end moves no moment before it, so none of those is told."""
    page = page_of(THURSDAY.replace("  hold  10 min\n", ""), THURSDAY)

    assert "the peak ends" in page
    for moment in ("going up", "climb 60 °C/h to 95 °C", "start"):
        assert moment not in page.partition("The firing by the clock")[2]


def test_both_ways_round() -> None:
    """With the two exchanged the same things differ, the other way round."""
    new, old = known(TWO_SETS, "two.firing"), known(THURSDAY, "one.firing")

    def told(new: Forecasted, old: Forecasted) -> list[tuple[str, str | None, str | None]]:
        found = json.loads(change_as_json(new, old))["differences"]
        return [(one["name"], one["was"], one["is"]) for one in found]

    there, back = told(new, old), told(old, new)
    assert len(there) > 20
    turned = [("gone" if name == "new" else name, now, was) for name, was, now in there]
    assert sorted(map(str, turned)) == sorted(map(str, back))


@pytest.mark.parametrize(
    ("new", "old"),
    [(FAULTY, THURSDAY), (THURSDAY, NOTHING), (FAULTY, NOTHING)],
    ids=["the newer", "the older", "both"],
)
def test_one_that_can_not_be_fired(new: str, old: str, snapshot: object) -> None:
    """Which it is and why is said, and nothing is compared."""
    assert page_of(new, old) == snapshot

    document = json.loads(change_as_json(known(new, "new.firing"), known(old, "old.firing")))
    assert (document["compared"], document["differences"]) == (False, [])
    assert {document[which]["firing"] is None for which in ("was", "is")} >= {True}


def test_json(snapshot: object) -> None:
    """Both forecasts whole, and what differs in the words that people read."""
    cooler = THURSDAY.replace("climb 60 C/h to 1252 C", "climb 60 C/h to 1245 C")
    document = json.loads(
        change_as_json(known(cooler, "new.firing"), known(THURSDAY, "old.firing"))
    )

    assert (document["was"]["file"], document["is"]["file"]) == ("old.firing", "new.firing")
    assert (document["was"]["firing"]["peak_c"], document["is"]["firing"]["peak_c"]) == (1252, 1245)
    assert document["compared"]
    assert document["differences"] == snapshot


def test_two_sets_of_no_name_are_two(snapshot: object) -> None:
    """What becomes of the cones of a second set is told though neither says where it stands."""
    one = THURSDAY.replace('witness "bottom shelf"', "witness")
    second = "witness\n  large cones\n  guide 8\n  target 9\n  guard {}\nload\n"
    older, newer = (one.replace("load\n", second.format(guard), 1) for guard in (10, 11))

    assert page_of(newer, older) == snapshot


def test_a_line_that_both_leave_out_is_told(snapshot: object) -> None:
    """Where a line can't be read the two may differ in it, so nothing is said without it."""
    faulty = THURSDAY.replace("schedule\n", "schedule\n  from warm\n")

    assert page_of(faulty, faulty) == snapshot


@pytest.mark.parametrize("width", [40, 60, 80, 120])
@pytest.mark.parametrize("other", [TWO_SETS, TOO_WEAK, FAULTY])
def test_width(width: int, other: str) -> None:
    """No line is wider than asked."""
    assert max(map(len, page_of(other, THURSDAY, width).splitlines())) <= width


def test_narrow_page(snapshot: object) -> None:
    """On a terminal of 40 columns each moment is told in words."""
    cooler = THURSDAY.replace("climb 60 C/h to 1252 C", "climb 60 C/h to 1245 C")

    assert page_of(cooler, THURSDAY, 40) == snapshot


def test_dangers_of_the_newer_plan_stand_above() -> None:
    """Where no firing changes the dangers of the plan are told all the same, first of all."""
    one = known(THURSDAY, "new.firing", checked=True)
    page = change_for_people(one, known(THURSDAY, "old.firing"), Style())

    above, _ = page.split("Nothing of the firing changes")
    assert above.count("▲▲▲▲ danger, line ") == 3
    assert "safety-section-missing" in above
