"""The computed firing is JSON, for other programs.

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
    firing            start, peak, opening, cooling down, energy, and what these rest on;
                      strained_from is the moment from which the kiln's power does not bring it on:
                      later ones can't be relied on, and no cone is forecast
    equivalent_cone   {series, text, below, above, fraction_share}
    spy_hole          {begins, ends}: from when to when somebody must be there
    segments []       every climb, hold and cooling as it is fired, with its line
    reductions []     {line, begins, ends}: from where on it is reduced, and when that ends
    watches []        {who, line, begins, ends}: who is at the kiln by the plan; null is to the end
    witness_sets []   {place, stands, cones [] with role, position, range, likelihood and moments};
                      stands is top, middle, bottom or anywhere, the shelf that range, chances and
                      moments are for; position is that at the last, position_at_peak_end that
                      before the kiln cools; of each of spread_parts, what shares it
    spread            top to bottom, and whether the plan gives it
    bands []          every stay in a band, with the rates through it
    core_lag [], drying []
    advice []         for each target and guard: how they fare on the shelf where that is least
                      likely, and the target on all; peak, hold, rate and other_hold to set, each
                      with what is likely then
    soak_rule         the published text, and our own hours for this plan
    reminder
    dangers_and_losses []   {name, consequence, line, text, accepted}: what a check finds of that
                      weight; null where the plan was not checked
    to_confirm []     {place, on, by, lines}: what that file says is fitted, as somebody found it
    studio            the studio's own file that filled in what the plan leaves unsaid

Of likelihood the words are those of `likelihood` in firing/uncertainty.py, with their bounds.
"""

import json
from functools import cache, singledispatch
from math import isfinite
from typing import Any, get_args, get_type_hints

from attrs import has

from guardcone.checking.plans import CheckedPlan
from guardcone.firing.cones import Law
from guardcone.firing.inverse import Answer
from guardcone.firing.tables import note
from guardcone.firing.uncertainty import LEFT_OUT
from guardcone.outlook.records import Advice, ConeOutlook, Moment, PlanForecast, Remark
from guardcone.reports.forecast_figures import grave_of
from guardcone.reports.forecast_words import Units, source_of
from guardcone.reports.page import reminder
from guardcone.reports.to_confirm import looks_as_json
from guardcone.values import Cone, Length

__all__ = ["FORMAT", "as_json", "document_of", "forecast_json"]

# Goes up when a key changes its meaning or goes away; new keys may come at any time.
FORMAT = 3

_FAHRENHEIT = 1.8

Keys = dict[str, Any]


def forecast_json(
    forecast: PlanForecast, studio: str = "", checked: CheckedPlan | None = None
) -> str:
    """The whole forecast as one JSON document, ending with a line end; keys as said above.

    `studio` is the name of the studio's own file that filled in what the plan leaves unsaid.
    """
    return as_json(document_of(forecast, studio, checked))


def as_json(document: Keys) -> str:
    """A document as text."""
    return json.dumps(document, indent=2, allow_nan=False) + "\n"


def document_of(forecast: PlanForecast, studio: str, checked: CheckedPlan | None) -> Keys:
    """The forecast of one plan as JSON has it."""
    told = {
        **_document(forecast),
        "dangers_and_losses": None,
        "to_confirm": [],
        "studio": studio or None,
    }
    if checked is not None:
        told["to_confirm"] = looks_as_json(checked.plan)
        told["dangers_and_losses"] = [
            {
                "name": finding.rule,
                "consequence": finding.consequence.value,
                "line": finding.span.line,
                "text": finding.text,
                "accepted": accepted is not None,
            }
            for finding, accepted in grave_of(checked)
        ]
    found: Keys = _value(told)
    return found


def _document(forecast: PlanForecast) -> Keys:
    """All that is told, as it is; a key that ends in a blank and a unit is one of a number."""
    units = Units(forecast.unit, fine=True)

    def remarks(found: tuple[Remark, ...]) -> list[Keys]:
        return [
            {
                "name": one.name,
                "line": one.line,
                "text": units.sentence(one.name, one.slots),
                "source": source_of(one.name) or None,
            }
            for one in found
        ]

    soak, spread = forecast.soak, forecast.spread
    return {
        "format": FORMAT,
        "program": "guardcone",
        "file": forecast.source,
        "name": forecast.name,
        "kiln": forecast.kiln,
        "unit": forecast.unit,
        "target": {"cone": forecast.target, "temperature temperature": forecast.target_temperature},
        "gaps": remarks(forecast.gaps),
        "firing": forecast.course,
        "equivalent_cone": forecast.equivalent,
        "spy_hole": forecast.spy_hole,
        "segments": forecast.segments,
        "reductions": forecast.reductions,
        "watches": forecast.watches,
        "witness_sets": forecast.shelves,
        "spread": {"given": forecast.spread_given, "top_to_bottom_spread difference": spread},
        "boiling temperature": forecast.boiling,
        "bands": forecast.bands,
        "core_lag": forecast.lags,
        "drying": forecast.drying,
        "advice": forecast.advice,
        "soak_rule": {"published": note("soak_rule"), **_record(soak)} if soak else None,
        "problems": remarks(forecast.problems),
        "assumptions": remarks(forecast.assumptions),
        "reminder": reminder(),
    }


# -- values -------------------------------------------------------------------------------------


