"""`guardcone start`, a commented new plan to fill in."""

import argparse
import os
from pathlib import Path

from guardcone.commands.output import CannotWork, Output, file_work
from guardcone.commands.plan_files import ENDING
from guardcone.documents import document_text
from guardcone.files import write_whole
from guardcone.reports.page import one_line

HELP = "write a commented new plan, with the places that a person must fill in"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone start`."""
    parser.add_argument(
        "plan", nargs="?", metavar="PLAN", help=f"the file to make, ending in {ENDING}"
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the new plan, or make the file; a file that is there is never overwritten."""
    text = document_text("rules", "new_plan.firing")
    if chosen.plan is None:
        output.write(text)
        return 0
    if not chosen.plan:
        raise CannotWork("the name of the plan is empty")
    path, name = Path(chosen.plan), one_line(chosen.plan)
    if path.suffix != ENDING:
        raise CannotWork(f"{name} does not end in {ENDING}, so no check of a folder would find it")
    if os.path.lexists(path):
        raise CannotWork(f"{name} is there already, and is left as it is")
    with file_work(f"{name} could not be written"):
        write_whole(path, text)
    output.write(f"{name}: fill in the places that say so, then run guardcone check {name}\n")
    return 0
