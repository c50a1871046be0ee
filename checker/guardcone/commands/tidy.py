"""`guardcone tidy`, the one canonical layout."""

import argparse
from pathlib import Path

from guardcone.commands.output import Output, file_work
from guardcone.commands.plan_files import STANDARD_INPUT, Unread, plan_paths, read_text
from guardcone.files import write_whole
from guardcone.reports.page import Style, one_line
from guardcone.reports.tidied import summary_of_tidied, tidied_as_difference, tidied_for_people
from guardcone.tidy import laid_out, tidy_text

HELP = "rewrite plans into the one canonical layout; comments stay, values never change"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone tidy`."""
    parser.add_argument("plans", nargs="+", metavar="PLAN-OR-FOLDER", help="a plan, a folder, or -")
    parser.add_argument(
        "--write",
        action="store_true",
        help="write the files, each whole or not at all, instead of showing what would change",
    )
    parser.add_argument(
        "--form",
        choices=("people", "diff"),
        default="people",
        help="what would change: for people (default), or as a unified difference",
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Show or write the tidied plans; 1 if showing and something would change."""
    changed: list[bool] = []
    undone = Unread()
    for name in plan_paths(chosen.plans, undone):
        with undone.goes_on():
            if name == STANDARD_INPUT:
                output.write_as_it_is(tidy_text(read_text(name)))
            else:
                told = _told(name, chosen, output.style)
                changed.append(told != "")
                output.write(told)
    if changed and chosen.form == "people" and not chosen.write:
        output.write(summary_of_tidied(len(changed), sum(changed), output.style))
    undone.tell_passed_over()
    if undone.number:
        return 2
    return 1 if any(changed) and not chosen.write else 0


def _told(name: str, chosen: argparse.Namespace, style: Style) -> str:
    """What is told of a plan that is not tidy yet; empty of one that is."""
    layout, shown = laid_out(read_text(name), name), one_line(name)
    # A mark that nobody sees is no reason to write a file anew.
    if layout.text == layout.before.removeprefix("\ufeff"):
        return ""
    if chosen.write:
        with file_work(f"{shown} could not be written"):
            write_whole(Path(name), layout.text)
        return f"{shown}: tidied\n"
    if chosen.form == "diff":
        return tidied_as_difference(layout, shown)
    return tidied_for_people(layout, shown, style)
