"""`guardcone tidy`, the one canonical layout."""

import argparse
from pathlib import Path

from guardcone.commands.output import Output, file_work
from guardcone.commands.plan_files import STANDARD_INPUT, Unread, plan_paths, read_source
from guardcone.files import write_whole
from guardcone.reports.page import one_line
from guardcone.tidy import difference, tidy_text

HELP = "rewrite plans into the one canonical layout; comments stay, values never change"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone tidy`."""
    parser.add_argument("plans", nargs="+", metavar="PLAN-OR-FOLDER", help="a plan, a folder, or -")
    parser.add_argument(
        "--write",
        action="store_true",
        help="write the files, each whole or not at all, instead of showing what would change",
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Show or write the tidied plans; 1 if showing and something would change."""
    changed = False
    undone = Unread()
    for name in plan_paths(chosen.plans, undone):
        told = ""
        with undone.goes_on():
            told = _tidied(name, write=chosen.write)
        if name == STANDARD_INPUT:
            output.write_as_it_is(told)
        else:
            output.write(told)
            changed |= told != ""
    if undone.number:
        return 2
    return 1 if changed and not chosen.write else 0


def _tidied(name: str, *, write: bool) -> str:
    """What is told of a plan that is not tidy yet; of standard input the plan itself, tidied."""
    source, shown = read_source(name), one_line(name)
    if name == STANDARD_INPUT:
        return tidy_text("".join(f"{line.text}\n" for line in source.lines))
    with file_work(f"{shown} can't be read"):
        before = Path(name).read_bytes().decode("utf-8-sig")
    after = tidy_text(before, name)
    if after == before:
        return ""
    if not write:
        return difference(before, after, shown)
    with file_work(f"{shown} could not be written"):
        write_whole(Path(name), after)
    return f"{shown}: tidied\n"
