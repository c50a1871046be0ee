"""What a forecast can't answer, assumes, or met on its way."""

from collections.abc import Iterable, Iterator
from math import inf, isfinite

from guardcone.firing.cones import Law, chart_cells, is_recalled
from guardcone.firing.curve import Problem
from guardcone.firing.tables import bending_figure, usual
from guardcone.firing.uncertainty import (
    CHART_FASTEST,
    CHART_SLOWEST,
    rate_folds,
    thermocouple_tolerance,
)
from guardcone.language.source import TextFault
from guardcone.outlook.planned import PlannedFiring, is_damp, too_cool_for_cones
from guardcone.outlook.reach import limit_of, limit_rate, strains_of
from guardcone.outlook.records import ConeOutlook, Remark, ShelfOutlook, Slot
from guardcone.plan.measures import measures_of
from guardcone.plan.plan import Plan
from guardcone.values import (
    Angle,
    Cone,
    Duration,
    Quantity,
    Rate,
    Temperature,
    TemperatureDifference,
)

__all__ = ["assumptions_of", "gaps_of", "problems_of"]

# What the two numbers of a problem are; any other kind has temperatures.
_RATES = ("faster than full power", "faster than free cooling", "rate not positive")
_HOURS = ("duration not positive", "longer than a year")


def gaps_of(firing: PlannedFiring, shelves: tuple[ShelfOutlook, ...]) -> Iterator[Remark]:
    """What the plan does not say, or not readably, so that there is no answer to it."""
    plan = firing.plan
    schedule = plan.schedule
    faults = _schedule_faults(plan)
    if schedule is None:
        yield _remark("no schedule")
    else:
        for fault in faults:
            yield _remark("line unread", fault.span.line, found=fault.found)
        if "segments" in schedule.unreadable:
            yield _remark("schedule unread", schedule.heading.line)
        elif not schedule.segments:
            yield _remark("schedule empty", schedule.heading.line)
        elif not firing.firable:
            yield _remark("schedule stands still", schedule.heading.line)
        elif faults:
            yield _remark("forecast without those lines")
    if not too_cool_for_cones(firing):
        yield from _target_gaps(firing)
    if not plan.witness_sets and not too_cool_for_cones(firing):
        yield _remark("no witness set")
    for shelf in shelves:
        if not shelf.cones:
            yield _remark("witness set without cones", place=shelf.place or "kiln")
    for outlook in _distinct(shelves):
        if outlook.law is None:
            yield _no_law(outlook)
    if firing.firable and firing.starts is None:
        yield _remark("no start")
    for ware in plan.load.wares if plan.load else ():
        if firing.firable and is_damp(ware) and ware.wall is None:
            yield _remark("damp ware without wall", ware.span.line, ware=ware.name.value)


def _target_gaps(firing: PlannedFiring) -> Iterator[Remark]:
    plan = firing.plan
    target = plan.target
    if target is None:
        if not any(witness.target for witness in plan.witness_sets):
            yield _remark("target unread" if "target" in plan.unreadable else "no target")
    elif target.temperature and firing.firable:
        wanted = target.temperature.value
        over = firing.peak - wanted.celsius
        how = "passed" if over > 0.0 else "missed"
        if abs(over) < usual("target_met_within"):
            how = "met"
        slots = {"peak": _temperature(firing.peak), "apart": _difference(abs(over))}
        yield _remark(f"target temperature {how}", target.span.line, target=wanted, **slots)


def _schedule_faults(plan: Plan) -> list[TextFault]:
    """The faults of the text that lie in the schedule's lines."""
    if plan.schedule is None or not plan.faults:
        return []
    first = plan.schedule.heading.line
    headings = (*measures_of(plan).headings, *(accept.span.line for accept in plan.accepts))
    last = min((line for line in headings if line > first), default=inf)
    return [fault for fault in plan.faults if first < fault.span.line < last]


def _distinct(shelves: Iterable[ShelfOutlook]) -> list[ConeOutlook]:
    """One outlook for each cone of all the sets."""
    return list({outlook.cone: outlook for shelf in shelves for outlook in shelf.cones}.values())


