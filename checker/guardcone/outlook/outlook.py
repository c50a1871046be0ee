"""A whole plan is fired and all that people ask is answered."""

from collections.abc import Iterator
from math import isfinite
from operator import attrgetter

from attrs import evolve

from guardcone.firing.cone_forecast import (
    clock_position,
    progress_of,
    range_factors,
    start_work,
)
from guardcone.firing.cones import law_of
from guardcone.firing.heatwork import ZERO_CELSIUS
from guardcone.firing.tables import bands, usual
from guardcone.firing.uncertainty import Shelf
from guardcone.firing.ware import core_lag, lag_hours
from guardcone.outlook.advice import advise, compare_soak, shifted_clock
from guardcone.outlook.planned import (
    PlannedFiring,
    diffusivity_of,
    drying_needed,
    fire,
    too_cool_for_cones,
)
from guardcone.outlook.reach import strained_from
from guardcone.outlook.records import (
    Advice,
    BandCrossing,
    ConeOutlook,
    Course,
    DryingOutlook,
    LagOutlook,
    Moment,
    PlanForecast,
    ReductionOutlook,
    Scale,
    SegmentOutlook,
    ShelfOutlook,
    SpyHole,
    WatchOutlook,
)
from guardcone.outlook.remarks import assumptions_of, gaps_of, problems_of
from guardcone.outlook.shifts import watching_of
from guardcone.outlook.written import all_refired, has_lustre, shelf_of
from guardcone.plan.load import Ware
from guardcone.plan.measures import measures_of
from guardcone.plan.plan import Plan, plan_target, target_of_plan, target_of_set
from guardcone.plan.witness import WitnessSet
from guardcone.span import Written
from guardcone.values import Cone, Length

__all__ = ["forecast_of"]


def forecast_of(
    plan: Plan, firing: PlannedFiring | None = None, unit: Scale | None = None
) -> PlanForecast:
    """The forecast of a plan; never raises, and says in `gaps` what it can't answer.

    `firing` is that of the plan, where it is known already; `unit` takes the place of its own.
    """
    firing = firing or fire(plan)
    said = plan.target.temperature if plan.target else None
    shelves = tuple(_shelves(firing))
    target = target_of_plan(plan)
    own = measures_of(plan).scale(plan.schedule.heading if plan.schedule else None)
    unit = unit or own
    forecast = PlanForecast(
        source=plan.source.name,
        name=plan.name.value if plan.name else None,
        kiln=plan.kiln.name.value if plan.kiln and plan.kiln.name else None,
        starts=firing.starts,
        dated=plan.starts_on is not None,
        electric=bool(plan.kiln and plan.kiln.fuel and plan.kiln.fuel.value == "electric"),
        raku=bool(plan.firing and plan.firing.value == "raku"),
        too_cool=too_cool_for_cones(firing),
        unit=unit,
        target=target,
        target_temperature=said.value.celsius if said else None,
        gaps=tuple(gaps_of(firing, shelves)),
        shelves=shelves,
        spread=firing.spread,
        spread_given=firing.measuring.top_to_bottom is not None,
        boiling=firing.boiling,
    )
    if not firing.firable:
        return forecast
    goes = firing.as_it_goes
    course, told_nothing = _course(goes), strained_from(firing) is not None
    return evolve(
        forecast,
        course=course,
        spy_hole=_spy_hole(shelves, course),
        segments=tuple(_segments(goes)),
        reductions=tuple(_reductions(goes)),
        watches=tuple(_watches(firing)),
        equivalent=None if told_nothing else firing.equivalent,
        bands=tuple(_bands(goes)),
        lags=tuple(_lags(goes)),
        drying=tuple(_drying(firing)),
        advice=tuple(_advice(firing, unit)),
        soak=compare_soak(firing, target) if target and not told_nothing else None,
        problems=tuple(problems_of(firing)),
        assumptions=tuple(assumptions_of(firing, shelves)),
    )


def _moment(firing: PlannedFiring, hour: float) -> Moment:
    clock = firing.clock(hour)
    day = (clock.date() - firing.starts.date()).days + 1 if clock and firing.starts else None
    return Moment(hour, clock, day, firing.plan.starts_on is not None)


