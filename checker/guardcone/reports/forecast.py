"""The computed firing of a plan is told to people."""

from guardcone.firing.cone_forecast import clock_words
from guardcone.outlook.records import PlanForecast, ShelfOutlook
from guardcone.reports.forecast_advice import advice_section, judged
from guardcone.reports.forecast_day import assumed, bands, the_day, ware
from guardcone.reports.forecast_words import Units, date_of, text_of, when
from guardcone.reports.page import Page, Style, reminder
from guardcone.values import Cone

__all__ = ["forecast_for_people"]

_SERIES = {
    "large_regular": "large cones",
    "large_ironfree": "large iron-free cones",
    "ss_regular": "self-supporting cones",
    "ss_ironfree": "self-supporting iron-free cones",
    "small_regular": "small cones",
}


_PLAIN = Style()


def forecast_for_people(forecast: PlanForecast, style: Style = _PLAIN, studio: str = "") -> str:
    """The forecast as a page of text in the plan's own unit, ending with the safety reminder.

    The page is at least 40 columns wide; colour makes the headings bold and changes nothing else.
    `studio` is the name of the studio's own file that filled in what the plan leaves unsaid.
    """
    page = Page(style)
    units = Units(forecast.unit)
    _title(page, forecast)
    if forecast.gaps:
        page.heading("What the plan leaves open")
        page.points(map(units.remark, forecast.gaps))
    if forecast.course is not None:
        _in_short(page, forecast, units)
        if forecast.problems:
            page.heading("Lines that will not go as written")
            page.points(map(units.remark, forecast.problems))
        _cones(page, forecast)
        if forecast.spread_given or len(forecast.shelves) > 1:
            _ends(page, forecast, units)
        for advice in forecast.advice:
            advice_section(page, advice, units)
        the_day(page, forecast, units)
        bands(page, forecast, units)
        ware(page, forecast, units)
        assumed(page, forecast, units)
    if studio:
        page.blank()
        page.paragraph(f"What the plan leaves unsaid comes from the studio's own file {studio}.", 0)
    page.blank()
    page.paragraph(reminder(), 0)
    return page.text()


def _title(page: Page, forecast: PlanForecast) -> None:
    name = f'"{forecast.name}"' if forecast.name else forecast.source
    kiln = f' in the kiln "{forecast.kiln}"' if forecast.kiln else ""
    page.heading(f"Forecast of {name}{kiln}")
    if forecast.starts is not None:
        day = f"{date_of(forecast.starts)}, " if forecast.dated else ""
        page.paragraph(f"starts {day}{forecast.starts:%H:%M}", 0)


def _in_short(page: Page, forecast: PlanForecast, units: Units) -> None:
    course, equivalent = forecast.course, forecast.equivalent
    assert course is not None
    page.heading("In short")
    if equivalent is not None:
        series = _SERIES.get(equivalent.series, equivalent.series)
        target = f"; the target is {forecast.target}" if forecast.target else ""
        cone = f"comes to cone {equivalent.text}"
        if equivalent.below is None:
            cone = f"comes to less than cone {equivalent.above}"
        elif equivalent.text.startswith("past"):
            cone = f"goes past cone {equivalent.below}"
        page.paragraph(f"By its heat-work this firing {cone} ({series}){target}.")
    for advice in forecast.advice:
        page.paragraph(judged(advice, units, name_places=len(forecast.advice) > 1))
    text = f"The peak is {units.temperature(course.peak)} and ends {_at(when(course.peak_ends))}"
    if course.opening is not None and course.opening_at is not None:
        text += f"; the kiln is opened at {units.temperature(course.opening_at)}, "
        text += when(course.opening)
    page.paragraph(f"{text}.")


def _at(moment: str) -> str:
    """`at 21:14`, `Sun 4 Oct 21:14`, `after 13 h 44`."""
    if " h " in moment:
        return f"after {moment}"
    return f"at {moment}" if " " not in moment else moment


# -- the cones --------------------------------------------------------------------------------


def _cones(page: Page, forecast: PlanForecast) -> None:
    if not any(outlook.forecast for shelf in forecast.shelves for outlook in shelf.cones):
        return
    page.heading("The cones at the end")
    used: list[str] = []
    for shelves in _alike(forecast.shelves):
        page.paragraph(_shelf_words(shelves))
        rows = [["", "", "looks like", "range", "likelihood"]]
        for outlook in shelves[0].cones:
            found = ["no forecast"]
            if outlook.forecast is not None:
                found = [outlook.position, outlook.range, outlook.forecast.verdict]
                used.append(outlook.forecast.verdict)
            rows.append([outlook.role, str(outlook.cone.number), *found])
        page.table(rows, 4)
    for words in dict.fromkeys(used):
        page.paragraph(f'"{words}": {text_of(f"likely: {words}")}', 2, 2)
    page.paragraph(text_of("range"))


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
    names = [f'"{shelf.place}"' if shelf.place else "the kiln" for shelf in shelves]
    words = f"{', '.join(names)}: {first.series} cones"
    if len(shelves) > 1:
        return f"{words}, the same in each set"
    hole = "" if "hole" in (first.seen or "") else " spy hole"
    return f"{words}, seen through the {first.seen}{hole}" if first.seen else words


def _ends(page: Page, forecast: PlanForecast, units: Units) -> None:
    """The same cones at the cooler and the hotter end of the kiln."""
    rows = [["", "cooler end", "middle", "hotter end"]]
    cones = {one.cone: one for shelf in forecast.shelves for one in shelf.cones}
    several = len({cone.series for cone in cones}) > 1
    for outlook in cones.values():
        cool, hot = outlook.clock_cool_end, outlook.clock_hot_end
        if outlook.forecast is not None and cool is not None and hot is not None:
            name = f"{outlook.cone}, {outlook.cone.series}" if several else str(outlook.cone)
            rows.append([name, clock_words(cool), outlook.position, clock_words(hot)])
    if len(rows) == 1:
        return
    page.heading("From one end of the kiln to the other")
    page.table(rows, 4)
    spread, half = units.difference(forecast.spread), units.difference(0.5 * forecast.spread)
    if not forecast.spread_given:
        spread += " (a usual figure; the plan gives none)"
    page.paragraph(text_of("shelves").format(spread=spread, half=half))
