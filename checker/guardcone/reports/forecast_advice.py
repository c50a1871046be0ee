"""People are told which peak, hold or last climb would be right."""

from guardcone.firing.uncertainty import CHART_SLOWEST
from guardcone.outlook.records import Advice, Setting
from guardcone.reports.forecast_words import Units, text_of
from guardcone.reports.page import Page

__all__ = ["advice_section", "judged"]

_NO_HOLD = 1e-6  # hours


def judged(advice: Advice, units: Units, *, name_places: bool) -> str:
    """How a target and its guard fare as written, and the first change that mends it."""
    guard = advice.guard
    text = text_of(f"outcome: {advice.as_written}").format(
        target=advice.target,
        guard=guard,
        target_word=advice.target_likelihood,
        guard_word=advice.guard_likelihood,
    )
    if name_places and advice.places:
        text = f"{_places(advice)}: {text[0].lower()}{text[1:]}"
    fit = "guard stands" if guard else "target down"
    if advice.as_written == fit:
        return text
    if found := _first(advice, fit):
        if advice.as_written == "guard leans":
            text = f"{text} {text_of('outcome: a little too hot')}"
        return f"{text} {text_of('outcome: put right').format(change=_change(found, units))}"
    if advice.as_written == "guard leans":
        return f"{text} {text_of('outcome: as good as it gets')}"
    if found := _first(advice, "guard leans"):
        return f"{text} {text_of('outcome: leans at best').format(change=_change(found, units))}"
    if not advice.whatever_the_guard_does:
        return f"{text} {text_of('outcome: no change mends it')}"
    if advice.as_written == "guard goes":
        return f"{text} {text_of('outcome: too much already')}"
    change = _change(advice.whatever_the_guard_does[0], units)
    spared = text_of("outcome: guard can't be spared")
    return f"{text} {spared.format(change=change[0].lower() + change[1:])}"


def _first(advice: Advice, outcome: str) -> Setting | None:
    """The peak, else the hold, else the last climb that has this outcome."""
    return next((one for one in advice.settings if one.outcome == outcome), None)


def _change(one: Setting, units: Units) -> str:
    """`A peak of 1244 °C instead of 1252 °C`."""
    assert one.value is not None
    before = f" instead of {_set(one, one.written, units)}" if one.written is not None else ""
    if one.kind == "peak":
        return f"A peak of {_set(one, one.value, units)}{before}"
    if one.kind == "rate":
        return f"A last climb at {_set(one, one.value, units)}{before}"
    if one.value < _NO_HOLD:
        return "Leaving out the hold at the peak"
    return f"A hold at the peak of {_set(one, one.value, units)}{before}"


def _set(one: Setting, value: float, units: Units) -> str:
    if one.kind == "peak":
        return units.temperature(value, 1)
    if one.kind == "rate":
        return units.rate(value)
    return units.duration(value) if value > _NO_HOLD else "no hold"


def _places(advice: Advice) -> str:
    return ", ".join(advice.places)


def advice_section(page: Page, advice: Advice, units: Units) -> None:
    """The peak, the hold and the last rate, each with its window, or that there is none."""
    target, guard = advice.target, advice.guard
    stands = f" and leave {guard} standing" if guard else ""
    page.heading(f"What peak or hold would put {target} down{stands}?")
    places = f"{_places(advice)}: " if advice.places else ""
    page.paragraph(f"{places}one change at a time, all else as written")
    if not advice.settings:
        page.paragraph(text_of("advice: no climb"))
        return
    page.table(_rows(advice.settings, units), 4)
    if _first(advice, "guard leans"):
        page.paragraph(text_of("advice: leans"))
    if advice.whatever_the_guard_does:
        page.paragraph(text_of("advice: without guard").format(target=target, guard=guard))
        page.table(_rows(advice.whatever_the_guard_does, units), 4)
    if advice.kiln_limit is not None:
        limit = units.temperature(advice.kiln_limit)
        slow = units.rate(CHART_SLOWEST)
        rated = f", where {advice.rated_cone} ends at {slow}" if advice.rated_cone else ""
        page.paragraph(f"The kiln's limit is taken as {limit}{rated}.")
    if all(one.value is None for one in (*advice.settings, *advice.whatever_the_guard_does)):
        page.paragraph(f"Within the kiln's limits nothing would put {target} down{stands}.")
    else:
        page.paragraph(text_of("advice").format(doubt=units.difference(advice.forecast_good_to_by)))


def _rows(settings: tuple[Setting, ...], units: Units) -> list[list[str]]:
    rows = []
    for one in settings:
        name = {"peak": "peak", "hold": "hold there", "rate": "last climb"}[one.kind]
        if one.value is None:
            rows.append([name, "none", one.reason])
        else:
            rows.append([name, _set(one, one.value, units), _window(one, units)])
    return rows


def _window(one: Setting, units: Units) -> str:
    assert one.value is not None
    words = []
    if one.written is not None:
        as_written = abs(one.value - one.written) < _NO_HOLD
        before = _set(one, one.written, units)
        words.append("as written" if as_written else f"instead of {before}")
    if one.least is not None and one.most is not None:
        least, most = _set(one, one.least, units), _set(one, one.most, units)
        without_guard = one.outcome == "target down"
        if one.kind == "rate":
            words.append(f"{most} or slower" if without_guard else f"from {least} to {most}")
        elif without_guard:
            words.append(f"{least} or more")
        elif one.least < _NO_HOLD:
            words.append(f"anything up to {most}")
        else:
            words.append(f"from {least} to {most}")
    if one.outcome == "guard leans":
        words.append("the guard leans")
    return "; ".join(words)
