"""A plan goes in, and its curve, cones and clock come out."""

from collections.abc import Collection, Iterable
from datetime import datetime, timedelta
from functools import cached_property
from typing import TypeVar

from attrs import define, evolve, field

from guardcone.firing.cone_forecast import (
    ConeForecast,
    EquivalentCone,
    equivalent_cone,
    forecast_cone,
    on_shelf,
)
from guardcone.firing.cones import kinetics_for, ladder
from guardcone.firing.curve import Curve, Piece, Problem
from guardcone.firing.kiln import Kiln as KilnHeat
from guardcone.firing.schedule import Leg, curve_of
from guardcone.firing.tables import band, usual
from guardcone.firing.uncertainty import Measuring, Shelf, usual_spread, verdict
from guardcone.firing.ware import Drying, boiling_point, drying_done, drying_hours
from guardcone.outlook.written import heat_of, legs_of, measuring_of
from guardcone.plan.load import Ware
from guardcone.plan.plan import Plan
from guardcone.plan.schedule import Segment
from guardcone.values import Cone

__all__ = [
    "LAST_STRETCH",
    "PlannedFiring",
    "dampness_of",
    "diffusivity_of",
    "drying_needed",
    "fire",
    "is_damp",
    "too_cool_for_cones",
]

# The last stretch of a climb, in °C, whose rate the cone tables are published for.
LAST_STRETCH = usual("last_stretch")

# How a plan says what goes wet into the kiln, in the words of rules/tables/dampness.csv. Ware that
# is bisque or glazed is not here: nothing published says how damp that is.
_DAMPNESS = {
    "damp": "wet",
    "leather-hard": "leather hard",
    "bone-dry": "bone dry",
    "dry": "bone dry",
    "greenware": "bone dry",
}


def dampness_of(ware: Ware) -> str | None:
    """How damp a ware goes in, in the words of dampness.csv; None where nobody can say."""
    return _DAMPNESS.get(ware.state.value) if ware.state else None


def diffusivity_of(firing: "PlannedFiring", ware: Ware, way: str) -> float:
    """mm²/s of a ware as it goes up or down: fired clay conducts better than dry clay does."""
    came_fired = ware.state is not None and ware.state.value in ("bisque", "glazed")
    fired_now = way == "down" and firing.peak >= usual("first_firing_coolest")
    fired = came_fired or fired_now
    return usual("diffusivity_fired_clay" if fired else "diffusivity_dry_clay")


def too_cool_for_cones(firing: "PlannedFiring") -> bool:
    """True for what dries ware and no more: no cone is set there, and none asked for."""
    plan = firing.plan
    asked = plan.target is not None or bool(plan.witness_sets) or "target" in plan.unreadable
    return firing.firable and not asked and firing.peak < usual("cones_work_above")


def is_damp(ware: Ware) -> bool:
    """True for ware that goes in wetter than bone dry."""
    return dampness_of(ware) not in (None, "bone dry")


def drying_needed(ware: Ware) -> Drying | None:
    """The drying that a ware needs below boiling; None where its wall or dampness is not known."""
    dampness = dampness_of(ware)
    if dampness is None or ware.wall is None:
        return None
    return drying_hours(ware.wall.value.millimetres, dampness)


_CHANCES = ("chance_down", "chance_moved")
OfLeg = TypeVar("OfLeg", Piece, Problem)


