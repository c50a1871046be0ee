"""The kiln as one lump of heat: full power, free cooling, energy.

C dT/dt = P - k (T - room): C in kWh/K, k in kW/K, P in kW, tau = C / k in hours.
Free cooling (P = 0) is then exponential decay to room temperature with time constant tau, and a
full-power climb is an exponential approach to room + P / k.
One lump with one loss is an estimate: brick stores heat in depth and loses it faster when hotter.
"""

from __future__ import annotations

from math import isfinite, log

from attrs import field, frozen

from guardcone.firing.tables import usual

LITRES_PER_M3 = 1000.0
KJ_PER_KWH = 3600.0


def _room(celsius: float) -> float:
    """A room temperature within reason, -60 to 60 C, so that nothing cools below absolute zero."""
    return min(60.0, max(-60.0, celsius)) if isfinite(celsius) else usual("room_temperature")


@frozen
class Kiln:
    """What is known of a kiln; None is not known, and a usual value stands in.

    `volume` L, `power` kW, `load` kg of ware and shelves, `cools` (from C, to C, hours),
    `limit` the hottest it may go in C, `room` C.
    """

    volume: float | None = None
    power: float | None = None
    load: float | None = None
    cools: tuple[float, float, float] | None = None
    limit: float | None = None
    room: float = field(factory=lambda: usual("room_temperature"), converter=_room)

    @property
    def time_constant(self) -> float:
        """Hours in which free cooling covers 63 % of the way to room temperature."""
        if self.cools_usable:
            assert self.cools is not None
            hot, cool, hours = self.cools
            return hours / log((hot - self.room) / (cool - self.room))
        # Heat stored grows with the volume, loss with the wall: tau with the cube root.
        scale: float = ((self._volume or usual("kiln_volume")) / 283.0) ** (1.0 / 3.0)
        return usual("kiln_cooling_hours_at_283_l") * scale

    @property
    def cools_usable(self) -> bool:
        """Whether the kiln's own cooling figure makes sense: hotter to cooler, above the room."""
        if self.cools is None:
            return False
        hot, cool, hours = self.cools
        # A drop that is lost in the rounding is none.
        drop = (hot - self.room) / (cool - self.room) if cool > self.room else 0.0
        return drop > 1.0 and hot < 5000.0 and 1e-3 < hours < 1e5

    @property
    def heat_capacity(self) -> float | None:
        """kWh/K of brick, shelves and load; None where the volume is not known."""
        volume = self._volume
        if volume is None:
            return None
        cubic = volume / LITRES_PER_M3
        load = usual("kiln_usual_load") * cubic
        if self.load is not None and 0.0 <= self.load < 1e7:
            load = self.load
        ware = load * usual("ware_specific_heat") / KJ_PER_KWH
        return cubic * usual("kiln_heat_capacity_empty") + ware

    @property
    def full_power(self) -> float | None:
        """kW: the kiln's own, else the usual for its volume, else None."""
        if self.own_power:
            return self.power
        volume = self._volume
        if volume is None:
            return None
        return volume / LITRES_PER_M3 * usual("kiln_power_density")

    @property
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
        elif self._volume:
            heat = "power and stored heat estimated from the volume"
        else:
            heat = "no volume given, so full power is a usual rate and energy is not computed"
        return (heat, cooling)

    @property
    def _volume(self) -> float | None:
        return self.volume if self.volume is not None and 0.1 < self.volume < 1e7 else None

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
        """C/h at which the kiln cools freely at a temperature (positive)."""
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
