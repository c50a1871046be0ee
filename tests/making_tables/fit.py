"""The fit of activation energy and rate constant to the chart.

``python tests/making_tables/fit.py`` prints the table; ``--write`` replaces the committed one.
Every line of rules/tables/cone_kinetics.csv comes from here and from nowhere else.

How: least squares of (law's end temperature - chart's), at a constant rate from cold, one energy
and one rate constant a cone. Misses at 60 and 150 C/h count three times those at 15 C/h, because
kilns are fired near those rates and because most cells at 15 C/h are from memory.

Large cones are not published at 15 C/h. The self-supporting cone of the same number lends them its
cell there, moved by what the two differ by at 60 C/h (3 C at most but for a few): a forecast of a
slow climb or a long hold is drawn out to there. It counts like any cell at 15 C/h, but never so
much that the cone's own cells, of which more than one copy was read, are missed by over a degree.

How the chart's odd cells are treated:
- large 14 is cooler at 150 C/h than at 60 C/h, which no heat-work can do: left out of the fit,
  the law of self-supporting 14 stands in, and both misses are listed;
- 022 rises 4 C from 60 to 150 C/h where its neighbours rise 12 to 17: three reprints agree, so its
  two cells are kept and reproduced; like large iron-free 06 and 03 (5 and 4 C), where rounding to a
  degree rules the energy, it is noted and its spread beyond the chart's rates is doubled;
- laws of neighbours with unlike energies cross far from the chart's rates, the hotter cone to end
  first: each cone lists those with which it is down at the latest;
- small cones are published at one rate (300 C/h): they take the median energy of the
  self-supporting cones of their band, and their own cell sets the rate constant;
- cells from memory are used and named in the note.
"""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Mapping, Sequence
from math import exp, inf, log
from statistics import median

from attrs import frozen

from guardcone.documents import document_path
from guardcone.firing.cones import GAS_CONSTANT, KINETIC_SERIES, chart_cells, end_temperature
from guardcone.firing.heatwork import ZERO_CELSIUS, log_steady_work
from guardcone.values import ConeNumber

RATES = (15.0, 60.0, 150.0, 300.0)
WEIGHTS = {15.0: 1.0, 60.0: 3.0, 150.0: 3.0, 300.0: 1.0}  # on the miss itself, before squaring

# Spread (one standard deviation, C) that a forecast gains for every e-fold of heating rate outside
# 60 to 150 C/h. Leaving one published rate out of 35 self-supporting cones misses it by 6.7 C root
# mean square at 15 C/h (1.39 e-folds out) and 4.7 C at 150 C/h (0.92 e-folds out): 4.8 and 5.1.
SPREAD_PER_FOLD = 5.0
# Where the cell that is lent at 15 C/h is missed by more than that, it is what it is missed by.
FOLDS_TO_SLOW = log(60.0 / 15.0)
OWN_MISS_MOST = 1.0  # C by which a lent cell may draw a law away from the cone's own
DOUBTFUL_RISE = 6.0  # C from 60 to 150 C/h; at or below it rounding alone moves the energy 15 %

# Bands in which energies are alike (chart fit; see the ladder of fitted energies): first, last.
BANDS = (("022", "011"), ("010", "05"), ("04", "14"))

COLUMNS = (
    "series",
    "cone",
    "activation_energy_kj_per_mol",
    "ln_rate_constant_per_h",
    "end_60_c",
    "residual_15_c",
    "residual_60_c",
    "residual_150_c",
    "residual_300_c",
    "rms_c",
    "spread_per_fold_c",
    "down_with",
    "energy_from",
    "note",
)
KILNS_RATES = (1.0, 600.0)  # C/h; what long holds come to, and faster than any kiln climbs for long


@frozen
class Law:
    """theta in kelvin and ln(A in 1/h)."""

    theta: float
    log_a: float

    def misses(self, cells: Mapping[float, float]) -> dict[float, float]:
        """Law minus chart in C, by rate."""
        return {r: end_temperature(self.theta, self.log_a, r) - c for r, c in cells.items()}


