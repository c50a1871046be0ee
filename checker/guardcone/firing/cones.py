"""The cone tables: what is published, the law fitted to it, and the law that stands for a cone.

Cones are named by canonical text ("06", "05½", "10") and series ("large_regular", "ss_regular",
"small_regular", "large_ironfree", "ss_ironfree", and series of other systems that have no law).
A number means nothing without its series: cone 6 of two systems is two cones.
"""

from __future__ import annotations

from functools import cache, lru_cache
from math import exp, log
from operator import attrgetter

from attrs import evolve, field, frozen

from guardcone.firing.heatwork import ZERO_CELSIUS, log_steady_work, scaled_e2
from guardcone.firing.tables import table, usual
from guardcone.values import Cone, ConeForm, ConeNumber, Numbering

__all__ = ["Law", "kinetics_for", "law_of"]


GAS_CONSTANT = 8.314462618e-3  # kJ/(mol K); CODATA 2018, exact

KINETIC_SERIES = (
    "large_regular",
    "large_ironfree",
    "ss_regular",
    "ss_ironfree",
    "small_regular",
)


@frozen(repr=False)
class ChartCell:
    """One published end temperature; `rate` in C/h over the last 100 C, None where none is given.

    `rate` is None too where the source prints one it is not sure of.
    """

    series: str
    cone: str
    rate: float | None
    celsius: float
    source: str
    confidence: str


@frozen(repr=False)
class ConeKinetics:
    """The law of one cone: down when the integral of A exp(-E/RT) dt is 1.

    `energy` in kJ/mol and `log_a` = ln(A in 1/h) are an effective slope of the chart, not a
    measured activation energy. `end_60` is its end in C at 60 C/h, as published where it is,
    `residual` the root mean square of law minus chart in C,
    `spread_per_fold` is the standard deviation in C a forecast gains for every e-fold of heating
    rate outside the chart's 60 to 150 C/h.
    `energy_from` says what the energy rests on. `down_with` names the hotter cones of the series
    whose laws cross this one far from the chart's rates: when they are down, it is.
    """

    series: str
    cone: str
    energy: float
    log_a: float
    end_60: float
    residual: float
    spread_per_fold: float
    energy_from: str
    down_with: tuple[str, ...] = ()
    theta: float = field(init=False)  # E / R in kelvin
    axis: float = field(init=False)  # see ConeNumber.axis
    degrees_per_fold: float = field(init=False)  # see below

    def __attrs_post_init__(self) -> None:
        theta = self.energy / GAS_CONSTANT
        kelvin = self.end_60 + ZERO_CELSIUS
        object.__setattr__(self, "theta", theta)
        object.__setattr__(self, "axis", ConeNumber.read(self.cone).axis)
        # Degrees of a 60 C/h climb, at this cone's end, that multiply its heat-work by e.
        object.__setattr__(self, "degrees_per_fold", kelvin * kelvin / theta)

    def end_temperature(self, rate: float) -> float:
        """End temperature in C of a steady climb from cold at `rate` C/h (> 0), by the law."""
        return end_temperature(self.theta, self.log_a, rate)


def end_temperature(theta: float, log_a: float, rate: float) -> float:
    """C at which a steady climb at `rate` C/h from cold brings the heat-work of a law to 1."""
    wanted = log(rate) - log_a
    kelvin = 1300.0
    for _ in range(100):
        miss = log_steady_work(kelvin, theta) - wanted
        step = miss * kelvin * scaled_e2(theta / kelvin)
        step = max(-200.0, min(0.5 * kelvin, step))
        kelvin -= step
        if abs(step) < 1e-10:
            break
    return kelvin - ZERO_CELSIUS


@cache
def chart_cells() -> tuple[ChartCell, ...]:
    """Every published cell, all series, in the file's order."""
    return tuple(
        ChartCell(
            series=row["series"],
            cone=row["cone"],
            rate=_number_or_none(row["rate_c_per_h"]),
            celsius=float(row["celsius"]),
            source=row["source"],
            confidence=row["confidence"],
        )
        for row in table("cones")
    )


