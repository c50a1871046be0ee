"""What a change of a plan does to its firing: what was and what is, only where they differ."""

from collections import Counter
from collections.abc import Iterable, Iterator

from attrs import evolve, frozen

from guardcone.checking.plans import CheckedPlan
from guardcone.outlook.records import PlanForecast
from guardcone.reports.forecast import grave, start_of, title_of
from guardcone.reports.forecast_figures import (
    Event,
    asked_first,
    events_of,
    fate_of,
    is_of_lines,
    states_of,
)
from guardcone.reports.forecast_json import FORMAT, as_json, document_of
from guardcone.reports.forecast_words import Units, text_of
from guardcone.reports.page import Page, Style, reminder
from guardcone.values import Duration

__all__ = ["Forecasted", "change_as_json", "change_for_people"]

# The headings, which are the parts of the JSON too.
FIRST, CONES, CLOCK, LINES = (
    "in short",
    "the cones",
    "the firing by the clock",
    "lines that will not go as written",
)
NONE = "none"

Key = tuple[str, str]
Positions = tuple[str, ...] | None


@frozen(repr=False)
class Forecasted:
    """A plan with its forecast, its check, and the studio's own file that filled in the rest."""

    forecast: PlanForecast
    checked: CheckedPlan
    studio: str


@frozen(repr=False)
class Difference:
    """One thing that is otherwise: under which heading, what, what was and what is.

    `was` is "" for what is new, `now` "" for what is gone; `more` says of a moment how far it
    moved, or what of it is otherwise where it did not.
    """

    part: str
    name: str
    was: str
    now: str
    more: str = ""

    @property
    def moment(self) -> str:
        """What stands beside the times of a moment."""
        return f"{self.name} ({self.more})" if self.more else self.name


def change_for_people(new: Forecasted, old: Forecasted, style: Style) -> str:
    """The page of what differs, in the unit of the newer plan, ending with the safety reminder.

    The dangers and losses that stand in the newer plan are above all else.
    """
    page = Page(style)
    page.heading(f"What changes in the firing of {title_of(new.forecast)}")
    page.paragraph(f"was: {old.forecast.source}", 0)
    page.paragraph(f"is: {new.forecast.source}", 0)
    grave(page, new.checked)
    units = Units(new.forecast.unit, dates=False)
    for which, one in _both(new, old):
        unread = [*filter(is_of_lines, one.forecast.gaps)]
        if one.forecast.course and unread:
            page.heading(f"Lines of the {which} plan that can't be read: {one.forecast.source}")
            page.points(map(units.remark, unread))
    if unfired := _unfired(new, old):
        for which, one in unfired:
            page.heading(f"The {which} plan can't be fired: {one.forecast.source}")
            page.points(map(units.remark, one.forecast.gaps))
        page.blank()
        page.paragraph("So the two firings can't be compared.", 0)
    else:
        found = differences(new.forecast, old.forecast)
        for part in dict.fromkeys(one.part for one in found):
            page.heading(part[0].upper() + part[1:])
            told = [one for one in found if one.part == part]
            if part == CLOCK:
                if not _start_alike(new.forecast, old.forecast):
                    page.paragraph(text_of("two starts"))
                rows = [[one.was or NONE, one.now or NONE, one.moment] for one in told]
                page.records(["was", "is", ""], rows)
            else:
                page.table([row for one in told for row in _was_and_is(one)])
        if not found:
            page.blank()
            page.paragraph(text_of("nothing changes"), 0)
    for one in (new, old):
        if one.studio:
            page.blank()
            text = "comes from the studio's own file"
            page.paragraph(f"What {one.forecast.source} leaves unsaid {text} {one.studio}.", 0)
    page.blank()
    page.paragraph(reminder(), 0)
    return page.text()


def _was_and_is(one: Difference) -> Iterator[list[str]]:
    yield [one.name, "was", one.was or NONE]
    yield ["", "is", one.now or NONE]


def change_as_json(new: Forecasted, old: Forecasted) -> str:
    """Both forecasts whole, as `was` and `is`, and what differs in the words of the page.

    Of each of the `differences`: {part, name, was, is, more}, part the heading it stands under; was
    is null for what is new, is for what is gone, more where there is no more to tell. `compared` is
    false where one of the two has no firing.
    """
    unfired = _unfired(new, old)
    found = [] if unfired else differences(new.forecast, old.forecast)
    return as_json(
        {
            "format": FORMAT,
            "program": "guardcone",
            "compared": not unfired,
            "differences": [
                {
                    "part": one.part,
                    "name": one.name,
                    "was": one.was or None,
                    "is": one.now or None,
                    "more": one.more or None,
                }
                for one in found
            ],
            "was": document_of(old.forecast, old.studio, old.checked),
            "is": document_of(new.forecast, new.studio, new.checked),
        }
    )


def _both(new: Forecasted, old: Forecasted) -> tuple[tuple[str, Forecasted], ...]:
    return ("newer", new), ("older", old)


def _unfired(new: Forecasted, old: Forecasted) -> list[tuple[str, Forecasted]]:
    return [(which, one) for which, one in _both(new, old) if one.forecast.course is None]


def differences(new: PlanForecast, old: PlanForecast) -> list[Difference]:
    """All that is otherwise in the newer of two firings, in the order of the page of one."""
    units = Units(new.unit, dates=False)
    was, now = (_first(one, units) for one in (old, new))
    # By two clocks everything would be another moment.
    counted = evolve(units, from_start=not _start_alike(new, old))
    return [
        *_texts(FIRST, was, now),
        *_problems(new, old, units),
        *_cones(new, old),
        *_moments(new, old, counted),
    ]


