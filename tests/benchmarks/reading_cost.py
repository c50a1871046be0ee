"""What ten times the text costs to read, as a ratio of CPU times of one run on one machine.

    python -m tests.benchmarks.reading_cost

Reads plans of ever more lines, ever longer lines, and nonsense in place of each measure, and
prints how many times as long ten times the text takes. Exit status 1 where that is over 30 times: a
pattern that goes back and forth takes a hundred. No test has a limit on it.
"""

import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from time import process_time

from tests.language.test_cost import GROWING, LONG, read
from tests.values.test_spelling import KINDS, NONSENSE, nonsense

from guardcone.values import Misspelled, read_quantity

MOST = 30.0


def seconds(work: Callable[[], object]) -> float:
    """CPU seconds of the quickest of three calls, each done so often that a clock can tell."""
    best = float("inf")
    for _ in range(3):
        done, begun = 0, process_time()
        while done == 0 or process_time() - begun < 0.02:
            work()
            done += 1
        best = min(best, (process_time() - begun) / done)
    return best


def cases() -> Iterator[tuple[str, Callable[[int], object]]]:
    """What is read, by what it is, for a length."""
    for name, grow in GROWING.items():
        yield f"lines: {name}", lambda n, grow=grow: read(grow(n // 10))
    for name, line in LONG.items():
        for heading in ('plan "p"', "schedule", 'reading "r"'):
            yield f"{heading}: {name}", lambda n, h=heading, line=line: read(f"{h}\n{line(n)}")
    for kind in KINDS:
        for piece in NONSENSE:
            yield f"{kind.kind}: 1{piece}...", lambda n, k=kind, p=piece: refused(k, nonsense(p, n))


def refused(kind: type, text: str) -> None:
    """Read a text that is no measure."""
    with suppress(Misspelled):
        read_quantity(kind, text)


def main() -> int:
    """Measure and print the table; 1 where something costs more than it should."""
    over = 0
    for name, work in cases():
        ratio = seconds(lambda work=work: work(30_000)) / seconds(lambda work=work: work(3_000))
        over += ratio > MOST
        print(f"{name:50}{ratio:8.1f}{'  too much' if ratio > MOST else ''}")
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main())
