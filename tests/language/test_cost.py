"""Reading costs as much as there is to read: linear in lines and in the length of a line.

Cost is counted in lines of Python that are run, which a busy machine does not change. What happens
within one, such as a pattern that goes back and forth, is timed on the same texts by
`tests/benchmarks/reading_cost.py`.
"""

import sys

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan

SOUND = """\
plan "Thursday stoneware"
  starts 2026-10-03 07:30
schedule
  climb 60 C/h to 95 C
  hold 2 h
"""


def read(text: str) -> None:
    """Read a plan, faults and all."""
    read_plan(SourceText("plan", split_lines(text)))


def steps(text: str) -> int:
    """How many lines of Python are run to read a text."""
    counted = 0

    def count(_: object, event: str, __: object) -> object:
        nonlocal counted
        counted += event == "line"
        return count

    before = sys.gettrace()
    sys.settrace(count)
    try:
        read(text)
    finally:
        sys.settrace(before)
    return counted


GROWING = {
    "good lines": lambda n: SOUND + "  climb 60 C/h to 95 C\n" * n,
    "faulty lines": lambda n: SOUND + "  climb 60 C/h to 95\n" * (n // 5),
    "unknown words": lambda n: SOUND + "  frobnicate the glaze kiln\n" * (n // 10),
    "misplaced lines": lambda n: SOUND + "  vent on throughout\n" * (n // 5),
    "witness sets": lambda n: "".join(
        f'witness "{i}"\n  giude 8\n  climb 60 C/h to 95 C\n' for i in range(n // 20)
    ),
    "unknown names": lambda n: "load\n" + "".join(
        f'  clay "c{i}" cone 6\n  ware "w{i}" 4 of "d{i}"\n' for i in range(n // 2)
    ),
    "readings of no set": lambda n: "".join(
        f'witness "{i}"\nreading "r{i}"\n  guide down\n' for i in range(n // 3)
    ),
    "doubled sections": lambda n: "load\n schedule\n kiln \"k\"\n" * (n // 3),
}  # fmt: skip


@pytest.mark.parametrize("grow", GROWING.values(), ids=GROWING.keys())
def test_cost_is_linear_in_lines(grow: object) -> None:
    """Four times the lines take about four times the steps, never sixteen."""
    assert callable(grow)
    read(grow(800))  # what is made once and kept is not counted

    assert steps(grow(800)) < 4.4 * steps(grow(200))


LONG = {
    "digits": lambda n: "hold " + "1" * n,
    "digits and commas": lambda n: "hold " + "1,000" * (n // 5),
    "digits and points": lambda n: "hold " + "1." * (n // 2),
    "blanks in a value": lambda n: "hold 2" + " " * n + "x",
    "blanks after a unit": lambda n: "hold 2 h" + " " * n + "x",
    "blanks in a rate": lambda n: "climb 60 C" + " " * n + "x to 95 C",
    "blanks after degrees": lambda n: "climb 60 degrees" + " " * n + "x",
    "parts of a duration": lambda n: "hold " + "2 h " * (n // 4) + "x",
    "quotes": lambda n: 'note "' + "”“" * (n // 2),
    "one word": lambda n: "x" * n,
    "words": lambda n: "x " * (n // 2),
    "a bare name": lambda n: "kiln " + "x" * n,
    "bare names": lambda n: "kiln " + "x y " * (n // 4),
    "hyphens": lambda n: "accept " + "a-" * (n // 2),
    "fraction": lambda n: "hold " + "1 " * (n // 2) + "1/2",
    "o'clock": lambda n: "guide 5 o" + " " * n + "x",
    "articles": lambda n: "the " * (n // 4) + "kiln",
    "colons": lambda n: "kiln" + ":" * n,
    "blanks in a word": lambda n: "local" + " " * n + "cod",
}  # fmt: skip


@pytest.mark.parametrize("line", LONG.values(), ids=LONG.keys())
@pytest.mark.parametrize("heading", ['plan "p"', "schedule", 'reading "r"'])
def test_cost_is_linear_in_the_length_of_a_line(line: object, heading: str) -> None:
    """A line four times as long takes at most about four times the steps."""
    assert callable(line)
    read(f"{heading}\n{line(30)}")

    assert steps(f"{heading}\n{line(6_000)}") < 4.4 * steps(f"{heading}\n{line(1_500)}")


@pytest.mark.parametrize("line", LONG.values(), ids=LONG.keys())
def test_a_fault_quotes_only_so_much(line: object) -> None:
    """However long the line, what is told of it is short."""
    assert callable(line)
    for fault in read_plan(SourceText("plan", split_lines(line(3000)))).faults:
        assert len(fault.found) < 300
        assert len(fault.repair) < 300