def fit_law(cells: Mapping[float, float], weights: Mapping[float, float] = WEIGHTS) -> Law:
    """Weighted least squares of one law to two or more cells, {rate C/h: end C}.

    Gauss-Newton on (end temperature at 60 C/h, ln theta), which are nearly uncorrelated.
    Raises ValueError for fewer than two cells.
    """
    if len(cells) < 2:
        raise ValueError("a law of two constants needs two published rates or more")
    rates = sorted(cells)
    pivot = cells.get(60.0, sum(cells.values()) / len(cells))
    log_theta = log(800.0 / GAS_CONSTANT)

    def misses(pivot: float, log_theta: float) -> list[float]:
        law = _law(pivot, log_theta)
        found = law.misses(cells)
        return [weights[rate] * found[rate] for rate in rates]

    for _ in range(60):
        here = misses(pivot, log_theta)
        a = [(x - y) / 1e-3 for x, y in zip(misses(pivot + 1e-3, log_theta), here, strict=True)]
        b = [(x - y) / 1e-5 for x, y in zip(misses(pivot, log_theta + 1e-5), here, strict=True)]
        aa, ab, bb = _dot(a, a), _dot(a, b), _dot(b, b)
        ga, gb = -_dot(a, here), -_dot(b, here)
        scale = aa * bb - ab * ab
        step_pivot = (ga * bb - gb * ab) / scale
        step_theta = max(-0.5, min(0.5, (aa * gb - ab * ga) / scale))
        pivot += step_pivot
        log_theta += step_theta
        if abs(step_pivot) + abs(step_theta) < 1e-9:
            break
    return _law(pivot, log_theta)


def fit_lent(cells: Mapping[float, float], lent: float) -> Law:
    """The law of a cone with a cell at 15 C/h that is lent to it."""
    whole = {**cells, 15.0: lent}
    tenths = range(round(10 * WEIGHTS[15.0]), 0, -1)
    for weight in (0.1 * tenth for tenth in tenths):
        law = fit_law(whole, {**WEIGHTS, 15.0: weight})
        if max(map(abs, law.misses(cells).values())) <= OWN_MISS_MOST:
            return law
    return fit_law(cells)


def lent_at_15(series: str, cone: str, cells: Mapping[float, float]) -> float | None:
    """C at which a large cone would end at 15 C/h by the self-supporting; None where none lends."""
    form, _, kind = series.partition("_")
    lender = chart(f"ss_{kind}").get(cone, {}) if form == "large" else {}
    if 15.0 not in lender or 60.0 not in cells:
        return None
    return lender[15.0] + cells[60.0] - lender[60.0]


def left_out(cells: Mapping[float, float], rate: float) -> float:
    """Law minus chart in C at `rate`, the law fitted to the other rates only."""
    rest = {r: c for r, c in cells.items() if r != rate}
    return fit_law(rest).misses({rate: cells[rate]})[rate]


def chart(series: str) -> dict[str, dict[float, float]]:
    """{cone: {rate: end C}} of one series, coolest cone first."""
    found: dict[str, dict[float, float]] = {}
    for cell in chart_cells():
        if cell.series == series and cell.rate is not None:
            found.setdefault(cell.cone, {})[cell.rate] = cell.celsius
    return {cone: found[cone] for cone in sorted(found, key=_axis)}


def log_a_through(theta: float, celsius: float, rate: float) -> float:
    """ln A of the law with this theta that is just down at `celsius` after `rate` C/h."""
    return log(rate) - log_steady_work(celsius + ZERO_CELSIUS, theta)


def _axis(cone: str) -> float:
    return ConeNumber.read(cone).axis


def band_energy(cone: str, energies: Mapping[str, float]) -> tuple[float, str]:
    """Median energy (kJ/mol) of the band a cone lies in, and the band's name."""
    place = _axis(cone)
    for first, last in BANDS:
        if _axis(first) <= place <= _axis(last):
            inside = [
                energy
                for other, energy in energies.items()
                if _axis(first) <= _axis(other) <= _axis(last)
            ]
            return median(inside), f"{first} to {last}"
    raise ValueError(f"cone {cone!r} lies in no band")


