"""`guardcone cones`, where cones end by the published chart."""

import argparse

from guardcone.commands.output import CannotWork, Output
from guardcone.firing.cones import chart_cells
from guardcone.reports.page import Page, one_line
from guardcone.values import ConeNumber, Rate, Temperature

HELP = "where cones end, by how fast the end of a firing climbs; the neighbours of one cone"
# The columns of the table: the form over them, the series of rules/tables/cones.csv, °C/h.
COLUMNS = (
    ("large", "large_regular", 60.0),
    ("", "large_regular", 150.0),
    ("self-supporting", "ss_regular", 15.0),
    ("", "ss_regular", 60.0),
    ("", "ss_regular", 150.0),
    ("small", "small_regular", 300.0),
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone cones`."""
    parser.add_argument("cone", nargs="?", metavar="CONE", help="one cone, such as 06")
    parser.add_argument("--in", dest="unit", choices=("C", "F"), default="C", help="degrees")


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the table, or of it a cone with its neighbours; 2 where the chart has no such cone."""
    ends = {(cell.series, cell.cone, cell.rate): cell.celsius for cell in chart_cells()}
    series = {name for _, name, _ in COLUMNS}
    cones = sorted({ConeNumber.read(cone) for name, cone, _ in ends if name in series})
    parts = dict.fromkeys(cones, "") if chosen.cone is None else _neighbours(chosen.cone, cones)
    page = Page(output.style)
    page.heading("Where cones end")
    page.paragraph(
        "The temperature at which a cone is down, by how fast the last part of the climb goes: the "
        "faster, the hotter. A dash: the chart has none. Cones with iron, of the current chart."
    )
    page.blank()
    unit = Rate.of(1, f"{chosen.unit}/h")
    rates = (str(Rate.of(rate, "C/h").like(unit)) for _, _, rate in COLUMNS)
    table = [["", *(form for form, _, _ in COLUMNS)], ["cone", *rates]]
    for cone, part in parts.items():
        found = (ends.get((name, str(cone), rate)) for _, name, rate in COLUMNS)
        table.append([f"{cone} {part}", *(_whole(one, chosen.unit) for one in found)])
    page.table(table)
    page.blank()
    page.paragraph(
        "From the maker's published chart (rules/tables/cones.csv). A chart is measured in a small "
        "kiln; what your cones do in yours counts more.",
        indent=0,
    )
    output.write(page.text())
    return 0


def _neighbours(word: str, cones: list[ConeNumber]) -> dict[ConeNumber, str]:
    """The cone as a target, between what would be its guide and its guard."""
    try:
        target = ConeNumber.read(word.strip().lower().removeprefix("cone").strip())
    except ValueError as error:
        raise CannotWork(f"{one_line(word)} is no cone") from error
    if target not in cones:
        raise CannotWork(f"the chart has no cone {target}")
    found = {target.cooler(): "guide", target: "target", target.hotter(): "guard"}
    return {cone: part for cone, part in found.items() if cone in cones and cone}


def _whole(celsius: float | None, unit: str) -> str:
    if celsius is None:
        return "-"
    return f"{Temperature.of(celsius, 'C').like(Temperature.of(1, unit)).amount():.0f}"
