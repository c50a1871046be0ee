"""What only the curious ask of a forecast: windows, bands, ware, energy, and what is assumed."""

from itertools import pairwise

from guardcone.firing.tables import band, note, usual
from guardcone.firing.uncertainty import LIKELIHOODS, Shelf
from guardcone.firing.ware import DRYING_REFERENCE
from guardcone.outlook.planned import LAST_STRETCH
from guardcone.outlook.records import (
    Advice,
    BandCrossing,
    ConeOutlook,
    Course,
    DryingOutlook,
    LagOutlook,
    PlanForecast,
    ShelfOutlook,
)
from guardcone.reports.forecast_figures import band_span
from guardcone.reports.forecast_setting import too_close, window_row
from guardcone.reports.forecast_words import Units, source_of, text_of
from guardcone.reports.page import Page
from guardcone.values import Cone

__all__ = ["more"]


def more(page: Page, forecast: PlanForecast, units: Units) -> None:
    """All that stands in no answer that people ask for first."""
    _likelihood(page, forecast, units)
    for advice in forecast.advice:
        _advice(page, advice, units)
    _bands(page, forecast, units)
    _ware(page, forecast, units)
    _soak(page, forecast, units)
    assert forecast.course is not None
    _energy(page, forecast.course, units, electric=forecast.electric)
    _assumed(page, forecast, units)


def _likelihood(page: Page, forecast: PlanForecast, units: Units) -> None:
    """The scale of words with its bounds, the range of each cone, and what it is made of."""
    if forecast.course and forecast.course.strained_from:
        return  # no chance is told
    page.heading("How likely, and how far it may be out")
    page.paragraph(text_of("likelihoods"))
    least = [round(100 * one) for one, _ in LIKELIHOODS]
    bounds = [f"{least[0]} or more"]
    bounds += [f"{low} to {high}" for high, low in pairwise(least[:-1])]
    bounds += [f"fewer than {least[-2]}"]
    page.table([[words, bound] for (_, words), bound in zip(LIKELIHOODS, bounds, strict=True)], 4)
    outlooks = [(one, shelf) for shelf in forecast.shelves for one in shelf.cones if one.forecast]
    if not outlooks:
        return
    places = dict.fromkeys(_RANGES[shelf.stands] for _, shelf in outlooks)
    rows: dict[Cone, dict[str, str]] = {}
    for one, shelf in outlooks:
        row = rows.setdefault(one.cone, {"": str(one.cone), "at the last": one.position})
        row[_RANGES[shelf.stands]] = one.range
    heads = ["", "at the last", *places]
    page.table([heads, *([row.get(head, "") for head in heads] for row in rows.values())], 4)
    page.paragraph(_parts(outlooks, units))


# Over the ranges, by where a set stands.
_RANGES: dict[Shelf, str] = {
    "top": "range at an end",
    "bottom": "range at an end",
    "middle": "in the middle",
    "anywhere": "range anywhere",
}


def _parts(outlooks: list[tuple[ConeOutlook, ShelfOutlook]], units: Units) -> str:
    """What the range of the target is made of, or of another cone where there is none."""
    first = next((one for one, _ in outlooks if one.role == "target"), outlooks[0][0])
    assert first.forecast is not None
    spread = first.forecast.spread
    return text_of("range").format(
        cone=first.cone,
        kiln=units.difference(spread.tolerance),
        half=units.difference(spread.half),
        rest=units.difference(2.0 * spread.rest),
        low=units.difference(usual("shown_too_low")),
    )


def _energy(page: Page, course: Course, units: Units, *, electric: bool) -> None:
    """The energy, what the kiln's figures rest on, and the rate of the last climb."""
    if course.strained_from:
        return
    page.heading("Energy and rate")
    if course.last_stretch_rate is not None:
        last, rate = units.difference(LAST_STRETCH), units.rate(course.last_stretch_rate)
        page.paragraph(f"The last {last} below the peak are climbed at {rate}.")
    known, estimate = "not known", ""
    if course.energy is not None:
        known = f"about {course.energy:.0f} kWh"
        estimate = " " + text_of("energy" if electric else "energy of fuel")
    page.paragraph(f"Energy: {known}. Basis: {'; '.join(course.basis)}.{estimate}")


# -- which peak, hold or last climb would be right ----------------------------------------------


def _advice(page: Page, advice: Advice, units: Units) -> None:
    """The peak, the hold and the last rate, each with its window, or that there is none."""
    target, guard = advice.target, advice.guard
    stands = f" and leave {guard} standing" if guard else ""
    page.heading(f"What peak or hold would put {target} down{stands}?")
    places = f"{', '.join(advice.places)}: " if advice.places else ""
    page.paragraph(f"{places}one change at a time, all else as written")
    if not advice.settings:
        page.paragraph(text_of("advice: no climb"))
        return
    page.table([window_row(one, units) for one in advice.settings], 4)
    if any(one.outcome == "guard leans" for one in advice.settings):
        page.paragraph(f"{text_of('advice: leans')} {too_close(advice)}".rstrip())
    if advice.whatever_the_guard_does:
        page.paragraph(text_of("advice: without guard").format(target=target, guard=guard))
        page.table([window_row(one, units) for one in advice.whatever_the_guard_does], 4)
    if advice.kiln_limit is not None:
        limit = units.temperature(advice.kiln_limit)
        rated = ""
        if advice.rated_cone and advice.rated_at:
            rated = f", where {advice.rated_cone} ends at {units.rate(advice.rated_at)}"
        page.paragraph(f"The kiln's limit is taken as {limit}{rated}.")
    told = (*advice.settings, *advice.whatever_the_guard_does)
    if all(one.value is None for one in told) and advice.hindered != "beyond the power":
        page.paragraph(f"Within the kiln's limits nothing would put {target} down{stands}.")
    elif advice.forecast_good_to_by is not None:
        page.paragraph(text_of("advice").format(doubt=units.difference(advice.forecast_good_to_by)))


