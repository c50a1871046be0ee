"""The computed firing of a plan is told to people, beginning with what they ask first."""

from collections.abc import Iterable, Iterator
from itertools import groupby

from guardcone.checking.plans import CheckedPlan
from guardcone.firing.cone_forecast import clock_words
from guardcone.outlook.records import PlanForecast, Remark, ShelfOutlook
from guardcone.reports.forecast_figures import (
    STATES,
    asked_first,
    events_of,
    fate_of,
    grave_of,
    is_of_lines,
    is_of_target,
    states_of,
)
from guardcone.reports.forecast_more import more
from guardcone.reports.forecast_words import Units, date_of, text_of
from guardcone.reports.page import Page, Style, reminder
from guardcone.reports.to_confirm import CONFIRM, to_confirm
from guardcone.values import Cone

__all__ = ["forecast_for_people", "grave", "start_of", "title_of"]

_SERIES = {
    "large_regular": "large cones",
    "large_ironfree": "large iron-free cones",
    "ss_regular": "self-supporting cones",
    "ss_ironfree": "self-supporting iron-free cones",
    "small_regular": "small cones",
}
_PLAIN = Style()


def forecast_for_people(
    forecast: PlanForecast,
    style: Style = _PLAIN,
    studio: str = "",
    checked: CheckedPlan | None = None,
    *,
    whole: bool = False,
) -> str:
    """The forecast as a page of text in the plan's own unit, ending with the safety reminder.

    The page is at least 40 columns wide; colour makes the headings bold and changes nothing else.
    `studio` is the name of the studio's own file that filled in what the plan leaves unsaid. The
    dangers and losses among what was found in the `checked` plan stand above all else. `whole` adds
    what only the curious ask.
    """
    page = Page(style)
    units = Units(forecast.unit)
    page.heading(f"Forecast of {title_of(forecast)}")
    if starts := start_of(forecast):
        page.paragraph(f"starts {starts}", 0)
    if checked:
        grave(page, checked)
    fired = forecast.course is not None
    # What takes the ground from under all that is told below comes before it.
    first = [one for one in forecast.gaps if not fired or is_of_lines(one)]
    rest = [one for one in forecast.gaps if one not in first and not is_of_target(one)]
    _remarks(page, "What the plan leaves open", first, units)
    if fired:
        _remarks(page, "Lines that will not go as written", forecast.problems, units)
        page.heading("In short")
        page.table([*_answers(asked_first(forecast, units))])
        _remarks(page, "What the plan leaves open", rest, units)
        _cones(page, forecast)
        if forecast.spread_given or len(forecast.shelves) > 1:
            _ends(page, forecast, units)
        _clock(page, forecast, units)
        if whole:
            more(page, forecast, units)
        else:
            page.blank()
            page.paragraph(text_of("more"), 0)
    if studio:
        page.blank()
        page.paragraph(f"What the plan leaves unsaid comes from the studio's own file {studio}.", 0)
    if checked and (looks := [f"{what} ({place})" for place, what in to_confirm([checked.plan])]):
        page.blank()
        page.paragraph(CONFIRM, 0)
        page.points(looks)
    page.blank()
    page.paragraph(reminder(), 0)
    return page.text()


def _answers(told: dict[tuple[str, str], str]) -> Iterator[list[str]]:
    """Each question once, before its answers."""
    for question, answers in groupby(told.items(), lambda one: one[0][0]):
        for (_, whose), text in answers:
            yield [question, f"{whose}: {text}" if whose else text]
            question = ""


def title_of(forecast: PlanForecast) -> str:
    """`"Saturday stoneware" in the kiln "Heron"`."""
    name = f'"{forecast.name}"' if forecast.name else forecast.source
    return f'{name} in the kiln "{forecast.kiln}"' if forecast.kiln else name


def start_of(forecast: PlanForecast) -> str:
    """`Sat 3 Oct 2026, 07:30`; "" where the plan says no time of day."""
    if forecast.starts is None:
        return ""
    day = f"{date_of(forecast.starts)}, " if forecast.dated else ""
    return f"{day}{forecast.starts:%H:%M}"


def grave(page: Page, checked: CheckedPlan) -> None:
    """The dangers and losses that a check finds, each in its own words."""
    told = grave_of(checked)
    for finding, accepted in told:
        page.blank()
        page.weighed(finding.consequence, f"line {finding.span.line}: {finding.rule}")
        page.paragraph(finding.text, 5)
        if accepted:
            who = f" by {accepted.by.value}" if accepted.by else ""
            reason = accepted.reason.value
            page.paragraph(f"Accepted{who} in line {accepted.span.line}: {reason}", 5)
    if told:
        page.blank()
        page.paragraph(text_of("grave"), 0)


