"""What other programs may call: the same answers as the commands give."""

import guardcone as program


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


def test_forecast_gives_the_computed_firing(stoneware: str) -> None:
    """The forecast of a plan holds its peak in °C."""
    coming = program.forecast(stoneware)

    assert "1246" in repr(coming)
