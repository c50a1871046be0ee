"""The bands, the ware in them, and what a forecast assumes."""

from guardcone.firing.tables import band, note, usual
from guardcone.firing.ware import DRYING_REFERENCE
from guardcone.outlook.records import BandCrossing, DryingOutlook, LagOutlook, PlanForecast
from guardcone.reports.forecast_words import Units, source_of, text_of, when
from guardcone.reports.page import Page

__all__ = ["assumed", "bands", "ware"]


def bands(page: Page, forecast: PlanForecast, units: Units) -> None:
    """Every stay in a band, up and down, with the rate through it."""
    if not forecast.bands:
        return
    page.heading("Through the bands")
    head = ["", units.degree, "way", "from", "time", f"{units.degree}/h"]
    rows = [head]
    for crossing in forecast.bands:
        span = units.bare(crossing.low)
        if crossing.high is None:
            span = f"over {span}"
        elif crossing.high > crossing.low:
            span = f"{span} to {units.bare(crossing.high)}"
        time = units.duration(crossing.time) if crossing.time > 0.0 else ""
        way = {"up": "up", "down": "down"}.get(crossing.way, "in it")
        rows.append([crossing.band, span, way, when(crossing.enters), time, _rate(crossing, units)])
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


def ware(page: Page, forecast: PlanForecast, units: Units) -> None:
    """How far the thickest core lags at the quartz inversion, and whether damp ware gets dry."""
    if forecast.lags:
        first = forecast.lags[0]
        page.heading(f'The thickest wall: "{first.ware}", {first.wall}')
        rows = [_lag(lag, units) for lag in forecast.lags]
        page.table(rows)
        page.paragraph(text_of("ware").format(diffusivity=f"{first.diffusivity:g} mm²/s"))
    if forecast.drying:
        page.heading("Drying below boiling")
        for drying in forecast.drying:
            page.paragraph(_drying(drying, units), 2, 2)
        reference = units.temperature(DRYING_REFERENCE)
        page.paragraph(text_of("drying").format(reference=reference))


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


def assumed(page: Page, forecast: PlanForecast, units: Units) -> None:
    """The soak rule beside our own figure, and what all of it takes for granted."""
    _soak(page, forecast, units)
    if forecast.assumptions:
        page.heading("What is assumed")
        points = []
        for remark in forecast.assumptions:
            source = source_of(remark.name)
            points.append(units.remark(remark) + (f" [{source}]" if source else ""))
        page.points(points)


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
    rows = []
    for step in soak.next_cones:
        held, held_lower = (
            units.duration(hours) if hours is not None else "not in a day"
            for hours in (step.down_after, step.down_after_held_lower)
        )
        rows.append([f"cone {step.cone} goes down after", held, f"lower: {held_lower}"])
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
