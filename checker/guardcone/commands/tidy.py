"""`guardcone tidy`, the one canonical layout."""

import argparse
from pathlib import Path

from guardcone.commands.output import Output
from guardcone.commands.plan_files import STANDARD_INPUT, Unread, plan_paths, read_source
from guardcone.files import write_whole
from guardcone.language import UnreadablePlan
from guardcone.reports.page import one_line
from guardcone.tidy import difference, tidy_text

NAME = "tidy"
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
    changed = 0
    undone = Unread()
    for name in plan_paths(chosen.plans, undone):
        shown = one_line(name)
        try:
            source = read_source(name)
            if name == STANDARD_INPUT:
                text = tidy_text("".join(f"{line.text}\n" for line in source.lines))
                output.write_as_it_is(text)
                continue
            with Path(name).open(encoding="utf-8-sig", newline="") as file:
                before = file.read()
        except UnreadablePlan as reason:
            undone.add(str(reason))
            continue
        except OSError as error:
            undone.add(f"{shown} can't be read: {error.strerror}")
            continue
        after = tidy_text(before, name)
        if after == before:
            continue
        changed += 1
        if chosen.write:
            try:
                write_whole(Path(name), after)
            except OSError as error:
                undone.add(f"{shown} could not be written: {error.strerror}")
            else:
                output.write(f"{shown}: tidied\n")
        else:
            output.write(difference(before, after, shown))
    if undone.number:
        return 2
    return 1 if changed and not chosen.write else 0