@cache
def ladder(series: str) -> tuple[ConeKinetics, ...]:
    """Every cone of a series that has a law, coolest first; empty for a series without one."""
    cones = (
        ConeKinetics(
            series=row["series"],
            cone=row["cone"],
            energy=float(row["activation_energy_kj_per_mol"]),
            log_a=float(row["ln_rate_constant_per_h"]),
            end_60=float(row["end_60_c"]),
            residual=float(row["rms_c"]),
            spread_per_fold=float(row["spread_per_fold_c"]),
            energy_from=row["energy_from"],
            down_with=tuple(row["down_with"].split()),
        )
        for row in table("cone_kinetics")
        if row["series"] == series
    )
    return tuple(sorted(cones, key=attrgetter("axis")))


@cache
def kinetics_of(series: str, cone: str) -> ConeKinetics | None:
    """The law of one cone, or None where its series or number has none."""
    return next((kinetics for kinetics in ladder(series) if kinetics.cone == cone), None)


def laws_of(kinetics: ConeKinetics) -> tuple[ConeKinetics, ...]:
    """The law of a cone, and those by which it is down at the latest; nearly always one."""
    if not kinetics.down_with:
        return (kinetics,)
    hotter = (kinetics_of(kinetics.series, cone) for cone in kinetics.down_with)
    return (kinetics, *filter(None, hotter))


@cache
def is_recalled(kinetics: ConeKinetics) -> bool:
    """True where a cell of the chart that its law rests on, at 60 C/h or faster, is from memory."""
    return any(
        (_number_or_none(row["rate_c_per_h"]) or 0.0) >= usual("chart_slowest")
        for row in table("cones")
        if row["confidence"] == "memory"
        if (row["series"], row["cone"]) == (kinetics.series, kinetics.cone)
    )


def fold_degrees(kinetics: ConeKinetics, kelvin: float) -> float:
    """Degrees at `kelvin` that multiply the rate of a cone's heat-work by e: T^2 / theta."""
    return kelvin * kelvin / kinetics.theta


def rate_constant(kinetics: ConeKinetics, celsius: float) -> float:
    """A exp(-E/RT) in 1/h: the share of a cone's whole bending that one hour at `celsius` does."""
    return exp(min(700.0, kinetics.log_a - kinetics.theta / (celsius + ZERO_CELSIUS)))


def _number_or_none(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


@frozen(repr=False)
class Law:
    """The law used for a cone; `borrowed` where the chart lacks that number in that series.

    Which law stands in, `kinetics.series` and `kinetics.cone` say.
    """

    kinetics: ConeKinetics
    borrowed: bool


@lru_cache(maxsize=256)
def law_of(cone: Cone) -> Law | None:
    """The law of a cone, borrowed where its own is not published, or None where there is none.

    Only the current Orton chart has laws: the same number of Seger, SK or the older chart is
    another cone and never takes one of these. A number that one series of the chart does not
    publish is taken from the nearest series that does: the iron-free from the regular (no
    iron-free cones are listed beside 010 to 1 and 3), then the large or small from the
    self-supporting (for large cones the chart has both within a few degrees of each other).
    A letter (6a) belongs to other makers; where the plan names none of them, the number alone
    stands in, and the law counts as borrowed.
    """
    series = cone.series
    if series.numbering is not Numbering.ORTON:
        return None
    number = str(cone.number.without_letter)
    for candidate in (
        series,
        evolve(series, iron_free=False),
        evolve(series, form=ConeForm.SELF_SUPPORTING),
        evolve(series, form=ConeForm.SELF_SUPPORTING, iron_free=False),
    ):
        found = kinetics_of(candidate.table, number)
        if found is not None:
            own = candidate == series and str(cone.number) == number
            return Law(found, not own)
    return None


def kinetics_for(cone: Cone) -> ConeKinetics | None:
    """The numbers of `law_of`, or None where the cone's numbering has no law."""
    law = law_of(cone)
    return law.kinetics if law else None
