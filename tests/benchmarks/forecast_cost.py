"""What a forecast costs beside reading the same plan, in pure Python.

    python -m tests.benchmarks.forecast_cost

Reads and fires one plan of ten segments and three witness sets, over and over, and prints the CPU
time of each part and its ratio to reading the plan, all measured in one run on one machine.
No test has a limit on it: a busy machine would break it for nothing.
"""

import argparse
import statistics
from collections.abc import Callable
from pathlib import Path
from time import process_time

from guardcone.language import SourceText, split_lines
from guardcone.outlook.outlook import forecast_of
from guardcone.outlook.planned import PlannedFiring, fire
from guardcone.plan import Plan, read_plan
from guardcone.reports.forecast import forecast_for_people

TEXT = Path(__file__).with_name("ten_segments.firing").read_text(encoding="utf-8")


def read() -> Plan:
    """The plan, read from its text as a check reads it."""
    return read_plan(SourceText("ten_segments.firing", split_lines(TEXT)))


def fired_with_cones(plan: Plan) -> PlannedFiring:
    """What a check needs of a firing: its curve, and the forecast of every witness cone."""
    firing = fire(plan)
    for witness in plan.witness_sets:
        for written in (witness.guide, witness.target, witness.guard):
            if written is not None:
                firing.forecast(written.value)
    return firing


def every_cone_apart(plan: Plan) -> PlannedFiring:
    """The same where no two sets hold the same cone, as if nothing could be used twice."""
    firing = fire(plan)
    for witness in plan.witness_sets:
        for written in (witness.guide, witness.target, witness.guard):
            if written is not None:
                firing._forecasts.clear()
                firing.forecast(written.value)
    return firing


def cost(work: Callable[[], object], seconds: float) -> float:
    """CPU milliseconds of one call: the median of runs that together last about `seconds`."""
    work()
    runs = []
    end = process_time() + seconds
    while process_time() < end or len(runs) < 5:
        begun = process_time()
        for _ in range(20):
            work()
        runs.append((process_time() - begun) / 20)
    return 1000.0 * statistics.median(runs)


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=1.0, help="for each line; default 1")
    seconds = parser.parse_args().seconds
    plan = read()
    assert not plan.faults, plan.faults
    forecast = forecast_of(plan)
    lines: list[tuple[str, Callable[[], object]]] = [
        ("read the plan", read),
        ("fire it, curve only", lambda: fire(plan)),
        ("fire it, with its witness cones", lambda: fired_with_cones(plan)),
        ("  the same, nine different cones", lambda: every_cone_apart(plan)),
        ("the whole forecast, with peak, hold and rate", lambda: forecast_of(plan)),
        ("the page for people", lambda: forecast_for_people(forecast)),
    ]
    reading = 0.0
    print(f"{'':46}{'ms CPU':>8}{'of reading':>12}")
    for name, work in lines:
        spent = cost(work, seconds)
        reading = reading or spent
        print(f"{name:46}{spent:8.3f}{spent / reading:12.2f}")


if __name__ == "__main__":
    main()
