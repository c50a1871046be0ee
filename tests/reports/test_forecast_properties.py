"""Forecasts of random plans: always a page, always JSON with finite numbers, twins in °C and °F."""

import datetime
import json
from collections.abc import Callable
from math import isfinite
from typing import Any

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plans_to_forecast import THURSDAY, plan_of

from guardcone.firing.cone_forecast import work_done
from guardcone.firing.cones import kinetics_for
from guardcone.firing.inverse import Answer
from guardcone.firing.schedule import curve_of
from guardcone.outlook.outlook import forecast_of
from guardcone.outlook.planned import fire
from guardcone.outlook.records import PlanForecast
from guardcone.reports.forecast import forecast_for_people
from guardcone.reports.forecast_json import forecast_json
from guardcone.values import Quantity

UNITS = st.sampled_from(["C", "F"])
# Mostly what a kiln does; now and then what none can.
NUMBERS = st.one_of(st.integers(21, 1400), st.integers(21, 1400), st.sampled_from([-50, 0, 4900]))
RATES = st.one_of(st.integers(1, 400), st.integers(1, 400), st.sampled_from([0.001, 99999]))
TIMES = st.sampled_from(["10 min", "2 h", "1:30", "40 h", "400 days", "1 s"])
BROKEN = ("climb 60 to", "banana", "hold -5 min", "climb 0 C/h to 900 C", "reduce from 900 C")
CONES = st.sampled_from("022 019 06 05½ 01 1 2 5½ 6 9 14 15 42".split())
SERIES = st.sampled_from(
    ["large", "self-supporting", "small", "iron-free large", "Seger", "SK", "older Orton"]
)


@st.composite
def segments(draw: st.DrawFn) -> str:
    unit, to, rate, time = draw(UNITS), draw(NUMBERS), draw(RATES), draw(TIMES)
    lines = [
        f"climb {rate} {unit}/h to {to} {unit}",
        f"climb in {time} to {to} {unit}",
        f"climb full power to {to} {unit}",
        f"hold {time}",
        f"hold {time} at {to} {unit}",
        f"cool {rate} {unit}/h to {to} {unit}",
        f"cool freely to {to} {unit}",
        f"cool crash to {to} {unit}",
        "cool freely",
    ]
    return draw(st.sampled_from(lines))


@st.composite
def texts(draw: st.DrawFn) -> str:
    lines = ['plan "random"']
    pick = st.sampled_from
    lines.append(draw(pick(["", "starts 07:30", "starts 9999-12-31 23:59", "starts 2026-10-03"])))
    if draw(st.booleans()):
        lines.append('kiln "Heron"')
        lines += draw(
            st.lists(
                pick(
                    [
                        "electric, 230 L, 11 kW",
                        "gas, 0.001 L, 1000000 kW",
                        "rated to cone 10",
                        "rated to 1000 C",
                        "thermocouple type S",
                        "thermocouple type K, special",
                        "spread 2 cone",
                        "spread 90 F",
                        "altitude 5000 m",
                        "cools from 1000 C to 100 C in 15 h",
                        "room -40 C",
                    ]
                ),
                unique=True,
                max_size=5,
            )
        )
    lines.append(draw(pick(["", "target cone 6", "target 1000 C", "target cone 6 Seger"])))
    for number in range(draw(st.integers(0, 3))):
        lines += [f'witness "set {number}"', f"{draw(SERIES)} cones"]
        roles = draw(st.lists(pick(["guide", "target", "guard"]), unique=True, min_size=1))
        lines += [f"{role} {draw(CONES)}" for role in roles]
    if draw(st.booleans()):
        state = draw(pick(["damp", "leather-hard", "bone dry", "bisque", "greenware"]))
        wall = draw(pick(["wall 6 mm", "wall 200 mm", "wall 1/4 in", "wall 0 mm"]))
        lines += ["load", 'clay "c" matures cone 6', f'ware "w" 3 of "c", {state}, {wall}']
    if draw(st.integers(0, 9)) < 9:
        lines.append("schedule")
        lines += draw(st.lists(segments(), min_size=1, max_size=8))
        if draw(st.integers(0, 9)) == 9:
            lines.append(draw(pick(BROKEN)))
        lines.append(draw(pick(["", "open at 90 C", "open at 950 C", "from 300 C"])))
    return "\n".join(lines)