def _no_law(outlook: ConeOutlook) -> Remark:
    """No forecast of a cone; where a table has a temperature for it, that is told."""
    cone = outlook.cone
    own = (cone.series.table, str(cone.number))
    published = [cell for cell in chart_cells() if (cell.series, cell.cone) == own]
    if not published:
        return _remark("no law", outlook.line, cone=cone)
    low, high = (_temperature(of(cell.celsius for cell in published)) for of in (min, max))
    some = "a temperature" if low < high else "one temperature"
    slots: dict[str, Slot] = {"low": low, "high": high, "source": published[0].source}
    return _remark(f"no law but {some}", outlook.line, cone=cone, **slots)


def problems_of(firing: PlannedFiring) -> Iterator[Remark]:
    """Lines of the schedule that make no sense or that the kiln can't do, in its order."""
    for problem in firing.curve.problems:
        line, kind, numbers = _line(firing, problem.leg), problem.kind, _numbers(problem)
        to, reach = firing.legs[problem.leg].to, firing.kiln.full_power_reach
        if problem in strains_of(firing) and to is not None:
            kind = "out of the kiln's power"
            numbers = {"asked": _temperature(to), "possible": _temperature(reach)}
        yield _remark(f"problem: {_told_of(firing, kind, problem.at)}", line, **numbers)
    for segment in firing.segments:
        here = firing.segment_start(segment)
        if segment.kind == "hold" and segment.to:
            named = segment.to.value
            if abs(named.celsius - here) > usual("hold_elsewhere"):
                line = segment.span.line
                yield _remark("problem: hold elsewhere", line, asked=named, at=_temperature(here))
    limit = limit_of(firing)
    kiln = firing.plan.kiln
    if limit is not None and firing.peak > limit and kiln and kiln.rated_cone:
        yield _remark(
            "problem: hotter than the kiln's cone",
            kiln.rated_cone.span.line,
            cone=kiln.rated_cone.value,
            asked=_temperature(firing.peak),
            possible=_temperature(limit),
            rate=Rate.of(limit_rate(firing), "C/h"),
        )


def _told_of(firing: PlannedFiring, kind: str, at: float | None) -> str:
    """The kind of such a problem: whether cones tell, and what the estimate rests on."""
    if kind == "faster than free cooling":
        goes = firing.as_it_goes
        if goes is firing:
            return "faster than free cooling before the peak"
        hot = at is None or at > usual("cones_work_above")
        alike = goes.equivalent.text == firing.equivalent.text
        return kind if alike and not hot else "faster than free cooling with cones"
    return kind if firing.kiln.own_power else _BY_WHAT_IS_USUAL.get(kind, kind)


_BY_WHAT_IS_USUAL = {
    "faster than full power": "faster than full power by what is usual",
    "out of the kiln's power": "out of the kiln's power by what is usual",
}


def _line(firing: PlannedFiring, leg: int) -> int | None:
    segment = firing.segment_of_leg(leg)
    if segment is not None:
        return segment.span.line
    schedule = firing.plan.schedule
    return schedule.opens.span.line if schedule and schedule.opens else None


def _numbers(problem: Problem) -> dict[str, Slot]:
    """The numbers of a problem as what they are."""

    def told(number: float | None) -> Slot:
        if number is None or not isfinite(number):
            return "nothing" if number is None else "a number out of reason"
        if problem.kind in _RATES:
            return Rate.of(number, "C/h")
        if problem.kind in _HOURS:
            return Duration.of(number, "h")
        return number if problem.kind == "number out of reason" else _temperature(number)

    at = "the start of the line" if problem.at is None else _temperature(problem.at)
    return {"asked": told(problem.asked), "possible": told(problem.possible), "at": at}


