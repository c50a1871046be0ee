"""What is told of a firing, piece by piece: what is asked first, the cones, the clock.

The page of one forecast and the comparison of two draw from these, so that both say the same.
"""

from collections.abc import Iterable, Iterator

from attrs import frozen

from guardcone.checking.plans import CheckedPlan
from guardcone.checking.run import Finding
from guardcone.firing.cone_forecast import ConeForecast
from guardcone.firing.tables import usual
from guardcone.firing.uncertainty import LIKELIHOODS, likelihood
from guardcone.outlook.records import (
    Advice,
    BandCrossing,
    ConeOutlook,
    Course,
    Moment,
    PlanForecast,
    ReductionOutlook,
    Remark,
    SegmentOutlook,
    ShelfOutlook,
)
from guardcone.plan.plan import Accept
from guardcone.reports.forecast_setting import NO_HOLD, as_written, to_set
from guardcone.reports.forecast_words import Units, text_of
from guardcone.rulebook.rule import Consequence

__all__ = [
    "STATES",
    "Event",
    "asked_first",
    "band_span",
    "events_of",
    "fate_of",
    "grave_of",
    "is_of_lines",
    "is_of_target",
    "states_of",
]


def grave_of(checked: CheckedPlan) -> list[tuple[Finding, Accept | None]]:
    """The dangers and losses of a plan, the worst first, each with what accepts it, if anything."""
    accepted = {id(one.finding): one.by for one in checked.accepted}
    found = [*checked.findings, *(one.finding for one in checked.accepted)]
    each = {id(one): one for one in found if one.consequence.at_least(Consequence.LOSS)}
    worst_first = sorted(each.values(), key=lambda one: one.consequence.rank)
    return [(one, accepted.get(id(one))) for one in worst_first]


# -- what is asked first ------------------------------------------------------------------------


def asked_first(forecast: PlanForecast, units: Units) -> dict[tuple[str, str], str]:
    """When to be at the spy hole, what to set, how target and guard fare, when it can be opened.

    Under the question and, of several targets, whose answer it is.
    """
    course = forecast.course
    assert course is not None
    told = {("Spy hole", ""): _spy_hole(forecast, course, units)}
    of_targets = [*zip(_whose(forecast.advice), forecast.advice, strict=True)]
    spread = forecast.spread
    told |= {("Set", whose): to_set(one, units, spread) for whose, one in of_targets}
    if not of_targets:
        told["Set", ""] = f"a peak of {units.temperature(course.peak)}, as written."
        if course.strained_from:
            told["Set", ""] = text_of("set: beyond the power")
    told |= {("Target", whose): as_written(one) for whose, one in of_targets}
    for gap in filter(is_of_target, forecast.gaps):
        temperature = units.sentence(gap.name, gap.slots)
        told["Target", ""] = f"{temperature} {told.get(('Target', ''), '')}".rstrip()
    told["Open", ""] = _open(course, units)
    return told


def _whose(advice: tuple[Advice, ...]) -> list[str]:
    """The places of each target; where those do not tell two of them apart, its cones too."""
    if len(advice) < 2:
        return [""] * len(advice)
    names = [", ".join(one.places) for one in advice]
    if all(names) and len(set(names)) == len(names):
        return names
    cones = [f"{one.target}, guard {one.guard}" if one.guard else f"{one.target}" for one in advice]
    return [f"{name}, {own}" if name else own for name, own in zip(names, cones, strict=True)]


def is_of_lines(remark: Remark) -> bool:
    """True for what is told of lines that can't be read, without which all else is computed."""
    return remark.name in ("line unread", "forecast without those lines")


def is_of_target(remark: Remark) -> bool:
    """True for what is told of a target that is a temperature."""
    return remark.name.startswith("target temperature ")


def _spy_hole(forecast: PlanForecast, course: Course, units: Units) -> str:
    if hole := forecast.spy_hole:
        since = "" if hole.begins.clock else " after the start"
        return f"be there from {units.span(hole.begins, hole.ends)}{since}"
    if course.strained_from:
        return text_of("spy hole: beyond the power")
    if forecast.too_cool:
        return text_of("spy hole: too cool")
    known = any(shelf.in_the_plan and _known(shelf) for shelf in forecast.shelves)
    why = "no guide or target comes near bending" if known else "there are no cones to watch"
    if forecast.raku:
        return f"{why}; {text_of('spy hole: raku')}"
    return f"{why}; be at the kiln as the peak ends, {units.when(course.peak_ends)}"


def _known(shelf: ShelfOutlook) -> bool:
    return any(outlook.forecast for outlook in shelf.cones)


