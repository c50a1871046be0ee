"""The computed firing of a plan is told to people."""

from collections.abc import Iterator

from guardcone.firing.cone_forecast import clock_words
from guardcone.firing.inverse import Answer
from guardcone.firing.uncertainty import CHART_SLOWEST
from guardcone.outlook.records import Advice, PlanForecast, ShelfOutlook
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
            _advice(page, advice, units)
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
        page.paragraph(_judged(advice, units, name_places=len(forecast.advice) > 1))
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


# -- which peak, hold or last climb would be right ----------------------------------------------

_NO_HOLD = 1e-6  # hours


def _judged(advice: Advice, units: Units, *, name_places: bool) -> str:
    """How a target and its guard fare as written, and the first change that mends it."""
    text = text_of(f"outcome: {advice.as_written}").format(
        target=advice.target,
        guard=advice.guard,
        target_word=advice.target_likelihood,
        guard_word=advice.guard_likelihood,
    )
    if name_places and advice.places:
        text = f"{', '.join(advice.places)}: {_lower(text)}"
    return " ".join([text, *_mended(advice, units)])


def _mended(advice: Advice, units: Units) -> Iterator[str]:
    """What would put it right, or come nearest to that; nothing where it is right."""
    fit = "guard stands" if advice.guard else "target down"
    leans = advice.as_written == "guard leans"
    change = ""
    if advice.as_written == fit:
        return
    if found := _first(advice, fit):
        if leans:
            yield text_of("outcome: a little too hot")
        name, change = "put right", _change(found, units)
    elif leans:
        name = "as good as it gets"
    elif found := _first(advice, "guard leans"):
        name, change = "leans at best", _change(found, units)
    elif not advice.whatever_the_guard_does:
        name = "no change mends it"
    elif advice.as_written == "guard goes":
        name = "too much already"
    else:
        name = "guard can't be spared"
        change = _lower(_change(advice.whatever_the_guard_does[0], units))
    yield text_of(f"outcome: {name}").format(change=change)


def _lower(text: str) -> str:
    return text[0].lower() + text[1:]


def _first(advice: Advice, outcome: str) -> Answer | None:
    """The peak, else the hold, else the last climb that has this outcome."""
    return next((one for one in advice.settings if one.outcome == outcome), None)


# How each kind is named in a sentence and in a table.
_NAMES = {
    "peak": ("A peak of", "peak"),
    "hold": ("A hold at the peak of", "hold there"),
    "rate": ("A last climb at", "last climb"),
}


def _change(one: Answer, units: Units) -> str:
    """`A peak of 1244 °C instead of 1252 °C`."""
    assert one.value is not None
    if one.kind == "hold" and one.value < _NO_HOLD:
        return "Leaving out the hold at the peak"
    before = f" instead of {_set(one, one.written, units)}" if one.written is not None else ""
    return f"{_NAMES[one.kind][0]} {_set(one, one.value, units)}{before}"


def _set(one: Answer, value: float, units: Units) -> str:
    if one.kind == "peak":
        return units.temperature(value, 1)
    if one.kind == "rate":
        return units.rate(value)
    return units.duration(value) if value > _NO_HOLD else "no hold"


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
    page.table([_row(one, units) for one in advice.settings], 4)
    if _first(advice, "guard leans"):
        page.paragraph(text_of("advice: leans"))
    if advice.whatever_the_guard_does:
        page.paragraph(text_of("advice: without guard").format(target=target, guard=guard))
        page.table([_row(one, units) for one in advice.whatever_the_guard_does], 4)
    if advice.kiln_limit is not None:
        limit = units.temperature(advice.kiln_limit)
        slow = units.rate(CHART_SLOWEST)
        rated = f", where {advice.rated_cone} ends at {slow}" if advice.rated_cone else ""
        page.paragraph(f"The kiln's limit is taken as {limit}{rated}.")
    if all(one.value is None for one in (*advice.settings, *advice.whatever_the_guard_does)):
        page.paragraph(f"Within the kiln's limits nothing would put {target} down{stands}.")
    else:
        page.paragraph(text_of("advice").format(doubt=units.difference(advice.forecast_good_to_by)))


def _row(one: Answer, units: Units) -> list[str]:
    name = _NAMES[one.kind][1]
    if one.value is None:
        return [name, "none", one.reason]
    return [name, _set(one, one.value, units), "; ".join(_window(one, one.value, units))]


def _window(one: Answer, value: float, units: Units) -> Iterator[str]:
    if one.written is not None:
        as_written = abs(value - one.written) < _NO_HOLD
        yield "as written" if as_written else f"instead of {_set(one, one.written, units)}"
    if one.least is not None and one.most is not None:
        least, most = _set(one, one.least, units), _set(one, one.most, units)
        window = f"from {least} to {most}"
        if one.outcome == "target down":  # the guard sets no end to it
            window = f"{most} or slower" if one.kind == "rate" else f"{least} or more"
        elif one.kind != "rate" and one.least < _NO_HOLD:
            window = f"anything up to {most}"
        yield window
    if one.outcome == "guard leans":
        yield "the guard leans"