def refuse(text: str) -> Any:
    raise AssertionError(f"{text} is no number of JSON")


@settings(max_examples=300)
@given(texts())
def test_every_plan_gets_a_page_and_a_document(text: str) -> None:
    """No plan brings a traceback, a line too wide, or a number that is not finite."""
    forecast = forecast_of(plan_of(text))
    page = forecast_for_people(forecast)
    document = json.loads(forecast_json(forecast), parse_constant=refuse)

    assert "nan" not in page.lower().split()
    assert "inf" not in page.lower()
    assert max(map(len, page.splitlines())) <= 80
    assert document["file"] == "studio.firing"
    assert (document["firing"] is None) == (forecast.course is None)
    if forecast.course is None:
        assert forecast.gaps


@settings(max_examples=60)
@given(
    st.lists(st.integers(30, 1300), min_size=1, max_size=5),
    st.integers(20, 400),
    st.integers(900, 1290),
    st.integers(5, 150),
    st.sampled_from([("5", "6", "7"), ("8", "9", "10"), ("05", "04", "03"), ("1", "2", "3")]),
)
def test_every_answer_is_fired(
    ups: list[int], rate: int, peak: int, last: int, cones: tuple[str, str, str]
) -> None:
    """Each peak, hold and rate that is told does what it says when it is put in and fired."""
    climbs = [f"climb {rate} C/h to {to} C" for to in sorted(set(ups)) if to < peak]
    guide, target, guard = cones
    text = "\n".join(
        [
            'plan "t"',
            'witness "s"',
            f"guide {guide}",
            f"target {target}",
            f"guard {guard}",
            "schedule",
            *climbs,
            f"climb {last} C/h to {peak} C",
            "hold 12 min",
            "cool freely to 90 C",
        ]
    )
    plan = plan_of(text)
    firing = fire(plan)
    witness = plan.witness_sets[0]
    assert witness.target
    assert witness.guard
    laws = [kinetics_for(witness.target.value), kinetics_for(witness.guard.value)]
    assert all(laws)
    for advice in forecast_of(plan).advice:
        for one in (*advice.settings, *advice.whatever_the_guard_does):
            if one.value is None:
                assert one.reason
                continue
            legs = list(firing.legs)
            climb = len(climbs)
            if one.kind == "peak":
                legs[climb] = attrs.evolve(legs[climb], to=one.value)
            elif one.kind == "rate":
                legs[climb] = attrs.evolve(legs[climb], rate=one.value)
            else:
                legs[climb + 1] = attrs.evolve(legs[climb + 1], hours=max(1e-9, one.value))
            fired = curve_of(legs, firing.kiln)
            done, guarded = (work_done(fired, law) for law in laws)  # type: ignore[arg-type]
            assert done >= 1.0 - 1e-6
            if one.outcome == "guard stands":
                assert advice.guard
                assert one.guard_clock == 0.0
                assert guarded < 1.0


# -- a plan in °F and its twin in °C ----------------------------------------------------------


_WHOLE_IN_ITS_UNIT = (
    *("value", "target_clock", "guard_clock", "first", "last"),
    *("chance_down", "all_down", "guard_stands"),
)


