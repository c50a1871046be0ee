"""Room: the computed firing; here a plan goes in, and its curve, cones and clock come out."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from functools import cached_property

from attrs import define, evolve

from guardcone.firing.cones import ConeKinetics, kinetics_of
from guardcone.firing.curve import Curve
from guardcone.firing.forecast import ConeForecast, EquivalentCone, equivalent_cone, forecast_cone
from guardcone.firing.kiln import Kiln as KilnHeat
from guardcone.firing.schedule import Leg, LegKind, curve_of
from guardcone.firing.uncertainty import Measuring
from guardcone.firing.ware import boiling_point
from guardcone.plan.model import Kiln, Plan, Schedule, Segment
from guardcone.values import Cone, ConeForm

__all__ = ["PlannedFiring", "fire", "kinetics_for", "top_to_bottom"]

# Degrees C per cone from top to bottom where a kiln says its spread in cones: the mean gap between
# neighbouring cones of the self-supporting column at 60 °C/h, 019 to 13 (see cones.csv).
DEGREES_PER_CONE = 21.0


def kinetics_for(cone: Cone) -> ConeKinetics | None:
    """The law of a cone, or None where its series has none.

    A number that a series does not publish is taken from the nearest series of the same maker:
    the iron-free from the regular, the large from the self-supporting (the chart has both within
    a few degrees of each other).
    """
    number = str(cone.number)
    series = cone.series
    for candidate in (
        series,
        evolve(series, iron_free=False),
        evolve(series, form=ConeForm.SELF_SUPPORTING),
        evolve(series, form=ConeForm.SELF_SUPPORTING, iron_free=False),
    ):
        found = kinetics_of(candidate.table, number)
        if found is not None:
            return found
    return None


def top_to_bottom(kiln: Kiln | None) -> float | None:
    """Degrees C between the hottest and the coolest shelf, as far as the plan says."""
    if kiln is None:
        return None
    if kiln.spread_temperature:
        return abs(kiln.spread_temperature.value.celsius)
    if kiln.spread_cones:
        return kiln.spread_cones.value * DEGREES_PER_CONE
    return None


@define
class PlannedFiring:
    """The firing that a plan describes, computed on demand.

    Hours count from the start of the firing, temperatures are °C, rates °C/h. `segments` are those
    of the plan; leg number n of the curve is segment number n.
    """

    plan: Plan
    segments: tuple[Segment, ...]
    kiln: KilnHeat
    curve: Curve
    measuring: Measuring
    complete: bool

    @property
    def fired(self) -> bool:
        """True if there is a schedule with at least one segment, all of it readable."""
        return self.complete and bool(self.curve.pieces)

    @cached_property
    def boiling(self) -> float:
        """°C at which water boils where the kiln stands."""
        kiln = self.plan.kiln
        return boiling_point(kiln.altitude.value.metres if kiln and kiln.altitude else 0.0)

    @cached_property
    def _forecasts(self) -> dict[Cone, ConeForecast | None]:
        return {}

    def forecast(self, cone: Cone) -> ConeForecast | None:
        """What this firing does to a cone; None where no law of its series is known."""
        known = self._forecasts
        if cone not in known:
            law = kinetics_for(cone)
            known[cone] = forecast_cone(self.curve, law, self.measuring) if law else None
        return known[cone]

    @cached_property
    def equivalent(self) -> EquivalentCone:
        """The firing as a number between the cones of the first witness set's series."""
        sets = self.plan.witness_sets
        series = sets[0].series.table if sets else "large_regular"
        return equivalent_cone(self.curve, series)

    @property
    def peak(self) -> float:
        """The hottest temperature of the schedule, °C."""
        return self.curve.peak

    def segment_hours(self, segment: Segment) -> tuple[float, float] | None:
        """First and last hour of a segment; None where it takes no time."""
        return self.curve.leg_hours(segment.number - 1)

    def segment_start(self, segment: Segment) -> float:
        """°C at which a segment begins."""
        own = [piece for piece in self.curve.pieces if piece.leg == segment.number - 1]
        if own:
            return own[0].start
        before = [piece for piece in self.curve.pieces if piece.leg < segment.number - 1]
        return before[-1].end if before else self.curve.start

    def segment_of_leg(self, leg: int) -> Segment | None:
        """The segment a leg of the curve comes from; None for the opening."""
        return self.segments[leg] if leg < len(self.segments) else None

    @cached_property
    def starts(self) -> datetime | None:
        """When the firing starts by the clock; a day is assumed where only a time is said."""
        if self.plan.starts_at is None:
            return None
        day = self.plan.starts_on.value if self.plan.starts_on else datetime(2000, 1, 1).date()
        return datetime.combine(day, self.plan.starts_at.value)

    def clock(self, hour: float | None) -> datetime | None:
        """The moment of an hour of the firing; None where the plan says no time of day."""
        if hour is None or self.starts is None:
            return None
        return self.starts + timedelta(hours=hour)


