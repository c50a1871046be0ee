"""Room: the command line; here `guardcone tidy`, the one canonical layout."""

import argparse
from pathlib import Path

from guardcone.commands.output import CannotWork, Output
from guardcone.commands.plan_files import plan_paths, read_source
from guardcone.language import UnreadablePlan
from guardcone.tidy import difference, tidy_text, write_whole

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
    for name in plan_paths(chosen.plans):
        try:
            source = read_source(name)
        except UnreadablePlan as reason:
            raise CannotWork(str(reason)) from reason
        if name == "-":
            output.write(tidy_text("".join(f"{line.text}\n" for line in source.lines)))
            continue
        with Path(name).open(encoding="utf-8-sig", newline="") as file:
            before = file.read()
        after = tidy_text(before, name)
        if after == before:
            continue
        changed += 1
        if chosen.write:
            try:
                write_whole(Path(name), after)
            except OSError as error:
                raise CannotWork(f"{name} could not be written: {error.strerror}") from error
            output.write(f"{name}: tidied\n")
        else:
            output.write(difference(before, after, name))
    return 1 if changed and not chosen.write else 0
