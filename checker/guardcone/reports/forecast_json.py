"""Room: the reports; here the computed firing is JSON, for other programs.

The keys. A number's key ends in its unit, and no other does:
    _c, _f            °C and °F; always both, whatever the plan is written in; of two temperatures
                      the difference where the key says by, gap, spread, deviation or heated
    _c_per_h, _f_per_h  °C/h and °F/h, likewise
    _h                hours; hours_from_start_h counts from the start of the firing
    _oclock           the clock position of a cone's tip: 0 standing, 6 down
    _share            0 to 1; of chances and fractions
    _kwh, _mm, _mm2_per_s
    work              heat-work, without a unit: 1 is a cone just down
    format, line, day   whole numbers: of this form, of the plan's text, of the firing (from 1)
A moment has hours_from_start_h and, where the plan says a time of day, day and time (ISO 8601);
time_and_date (ISO 8601) too where it says the date. What can't be said is null; no number is
infinite or not a number.

    format, program, file, name, kiln, unit ("C" or "F", the plan's own)
    target {cone, and its temperature where the target is one}
    gaps [], problems [], assumptions []   {name, line, text, source}: what is left open, what will
                                           not go as written, what is taken for granted
    firing            start, peak, opening, cooling down, energy, and what these rest on
    equivalent_cone   {series, text, below, above, fraction_share}
    witness_sets []   {place, cones [] with role, position, range, likelihood and moments}
    spread            top to bottom, and whether the plan gives it
    bands []          every stay in a band, with the rates through it
    core_lag [], drying []
    advice []         for each target and guard: how they fare, and peak, hold and rate to set
    soak_rule         the published text, and our own hours for this plan
    reminder
"""

import json
from collections.abc import Mapping
from math import isfinite
from typing import Any

from guardcone.firing.forecast_parts import (
    Advice,
    BandCrossing,
    ConeOutlook,
    Course,
    DryingOutlook,
    LagOutlook,
    Moment,
    PlanForecast,
    Remark,
    Setting,
    ShelfOutlook,
    SoakComparison,
)
from guardcone.firing.tables import note
from guardcone.reports.forecast_words import Units, source_of
from guardcone.reports.reminder import reminder
from guardcone.values import Cone

__all__ = ["FORMAT", "forecast_json"]

# Goes up when a key changes its meaning or goes away; new keys may come at any time.
FORMAT = 1

_FAHRENHEIT = 1.8

Keys = dict[str, Any]


def forecast_json(forecast: PlanForecast, studio: str = "") -> str:
    """The whole forecast as one JSON document, ending with a line end; keys as said above.

    `studio` is the name of the studio's own file that filled in what the plan leaves unsaid.
    """
    document = {**_document(forecast), "studio": studio or None}
    return json.dumps(document, indent=2, allow_nan=False) + "\n"


def _document(forecast: PlanForecast) -> Keys:
    units = Units(forecast.unit)
    equivalent = forecast.equivalent
    return {
        "format": FORMAT,
        "program": "guardcone",
        "file": forecast.source,
        "name": forecast.name,
        "kiln": forecast.kiln,
        "unit": forecast.unit,
        "target": {
            "cone": _cone(forecast.target),
            **_temperature("temperature", forecast.target_temperature),
        },
        "gaps": [_remark(remark, units) for remark in forecast.gaps],
        "firing": _course(forecast.course) if forecast.course else None,
        "equivalent_cone": {
            "series": equivalent.series,
            "text": equivalent.text,
            "below": equivalent.below,
            "above": equivalent.above,
            "fraction_share": _number(equivalent.fraction),
        }
        if equivalent
        else None,
        "witness_sets": [_shelf(shelf) for shelf in forecast.shelves],
        "spread": {
            "given": forecast.spread_given,
            **_difference("top_to_bottom_spread", forecast.spread),
        },
        **_temperature("boiling", forecast.boiling),
        "bands": [_band(crossing) for crossing in forecast.bands],
        "core_lag": [_lag(lag) for lag in forecast.lags],
        "drying": [_drying(drying) for drying in forecast.drying],
        "advice": [_advice(advice) for advice in forecast.advice],
        "soak_rule": _soak(forecast.soak) if forecast.soak else None,
        "problems": [_remark(remark, units) for remark in forecast.problems],
        "assumptions": [_remark(remark, units) for remark in forecast.assumptions],
        "reminder": " ".join(reminder().split()),
    }