def _course(firing: PlannedFiring) -> Course:
    curve = firing.curve
    reached, ends = curve.peak_hours
    late, strained = firing.lagging, strained_from(firing)
    opening = late.opening
    usually = usual("safe_opening_temperature")
    wanted = min(usually, opening.celsius) if opening else usually
    return Course(
        begins=curve.start,
        start=_moment(firing, 0.0),
        peak=curve.peak,
        peak_reached=_moment(firing, reached),
        peak_ends=_moment(firing, ends),
        heating=ends,
        power_needed_until=_moment(firing, firing.powered_hours),
        last_stretch_rate=firing.last_rate,
        opening=_moment(firing, opening.hour) if opening else None,
        opening_at=opening.celsius if opening else None,
        cool_enough=_moment(firing, late.safe_opening_hour(wanted)),
        cool_enough_at=wanted,
        schedule_ends=_moment(firing, late.end_hour),
        schedule_ends_at=late.end,
        energy=curve.energy,
        basis=firing.kiln.basis,
        strained_from=None if strained is None else _moment(firing, strained),
    )


def _spy_hole(shelves: tuple[ShelfOutlook, ...], course: Course) -> SpyHole | None:
    """None where no guide or target can be seen to move."""
    hour = attrgetter("hour")
    watched = [
        outlook
        for shelf in shelves
        for outlook in shelf.cones
        if shelf.in_the_plan and outlook.role in ("guide", "target")
    ]
    bending = [outlook.bends[1] for outlook in watched if outlook.bends[1]]
    if not bending:
        return None
    # What does not go down may still begin to bend as the kiln cools.
    moments = [one for outlook in watched for one in (outlook.bends[0], *outlook.down[::2])]
    begins = min(bending, key=hour)
    return SpyHole(begins, max([begins, course.peak_ends, *filter(None, moments)], key=hour))


def _segments(firing: PlannedFiring) -> Iterator[SegmentOutlook]:
    """Those that take any time."""
    for segment in firing.segments:
        if hours := firing.segment_hours(segment):
            begins, ends = hours
            yield SegmentOutlook(
                line=segment.span.line,
                kind=segment.kind,
                pace=segment.pace.value if segment.pace else segment.kind,
                begins=_moment(firing, begins),
                ends=_moment(firing, ends),
                begins_at=firing.segment_start(segment),
                ends_at=firing.segment_end(segment),
                rate=segment.rate.value.celsius_per_hour if segment.rate else None,
            )


def _reductions(firing: PlannedFiring) -> Iterator[ReductionOutlook]:
    """Each where the kiln comes to it: on the way up, but for one that ends cooler."""
    for one in firing.plan.schedule.reductions if firing.plan.schedule else ():
        first, last = one.start.value.celsius, one.end.value.celsius if one.end else None
        down = last is not None and last < first
        starts = [at.hour for at in firing.curve.crossings(first) if (at.rate < 0.0) == down]
        if starts:
            crossings = () if last is None else firing.curve.crossings(last)
            then = [at.hour for at in crossings if at.hour > starts[0]]
            yield ReductionOutlook(
                line=one.span.line,
                begins=_moment(firing, starts[0]),
                begins_at=first,
                ends=_moment(firing, then[0]) if then else None,
                ends_at=last,
            )


def _watches(firing: PlannedFiring) -> Iterator[WatchOutlook]:
    """Those whose hours the plan tells; one that begins before the start is there at the start."""
    ends = firing.powered_hours if firing.fired else None
    watching = watching_of(firing, firing.plan.safety, ends)
    for watch in watching.watches:
        shift = watching.shift(watch)
        if shift and isfinite(shift.begins) and shift.ends > 0.0:
            yield WatchOutlook(
                who=watch.who.value if watch.who else None,
                line=watch.span.line,
                begins=_moment(firing, max(0.0, shift.begins)),
                ends=_moment(firing, shift.ends) if isfinite(shift.ends) else None,
            )


def _shelves(firing: PlannedFiring) -> Iterator[ShelfOutlook]:
    plan = firing.plan

    def cones(shelf: Shelf, *written: tuple[str, Written[Cone] | None]) -> tuple[ConeOutlook, ...]:
        return tuple(_outlook(firing, role, cone, shelf) for role, cone in written if cone)

    for witness in plan.witness_sets:
        shelf = shelf_of(witness)
        named = [("guide", witness.guide), ("target", witness.target), ("guard", witness.guard)]
        yield ShelfOutlook(
            place=witness.place.value if witness.place else None,
            seen=witness.seen.value if witness.seen else None,
            series=str(witness.series),
            in_the_plan=True,
            stands=shelf,
            cones=cones(shelf, *named, *(("extra", cone) for cone in witness.extras)),
        )
    if not plan.witness_sets and plan.target and plan.target.cone:
        alone = plan.target.cone
        series = str(alone.value.series)
        told = cones("anywhere", ("target", alone))
        yield ShelfOutlook(None, None, series, in_the_plan=False, stands="anywhere", cones=told)