def assumptions_of(firing: PlannedFiring, shelves: tuple[ShelfOutlook, ...]) -> Iterator[Remark]:
    """What the forecast takes for granted, most weighty first."""
    plan = firing.plan
    outlooks = _distinct(shelves)
    unsaid = [w for w in plan.witness_sets if w.series_written is None] or not plan.witness_sets
    if outlooks and unsaid:
        yield _remark("assumed: large cones")
    for outlook in outlooks:
        law = outlook.law
        if law and law.borrowed:
            yield _remark("assumed: law borrowed", outlook.line, **_borrowed(outlook.cone, law))
    if any(o.law and o.law.kinetics.series.startswith("small") for o in outlooks):
        yield _remark("assumed: small cones", rate=Rate.of(usual("small_cones_rate"), "C/h"))
    if any(o.forecast for o in outlooks):
        lean = Angle.of(bending_figure("lean"), "degrees")
        yield _remark("assumed: cones well set", lean=lean)
        yield from _spread_and_thermocouple(firing)
        yield from _rate_outside(outlooks)
    recalled = [o.cone for o in outlooks if o.forecast and is_recalled(o.forecast.kinetics)]
    if recalled:
        yield _remark("assumed: figures from memory", cones=", ".join(map(str, recalled)))
    yield _remark("assumed: followed")
    schedule = plan.schedule
    if schedule is not None and schedule.begins is None:
        name = "assumed: begins unread" if "begins" in schedule.unreadable else "assumed: begins"
        yield _remark(name, room=_temperature(firing.curve.start))
    if any(s.pace and s.pace.value == "crash" for s in firing.segments):
        yield _remark("assumed: crash")
    unended = [s for s in firing.segments if s.kind == "cool" and s.to is None]
    if unended and schedule and schedule.opens is None:
        where = _temperature(usual("safe_opening_temperature"))
        yield _remark("assumed: cool to", unended[0].span.line, where=where)
    if not (plan.kiln and plan.kiln.altitude):
        yield _remark("assumed: sea level", boiling=_temperature(firing.boiling))


def _borrowed(cone: Cone, law: Law) -> dict[str, Slot]:
    words = {"ss": "self-supporting", "large": "large", "small": "small"}
    form, kind = law.kinetics.series.split("_")
    series = words[form] if kind == "regular" else f"iron-free {words[form]}"
    lettered = cone.number != cone.number.without_letter
    return {
        "cone": cone,
        "series": str(cone.series),
        "law": f"{series} cone {law.kinetics.cone}",
        "letter": "letters belong to other makers; name the maker if it is one of theirs"
        if lettered
        else "the chart does not publish that one",
    }


def _spread_and_thermocouple(firing: PlannedFiring) -> Iterator[Remark]:
    measuring = firing.measuring
    kind = measuring.thermocouple
    known = thermocouple_tolerance(kind, firing.peak, measuring.grade) if kind else None
    if known is None:
        known = thermocouple_tolerance("K", firing.peak)
        yield _remark("assumed: thermocouple", width=_difference(known.celsius if known else 0.0))
    if known is not None and not known.defined:
        peak = _temperature(firing.peak)
        yield _remark("assumed: thermocouple beyond", kind=kind or "K", peak=peak)
    if measuring.top_to_bottom is None:
        yield _remark("assumed: spread", spread=_difference(firing.spread))
    elif firing.plan.kiln and firing.plan.kiln.spread_cones:
        yield _remark("assumed: cones to degrees", spread=_difference(firing.spread))


def _rate_outside(outlooks: Iterable[ConeOutlook]) -> Iterator[Remark]:
    for outlook in outlooks:
        rate = outlook.forecast.effective_rate if outlook.forecast else None
        if outlook.role == "target" and rate is not None and rate_folds(rate) > 0.0:
            if isfinite(rate):
                yield _remark(
                    "assumed: outside the chart",
                    cone=outlook.cone,
                    rate=Rate.of(rate, "C/h"),
                    slow=Rate.of(CHART_SLOWEST, "C/h"),
                    fast=Rate.of(CHART_FASTEST, "C/h"),
                )
            return


def _temperature(celsius: float) -> Temperature:
    return Temperature.of(celsius, "C")


def _difference(celsius: float) -> Quantity:
    return TemperatureDifference.of(celsius, "C")


def _remark(name: str, line: int | None = None, **slots: Slot) -> Remark:
    return Remark(name, line, slots)
