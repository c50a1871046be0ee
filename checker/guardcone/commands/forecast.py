"""`guardcone forecast`, the computed firing."""

import argparse

from guardcone.commands.output import Output
from guardcone.commands.plan_files import read_source, studio_of, studios
from guardcone.outlook.outlook import forecast_of
from guardcone.reports.forecast import forecast_for_people
from guardcone.reports.forecast_json import forecast_json

HELP = "compute the firing: what each cone will do, when to watch, when to open"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone forecast`."""
    parser.add_argument("plan", metavar="PLAN", help="a plan, or - for standard input")
    parser.add_argument(
        "--form", choices=("people", "json"), default="people", help="for people (default) or JSON"
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the forecast of one plan; 1 where lines of it could not be read."""
    source = read_source(chosen.plan)
    studio = studio_of(chosen.plan, studios())
    plan = studio.read_plan(source)
    forecast = forecast_of(plan)
    if chosen.form == "json":
        output.write(forecast_json(forecast, studio.file))
    else:
        output.write(forecast_for_people(forecast, output.style, studio.file))
    return 1 if plan.faults else 0
