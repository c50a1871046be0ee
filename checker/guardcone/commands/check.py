"""`guardcone check`, the main job."""

import argparse
from collections.abc import Collection
from pathlib import Path

from guardcone.checking.plans import CheckedPlan
from guardcone.commands.output import CannotWork, Output, write_error
from guardcone.commands.plan_files import (
    Unread,
    plan_paths,
    studio_of,
    studios,
)
from guardcone.commands.side_by_side import checked_plans
from guardcone.reports.findings import (
    changes_one_a_line,
    findings_for_people,
    findings_one_a_line,
)
from guardcone.reports.findings_json import findings_as_json
from guardcone.reports.page import one_line
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence
from guardcone.rulebook.studio_names import is_studio_file
from guardcone.rulebook.studio_search import Studios

HELP = "check firing plans and say what would go wrong"

_LEVELS = [consequence.value for consequence in Consequence]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone check`."""
    parser.add_argument(
        "plans",
        nargs="*",
        metavar="PLAN-OR-FOLDER",
        help="a plan, a folder of plans, a studio.yaml for the plans it holds for, or -",
    )
    parser.add_argument(
        "--for-commit",
        action="store_true",
        help="as a hook asks: check the changed files named, if any, and every plan of the "
        "repository that leans on a studio.yaml, or its own rules, that the commit changes or "
        "takes away",
    )
    parser.set_defaults(refuse=parser.error)
    parser.add_argument(
        "--stop-at",
        choices=[*_LEVELS, "nothing"],
        default="doubt",
        metavar="CONSEQUENCE",
        help="the mildest consequence that fails the check: danger, loss, doubt (default), advice, "
        "or nothing; lines that can't be read always fail it",
    )
    parser.add_argument(
        "--form",
        choices=("people", "line", "json"),
        default="people",
        help="for people (default), one line a finding, or JSON",
    )
    parser.add_argument(
        "--teach", action="store_true", help="tell the reason of each rule with its first finding"
    )
    parser.add_argument(
        "--first",
        type=int,
        metavar="NUMBER",
        help="for people: tell so many things of each plan and every danger, for a class",
    )
    parser.add_argument(
        "--workers",
        type=int,
        default=1,
        metavar="NUMBER",
        help="check so many plans side by side (default 1; worth it from some hundred on)",
    )
    parser.add_argument(
        "--called",
        metavar="NAME",
        default="standard input",
        help="what a plan from standard input is called in the report",
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Check every plan named; the worst finding decides the exit status."""
    if not (chosen.plans or chosen.for_commit):
        chosen.refuse("the following arguments are required: PLAN-OR-FOLDER")
    if chosen.workers < 1:
        chosen.refuse("--workers must be 1 or more")
    stop_at = None if chosen.stop_at == "nothing" else Consequence(chosen.stop_at)
    checked: list[CheckedPlan] = []
    unread = Unread()
    found = studios(unread.pass_over)
    for name in chosen.plans:
        if is_studio_file(Path(name)):
            with unread.goes_on():
                studio_of(name, found)
    plans = plan_paths(chosen.plans, unread, of_studios=True)
    if chosen.for_commit:
        plans = _of_commit(plans, chosen.plans, found, unread)
    for one in checked_plans(plans, chosen.called, found, unread, chosen.workers):
        checked.append(one)
        if chosen.form == "line":
            output.write(findings_one_a_line(one, output.style))
    if checked and chosen.form == "json":
        output.write(findings_as_json(checked, stop_at))
    elif checked and chosen.form == "line":
        output.write(changes_one_a_line(checked, output.style))
    elif checked:
        why = _reasons(checked) if chosen.teach else {}
        style, first = output.style, chosen.first
        of_names, of_files = unread.passed_over, unread.number
        output.write(findings_for_people(checked, style, stop_at, why, of_files, first, of_names))
    if not checked or chosen.form != "people":
        unread.tell_passed_over()
    if broken := [broken for one in checked for broken in one.broken]:
        output.flush()
        for fault in broken:
            write_error(f"guardcone: {one_line(str(fault))}")
        raise CannotWork("the report above is incomplete; please tell the makers of guardcone")
    if unread.number:
        return 2
    if not checked:
        which = "the commit has no plan, and changes nothing that one leans on"
        if chosen.plans:
            which = "the studio's file has no plan beside it"
        write_error(f"guardcone: {which}, so none was checked")
    return 1 if any(one.stops(stop_at) for one in checked) else 0


def _of_commit(
    plans: list[str], named: Collection[str], found: Studios, unread: Unread
) -> list[str]:
    """The plans that are named, and those of the commit that lean on what it changes."""
    from guardcone.commands.committed import Commit  # only a hook needs to ask git

    with unread.goes_on():
        commit = Commit.here()
        # A draft beside them that nobody has added is no part of it.
        plans = [plan for plan in plans if plan in named or plan in commit.files]
        plans += commit.plans_that_lean(found, unread)
    return list(dict.fromkeys(plans))


def _reasons(checked: list[CheckedPlan]) -> dict[str, str]:
    """Why each rule and each fault of the text matters, by name."""
    reasons = {rule.name: rule.why for one in checked for rule in one.book.rules}
    return reasons | {name: page.why for name, page in text_fault_pages().items()}