# -- numbers, each with its unit in its key ---------------------------------------------------


def _number(value: float | None) -> float | None:
    return value if value is not None and isfinite(value) else None


def _temperature(name: str, celsius: float | None) -> Keys:
    found = _number(celsius)
    return {
        f"{name}_c": found,
        f"{name}_f": None if found is None else _number(found * _FAHRENHEIT + 32.0),
    }


def _difference(name: str, celsius: float | None) -> Keys:
    found = _number(celsius)
    return {
        f"{name}_c": found,
        f"{name}_f": None if found is None else _number(found * _FAHRENHEIT),
    }


def _rate(name: str, celsius_per_hour: float | None) -> Keys:
    found = _number(celsius_per_hour)
    return {
        f"{name}_c_per_h": found,
        f"{name}_f_per_h": None if found is None else _number(found * _FAHRENHEIT),
    }


def _moment(moment: Moment | None) -> Keys | None:
    if moment is None:
        return None
    keys: Keys = {"hours_from_start_h": _number(moment.hour), "day": moment.day}
    keys["time"] = moment.clock.time().isoformat("seconds") if moment.clock else None
    dated = moment.clock if moment.dated else None
    keys["time_and_date"] = dated.isoformat(timespec="seconds") if dated else None
    return keys


def _cone(cone: Cone | None) -> Mapping[str, Any] | None:
    if cone is None:
        return None
    return {
        "number": str(cone.number),
        "form": cone.series.form.value,
        "iron_free": cone.series.iron_free,
        "numbering": cone.series.numbering.value,
    }


def _remark(remark: Remark, units: Units) -> Keys:
    return {
        "name": remark.name,
        "line": remark.line,
        "text": units.sentence(remark.name, remark.slots),
        "source": source_of(remark.name) or None,
    }


# -- the parts --------------------------------------------------------------------------------


def _course(course: Course) -> Keys:
    return {
        "start": _moment(course.start),
        **_temperature("begins", course.begins),
        **_temperature("peak", course.peak),
        "peak_reached": _moment(course.peak_reached),
        "peak_ends": _moment(course.peak_ends),
        "heating_h": _number(course.heating_hours),
        "power_needed_until": _moment(course.powered),
        **_rate("last_stretch_rate", course.last_rate),
        "opening": _moment(course.opening),
        **_temperature("opening", course.opening_at),
        "cool_enough": _moment(course.cool_enough),
        **_temperature("cool_enough", course.cool_enough_at),
        "schedule_ends": _moment(course.end),
        **_temperature("schedule_ends", course.end_at),
        "energy_kwh": _number(course.energy),
        "basis": list(course.basis),
    }


def _shelf(shelf: ShelfOutlook) -> Keys:
    return {
        "place": shelf.place,
        "seen": shelf.seen,
        "series": shelf.series,
        "in_the_plan": shelf.set_of_plan,
        "cones": [_outlook(outlook) for outlook in shelf.cones],
    }


def _outlook(outlook: ConeOutlook) -> Keys:
    keys: Keys = {"role": outlook.role, "cone": _cone(outlook.cone), "line": outlook.line}
    law, found = outlook.law, outlook.forecast
    keys["law"] = (
        {"series": law.kinetics.series, "cone": law.kinetics.cone, "borrowed": law.borrowed}
        if law
        else None
    )
    if found is None:
        return {**keys, "forecast": None}
    keys["forecast"] = {
        "position": outlook.position,
        "range": outlook.range,
        "likelihood": found.verdict,
        "chance_down_share": _number(found.chance_down),
        "chance_moved_share": _number(found.chance_moved),
        "work": _number(found.work),
        **_difference("past_its_end_by", found.over),
        "clock_oclock": _number(found.clock),
        "clock_least_oclock": _number(found.clock_least),
        "clock_most_oclock": _number(found.clock_most),
        "clock_at_cooler_end_oclock": _number(outlook.clock_cool_end),
        "clock_at_hotter_end_oclock": _number(outlook.clock_hot_end),
        "bends": _times(outlook.bends),
        "down": _times(outlook.down),
        **_rate("effective_rate", found.effective_rate),
        **_difference("standard_deviation", found.spread.celsius),
        "spread_parts": [
            {
                "name": part.name,
                **_difference("standard_deviation", part.celsius),
                "assumed": part.assumed,
                "basis": part.basis,
            }
            for part in found.spread.parts
        ],
    }
    return keys


