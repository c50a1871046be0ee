"""The kiln as a lump of heat: full power, free cooling, energy.

C dT/dt = P - k (T - room): C in kWh/K, k in kW/K, P in kW, tau = C / k in hours.
A full-power climb is then an exponential approach to room + P / k. What the ware stores goes with
its mass, what the wall stores with its area (volume to the power of 2/3), tau with the cube root.

Free cooling begins faster than that, for the ware and the face of the wall first fall towards the
cooler brick behind them; later all of it falls to the room with tau. So it has two parts that meet
without a corner: at first from 1 to `_FIRST_REST` of the way to the room, with a time constant that
is a share of tau, and then, from where it would be slower than tau, exponentially to the room.
Heat that only leaks out of a wall falls ever more slowly for its height (a sum of exponentials is
convex in its logarithm), so one exponential through a kiln's own cooling figure lies above its
whole curve, and makes too much of what cones do while it cools.
"""

from __future__ import annotations

from functools import cached_property
from math import inf, isfinite, log

from attrs import field, frozen

from guardcone.firing.tables import usual

LITRES_PER_M3 = 1000.0
KJ_PER_KWH = 3600.0
# The kiln that the usual figures are of, in L: 10 cubic feet.
_USUAL_VOLUME = 283.0
# Where the first part of the cooling would come to rest, of the way to the room, and its pace.
_FIRST_REST = 1.0 - usual("first_cooling_share")
_FIRST_PACE = usual("first_cooling_pace")


def _room(celsius: float) -> float:
    """A room temperature within reason, -60 to 60 C, so that nothing cools below absolute zero."""
    return min(60.0, max(-60.0, celsius)) if isfinite(celsius) else usual("room_temperature")


@frozen(repr=False)
class Fall:
    """One part of a free cooling, exponential from a temperature to a cooler one."""

    hours: float
    to: float
    asymptote: float
    tau: float


