"""`guardcone forecast`, the computed firing."""

import argparse

from guardcone.checking.plans import check_plan
from guardcone.commands.output import CannotWork, Output
from guardcone.commands.plan_files import STANDARD_INPUT, read_source, studio_of, studios
from guardcone.facts.case import PlanCase
from guardcone.outlook.outlook import forecast_of
from guardcone.outlook.records import Scale
from guardcone.reports.forecast import forecast_for_people
from guardcone.reports.forecast_change import Forecasted, change_as_json, change_for_people
from guardcone.reports.forecast_json import forecast_json
from guardcone.rulebook.studio_search import Studios

HELP = "compute the firing: what each cone will do, when to watch, when to open"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone forecast`."""
    parser.add_argument("plan", metavar="PLAN", help="a plan, or - for standard input")
    parser.add_argument(
        "--all",
        action="store_true",
        help="for people: tell besides what it rests on and how far each figure may be out",
    )
    parser.add_argument(
        "--against",
        metavar="OLDER",
        help="tell what the plan does to the firing of an older one: only what differs",
    )
    parser.add_argument(
        "--form", choices=("people", "json"), default="people", help="for people (default) or JSON"
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the forecast of one plan, or what differs from another; 1 where lines are unread."""
    found = studios()
    if chosen.against == chosen.plan == STANDARD_INPUT:
        raise CannotWork("only one of the two plans can come from standard input")
    new = _forecasted(chosen.plan, found)
    faults = new.checked.plan.faults
    if chosen.against is not None:
        old = _forecasted(chosen.against, found, new.forecast.unit)
        faults += old.checked.plan.faults
        told = (
            change_as_json(new, old)
            if chosen.form == "json"
            else change_for_people(new, old, output.style)
        )
    elif chosen.form == "json":
        told = forecast_json(new.forecast, new.studio, new.checked)
    else:
        style, whole = output.style, chosen.all
        told = forecast_for_people(new.forecast, style, new.studio, new.checked, whole=whole)
    output.write(told)
    return 1 if faults else 0


def _forecasted(name: str, found: Studios, unit: Scale | None = None) -> Forecasted:
    """A plan with its forecast, in its own unit or another, and its check; both of one firing."""
    source = read_source(name)
    studio = studio_of(name, found)
    plan = studio.read_plan(source)
    case = PlanCase(plan)
    checked = check_plan(plan, studio.book, case)
    return Forecasted(forecast_of(plan, case.firing, unit), checked, studio.file)