def _value(value: Any) -> Any:
    """What JSON has for a value: records become keys, each number under its unit."""
    if isinstance(value, tuple | list):
        return [_value(one) for one in value]
    if isinstance(value, dict):
        keys: Keys = {}
        for key, one in value.items():
            name, _, unit = key.partition(" ")
            keys |= _number(name, unit, one)
        return keys
    if has(type(value)):
        return _value(_keys(value))
    return value


def _number(name: str, unit: str, value: Any) -> Keys:
    """A value under its name and unit: temperatures in °C and in °F."""
    if isinstance(value, Length):
        unit, value = "mm", value.millimetres
    if not unit:
        return {name: _value(value)}
    number = _finite(value)
    if unit not in _SCALES:
        return {f"{name}_{unit}": number}
    zero, celsius, fahrenheit = _SCALES[unit]
    other = None if number is None else number * _FAHRENHEIT + zero
    return {f"{name}_{celsius}": number, f"{name}_{fahrenheit}": _finite(other)}


def _finite(number: float | None) -> float | None:
    return number if number is not None and isfinite(number) else None


# The °F of 0 °C, and how keys end in °C and in °F.
_SCALES = {
    "temperature": (32.0, "c", "f"),
    "difference": (0.0, "c", "f"),
    "rate": (0.0, "c_per_h", "f_per_h"),
}


# -- records ------------------------------------------------------------------------------------


def _record(record: Any) -> Keys:
    """The fields of a record in their order, with the unit of each number."""
    kind: Any = type(record)
    told = _fields_of(kind)
    keys: Keys = {}
    for name, unit in told.items():
        # The temperature of a moment stands under the moment's own name.
        moment = name.removesuffix("_at")
        keys[f"{moment if moment in told else name} {unit}".rstrip()] = getattr(record, name)
    return keys


@cache
def _fields_of(kind: type) -> dict[str, str]:
    """The fields of a record, each with its unit; "" for one that is no number of a unit."""
    found = {name: _unit(hint) for name, hint in get_type_hints(kind, include_extras=True).items()}
    return {name: unit for name, unit in found.items() if unit != LEFT_OUT}


def _unit(hint: Any) -> str:
    """What a type says it is measured in, itself or but for None."""
    marks = (getattr(one, "__metadata__", ("",))[0] for one in (hint, *get_args(hint)))
    return next((mark for mark in marks if mark), "")


@singledispatch
def _keys(record: Any) -> Keys:
    """What is told of a record: its fields, or for some kinds what is said below."""
    return _record(record)


@_keys.register
def _(moment: Moment) -> Keys:
    dated = moment.clock if moment.dated else None
    return {
        "hours_from_start h": moment.hour,
        "day": moment.day,
        "time": moment.clock.time().isoformat("seconds") if moment.clock else None,
        "time_and_date": dated.isoformat(timespec="seconds") if dated else None,
    }


@_keys.register
def _(cone: Cone) -> Keys:
    return {
        "number": str(cone.number),
        "form": cone.series.form.value,
        "iron_free": cone.series.iron_free,
        "numbering": cone.series.numbering.value,
    }


@_keys.register
def _(law: Law) -> Keys:
    kinetics = law.kinetics
    return {"series": kinetics.series, "cone": kinetics.cone, "borrowed": law.borrowed}


@_keys.register
def _(outlook: ConeOutlook) -> Keys:
    found, times = outlook.forecast, ("expected", "earliest", "latest")
    forecast = found and {
        "position": outlook.position,
        "range": outlook.range,
        "likelihood": found.verdict,
        "chance_down share": found.chance_down,
        "chance_moved share": found.chance_moved,
        "work": _finite(found.work),
        "past_its_end_by difference": found.over,
        "clock oclock": found.clock,
        "clock_least oclock": found.clock_least,
        "clock_most oclock": found.clock_most,
        "position_at_peak_end": outlook.position_at_peak_end,
        "clock_at_peak_end oclock": outlook.clock_peak_end,
        "clock_at_cooler_end oclock": outlook.clock_cool_end,
        "clock_at_hotter_end oclock": outlook.clock_hot_end,
        "bends": dict(zip(times, outlook.bends, strict=True)),
        "down": dict(zip(times, outlook.down, strict=True)),
        "effective_rate rate": found.effective_rate,
        "standard_deviation difference": found.spread.celsius,
        "range_cooler_by difference": found.spread.cooler,
        "range_hotter_by difference": found.spread.hotter,
        "spread_parts": found.spread.parts,
    }
    return {**_record(outlook), "forecast": forecast}


@_keys.register
def _(advice: Advice) -> Keys:
    """The record, with each setting under its kind."""
    settings: Keys = {one.kind: one for one in advice.settings}
    without = {one.kind: one for one in advice.whatever_the_guard_does}
    return {**_record(advice), **settings, "whatever_the_guard_does": without}


@_keys.register
def _(one: Answer) -> Keys:
    unit = {"peak": "temperature", "rate": "rate"}.get(one.kind, "h")
    return {
        "outcome": one.outcome,
        "reason": one.reason or None,
        f"set {unit}": one.value,
        f"least {unit}": one.least,
        f"most {unit}": one.most,
        f"written {unit}": one.written,
        "target_clock oclock": one.target_clock,
        "guard_clock oclock": one.guard_clock,
        "chance_down share": one.chance_down,
        "chance_all_down share": one.all_down,
        "chance_guard_stands share": one.guard_stands,
    }