def _remarks(page: Page, heading: str, remarks: Iterable[Remark], units: Units) -> None:
    if texts := [units.remark(one) for one in remarks]:
        page.heading(heading)
        page.points(texts)


# -- the cones --------------------------------------------------------------------------------


def _cones(page: Page, forecast: PlanForecast) -> None:
    if not any(outlook.forecast for shelf in forecast.shelves for outlook in shelf.cones):
        return
    page.heading("The cones")
    if equivalent := forecast.equivalent:
        cone = f"comes to cone {equivalent.text}"
        if equivalent.below is None:
            cone = f"comes to less than cone {equivalent.above}"
        elif equivalent.text.startswith("past"):
            cone = f"goes past cone {equivalent.below}"
        series = _SERIES.get(equivalent.series, equivalent.series)
        page.paragraph(f"By its heat-work this firing {cone} ({series}).")
    for shelves in _alike(forecast.shelves):
        page.paragraph(_shelf_words(shelves))
        page.records(["", *STATES], [*_fates(shelves)])
    page.paragraph(text_of("clock"))


def _fates(shelves: list[ShelfOutlook]) -> Iterator[list[str]]:
    """Each cone of sets that are alike; where it fares otherwise in some of them, that too."""
    places = [_name_of(shelf) for shelf in shelves]
    for outlooks in zip(*(shelf.cones for shelf in shelves), strict=True):
        one, fates = outlooks[0], [states_of(outlook)[-1] for outlook in outlooks]
        fate = fate_of(zip(places, fates, strict=True))
        yield [f"{one.role} {one.cone.number}", *states_of(one)[:-1], fate]


def _name_of(shelf: ShelfOutlook) -> str:
    return f'"{shelf.place}"' if shelf.place else "the kiln"


def _alike(shelves: tuple[ShelfOutlook, ...]) -> list[list[ShelfOutlook]]:
    """The witness sets with cones, those of the same cones in the same parts together."""
    groups: dict[tuple[tuple[str, Cone], ...], list[ShelfOutlook]] = {}
    for shelf in shelves:
        key = tuple((outlook.role, outlook.cone) for outlook in shelf.cones)
        if key:
            groups.setdefault(key, []).append(shelf)
    return list(groups.values())


def _shelf_words(shelves: list[ShelfOutlook]) -> str:
    first = shelves[0]
    if not first.in_the_plan:
        return "no witness set; the target alone, as a cone that nobody will see"
    words = f"{', '.join(map(_name_of, shelves))}: {first.series} cones"
    if len(shelves) > 1:
        return f"{words}, the same in each set"
    hole = "" if "hole" in (first.seen or "") else " spy hole"
    return f"{words}, seen through the {first.seen}{hole}" if first.seen else words


def _ends(page: Page, forecast: PlanForecast, units: Units) -> None:
    """The same cones at the cooler and the hotter end of the kiln."""
    rows = []
    cones = {one.cone: one for shelf in forecast.shelves for one in shelf.cones}
    several = len({cone.series for cone in cones}) > 1
    for outlook in cones.values():
        cool, hot = outlook.clock_cool_end, outlook.clock_hot_end
        if outlook.forecast is not None and cool is not None and hot is not None:
            name = f"{outlook.cone}, {outlook.cone.series}" if several else str(outlook.cone)
            rows.append([name, clock_words(cool), outlook.position, clock_words(hot)])
    if not rows:
        return
    page.heading("From one end of the kiln to the other")
    page.records(["", "cooler end", "middle", "hotter end"], rows)
    spread, half = units.difference(forecast.spread), units.difference(0.5 * forecast.spread)
    if not forecast.spread_given:
        spread += " (a usual figure; the plan gives none)"
    page.paragraph(text_of("shelves").format(spread=spread, half=half))


# -- the clock ----------------------------------------------------------------------------------


def _clock(page: Page, forecast: PlanForecast, units: Units) -> None:
    """All moments in one column of times, each day under its name."""
    course = forecast.course
    assert course is not None
    page.heading("The firing by the clock" if course.start.clock else "The firing, hour by hour")
    for day, events in groupby(events_of(forecast, units), lambda one: units.day(one.moment)):
        if day:
            page.paragraph(day)
        page.table([[units.clock(event.moment)[1], event.text] for event in events], 4)
    if lengths := " ".join(_lengths(forecast, units)):
        page.paragraph(lengths)


def _lengths(forecast: PlanForecast, units: Units) -> Iterator[str]:
    course = forecast.course
    assert course is not None
    if course.strained_from:
        return
    total = course.opening or course.schedule_ends
    text = f"It takes {units.duration(course.heating)} to the end of the peak"
    if total.hour > course.heating + 0.01:
        text += f" and {units.duration(total.hour)} to the "
        text += "opening" if course.opening else "end of the schedule"
    yield f"{text}."