def _times(times: tuple[Moment | None, Moment | None, Moment | None]) -> Keys:
    expected, earliest, latest = times
    return {
        "expected": _moment(expected),
        "earliest": _moment(earliest),
        "latest": _moment(latest),
    }


def _band(crossing: BandCrossing) -> Keys:
    return {
        "band": crossing.band,
        **_temperature("low", crossing.low),
        **_temperature("high", crossing.high),
        "way": crossing.way,
        "enters": _moment(crossing.enters),
        "leaves": _moment(crossing.leaves),
        "time_h": _number(crossing.hours),
        **_rate("mean_rate", crossing.mean_rate),
        **_rate("steepest_up", crossing.steepest_up),
        **_rate("steepest_down", crossing.steepest_down),
    }


def _lag(lag: LagOutlook) -> Keys:
    return {
        "ware": lag.ware,
        "wall_mm": _number(lag.wall.millimetres),
        "way": lag.way,
        **_rate("rate", lag.rate),
        **_difference("heated_from_both_sides", lag.two_sided),
        **_difference("heated_from_one_side", lag.one_sided),
        "diffusivity_mm2_per_s": _number(lag.diffusivity),
        "evens_out_h": _number(lag.even_hours),
    }


def _drying(drying: DryingOutlook) -> Keys:
    return {
        "ware": drying.ware,
        "wall_mm": _number(drying.wall.millimetres),
        "state": drying.state,
        "given_h": _number(drying.given),
        "needed_least_h": _number(min(drying.needed.least, drying.needed.most)),
        "needed_most_h": _number(max(drying.needed.least, drying.needed.most)),
        "thicker_than_published": drying.needed.beyond,
    }


def _advice(advice: Advice) -> Keys:
    return {
        "places": list(advice.places),
        "target": _cone(advice.target),
        "guard": _cone(advice.guard),
        "as_written": advice.outcome,
        "target_likelihood": advice.target_verdict,
        "guard_likelihood": advice.guard_verdict or None,
        **_temperature("kiln_limit", advice.limit),
        **_difference("forecast_good_to_by", advice.doubt),
        **{one.kind: _setting(one) for one in advice.settings},
        "whatever_the_guard_does": {one.kind: _setting(one) for one in advice.without_guard},
    }


def _setting(one: Setting) -> Keys:
    keys: Keys = {"outcome": one.outcome, "reason": one.reason or None}
    for name, value in (
        ("set", one.value),
        ("least", one.least),
        ("most", one.most),
        ("written", one.written),
    ):
        if one.kind == "peak":
            keys.update(_temperature(name, value))
        elif one.kind == "rate":
            keys.update(_rate(name, value))
        else:
            keys[f"{name}_h"] = _number(value)
    keys["target_clock_oclock"] = _number(one.target_clock)
    keys["guard_clock_oclock"] = _number(one.guard_clock)
    return keys


def _soak(soak: SoakComparison) -> Keys:
    return {
        "published": note("soak_rule"),
        "cone": soak.cone,
        "series": soak.series,
        **_temperature("held_at", soak.held_at),
        "next_cones": [
            {
                "cone": step.cone,
                **_difference("gap", step.gap),
                "down_after_h": _number(step.hours),
                "down_after_held_lower_h": _number(step.hours_lower),
            }
            for step in soak.steps
        ],
    }
