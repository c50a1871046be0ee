"""What other programs may call: the same answers as the commands give."""

import subprocess
import sys
from pathlib import Path

import guardcone as program
from guardcone.reports.forecast_json import forecast_json


def test_check_gives_the_findings(stoneware: str) -> None:
    """A plan without a guard gives the finding that the command gives, with its place."""
    checked = program.check(stoneware.replace("  guard  10\n", "", 1), "thursday")

    (finding,) = checked.findings
    assert (finding.rule, finding.span.line, checked.plan.source.name) == (
        *("guard-missing", 19),
        "thursday",
    )


def test_check_never_raises_for_text() -> None:
    """Any text is answered with findings."""
    assert {finding.rule for finding in program.check("giude 8\n").findings} >= {"word-unknown"}


def test_forecast_gives_the_computed_firing(guardcone, studio: Path, stoneware: str) -> None:
    """The forecast of a plan holds what the command prints: here cone 9 and where it stands."""
    (studio / "thursday.firing").write_text(stoneware)

    coming = program.forecast(stoneware, "thursday.firing")
    said = guardcone("forecast", "--form", "json", "thursday.firing")

    checked = program.check(stoneware, "thursday.firing")
    assert said.screen == forecast_json(coming, checked=checked)
    assert coming.equivalent is not None
    assert coming.equivalent.text == "9"


def test_forecast_never_raises_for_text() -> None:
    """A text without a firing is answered with what is missing."""
    coming = program.forecast("giude 8\n")

    assert coming.course is None
    assert coming.gaps


def test_importing_costs_nothing_yet() -> None:
    """`import guardcone` alone brings in nothing but itself, whoever imports it for later."""
    command = "import sys; before = set(sys.modules); import guardcone; "
    command += "print(sorted(set(sys.modules) - before))"

    done = subprocess.run(
        [sys.executable, "-c", command], capture_output=True, text=True, check=True
    )

    assert "'guardcone'" in done.stdout
    for module in ("lark", "ruamel", "attr", "guardcone."):
        assert f"'{module}" not in done.stdout
