"""People are told which peak, hold or last climb would be right."""

from collections.abc import Iterator

from guardcone.firing.inverse import Answer
from guardcone.firing.uncertainty import CHART_SLOWEST
from guardcone.outlook.records import Advice
from guardcone.reports.forecast_words import Units, text_of
from guardcone.reports.page import Page

__all__ = ["advice_section", "judged"]

_NO_HOLD = 1e-6  # hours


def judged(advice: Advice, units: Units, *, name_places: bool) -> str:
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


def advice_section(page: Page, advice: Advice, units: Units) -> None:
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
