"""What guardcone costs beside other things, as ratios of one run on one machine.

    python -m tests.benchmarks.instant [--wheel] [--runs 11] [--plans 300]

Three tables: short runs beside `python -c pass` (CPU and clock, medians); many plans beside a
general linter of YAML; plans of four times as many lines of one kind. `--wheel` measures a fresh
installation of a wheel instead of this one. A linter that is not installed is left out. No test has
a limit on it: a busy machine would break it for nothing.
"""

import argparse
import gc
import os
import random
import re
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter, process_time

from tests.toys.growing_plans import GROWING

from guardcone.checking.plans import check_plan
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "sample_plans"
# A run that may not keep its byte code would compile the program anew each time.
ENVIRONMENT = {name: said for name, said in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
SHORT_RUNS = {
    "a clean plan": f"check {SAMPLES}/sound_stoneware.firing",
    "two findings": f"check {SAMPLES}/guard_missing_order_reversed.firing",
    "lines that can't be read": f"check {SAMPLES}/text_faults.firing",
    "nine plans": f"check {SAMPLES}",
    "forecast": f"forecast {SAMPLES}/sound_stoneware.firing",
    "tidy": f"tidy {SAMPLES}/sound_stoneware.firing",
    "why": "why guard-missing",
    "--version": "--version",
}


def spent(command: list[str], runs: int) -> tuple[float, float]:
    """Milliseconds of CPU and of the clock that a run takes, medians."""
    found = []
    for _ in range(runs):
        before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), perf_counter()
        subprocess.run(command, capture_output=True, env=ENVIRONMENT, check=False)
        after, ended = resource.getrusage(resource.RUSAGE_CHILDREN), perf_counter()
        cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        found.append((1000 * cpu, 1000 * (ended - begun)))
    return statistics.median(one[0] for one in found), statistics.median(one[1] for one in found)


def installed_wheel(folder: Path) -> Path:
    """The `bin` of a new environment with a wheel of this checkout in it."""
    environment = folder / "environment"
    subprocess.run([sys.executable, "-m", "venv", environment], check=True)
    pip = [environment / "bin" / "pip", "--quiet", "install"]
    subprocess.run([*pip, ROOT], check=True, env=ENVIRONMENT)
    return environment / "bin"


def yaml_of(lines: int) -> str:
    """A file of YAML of so many lines."""
    return "---\n" + "".join(f"- name: step {at}\n  value: {at}\n" for at in range(lines // 2))


def short_runs(programs: Path, runs: int, folder: Path) -> None:
    """The first table."""
    lines = (SAMPLES / "sound_stoneware.firing").read_text(encoding="utf-8").count("\n")
    (folder / "file.yaml").write_text(yaml_of(lines), encoding="utf-8")
    python = str(programs / "python")
    commands = {
        "python -c pass": [python, "-c", "pass"],
        "import attrs": [python, "-c", "import attrs"],
        **{name: [str(programs / "guardcone"), *of.split()] for name, of in SHORT_RUNS.items()},
    }
    for linter in ("yamllint", "check-jsonschema"):
        if found := shutil.which(linter):
            schema = ["--builtin-schema", "vendor.github-workflows"] * (linter != "yamllint")
            commands[f"{linter}, as many lines"] = [found, *schema, str(folder / "file.yaml")]
    print(f"{'a short run':32}{'ms CPU':>8}{'ms':>8}{'of pass, CPU':>14}{'clock':>8}")
    first = (0.0, 0.0)
    for name, command in commands.items():
        cpu, clock = spent(command, runs)
        first = first if first[0] else (cpu, clock)
        print(f"{name:32}{cpu:8.1f}{clock:8.1f}{cpu / first[0]:14.1f}{clock / first[1]:8.1f}")


def varied(text: str, chance: random.Random, share: float) -> str:
    """A plan with other numbers in so large a share of the lines that have some."""
    told = []
    for line in text.splitlines():
        if re.match(r"\s*(ware|hold|climb|spacing|clearance|by|note)\b", line):
            if chance.random() < share:
                line = re.sub(
                    r"(?<![-:.\w])[1-9][0-9]?(?= (?:min|mm|of)\b)",
                    lambda number: str(max(1, int(number[0]) + chance.randint(-2, 3))),
                    line,
                )
        elif line.startswith('plan "'):
            line = f'plan "firing {chance.randrange(10**6)}"'
        told.append(line)
    return "\n".join(told) + "\n"


def many_plans(programs: Path, count: int, folder: Path) -> None:
    """The second table: plans of a folder, of which a third or all of the lines differ."""
    print(f"\n{'many files':32}{'files':>8}{'s CPU':>8}{'a second':>14}")
    texts = [one.read_text(encoding="utf-8") for one in sorted(SAMPLES.glob("sound*.firing"))]
    for name, share in {"usual plans": 0.3, "varied plans": 1.0}.items():
        plans, chance = folder / name, random.Random(7)
        plans.mkdir()
        for number in range(count):
            text = varied(texts[number % len(texts)], chance, share)
            (plans / f"{number}.firing").write_text(text, encoding="utf-8")
        cpu, _ = spent([str(programs / "guardcone"), "check", "--form", "line", str(plans)], 1)
        print(f"{name:32}{count:8}{cpu / 1000:8.2f}{1000 * count / cpu:14.0f}")
    if linter := shutil.which("yamllint"):
        files = folder / "yaml"
        files.mkdir()
        for number in range(count):
            text = yaml_of(texts[number % len(texts)].count("\n"))
            (files / f"{number}.yaml").write_text(text, encoding="utf-8")
        cpu, _ = spent([linter, str(files)], 1)
        print(f"{'yamllint':32}{count:8}{cpu / 1000:8.2f}{1000 * count / cpu:14.0f}")


def growth() -> Iterator[tuple[str, float, float]]:
    """Each kind of line: milliseconds for 200 more, and how many times as long 800 more take."""
    gc.disable()  # as the program does
    book = built_in_book()

    def cost(text: str) -> float:
        best = float("inf")
        for _ in range(3):
            begun = process_time()
            check_plan(read_plan(SourceText("plan", split_lines(text))), book)
            best = min(best, process_time() - begun)
        return 1000 * best

    for kind, grown in GROWING.items():
        none, few, many = cost(grown(0)), cost(grown(200)), cost(grown(800))
        yield kind, few - none, (many - none) / max(0.1, few - none)


def main() -> None:
    """Measure and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--wheel", action="store_true", help="measure a fresh installation")
    parser.add_argument("--runs", type=int, default=11, help="of each short run; default 11")
    parser.add_argument("--plans", type=int, default=300, help="of many; default 300")
    chosen = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        programs = installed_wheel(folder) if chosen.wheel else Path(sys.executable).parent
        short_runs(programs, chosen.runs, folder)
        many_plans(programs, chosen.plans, folder)
    print(f"\n{'lines of one kind':32}{'ms, 200':>16}{'800 of 200':>14}")
    for kind, few, ratio in growth():
        print(f"{kind:32}{few:16.1f}{ratio:14.1f}")


if __name__ == "__main__":
    main()