def fire(plan: Plan) -> PlannedFiring:
    """Compute the firing a plan describes; a plan without a schedule has an empty curve."""
    schedule = plan.schedule
    kiln = _heat(plan)
    legs = list(_legs(schedule)) if schedule else []
    begins = schedule.begins.value.celsius if schedule and schedule.begins else None
    return PlannedFiring(
        plan,
        schedule.segments if schedule else (),
        kiln,
        curve_of(legs, kiln, begins),
        _measuring(plan.kiln),
        schedule is not None and not schedule.unreadable,
    )


def _heat(plan: Plan) -> KilnHeat:
    kiln = plan.kiln
    if kiln is None:
        return KilnHeat()
    cools = None
    if kiln.cools_from and kiln.cools_to and kiln.cools_in:
        hot, cool = kiln.cools_from.value.celsius, kiln.cools_to.value.celsius
        cools = (hot, cool, kiln.cools_in.value.hours)
    mass = plan.load.mass if plan.load else None
    room = {"room": kiln.room.value.celsius} if kiln.room else {}
    return KilnHeat(
        volume=kiln.volume.value.litres if kiln.volume else None,
        power=kiln.power.value.kilowatts if kiln.power else None,
        load=mass.value.kilograms if mass else None,
        cools=cools,
        limit=kiln.rated_temperature.value.celsius if kiln.rated_temperature else None,
        **room,
    )


def _measuring(kiln: Kiln | None) -> Measuring:
    letter = kiln.thermocouple.value if kiln and kiln.thermocouple else None
    special = kiln and kiln.thermocouple_limits and kiln.thermocouple_limits.value
    grade = "special" if special == "special-limits" else "standard"
    return Measuring(letter, grade=grade, top_to_bottom=top_to_bottom(kiln))


_CLIMB: dict[str, LegKind] = {"full-power": "climb at full power"}
_COOL: dict[str, LegKind] = {"freely": "cool freely", "crash": "cool freely"}


def _legs(schedule: Schedule) -> Iterator[Leg]:
    """The segments and the opening as legs, in the order written."""
    for segment in schedule.segments:
        pace = segment.pace.value if segment.pace else ""
        to = segment.to.value.celsius if segment.to else None
        rate = segment.rate.value.celsius_per_hour if segment.rate else None
        hours = segment.duration.value.hours if segment.duration else None
        if segment.kind == "climb":
            yield Leg(_CLIMB.get(pace, "climb"), to, rate, hours)
        elif segment.kind == "hold":
            yield Leg("hold", None, None, hours)
        elif to is None:
            # `cool freely` and no more: to the opening, or to where ware is commonly taken out.
            yield Leg("cool freely", schedule.opens.value.celsius if schedule.opens else 93.0)
        else:
            yield Leg(_COOL.get(pace, "cool"), to, rate, hours)
    if schedule.opens:
        yield Leg("open", schedule.opens.value.celsius)
