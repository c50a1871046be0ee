"""The small tables: every line of them is read by the program."""

from pathlib import Path

import pytest

from guardcone.firing.tables import band, table, usual

CODE = "".join(
    path.read_text(encoding="utf-8")
    for path in (Path(__file__).parents[2] / "checker" / "guardcone").rglob("*.py")
)
BUILT = {f"well_inside_{kind}" for kind in ("peak", "hold", "rate")}
LINES = [
    (name, row[column])
    for name, column in (("usual_values", "name"), ("bending", "what"), ("notes", "note"))
    for row in table(name)
]


@pytest.mark.parametrize(("name", "line"), LINES)
def test_no_line_is_unused(name: str, line: str) -> None:
    """Each figure and note stands by its name in the code, once in its table."""
    assert LINES.count((name, line)) == 1
    assert line in BUILT or f'"{line}"' in CODE


@pytest.mark.parametrize("row", table("usual_values"), ids=lambda row: row["name"])
def test_every_usual_value_says_where_it_comes_from(row: dict[str, str]) -> None:
    """A number, its unit, a source, and how sure it is."""
    assert None not in row
    assert usual(row["name"]) > 0.0
    assert row["unit"]
    assert row["source"]
    assert row["confidence"]


def test_a_band_that_is_not_there_is_refused() -> None:
    """A name that bands.csv lacks is a KeyError, not an empty band."""
    with pytest.raises(KeyError):
        band("vapour")