def _by(moment: Moment, units: Units) -> str:
    return f"{'by' if moment.clock else 'after'} {units.when(moment)}"


def _open(course: Course, units: Units) -> str:
    down = units.temperature(course.cool_enough_at)
    if course.strained_from:
        wanted = course.cool_enough_at if course.opening_at is None else course.opening_at
        return text_of("open: beyond the power").format(wanted=units.temperature(wanted))
    if course.opening is not None and course.opening_at is not None:
        opened = units.temperature(course.opening_at)
        if course.opening_at > usual("drawn_hot"):
            return f"the plan opens it at {opened}, {units.when(course.opening)}."
        if course.opening_at > course.cool_enough_at + usual("opening_much_hotter"):
            left = f"left shut, it is down to {down} {_by(course.cool_enough, units)}"
            return f"the plan opens it at {opened}, {units.when(course.opening)}; {left}."
        return (
            f"not before {units.when(course.opening)}, and only when the instrument shows {opened}."
        )
    if course.peak <= course.cool_enough_at:
        peak, end = units.temperature(course.peak), units.when(course.schedule_ends)
        return f"not before the schedule ends, {end}; it gets no hotter than {peak}."
    when = units.when(course.cool_enough)
    return (
        f"not before {when}, and only when the instrument shows {down}; the plan does not say when."
    )


# -- the cones ----------------------------------------------------------------------------------


STATES = ("peak ends", "at the last", "it is")


def states_of(outlook: ConeOutlook) -> tuple[str, str, str]:
    """A cone as the peak ends, at the last, and what it is likely to do."""
    if outlook.forecast is None:
        return "no forecast", "", ""
    return outlook.position_at_peak_end, outlook.position, outlook.forecast.verdict


def fate_of(fates: Iterable[tuple[str, str]]) -> str:
    """What a cone is likely to do in several places; only what is otherwise there names its own."""
    where: dict[str, list[str]] = {}
    for place, fate in fates:
        where.setdefault(fate, []).append(place)
    first, *others = where
    return "; ".join([first, *(f"{', '.join(where[other])} {other}" for other in others)])


# -- the clock ----------------------------------------------------------------------------------


@frozen(repr=False)
class Event:
    """A moment that somebody waits for: what it is, and more about it.

    Two firings differ in what is told `more` of a moment that has not moved, unless it is `loose`,
    a range that moves with everything.
    """

    moment: Moment
    name: str
    more: str = ""
    loose: bool = False

    @property
    def text(self) -> str:
        """What stands beside the time."""
        return f"{self.name} ({self.more})" if self.more else self.name


def events_of(forecast: PlanForecast, units: Units) -> list[Event]:
    """Every moment of a firing in order of time, wherever it comes from."""
    course = forecast.course
    assert course is not None
    found = [
        *_course_events(course, units),
        *(Event(one.begins, _segment(one, units)) for one in forecast.segments),
        *(_reduction(one, units) for one in forecast.reductions),
        *(_band(crossing, units) for crossing in forecast.bands),
        *_cone_events(forecast, course, units),
    ]
    if ends := course.strained_from:
        found = [one for one in found if one.moment.hour < ends.hour]
        found.append(Event(ends, text_of("clock: beyond the power")))
    found += _watch_events(forecast, units)
    return sorted(found, key=lambda event: event.moment.hour)


def _course_events(course: Course, units: Units) -> Iterator[Event]:
    yield Event(course.start, "start", units.temperature(course.begins))
    peak = units.temperature(course.peak)
    if course.peak_ends.hour - course.peak_reached.hour > NO_HOLD:
        yield Event(course.peak_reached, "the peak is reached", peak)
    yield Event(course.peak_ends, "the peak ends and cooling begins", peak)
    if course.power_needed_until.hour > course.peak_ends.hour + NO_HOLD:
        text = "no more power is needed; from here on the kiln cools by itself"
        yield Event(course.power_needed_until, text)
    down = units.temperature(course.cool_enough_at)
    if course.opening is not None and course.opening_at is not None:
        opened = units.temperature(course.opening_at)
        yield Event(course.opening, "opened", f"when the instrument shows {opened}")
        much_hotter = course.cool_enough_at + usual("opening_much_hotter")
        if much_hotter < course.opening_at <= usual("drawn_hot"):
            yield Event(course.cool_enough, f"left shut, it would be down to {down}")
        return
    if course.peak > course.cool_enough_at:
        yield Event(course.cool_enough, f"down to {down}, where a kiln is commonly opened")
    if course.schedule_ends.hour < course.cool_enough.hour - NO_HOLD:
        at = units.temperature(course.schedule_ends_at)
        yield Event(course.schedule_ends, "the schedule ends; from here the kiln cools freely", at)