def _start_alike(new: PlanForecast, old: PlanForecast) -> bool:
    """True if both start at the same time of day, or neither says when."""
    times = [one.starts.time() if one.starts else None for one in (new, old)]
    return times[0] == times[1]


def _first(forecast: PlanForecast, units: Units) -> dict[Key, str]:
    """What is asked first, behind the start and the peak as they are written."""
    course = forecast.course
    assert course is not None
    until = "not reached" if course.strained_from else f"until {units.when(course.peak_ends)}"
    peak = f"{units.temperature(course.peak)} {until}"
    told = {("Start", ""): start_of(forecast), ("Peak", ""): peak}
    return told | asked_first(forecast, units)


def _texts(part: str, was: dict[Key, str], now: dict[Key, str]) -> Iterator[Difference]:
    """What stands under the same name and reads otherwise."""
    for key in _in_order(now, was):
        before, after = was.get(key, ""), now.get(key, "")
        if before != after:
            yield Difference(part, ", ".join(filter(None, key)), before, after)


def _in_order(
    now: Iterable[tuple[str, str]], was: Iterable[tuple[str, str]]
) -> list[tuple[str, str]]:
    return [*dict.fromkeys((*now, *was))]


def _problems(new: PlanForecast, old: PlanForecast, units: Units) -> Iterator[Difference]:
    """Lines that will not go as written, by their words: their numbers may have moved."""
    was, now = (
        Counter(units.sentence(one.name, one.slots) for one in of.problems) for of in (old, new)
    )
    for text in (now - was).elements():
        yield Difference(LINES, "new", "", text)
    for text in (was - now).elements():
        yield Difference(LINES, "gone", text, "")


def _cones(new: PlanForecast, old: PlanForecast) -> Iterator[Difference]:
    """Each cone of each set in what it does otherwise; sets where it moves alike are one."""
    was, now = _states(old), _states(new)
    places: dict[tuple[str, Positions, Positions], list[str]] = {}
    of_cone: dict[str, set[str]] = {}
    for name, place in _in_order(now, was):
        of_cone.setdefault(name, set()).add(place)
        positions = (_positions(was.get((name, place))), _positions(now.get((name, place))))
        places.setdefault((name, *positions), []).append(place)
    for (name, *_), found in places.items():
        before, after = (_together(states, name, found) for states in (was, now))
        if before != after:
            where = ", ".join(filter(None, found))
            everywhere = len(found) == len(of_cone[name])
            named = name if everywhere or not where else f"{name} on {where}"
            yield Difference(CONES, named, _state_words(before, after), _state_words(after, before))


def _positions(states: tuple[str, ...] | None) -> Positions:
    return states and states[:-1]


def _together(
    states: dict[Key, tuple[str, ...]], name: str, places: list[str]
) -> tuple[str, ...] | None:
    """A cone in sets where it stands alike, with what it is likely to do in each of them."""
    found = [(place, states[name, place]) for place in places if (name, place) in states]
    if not found:
        return None
    fates = ((place or "the kiln", own[-1]) for place, own in found)
    return (*found[0][1][:-1], fate_of(fates))


def _states(forecast: PlanForecast) -> dict[Key, tuple[str, ...]]:
    found: dict[Key, tuple[str, ...]] = {}
    seen: Counter[str] = Counter()
    for shelf in forecast.shelves:
        place = f'"{shelf.place}"' if shelf.place else ""
        seen[place] += 1
        # Two sets may have one name, or none.
        if seen[place] > 1:
            place = f"{place or 'set'} {seen[place]}"
        found |= {(f"{one.role}, {one.cone}", place): states_of(one) for one in shelf.cones}
    return found


def _state_words(states: tuple[str, ...] | None, other: tuple[str, ...] | None) -> str:
    """A cone in what the other plan has otherwise; "" where there is none."""
    if states is None:
        return ""
    found = [
        f"{state} {when}".strip()
        for state, when, against in zip(states, _WHEN, other or ("",) * len(states), strict=True)
        if state != against
    ]
    return ", ".join(found)


_WHEN = ("as the peak ends", "at the last", "")


def _moments(new: PlanForecast, old: PlanForecast, units: Units) -> Iterator[Difference]:
    """Each moment that has moved, come or gone, or of which more is told otherwise; in order."""
    was, now = (_numbered(events_of(one, units)) for one in (old, new))
    every = sorted((was | now).items(), key=lambda one: one[1].moment.hour)
    for key, event in every:
        before, after = was.get(key), now.get(key)
        was_at, is_at = (units.when(one.moment) if one else "" for one in (before, after))
        more = ""
        if before and after:
            more = _apart(units.minutes(after.moment) - units.minutes(before.moment))
            if not more and (after.loose or before.more == after.more):
                continue
            more = more or f"{after.more or NONE}, before {before.more or NONE}"
        yield Difference(CLOCK, event.name, was_at, is_at, more)


def _numbered(events: list[Event]) -> dict[tuple[str, int], Event]:
    """Each by its name, and the how many-th of that name it is."""
    seen: Counter[str] = Counter()
    found = {}
    for event in events:
        seen[event.name] += 1
        found[event.name, seen[event.name]] = event
    return found


def _apart(minutes: int) -> str:
    """`12 min later`."""
    if not minutes:
        return ""
    return f"{Duration.of(abs(minutes), 'min')} {'later' if minutes > 0 else 'earlier'}"