def _outlook(firing: PlannedFiring, role: str, written: Written[Cone], shelf: Shelf) -> ConeOutlook:
    cone, line = written.value, written.span.line
    law = law_of(cone)
    told = firing.firable and strained_from(firing) is None
    found = firing.forecast(cone, shelf) if told else None
    if law is None or found is None:
        return ConeOutlook(role, cone, line, law, None)
    kinetics, curve = law.kinetics, firing.curve
    kelvin = curve.peak + ZERO_CELSIUS
    progress = progress_of(curve, kinetics)
    cooler, hotter = range_factors(kinetics, kelvin, found.spread)
    half = 0.5 * firing.spread
    peak_ends = curve.peak_hours[1]
    by_then = [
        work
        for work, piece in zip(progress.works, curve.worked, strict=True)
        if piece.end_hour <= peak_ends
    ]

    def times(work: float, expected: float | None) -> tuple[Moment | None, ...]:
        ends = (progress.hour_of(one) for one in (work / hotter, work * cooler))
        return tuple(None if one is None else _moment(firing, one) for one in (expected, *ends))

    return ConeOutlook(
        role=role,
        cone=cone,
        line=line,
        law=law,
        forecast=found,
        bends=times(start_work(kinetics), found.start_hour),
        down=times(1.0, found.down_hour),
        clock_peak_end=clock_position(kinetics, by_then[-1] if by_then else 0.0),
        clock_cool_end=shifted_clock(kinetics, found.work, kelvin, -half),
        clock_hot_end=shifted_clock(kinetics, found.work, kelvin, half),
    )


_SMOKE = "smoke of lustre and decals"


def _stretches(firing: PlannedFiring) -> Iterator[tuple[str, float, float]]:
    """The bands that the ware of a plan has anything to do with."""
    dry = all_refired(firing.plan)
    for one in bands():
        if one.low is not None or not dry:
            yield one.name, firing.boiling if one.low is None else one.low, one.high
    if has_lustre(firing.plan):
        yield _SMOKE, usual("lustre_smokes_from"), usual("lustre_smokes_to")


def _bands(firing: PlannedFiring) -> Iterator[BandCrossing]:
    for name, bottom, high in _stretches(firing):
        for stay in firing.curve.passages(bottom, high):
            if name == _SMOKE and stay.way == "down":
                continue  # the oils have burnt off
            yield BandCrossing(
                band=name,
                low=bottom,
                high=high if isfinite(high) else None,
                way=stay.way,
                enters=_moment(firing, stay.start_hour),
                leaves=_moment(firing, stay.end_hour),
                time=stay.hours,
                mean_rate=stay.mean_rate,
                steepest_up=stay.steepest_up,
                steepest_down=stay.steepest_down,
            )


def _walls(firing: PlannedFiring) -> list[tuple[Length, Ware]]:
    wares = firing.plan.load.wares if firing.plan.load else ()
    return [(ware.wall.value, ware) for ware in wares if ware.wall]


def _lags(firing: PlannedFiring) -> Iterator[LagOutlook]:
    """Of the thickest wall, on the way up and on the way down."""
    thickest = max(_walls(firing), key=lambda one: one[0].millimetres, default=None)
    for way in ("up", "down"):
        rate = firing.rate_at_quartz(way)
        if thickest and rate is not None and thickest[0].millimetres > 0.0:
            written, ware = thickest
            wall = written.millimetres
            clay = diffusivity_of(firing, ware, way)
            yield LagOutlook(
                ware=ware.name.value,
                wall=written,
                way=way,
                rate=rate,
                heated_from_both_sides=core_lag(rate, wall, clay),
                heated_from_one_side=core_lag(rate, wall, clay, one_sided=True),
                diffusivity=clay,
                evens_out=lag_hours(wall, clay),
            )


def _drying(firing: PlannedFiring) -> Iterator[DryingOutlook]:
    for wall, ware in _walls(firing):
        needed = drying_needed(ware)
        if needed and ware.state:
            yield DryingOutlook(
                ware=ware.name.value,
                wall=wall,
                state=ware.state.value,
                given=firing.dried,
                needed_least=min(needed.least, needed.most),
                needed_most=max(needed.least, needed.most),
                thicker_than_published=needed.beyond,
            )


def _advice(firing: PlannedFiring, unit: str) -> Iterator[Advice]:
    plan = firing.plan
    if plan.target and plan.target.temperature:
        # What would bring a cone down is no advice to who fires to a temperature.
        return
    pairs: dict[tuple[Cone, Cone | None], list[WitnessSet]] = {}
    for witness in plan.witness_sets:
        if target := target_of_set(witness, plan):
            guard = witness.guard.value if witness.guard else None
            pairs.setdefault((target.value, guard), []).append(witness)
    wanted = plan_target(plan)
    if not pairs and wanted:
        pairs[(wanted, None)] = []
    for (cone, over), sets in pairs.items():
        if found := advise(firing, sets, cone, over, unit):
            yield found