# Neither slotted nor compared: it keeps what it has computed, and one plan has one firing.
@define(slots=False, eq=False, repr=False)
class PlannedFiring:
    """The firing that a plan describes, computed on demand.

    Hours count from the start of the firing, temperatures are °C, rates °C/h. `segments` are those
    of the plan; leg number n of the curve is segment number n, and `legs` may have one leg more for
    the opening. `complete` is False where a line that shapes the curve could not be read.
    """

    plan: Plan
    segments: tuple[Segment, ...]
    legs: tuple[Leg, ...]
    kiln: KilnHeat
    begins: float | None
    curve: Curve
    measuring: Measuring
    complete: bool
    _forecasts: dict[tuple[Cone, Shelf], ConeForecast | None] = field(
        factory=dict, init=False, repr=False
    )
    _by_themselves: dict[tuple[Cone, Shelf], ConeForecast | None] = field(
        factory=dict, init=False, repr=False
    )

    @property
    def fired(self) -> bool:
        """True if there is a schedule with at least one segment, all of it readable."""
        return self.complete and bool(self.curve.pieces)

    @property
    def firable(self) -> bool:
        """True if there is a curve, and each climb, hold and cooling of it could be read."""
        schedule = self.plan.schedule
        readable = schedule is not None and "segments" not in schedule.unreadable
        return readable and bool(self.curve.pieces)

    @cached_property
    def boiling(self) -> float:
        """°C at which water boils where the kiln stands, to the whole degree people are told."""
        kiln = self.plan.kiln
        altitude = kiln.altitude.value.metres if kiln and kiln.altitude else 0.0
        return float(round(boiling_point(altitude)))

    @cached_property
    def dried(self) -> float:
        """Hours of drying it gives before it first reaches local boiling."""
        return drying_done(self.curve, self.boiling)

    @property
    def final_climb(self) -> int | None:
        """The leg that climbs to the peak, or None where the schedule's peak ends no climb."""
        ending = next((piece for piece in self.curve.pieces if piece.end == self.curve.peak), None)
        if ending is None or ending.end <= ending.start:
            return None
        return ending.leg if self.legs[ending.leg].kind.startswith("climb") else None

    def forecast(self, cone: Cone, shelf: Shelf = "anywhere") -> ConeForecast | None:
        """What this firing does to a cone on a shelf; None where no law of its series is known.

        It is no less likely to move or to go down than any hotter cone of the plan's sets would be
        there that has its law in the same series, though that one may be less in doubt; and its
        range lies no lower than that one's.
        """
        known = self._forecasts
        if (cone, shelf) not in known:
            known[cone, shelf] = self._beside_hotter(self._alone(cone, shelf), shelf)
        return known[cone, shelf]

    def _beside_hotter(self, own: ConeForecast | None, shelf: Shelf) -> ConeForecast | None:
        if own is None:
            return None
        hotter = [
            found
            for other in self._witnesses
            if (law := kinetics_for(other)) and law.series == own.kinetics.series
            if law.axis > own.kinetics.axis and (found := self._alone(other, shelf))
        ]
        if not hotter:
            return own
        beside = [own, *hotter]
        down, moved = (max(getattr(one, name) for one in beside) for name in _CHANCES)
        told = verdict(down, moved)
        return evolve(own, chance_down=down, chance_moved=moved, verdict=told, beside=tuple(hotter))

    def _alone(self, cone: Cone, shelf: Shelf) -> ConeForecast | None:
        known = self._by_themselves
        if (cone, "anywhere") not in known:
            law = kinetics_for(cone)
            found = forecast_cone(self.curve, law, self.measuring) if law else None
            known[cone, "anywhere"] = found
        if (cone, shelf) not in known:
            found = known[cone, "anywhere"]
            known[cone, shelf] = on_shelf(found, shelf) if found else None
        return known[cone, shelf]

    @cached_property
    def _witnesses(self) -> frozenset[Cone]:
        """All cones of the plan's sets."""
        sets = self.plan.witness_sets
        named = (one for each in sets for one in (each.guide, each.target, each.guard) if one)
        extras = (one for each in sets for one in each.extras)
        return frozenset(one.value for one in (*named, *extras))

    @cached_property
    def equivalent(self) -> EquivalentCone:
        """The firing as a number between the cones of the first witness set's series.

        Where that series has no law or does not reach so far, the next that does: the regular
        cones of the same form, the large, the self-supporting. `series` of the answer says which.
        """
        sets = self.plan.witness_sets
        own = sets[0].series.table if sets else "large_regular"
        answers = []
        regular = own.replace("ironfree", "regular")
        for series in dict.fromkeys((own, regular, "large_regular", "ss_regular")):
            found = equivalent_cone(self.curve, series)
            if found.below and found.above:
                return found
            if found.below or found.above:
                answers.append(found)
        # Hotter than all: say it in the set's own cones; cooler than all: say the coolest there is.
        if answers[0].below:
            return answers[0]
        return min(answers, key=lambda one: ladder(one.series)[0].axis)

    @property
    def spread(self) -> float:
        """Degrees C from the hottest shelf to the coolest, as is usual where the plan is silent."""
        given = self.measuring.top_to_bottom
        return usual_spread(self.peak) if given is None else given

    @property
    def peak(self) -> float:
        """The hottest temperature of the schedule, °C."""
        return self.curve.peak

    @property
    def powered_hours(self) -> float:
        """Hours until the kiln needs no more power: past the peak, and past any later hold or
        climb or cooling at a rate, as far as it cools so fast by itself."""
        return self._powered_in(self.lagging)

    @property
    def written_hours(self) -> float:
        """The same by the schedule as written, where the kiln falls behind a controlled cooling."""
        return max(self.powered_hours, self._powered_in(self.curve))

    def _powered_in(self, curve: Curve) -> float:
        last = curve.peak_hours[1]
        for piece in curve.pieces:
            segment = self.segment_of_leg(piece.leg)
            if segment is None or piece.falls_freely:
                continue
            if segment.kind != "cool" or segment.rate or segment.duration:
                last = max(last, piece.end_hour)
        return last

    @cached_property
    def lagging(self) -> Curve:
        """The firing by how the kiln cools itself, where less is asked of it than is written."""
        if not any(one.kind == "faster than free cooling" for one in self.curve.problems):
            return self.curve
        return curve_of(self.legs, self.kiln, self.begins, lagging=True)

    def known_to_go(self, way: str) -> Curve:
        """The curve "up" as written; "down" no faster than by the kiln's own cooling figure."""
        return self.lagging if way == "down" and self.kiln.cools_usable else self.curve

    @property
    def as_it_goes(self) -> "PlannedFiring":
        """The firing as it lags behind in cooling, where that is after the peak."""
        late, peak_ends = self.lagging, self.curve.peak_hours[1]
        same = late is self.curve or late.peak_hours[1] != peak_ends
        return self if same else evolve(self, curve=late)

    @cached_property
    def last_rate(self) -> float | None:
        """Mean rate in °C/h over the last 100 °C below the peak, holds on the way counted."""
        curve = self.curve
        first = curve.peak_hours[0]
        low = curve.peak - LAST_STRETCH
        passed = [crossing.hour for crossing in curve.crossings(low) if crossing.hour < first]
        if low <= curve.start or not passed or first <= passed[-1]:
            return None
        return LAST_STRETCH / (first - passed[-1])

    def rate_at_quartz(self, way: str) -> float | None:
        """The fastest climb ("up") or cooling ("down") through 573 °C; None for none."""
        crossings = self.known_to_go(way).crossings(band("quartz").high)
        rates = [one.rate if way == "up" else -one.rate for one in crossings]
        return max((rate for rate in rates if rate > 0.0), default=None)

    def segment_hours(self, segment: Segment) -> tuple[float, float] | None:
        """First and last hour of a segment; None where it takes no time."""
        own = self._pieces.get(segment.number - 1)
        return (own[0].start_hour, own[-1].end_hour) if own else None

    @cached_property
    def _pieces(self) -> dict[int, list[Piece]]:
        return _by_leg(self.curve.pieces)

    def segment_start(self, segment: Segment) -> float:
        """°C at which a segment begins."""
        return self._starts_of_segments[segment.number - 1]

    def segment_end(self, segment: Segment) -> float:
        """°C at which a segment ends."""
        own = self._pieces.get(segment.number - 1)
        return own[-1].end if own else self.segment_start(segment)

    @cached_property
    def _starts_of_segments(self) -> list[float]:
        """°C at the beginning of each segment; one that takes no time begins where it stands."""
        starts: list[float] = []
        now = self.curve.start
        for segment in self.segments:
            own = self._pieces.get(segment.number - 1)
            starts.append(own[0].start if own else now)
            now = own[-1].end if own else now
        return starts

    def problem(self, segment: Segment, kinds: Collection[str]) -> Problem | None:
        """The first problem of one of these kinds that a segment has."""
        own = self._problems.get(segment.number - 1, ())
        return next((problem for problem in own if problem.kind in kinds), None)

    @cached_property
    def _problems(self) -> dict[int, list[Problem]]:
        return _by_leg(self.curve.problems)

    def segment_of_leg(self, leg: int) -> Segment | None:
        """The segment a leg of the curve comes from; None for the opening."""
        return self.segments[leg] if leg < len(self.segments) else None

    @cached_property
    def starts(self) -> datetime | None:
        """When the firing starts by the clock; 1 January 2000 stands in for a day not said."""
        if self.plan.starts_at is None:
            return None
        day = self.plan.starts_on.value if self.plan.starts_on else datetime(2000, 1, 1).date()
        return datetime.combine(day, self.plan.starts_at.value)

    def clock(self, hour: float | None) -> datetime | None:
        """The moment of an hour of the firing.

        None where the plan says no time of day, and past the end of the calendar.
        """
        if hour is None or self.starts is None:
            return None
        try:
            return self.starts + timedelta(hours=hour)
        except OverflowError:
            return None


def _by_leg(found: Iterable[OfLeg]) -> dict[int, list[OfLeg]]:
    """What there is of each leg, in order."""
    legs: dict[int, list[OfLeg]] = {}
    for one in found:
        legs.setdefault(one.leg, []).append(one)
    return legs


def fire(plan: Plan) -> PlannedFiring:
    """Compute the firing a plan describes; a plan without a schedule has an empty curve."""
    schedule = plan.schedule
    kiln = heat_of(plan)
    legs = tuple(legs_of(schedule)) if schedule else ()
    begins = schedule.begins.value.celsius if schedule and schedule.begins else None
    return PlannedFiring(
        plan,
        schedule.segments if schedule else (),
        legs,
        kiln,
        begins,
        curve_of(legs, kiln, begins),
        measuring_of(plan.kiln),
        # A reduction line says nothing about temperature against time.
        schedule is not None and not schedule.unreadable - {"reductions"},
    )