# Not slotted: it keeps its time constant and its heat.
@frozen(slots=False, repr=False)
class Kiln:
    """What is known of a kiln; None is not known, and a usual value stands in.

    `volume` L, `power` kW, `load` kg of ware and shelves, `cools` (from C, to C, hours),
    `limit` the hottest it may go in C, `rated` what it is made to reach in C, `room` C. Of one that
    is not `electric` no power is usual: burners of one volume differ many times over.
    """

    volume: float | None = None
    power: float | None = None
    load: float | None = None
    cools: tuple[float, float, float] | None = None
    limit: float | None = None
    rated: float | None = None
    electric: bool = True
    room: float = field(factory=lambda: usual("room_temperature"), converter=_room)

    @cached_property
    def time_constant(self) -> float:
        """Hours in which free cooling, past its first part, covers 63 % of the way to the room."""
        if self.cools_usable:
            assert self.cools is not None
            hot, cool, hours = self.cools
            return hours / _constants_to((cool - self.room) / (hot - self.room))
        # Heat stored grows with the volume, loss with the wall: tau with the cube root.
        scale: float = ((self._volume or usual("kiln_volume")) / _USUAL_VOLUME) ** (1.0 / 3.0)
        return usual("kiln_cooling_hours_at_283_l") * scale

    def falls(self, start: float, to: float, since: float, share: float = 1.0) -> list[Fall]:
        """Free cooling from one temperature to another, down to above the room, in its parts.

        The power went off at `since` C, at or above `start`. `share` is how much of the first part
        there is: all after a climb or a hold, none where the kiln came down as fast as it can.
        """
        tau, room = self.time_constant, self.room
        drop = since - room
        first = share * (1.0 - _FIRST_REST)
        rest, joint = room + (1.0 - first) * drop, room + _joint(first) * drop
        falls = []
        if start > joint > rest:
            end = max(to, joint)
            pace = _FIRST_PACE * tau
            falls.append(Fall(pace * log((start - rest) / (end - rest)), end, rest, pace))
            start = end
        if to < start:
            falls.append(Fall(tau * log((start - room) / (to - room)), to, room, tau))
        return falls

    @property
    def cools_usable(self) -> bool:
        """Whether the kiln's own cooling figure makes sense: hotter to cooler, above the room."""
        if self.cools is None:
            return False
        hot, cool, hours = self.cools
        # A drop that is lost in the rounding is none.
        drop = (hot - self.room) / (cool - self.room) if cool > self.room else 0.0
        return drop > 1.0 and hot < 5000.0 and 1e-3 < hours < 1e5

    @cached_property
    def heat_capacity(self) -> float | None:
        """kWh/K of brick, shelves and load; None where the volume is not known.

        So little that the kiln comes to what it is rated to, for rating, power and cooling are its
        own and its heat is only estimated; but never less than a share of that, for then one of the
        three is not as written.
        """
        volume, power = self._volume, self.full_power
        if volume is None:
            return None
        load = usual("kiln_usual_load") * volume / LITRES_PER_M3
        if self.load is not None and 0.0 <= self.load < 1e7:
            load = self.load
        wall = usual("kiln_wall_heat_at_283_l") * _area_scale(volume)
        estimate: float = wall + load * usual("ware_specific_heat") / KJ_PER_KWH
        if power is None or self.rated is None or not self.room < self.rated < 5000.0:
            return estimate
        tau = self.time_constant
        within_reach = self.rated - self.room + usual("kiln_climb_at_rating") * tau
        least = usual("kiln_lightest") * estimate
        return min(estimate, max(least, power * tau / within_reach))

    @property
    def full_power(self) -> float | None:
        """kW: the kiln's own, else the usual for its volume if it is electric, else None."""
        if self.own_power:
            return self.power
        volume = self._volume if self.electric else None
        return None if volume is None else usual("kiln_power_at_283_l") * _area_scale(volume)

    @cached_property
    def hottest(self) -> float | None:
        """C at which full power only just holds, by the lump; None where it cannot be said."""
        power, capacity = self.full_power, self.heat_capacity
        if power is None or capacity is None:
            return None
        return self.room + power * self.time_constant / capacity

    @property
    def own_power(self) -> bool:
        """Whether the kiln's own power is known and within reason."""
        return self.power is not None and 0.0 < self.power < 1e6

    @property
    def basis(self) -> tuple[str, ...]:
        """What the power, heat and cooling figures rest on, one plain phrase each."""
        cooling = (
            "cooling from the kiln's own figure"
            if self.cools_usable
            else "cooling from the usual figure for its volume"
            if self._volume
            else "cooling from the usual figure for a studio kiln"
        )
        if self.own_power and self._volume:
            heat = "power from the kiln's own figure, stored heat estimated from volume and load"
        elif self._volume and not self.electric:
            heat = "stored heat estimated from the volume, full power a usual rate"
        elif self._volume:
            heat = "power and stored heat estimated from the volume"
        else:
            heat = "no volume given, so full power is a usual rate and energy is not computed"
        return (heat, cooling)

    @property
    def _volume(self) -> float | None:
        return self.volume if self.volume is not None and 0.1 < self.volume < 1e7 else None

    @property
    def full_power_reach(self) -> float:
        """C up to which full power gains on the losses worth a word; inf where it is not known."""
        if self.hottest is None:
            return inf
        return self.hottest - usual("kiln_slowest_rate") * self.time_constant

    def reach(self, rate: float) -> float:
        """C up to which `fastest_climb_at` is a rate or more; inf where it is not known."""
        still = self.fastest_climb_at(0.0)
        return inf if still is None else (still - rate) * self.time_constant

    def fastest_climb_at(self, celsius: float) -> float | None:
        """C/h no kiln like this one is expected to beat at a temperature; None unknown.

        What full power gives there with half as much again, because stored heat and loss are
        estimates.
        """
        hottest = self.hottest
        if hottest is None:
            return None
        most = self.room + usual("kiln_power_doubt") * (hottest - self.room)
        return (most - celsius) / self.time_constant

    def cooling_rate_at(self, celsius: float) -> float:
        """C/h at which the kiln cools freely at a temperature (positive), past its first part."""
        return max(0.0, (celsius - self.room) / self.time_constant)

    def energy(self, hours: float, start: float, end: float, asymptote: float | None) -> float:
        """kWh for one piece of a curve: linear from start to end C, or exponential to `asymptote`.

        0.0 where the volume, and so the stored heat, is not known.
        """
        capacity = self.heat_capacity
        if capacity is None or hours <= 0.0:
            return 0.0
        tau = self.time_constant
        if asymptote is not None:
            return max(0.0, capacity * (asymptote - self.room) / tau * hours)
        rate = (end - start) / hours
        first = capacity * (rate + (start - self.room) / tau)
        last = capacity * (rate + (end - self.room) / tau)
        # Power runs straight from first to last; what would be negative is simply switched off.
        if first >= 0.0 and last >= 0.0:
            return 0.5 * (first + last) * hours
        if first <= 0.0 and last <= 0.0:
            return 0.0
        high = max(first, last)
        return 0.5 * high * hours * high / abs(first - last)


def _area_scale(volume: float) -> float:
    """The area of a wall about so many litres, as a share of the usual kiln's."""
    scale: float = (volume / _USUAL_VOLUME) ** (2.0 / 3.0)
    return scale


def _joint(first: float) -> float:
    """Where the first part of a cooling is no faster than the rest, of the way to the room."""
    return min(1.0, (1.0 - first) / (1.0 - _FIRST_PACE))


def _constants_to(left: float) -> float:
    """Time constants of a free cooling until `left` of the way to the room is left."""
    joint = _joint(1.0 - _FIRST_REST)
    first = (1.0 - _FIRST_REST) / (max(left, joint) - _FIRST_REST)
    return _FIRST_PACE * log(first) + log(joint / min(left, joint))
