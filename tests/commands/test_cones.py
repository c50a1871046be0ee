"""`guardcone cones`: the published chart as people look things up in it."""

import csv

import pytest

from guardcone.documents import document_path


def test_a_cone_between_its_neighbours(guardcone, snapshot) -> None:
    """The cone asked for is the target, and the chart tells its guide and its guard."""
    assert guardcone("cones", "cone 06", "--in", "F").screen == snapshot


def test_every_cell_of_the_chart_is_told(guardcone) -> None:
    """Each current temperature of cones with iron stands in the table, to the degree (°C)."""
    with document_path("rules", "tables", "cones.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["series"].endswith("_regular")]
    lines = {
        line.split()[0]: line.split()[1:] for line in guardcone("cones").screen.splitlines() if line
    }

    assert len(rows) > 200
    assert [
        (row["cone"], row["celsius"])
        for row in rows
        if row["celsius"] not in lines.get(row["cone"], ())
    ] == []


@pytest.mark.parametrize(("word", "told"), [("99", "99 is no cone"), ("", " is no cone")])
def test_no_such_cone(guardcone, word: str, told: str) -> None:
    """What is no cone of the chart is refused."""
    said = guardcone("cones", word)

    assert (said.screen, said.status) == ("", 2)
    assert said.errors == f"guardcone: {told}\n"