def numbers(part: Any, path: str = "") -> dict[str, float]:
    """Every number of a forecast by its path; what is rounded to whole degrees is left out."""
    found: dict[str, float] = {}
    if isinstance(part, Quantity):
        found[path] = part.base
    elif isinstance(part, datetime.datetime):
        found[path] = part.timestamp()
    elif isinstance(part, bool) or part is None:
        found[path] = float(bool(part))
    elif isinstance(part, int | float):
        found[path] = float(part)
    elif attrs.has(type(part)):
        for one in attrs.fields(type(part)):
            own = _WHOLE_IN_ITS_UNIT
            if isinstance(part, Answer) and one.name in own:
                continue
            found.update(numbers(getattr(part, one.name), f"{path}.{one.name}"))
    elif isinstance(part, dict):
        for key, value in part.items():
            found.update(numbers(value, f"{path}.{key}"))
    elif isinstance(part, tuple | list):
        for index, value in enumerate(part):
            found.update(numbers(value, f"{path}[{index}]"))
    return found


def in_fahrenheit(text: str) -> str:
    """The text with its temperatures and rates written in °F, to the last digit."""
    lines = []
    for line in text.splitlines():
        words = line.split(" ")
        for at, word in enumerate(words):
            if word == "C":
                words[at - 1 : at + 1] = [f"{float(words[at - 1]) * 9 / 5 + 32:.9f}", "F"]
            elif word == "C/h":
                words[at - 1 : at + 1] = [f"{float(words[at - 1]) * 9 / 5:.9f}", "F/h"]
        lines.append(" ".join(words))
    return "\n".join(lines)


def _rounded_otherwise(one: PlanForecast, other: PlanForecast) -> Callable[[str], bool]:
    """Whether a path leads to what depends on where whole degrees lie.

    A window may hold a whole degree Fahrenheit and no whole one Celsius.
    """
    left_out = {
        f".advice[{at}].settings[{kind}]"
        for at, (own, twin) in enumerate(zip(one.advice, other.advice, strict=True))
        for kind, pair in enumerate(zip(own.settings, twin.settings, strict=True))
        if pair[0].outcome != pair[1].outcome
    }
    return lambda path: (
        "likeliest" in path
        or "whatever_the_guard_does" in path
        or any(path.startswith(start) for start in left_out)
    )


def assert_twins(celsius: PlanForecast, fahrenheit: PlanForecast) -> None:
    assert (celsius.unit, fahrenheit.unit) == ("C", "F")
    rounded = _rounded_otherwise(celsius, fahrenheit)
    one, other = (
        {path: number for path, number in numbers(of).items() if not rounded(path)}
        for of in (celsius, fahrenheit)
    )
    assert one.keys() == other.keys()
    for path, number in one.items():
        # The window of an answer is found by halving to 1e-7; all else is exact.
        slack = 1e-6 if path.endswith((".least", ".most")) or ".soak" in path else 1e-9
        assert isfinite(number) or number == other[path]
        assert other[path] == pytest.approx(number, rel=slack, abs=slack), path


def test_thursday_and_its_twin() -> None:
    """The Thursday plan rewritten in °F gives the same data to 1e-9, answered in °F."""
    assert_twins(forecast_of(plan_of(THURSDAY)), forecast_of(plan_of(in_fahrenheit(THURSDAY))))


@settings(max_examples=40)
@given(
    st.integers(60, 250),
    st.integers(60, 250),
    st.integers(1150, 1290),
    st.integers(0, 60),
)
def test_random_twins(first: int, last: int, peak: int, hold: int) -> None:
    """Plans of random climbs and their °F twins agree to 1e-9."""
    text = "\n".join(
        line
        for line in THURSDAY.replace("climb 100 C/h to 600 C", f"climb {first} C/h to 600 C")
        .replace("climb 60 C/h to 1252 C", f"climb {last} C/h to {peak} C")
        .replace("hold  10 min", f"hold  {hold} min" if hold else "")
        .replace("climb 150 C/h to 1160 C", "climb 150 C/h to 1100 C")
        .splitlines()
        if line.strip()
    )
    assert_twins(forecast_of(plan_of(text)), forecast_of(plan_of(in_fahrenheit(text))))
