"""The fit that makes rules/tables/cone_kinetics.csv from the chart, and what it leaves unsaid."""

import csv
import io

import fit
import pytest
from fit_compare import misses_by_law, root_mean_square

from guardcone.documents import document_text
from guardcone.firing.cones import ladder
from guardcone.values import ConeNumber

MIDDLE_AND_HIGH = [c.cone for c in ladder("ss_regular") if -3.0 <= c.axis <= 12.0]  # 04 to 12


def committed() -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(document_text("rules", "tables", "cone_kinetics.csv"))))


def test_refitting_gives_the_committed_table() -> None:
    """The fit, run again from the chart, gives every figure of the committed table."""
    refitted = fit.rows()

    assert [(row["series"], row["cone"]) for row in refitted] == [
        (row["series"], row["cone"]) for row in committed()
    ]
    for new, old in zip(refitted, committed(), strict=True):
        for column in fit.COLUMNS:
            if column in ("series", "cone", "down_with", "energy_from", "note") or not old[column]:
                assert new[column] == old[column]
            else:
                # One unit of the last printed digit: another machine's libm may round otherwise.
                unit = 10.0 ** -len(old[column].partition(".")[2])
                assert float(new[column]) == pytest.approx(float(old[column]), abs=1.01 * unit)


def test_a_left_out_60_is_predicted() -> None:
    """Fitted to 15 and 150 C/h only, cones 04 to 11 end within 5 C of the published 60 C/h."""
    charts = fit.chart("ss_regular")
    misses = {
        name: fit.left_out(charts[name], 60.0)
        for name in MIDDLE_AND_HIGH
        if ConeNumber.read(name).axis <= 11
    }

    assert len(misses) == 16
    assert max(abs(miss) for miss in misses.values()) < 5.0


def test_the_law_in_use_against_others() -> None:
    """Root mean square misses of left-out rates as stated in rules/tables/sources.md."""
    stated = {
        15.0: {
            "one energy a cone": 6.7,
            "common curvature": 6.5,
            "curvature of the neighbours": 5.5,
            "energy shared with the neighbours": 6.6,
        },
        60.0: {
            "one energy a cone": 2.8,
            "common curvature": 2.7,
            "curvature of the neighbours": 2.3,
        },
        150.0: {
            "one energy a cone": 4.7,
            "common curvature": 4.6,
            "curvature of the neighbours": 3.9,
        },
    }
    found = {
        rate: {law: round(root_mean_square(m), 1) for law, m in misses_by_law(rate).items()}
        for rate in stated
    }

    assert found == stated


def test_spread_per_fold_is_what_left_out_rates_show() -> None:
    """5 C for every e-fold of rate outside 60 to 150 C/h, from the left-out ends of the chart."""
    slow = root_mean_square(misses_by_law(15.0)["one energy a cone"]) / 1.386  # ln(60/15)
    fast = root_mean_square(misses_by_law(150.0)["one energy a cone"]) / 0.916  # ln(150/60)

    assert pytest.approx(0.5 * (slow + fast), abs=0.1) == fit.SPREAD_PER_FOLD


def test_a_lent_cell_draws_large_cones_to_the_self_supporting_at_15() -> None:
    """Large and self-supporting cones of one number end within 3 C of each other on the chart.

    By their own two rates alone, large cones missed that by 7.3 C at 15 C/h, 15 at worst.
    """
    charts = fit.chart("large_regular")
    lent = {cone: fit.lent_at_15("large_regular", cone, cells) for cone, cells in charts.items()}
    misses = {
        law.cone: law.end_temperature(15.0) - (lent[law.cone] or 0.0)
        for law in ladder("large_regular")
        if law.cone != "14"
    }

    assert len(misses) == 33
    assert root_mean_square(list(misses.values())) < 5.5
    assert max(map(abs, misses.values())) < 13.0
    # What is still missed is in the spread: 1.39 e-folds of rate lie between 60 and 15 C/h.
    for law in ladder("large_regular"):
        assert law.spread_per_fold * 1.39 >= abs(misses.get(law.cone, 0.0)) - 0.1