# -- the bands and the ware ---------------------------------------------------------------------


def _bands(page: Page, forecast: PlanForecast, units: Units) -> None:
    """Every stay in a band, up and down, with the rate through it."""
    rows = [["", units.degree, "way", "time", f"{units.degree}/h"]]
    strained = forecast.course.strained_from if forecast.course else None
    for crossing in forecast.bands:
        if strained and crossing.leaves.hour > strained.hour:
            continue  # its times can't be relied on
        time = units.duration(crossing.time) if crossing.time > 0.0 else ""
        way = "in it" if crossing.way == "part" else crossing.way
        rows.append([crossing.band, band_span(crossing, units), way, time, _rate(crossing, units)])
    if not rows[1:]:
        return
    page.heading("Through the bands")
    page.table(rows)
    page.paragraph("Rates are means, holds counted; in brackets the fastest where it differs.")


def _rate(crossing: BandCrossing, units: Units) -> str:
    up, down, mean = crossing.steepest_up, crossing.steepest_down, crossing.mean_rate
    if mean is None:
        parts = [(up, "up"), (down, "down")]
        return ", ".join(f"{units.bare_rate(rate)} {way}" for rate, way in parts if rate > 0.0)
    fastest = up if crossing.way == "up" else down
    text = units.bare_rate(mean)
    return text if fastest <= mean * 1.02 else f"{text} ({units.bare_rate(fastest)})"


def _ware(page: Page, forecast: PlanForecast, units: Units) -> None:
    """How far the thickest core lags at the quartz inversion, and whether damp ware gets dry."""
    if forecast.lags:
        first = forecast.lags[0]
        page.heading(f'The thickest wall: "{first.ware}", {first.wall}')
        page.table([_lag(lag, units) for lag in forecast.lags])
        page.paragraph(text_of("ware").format(diffusivity=f"{first.diffusivity:g} mm²/s"))
    if forecast.drying:
        page.heading("Drying below boiling")
        for drying in forecast.drying:
            page.paragraph(_drying(drying, units), 2, 2)
        page.paragraph(text_of("drying").format(reference=units.temperature(DRYING_REFERENCE)))


def _lag(lag: LagOutlook, units: Units) -> list[str]:
    inversion = units.temperature(band("quartz").high)
    return [
        f"{lag.way} through {inversion}",
        f"at {units.rate(lag.rate)}",
        f"the core is {units.difference(lag.heated_from_both_sides)} behind, "
        f"on a shelf {units.difference(lag.heated_from_one_side)}",
    ]


def _drying(drying: DryingOutlook, units: Units) -> str:
    least, most = drying.needed_least, drying.needed_most
    thick = " (for 75 mm; this wall is thicker)" if drying.thicker_than_published else ""
    judged = "short" if drying.given < least else "long" if drying.given >= most else "between"
    return (
        f'"{drying.ware}", {drying.state}, {drying.wall}: the schedule gives '
        f"{units.duration(drying.given)}; published advice asks {units.duration(least)} to "
        f"{units.duration(most)}{thick}. {text_of(f'drying: {judged}')}"
    )


def _assumed(page: Page, forecast: PlanForecast, units: Units) -> None:
    if forecast.assumptions:
        page.heading("What is assumed")
        told = [(units.remark(one), source_of(one.name)) for one in forecast.assumptions]
        page.points(f"{text} [{source}]" if source else text for text, source in told)


def _soak(page: Page, forecast: PlanForecast, units: Units) -> None:
    soak = forecast.soak
    if soak is None:
        return
    lower = units.difference(usual("soak_lower"))
    page.heading("A hold instead of more degrees")
    page.paragraph(units.gaps_in(note("soak_rule")))
    page.paragraph(
        f"Our own figure, after this plan's last climb, held where cone {soak.cone} goes down "
        f"({units.temperature(soak.held_at)}) and {lower} lower:"
    )

    def held(hours: float | None) -> str:
        return "not in a day" if hours is None else units.duration(hours)

    rows = []
    for step in soak.next_cones:
        lower_held = f"lower: {held(step.down_after_held_lower)}"
        rows.append([f"cone {step.cone} goes down after", held(step.down_after), lower_held])
    page.table(rows, 4)
    gaps = " and ".join(units.difference(step.gap) for step in soak.next_cones)
    page.paragraph(
        text_of("soak").format(
            gaps=gaps,
            lower=lower,
            lowest=units.difference(usual("soak_lowest")),
            near=units.difference(usual("soak_gap_near")),
            far=units.difference(usual("soak_gap_far")),
        )
    )
