"""The firing by the clock, through the bands, the ware in it, and what is assumed."""

from collections.abc import Iterator
from math import inf
from operator import attrgetter

from guardcone.firing.tables import band, note, usual
from guardcone.firing.ware import DRYING_REFERENCE
from guardcone.outlook.planned import LAST_STRETCH
from guardcone.outlook.records import (
    BandCrossing,
    ConeOutlook,
    Course,
    DryingOutlook,
    LagOutlook,
    Moment,
    PlanForecast,
)
from guardcone.reports.forecast_words import Units, short_when, source_of, text_of, when
from guardcone.reports.page import Page

__all__ = ["assumed", "bands", "the_day", "ware"]


Event = tuple[Moment, str]


def the_day(page: Page, forecast: PlanForecast, units: Units) -> None:
    """Every moment somebody waits for, in order; then how long it all takes, and the energy."""
    course = forecast.course
    assert course is not None
    page.heading("The firing by the clock" if course.start.clock else "The firing, hour by hour")
    events = [*_course_events(course, units), *_cone_events(forecast)]
    events.sort(key=lambda event: event[0].hour)
    page.table([[when(moment), text] for moment, text in events], 4)
    total = course.opening or course.schedule_ends
    text = f"It takes {units.duration(course.heating)} to the end of the peak"
    if total.hour > course.heating + 0.01:
        text += f" and {units.duration(total.hour)} to the "
        text += "opening" if course.opening else "end of the schedule"
    if course.last_stretch_rate is not None:
        last, rate = units.difference(LAST_STRETCH), units.rate(course.last_stretch_rate)
        text += f"; the last {last} below the peak are climbed at {rate}"
    page.paragraph(f"{text}.")
    known, estimate = "not known", ""
    if course.energy is not None:
        known = f"about {course.energy:.0f} kWh"
        estimate = " " + text_of("energy" if forecast.electric else "energy of fuel")
    page.paragraph(f"Energy: {known}. Basis: {'; '.join(course.basis)}.{estimate}")


def _course_events(course: Course, units: Units) -> Iterator[Event]:
    yield course.start, f"start at {units.temperature(course.begins)}"
    peak = units.temperature(course.peak)
    if course.peak_ends.hour - course.peak_reached.hour > 1e-6:
        yield course.peak_reached, f"peak reached, {peak}"
        yield course.peak_ends, "peak ends: cooling begins"
    else:
        yield course.peak_reached, f"peak, {peak}: cooling begins"
    if course.power_needed_until.hour > course.peak_ends.hour + 1e-6:
        text = "the kiln needs power up to here; from here on it cools by itself"
        yield course.power_needed_until, text
    down = units.temperature(course.cool_enough_at)
    if course.opening is not None and course.opening_at is not None:
        yield course.opening, f"opened at {units.temperature(course.opening_at)}"
        if course.opening_at > course.cool_enough_at + usual("opening_much_hotter"):
            yield course.cool_enough, f"left shut, it would be down to {down} here"
        return
    if course.peak > course.cool_enough_at:
        yield course.cool_enough, f"down to {down}, where a kiln is commonly opened"
    if course.schedule_ends.hour < course.cool_enough.hour - 1e-6:
        at = units.temperature(course.schedule_ends_at)
        yield course.schedule_ends, f"the schedule ends, at {at}; from here the kiln cools freely"


def _cone_events(forecast: PlanForecast) -> Iterator[Event]:
    """When each cone starts and is down; the same cone in several sets is told once."""
    told: dict[tuple[str, object], tuple[ConeOutlook, list[str]]] = {}
    for shelf in forecast.shelves:
        for outlook in shelf.cones:
            if outlook.forecast is not None:
                _, places = told.setdefault((outlook.role, outlook.cone), (outlook, []))
                places.append(shelf.place or "the kiln")
    sets = sum(any(outlook.forecast for outlook in shelf.cones) for shelf in forecast.shelves)
    cooling = forecast.course.peak_ends.hour if forecast.course else inf
    watched: list[Moment] = []
    for outlook, places in told.values():
        where = "" if len(places) == sets else f" ({', '.join(places)})"
        name = f"{outlook.role}, {outlook.cone}{where}"
        yield from _bend(name, ("starts to bend", "start to bend"), outlook.bends, cooling)
        yield from _bend(name, ("is down", "be down"), outlook.down, cooling)
        if outlook.role in ("guide", "target") and outlook.bends[1] is not None:
            watched.append(outlook.bends[1])
    if watched:
        yield min(watched, key=attrgetter("hour")), "be at the spy hole from here on"


def _bend(
    name: str, what: tuple[str, str], times: tuple[Moment | None, ...], cooling: float
) -> Iterator[Event]:
    expected, early, late = times
    if expected is not None:
        since = short_when(early) if early else "the start"
        until = f"to {short_when(late)}" if late else "on, or not at all"
        late_heat = ", as it cools" if expected.hour > cooling else ""
        yield expected, f"{name}, {what[0]}{late_heat} (from {since} {until})"
    elif early is not None:
        yield early, f"{name}, could {what[1]} from here on; not expected"


def bands(page: Page, forecast: PlanForecast, units: Units) -> None:
    """Every stay in a band, up and down, with the rate through it."""
    if not forecast.bands:
        return
    page.heading("Through the bands")
    rows = [["", units.degree, "way", "from", "time", f"{units.degree}/h"]]
    for crossing in forecast.bands:
        span = units.bare(crossing.low)
        if crossing.high is None:
            span = f"over {span}"
        elif crossing.high > crossing.low:
            span = f"{span} to {units.bare(crossing.high)}"
        time = units.duration(crossing.time) if crossing.time > 0.0 else ""
        way = "in it" if crossing.way == "part" else crossing.way
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


def assumed(page: Page, forecast: PlanForecast, units: Units) -> None:
    """The soak rule beside our own figure, and what all of it takes for granted."""
    _soak(page, forecast, units)
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