def _segment(segment: SegmentOutlook, units: Units) -> str:
    end = units.temperature(segment.ends_at)
    hours = units.duration(segment.ends.hour - segment.begins.hour)
    if segment.kind == "hold":
        return f"hold {hours} at {end}"
    if segment.rate is not None:
        return f"{segment.kind} {units.rate(segment.rate, exact=True)} to {end}"
    pace = {"full-power": "at full power", "crash": "fast", "freely": "freely"}
    return f"{segment.kind} {pace.get(segment.pace, f'in {hours}')} to {end}"


def _reduction(one: ReductionOutlook, units: Units) -> Event:
    more = "" if one.ends_at is None else f"to {units.temperature(one.ends_at)}"
    if one.ends:
        more += f", reached {units.when(one.ends)}"
    return Event(one.begins, f"reduce from here, {units.temperature(one.begins_at)}", more)


def band_span(crossing: BandCrossing, units: Units) -> str:
    """`100 to 120`, `573`, `over 1100`."""
    span = units.bare(crossing.low)
    if crossing.high is None:
        return f"over {span}"
    return f"{span} to {units.bare(crossing.high)}" if crossing.high > crossing.low else span


def _band(crossing: BandCrossing, units: Units) -> Event:
    way = {"up": ", going up", "down": ", coming down"}.get(crossing.way, "")
    name = f"{crossing.band}, {band_span(crossing, units)} {units.degree}{way}"
    told = [units.duration(crossing.time)] if crossing.time > 0.0 else []
    if crossing.mean_rate is not None:
        told.append(f"at {units.rate(crossing.mean_rate)}")
    return Event(crossing.enters, name, " ".join(told))


def _watch_events(forecast: PlanForecast, units: Units) -> Iterator[Event]:
    for watch in forecast.watches:
        who = f'"{watch.who}"' if watch.who else "somebody"
        yield Event(
            watch.begins,
            f"{who} is to be at the kiln from here",
            "" if watch.ends else "to the end",
        )
        if watch.ends:
            yield Event(watch.ends, f"the watch of {who} ends")
    if hole := forecast.spy_hole:
        to = f"to {units.when(hole.ends)}"
        yield Event(hole.begins, "be at the spy hole", to, loose=True)


def _cone_events(forecast: PlanForecast, course: Course, units: Units) -> Iterator[Event]:
    """When each cone starts and is down; the same cone in several sets is told once."""
    told: dict[tuple[str, object], list[tuple[ConeForecast, ConeOutlook, str]]] = {}
    for shelf in forecast.shelves:
        for outlook in shelf.cones:
            if found := outlook.forecast:
                places = told.setdefault((outlook.role, outlook.cone), [])
                places.append((found, outlook, shelf.place or "the kiln"))
    sets = sum(map(_known, forecast.shelves))
    for places in told.values():
        # The times of the set that is most in doubt hold for each.
        found, outlook, _ = max(places, key=lambda one: one[0].spread.celsius)
        named = ", ".join(place for _, _, place in places)
        where = "" if len(places) == sets else f" ({named})"
        name = f"{outlook.role}, {outlook.cone}{where}"
        down, early, _ = outlook.down
        more = _bend(outlook.bends, likelihood(found.chance_moved), course.peak_ends, units)
        if down is None and early and _worth_a_word(found.chance_down):
            # It is down after it bends, whatever the earliest of the one and the other.
            more += f"; could be down from {units.clock(early)[1]}, {likelihood(found.chance_down)}"
        bends = outlook.bends[0] or (
            outlook.bends[1] if _worth_a_word(found.chance_moved) else None
        )
        if bends:
            yield Event(bends, f"{name}, begins to bend", more, loose=True)
        if down:
            more = _bend(outlook.down, likelihood(found.chance_down), course.peak_ends, units)
            yield Event(down, f"{name}, is down", more, loose=True)


def _worth_a_word(chance: float) -> bool:
    """Nobody waits for what hardly ever happens."""
    return chance >= LIKELIHOODS[-2][0]


def _bend(times: tuple[Moment | None, ...], likely: str, peak_ends: Moment, units: Units) -> str:
    """Within which times, and how likely where it may not happen at all."""
    expected, early, late = times
    if expected is None:
        return f"at the earliest, if at all; {likely}"
    since = units.clock(early)[1] if early else "the start"
    within = f"{since} to {units.clock(late)[1]}" if late else f"from {since}; {likely}"
    return f"as it cools, {within}" if expected.hour > peak_ends.hour else within
