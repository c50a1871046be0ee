"""What a check costs, counted in steps and not by a clock, which a busy machine would break."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from growing_plans import GROWING, SOUND

from guardcone.checking.plans import check_plan
from guardcone.language import SourceText, split_lines
from guardcone.outlook import planned
from guardcone.plan import read_plan
from guardcone.reports.findings import findings_for_people
from guardcone.reports.page import Style
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence

SAMPLES = Path(__file__).resolve().parents[2] / "sample_plans"
# Counts what one run of the program makes.
COUNTING = """
import re, sys
import attr._make
made = {"classes": 0, "patterns": 0}
def counted(what, function):
    def count(*arguments, **named):
        made[what] += 1
        return function(*arguments, **named)
    return count
attr._make._ClassBuilder.build_class = counted("classes", attr._make._ClassBuilder.build_class)
re._compiler.compile = counted("patterns", re._compiler.compile)
from guardcone.commands import main
main(sys.argv[1:])
modules = sum(name.partition(".")[0] == "guardcone" for name in sys.modules)
print(modules, made["classes"], made["patterns"], file=sys.stderr)
"""


def report(text: str) -> str:
    """A plan read, checked and told to people."""
    checked = check_plan(read_plan(SourceText("plan", split_lines(text))), built_in_book())
    return findings_for_people([checked], Style(), Consequence.DOUBT)


def steps(work: Callable[[], object]) -> int:
    """How many functions are called."""
    count = 0

    def step(*_: object) -> None:
        nonlocal count
        count += 1

    sys.setprofile(step)
    try:
        work()
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize("kind", GROWING)
def test_four_times_the_lines_cost_less_than_five_times_the_steps(kind: str) -> None:
    """Nothing in reading, checking and telling a plan grows with the square of its lines."""
    few, many = GROWING[kind](25), GROWING[kind](100)
    for text in (SOUND, few, many):
        report(text)  # what is kept is kept now
    whole, once, fourfold = (steps(lambda text=text: report(text)) for text in (SOUND, few, many))

    assert many.count("\n") > few.count("\n") > SOUND.count("\n")
    assert fourfold - whole < 5 * (once - whole)


@pytest.mark.parametrize(
    ("words", "modules", "classes", "patterns"),
    [
        ("check sound_stoneware.firing", 105, 150, 115),
        ("check guard_missing_order_reversed.firing", 108, 155, 115),
        ("check text_faults.firing", 115, 155, 210),
        ("tidy sound_stoneware.firing", 50, 70, 90),
        ("forecast sound_stoneware.firing", 115, 170, 120),
        ("--version", 3, 0, 0),
    ],
)
def test_a_run_makes_few_things(words: str, modules: int, classes: int, patterns: int) -> None:
    """Modules loaded, classes and patterns made: most of what a short run takes."""
    run = [sys.executable, "-c", COUNTING, *words.split()]
    for _ in range(2):  # the first may have to keep what the documents make
        told = subprocess.run(run, capture_output=True, text=True, cwd=SAMPLES, check=True)
    made = [int(number) for number in told.stderr.split()[-3:]]

    assert all(
        count <= most for count, most in zip(made, (modules, classes, patterns), strict=True)
    ), made


def test_a_firing_is_computed_once_and_tried_again_only_where_it_misses(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A sound plan is fired once; what to set otherwise is looked for once a firing and kind."""
    fired: list[object] = []
    curve_of = planned.curve_of

    def counted(*arguments: object) -> object:
        fired.append(arguments)
        return curve_of(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(planned, "curve_of", counted)
    report(SOUND)

    assert len(fired) == 1
