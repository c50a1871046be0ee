"""The forecast as JSON: the whole document, its keys, and its numbers."""

import datetime
import json
from collections.abc import Iterator
from typing import Any

import pytest
from plans_to_forecast import (
    BISQUE_IN_FAHRENHEIT,
    FAULTY,
    NOTHING,
    RAKU,
    SEGER,
    THURSDAY,
    TOO_WEAK,
    TWO_SETS,
    plan_of,
)

from guardcone.outlook.outlook import forecast_of
from guardcone.reports.forecast_json import FORMAT, forecast_json
from guardcone.reports.page import reminder

# A hold below the peak is asked for, and found to be no answer.
SHORT_AND_COOL = """
plan "t"
witness "top"
  large cones
  guide 022
  target 022
schedule
  climb in 10 min to 429 C
  hold 10 min
  hold 10 min
"""
ALL = {
    "thursday": THURSDAY,
    "bisque in fahrenheit": BISQUE_IN_FAHRENHEIT,
    "two sets": TWO_SETS,
    "raku": RAKU,
    "seger": SEGER,
    "faulty": FAULTY,
    "nothing": NOTHING,
    "too weak": TOO_WEAK,
    "short and cool": SHORT_AND_COOL,
}
UNITS = ("_c", "_f", "_per_h", "_h", "_oclock", "_share", "_kwh", "_mm", "_mm2_per_s")
WITHOUT_UNIT = {"format", "line", "day", "work"}


def refuse(text: str) -> Any:
    raise AssertionError(f"{text} is no number of JSON")


def document_of(text: str) -> dict[str, Any]:
    found = json.loads(forecast_json(forecast_of(plan_of(text))), parse_constant=refuse)
    assert isinstance(found, dict)
    return found


def keys_and_values(part: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(part, dict):
        for key, value in part.items():
            yield key, value
            yield from keys_and_values(value)
    elif isinstance(part, list):
        for one in part:
            yield from keys_and_values(one)


def test_whole_document(snapshot: object) -> None:
    """The Thursday plan gives the document that was read and found right, to six digits."""
    document = json.loads(
        forecast_json(forecast_of(plan_of(THURSDAY))), parse_float=lambda text: f"{float(text):.6g}"
    )

    assert document.pop("reminder") == " ".join(reminder().split())
    assert json.dumps(document, indent=1, ensure_ascii=False) == snapshot


@pytest.mark.parametrize("name", ALL)
def test_every_number_says_its_unit(name: str) -> None:
    """The key of every number ends in its unit, and no other key does."""
    for key, value in keys_and_values(document_of(ALL[name])):
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if is_number:
            assert key in WITHOUT_UNIT or key.endswith(UNITS)
        elif value is not None:
            assert not key.endswith(UNITS)


@pytest.mark.parametrize("name", ALL)
def test_both_units_agree(name: str) -> None:
    """Each °C key has its °F twin: the same temperature, difference or rate."""

    def look(part: Any) -> None:
        if isinstance(part, list):
            for one in part:
                look(one)
        if not isinstance(part, dict):
            return
        for key, value in part.items():
            look(value)
            if key.endswith("_c_per_h"):
                twin = part[key.removesuffix("_c_per_h") + "_f_per_h"]
                assert (value is None) == (twin is None)
                assert value is None or twin == pytest.approx(value * 9 / 5, rel=1e-12)
            elif key.endswith("_c"):
                twin = part[key.removesuffix("_c") + "_f"]
                apart = any(word in key for word in ("by", "gap", "spread", "deviation", "heated"))
                assert (value is None) == (twin is None)
                if value is not None:
                    assert twin == pytest.approx(value * 9 / 5 + (0 if apart else 32), abs=1e-9)

    look(document_of(ALL[name]))


def test_moments() -> None:
    """Dates only where the plan has one, times only where it has one, hours always."""
    dated = document_of(THURSDAY)["firing"]["peak_ends"]
    undated = document_of(BISQUE_IN_FAHRENHEIT)["firing"]["opening"]
    unknown = document_of(RAKU)["firing"]["peak_ends"]

    assert dated["time_and_date"] == "2026-10-03T21:14:00"
    assert datetime.datetime.fromisoformat(dated["time_and_date"])
    assert (undated["time_and_date"], undated["day"]) == (None, 2)
    assert datetime.time.fromisoformat(undated["time"])
    assert (unknown["time"], unknown["day"]) == (None, None)
    assert unknown["hours_from_start_h"] == pytest.approx(6.4, abs=1e-9)  # 960 °C at 150 °C/h


def test_gaps_are_named() -> None:
    """A plan that can't be fired has no firing, and says by name why."""
    document = document_of(FAULTY)

    assert document["format"] == FORMAT
    assert document["firing"] is None
    assert [gap["name"] for gap in document["gaps"]] == [
        "line unread",
        "schedule unread",
        "no witness set",
    ]
    assert document["witness_sets"][0]["cones"][0]["forecast"] is None


def test_borrowed_laws_are_told() -> None:
    """Iron-free 10 and large 022 say whose law they take, in the data and in the assumptions."""
    document = document_of(TWO_SETS)
    laws = {
        cone["cone"]["number"]: cone["law"]
        for shelf in document["witness_sets"]
        for cone in shelf["cones"]
    }
    told = [
        one["text"] for one in document["assumptions"] if one["name"] == "assumed: law borrowed"
    ]

    assert laws["022"] == {"series": "ss_regular", "cone": "022", "borrowed": True}
    assert any("self-supporting cone 022" in text for text in told)
    assert any("iron-free large" in text and "large cone 10" in text for text in told)
