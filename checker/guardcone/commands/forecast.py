"""Room: the command line; here `guardcone forecast`, the computed firing."""

import argparse

from guardcone.commands.output import CannotWork, Output
from guardcone.commands.plan_files import read_source
from guardcone.language import UnreadablePlan
from guardcone.plan import read_plan

NAME = "forecast"
HELP = "compute the firing: what each cone will do, when to watch, when to open"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone forecast`."""
    parser.add_argument("plan", metavar="PLAN", help="a plan, or - for standard input")
    parser.add_argument(
        "--form", choices=("people", "json"), default="people", help="for people (default) or JSON"
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the forecast of one plan."""
    try:
        plan = read_plan(read_source(chosen.plan))
    except UnreadablePlan as reason:
        raise CannotWork(str(reason)) from reason
    del plan
    raise CannotWork("not built yet")