def rows() -> list[dict[str, str]]:
    """The whole fitted table as text cells, ready to write or to compare."""
    recalled = {
        (cell.series, cell.cone, cell.rate) for cell in chart_cells() if cell.confidence == "memory"
    }
    standing = chart("ss_regular")
    standing_laws = {cone: fit_law(cells) for cone, cells in standing.items()}
    three_rate = {
        cone: standing_laws[cone].theta * GAS_CONSTANT
        for cone, cells in standing.items()
        if len(cells) == 3
    }
    table = []
    for series in KINETIC_SERIES:
        for cone, cells in chart(series).items():
            notes = []
            lent = lent_at_15(series, cone, cells)
            slow = 0.0
            if len(cells) == 1:
                ((rate, celsius),) = cells.items()
                energy, band = band_energy(cone, three_rate)
                law = Law(
                    energy / GAS_CONSTANT,
                    log_a_through(energy / GAS_CONSTANT, celsius, rate),
                )
                basis = f"median of self-supporting {band}"
                notes.append("one published rate, so the energy is borrowed from its band")
            elif cells[150.0] <= cells[60.0]:
                law = standing_laws[cone]
                basis = f"ss_regular {cone}"
                notes.append(
                    "chart is cooler at 150 than at 60 C/h: left out, self-supporting law used"
                )
            elif lent is not None:
                law = fit_lent(cells, lent)
                basis = f"own {len(cells)} rates and the slowest of self-supporting {cone}"
                slow = law.misses({15.0: lent})[15.0]
                notes.append(f"lent at 15 C/h: {lent:.0f} C, missed by {slow:+.1f} C")
            else:
                law = fit_law(cells)
                basis = f"own {len(cells)} rates"
            rise = cells[150.0] - cells[60.0] if len(cells) > 1 else 0.0
            doubtful = rise <= DOUBTFUL_RISE
            if doubtful and rise > 0.0:
                notes.append(
                    f"rises {rise:.0f} C from 60 to 150 C/h: energy not to be trusted beyond them"
                )
            memory = [rate for rate in cells if (series, cone, rate) in recalled]
            if memory:
                at = ", ".join(f"{rate:.0f}" for rate in sorted(memory))
                notes.append(f"from memory at {at} C/h")
            spread = 2.0 * SPREAD_PER_FOLD if doubtful else SPREAD_PER_FOLD
            spread = max(spread, abs(slow) / FOLDS_TO_SLOW)
            table.append(_row(series, cone, law, cells, spread, basis, notes))
    by_cone = {(row["series"], row["cone"]): row for row in table}
    for series in KINETIC_SERIES:
        for cone, hotter in overtaking(by_cone, series).items():
            by_cone[series, cone]["down_with"] = " ".join(hotter)
    return table


def overtaking(
    table: Mapping[tuple[str, str], Mapping[str, str]], series: str
) -> dict[str, list[str]]:
    """Each cone of a series with the hotter cones that would end before it at some kiln's rate."""
    laws = {}
    for (of, cone), row in table.items():
        theta = float(row["activation_energy_kj_per_mol"]) / GAS_CONSTANT
        if of == series:
            laws[cone] = Law(theta, float(row["ln_rate_constant_per_h"]))
    ends = {
        cone: [end_temperature(law.theta, law.log_a, rate) for rate in KILNS_RATES]
        for cone, law in laws.items()
    }
    ladder = list(laws)
    return {
        cone: [
            hotter
            for hotter in ladder[place + 1 :]
            if any(own > other for own, other in zip(ends[cone], ends[hotter], strict=True))
        ]
        for place, cone in enumerate(ladder)
    }


def _row(
    series: str,
    cone: str,
    law: Law,
    cells: Mapping[float, float],
    spread: float,
    basis: str,
    notes: Sequence[str],
) -> dict[str, str]:
    misses = law.misses(cells)
    # What the chart has at 60 C/h; the law's own where it has none, or one that was left out.
    own = abs(misses.get(60.0, inf)) <= 2.0 * OWN_MISS_MOST
    end = cells[60.0] if own else end_temperature(law.theta, law.log_a, 60.0)
    rms = (sum(miss * miss for miss in misses.values()) / len(misses)) ** 0.5
    row = {
        "series": series,
        "cone": cone,
        "activation_energy_kj_per_mol": f"{law.theta * GAS_CONSTANT:.3f}",
        "ln_rate_constant_per_h": f"{_matching_log_a(law):.6f}",
        "end_60_c": f"{end:.3f}",
        "rms_c": f"{rms:.2f}",
        "spread_per_fold_c": f"{round(spread, 1):g}",
        "down_with": "",
        "energy_from": basis,
        "note": "; ".join(notes),
    }
    for rate in RATES:
        # Adding 0.0 turns a rounded minus zero into zero.
        row[f"residual_{rate:.0f}_c"] = (
            f"{round(misses[rate], 2) + 0.0:.2f}" if rate in misses else ""
        )
    return {column: row[column] for column in COLUMNS}


def _matching_log_a(law: Law) -> float:
    """ln A that goes with the energy as printed, so rounding the energy moves no temperature."""
    theta = round(law.theta * GAS_CONSTANT, 3) / GAS_CONSTANT
    return log_a_through(theta, end_temperature(law.theta, law.log_a, 60.0), 60.0)


def _law(pivot: float, log_theta: float) -> Law:
    theta = exp(log_theta)
    return Law(theta, log_a_through(theta, pivot, 60.0))


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))


def as_text() -> str:
    """The fitted table as the text of a CSV file."""
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows())
    return text.getvalue()


def main(arguments: Sequence[str]) -> int:
    """Print the fitted table, or with ``--write`` replace the committed one."""
    if list(arguments) == ["--write"]:
        path = document_path("rules", "tables").joinpath("cone_kinetics.csv")
        path.write_text(as_text(), encoding="utf-8")
    elif arguments:
        sys.stderr.write("say nothing, or --write to replace rules/tables/cone_kinetics.csv\n")
        return 2
    else:
        sys.stdout.write(as_text())
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
