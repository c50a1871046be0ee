"""Whether another law than one energy a cone would predict better.

``python tests/making_tables/fit_compare.py`` prints, for each way of predicting a published rate
that was left out, how far it misses over the 35 self-supporting cones with three rates.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from math import exp, log, sqrt

from fit import chart, fit_law, left_out, log_a_through

from guardcone.firing.cones import end_temperature


def root_mean_square(values: Sequence[float]) -> float:
    """Root mean square, in the unit of the values."""
    return sqrt(sum(value * value for value in values) / len(values))


def three_rate_cones() -> dict[str, dict[float, float]]:
    """{cone: {rate: end C}} of the self-supporting cones published at all three rates."""
    return {cone: cells for cone, cells in chart("ss_regular").items() if len(cells) == 3}


def misses_by_law(rate: float) -> dict[str, list[float]]:
    """{law: misses in C at a left-out rate, coolest cone first}.

    "one energy a cone" knows only the cone's other two rates. "common curvature" takes off the mean
    miss of all other cones, "curvature of the neighbours" that of the two on either side: both
    thus know the left-out rate of the other cones. "energy shared with the neighbours", at 15 C/h
    only, averages ln E, each neighbour at half weight.
    """
    cones = three_rate_cones()
    alone = [left_out(cells, rate) for cells in cones.values()]
    count = len(alone)
    total = sum(alone)
    found = {
        "one energy a cone": alone,
        "common curvature": [miss - (total - miss) / (count - 1) for miss in alone],
        "curvature of the neighbours": [
            alone[i] - _mean([alone[j] for j in _beside(i, count, 2)]) for i in range(count)
        ],
    }
    if rate == 15.0:
        logs = [
            log(fit_law({60.0: cells[60.0], 150.0: cells[150.0]}).theta) for cells in cones.values()
        ]
        shared = []
        for i, cells in enumerate(cones.values()):
            beside = [logs[j] for j in _beside(i, count, 1)]
            theta = exp((logs[i] + 0.5 * sum(beside)) / (1.0 + 0.5 * len(beside)))
            log_a = log_a_through(theta, cells[60.0], 60.0)
            shared.append(end_temperature(theta, log_a, 15.0) - cells[15.0])
        found["energy shared with the neighbours"] = shared
    return found


def _beside(index: int, count: int, reach: int) -> list[int]:
    return [j for j in range(max(0, index - reach), min(count, index + reach + 1)) if j != index]


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def main() -> int:
    """Print the comparison."""
    for rate in (15.0, 60.0, 150.0):
        for law, misses in misses_by_law(rate).items():
            worst = max(abs(miss) for miss in misses)
            sys.stdout.write(
                f"{rate:4.0f} C/h  {law:36s} "
                f"rms {root_mean_square(misses):4.1f} C  worst {worst:4.1f} C\n"
            )
    return 0


if __name__ == "__main__":
    sys.exit(main())
