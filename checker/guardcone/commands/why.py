"""`guardcone why`, the long explanation of one rule, or what it finds in one plan and by what."""

import argparse

from guardcone.checking.plans import check_plan
from guardcone.commands.output import CannotWork, Output
from guardcone.commands.plan_files import read_source, studio_of, studios
from guardcone.language.nearest import nearest
from guardcone.reports.page import one_line
from guardcone.reports.rule_page import rule_page, text_fault_page
from guardcone.rulebook.kept_book import text_fault_pages

HELP = (
    "explain a rule: what it finds, why, by which numbers, and plans without and with its finding"
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone why`."""
    parser.add_argument("rule", metavar="RULE", help="the name of a rule, as findings give it")
    parser.add_argument(
        "--in",
        dest="plan",
        metavar="PLAN",
        help="tell the rule by the numbers of this plan, or - for standard input",
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the page of one rule, or what it says of a plan; 2 where there is no such rule."""
    source = None if chosen.plan is None else read_source(chosen.plan)
    studio = studio_of("." if source is None else chosen.plan, studios())
    book, pages = studio.book, text_fault_pages()
    name = chosen.rule.strip().lower()
    if not name:
        raise CannotWork("the name of the rule is empty")
    rule, page = book.rule(name), pages.get(name)
    if rule is None and page is None:
        close = nearest(name, [*pages, *(rule.name for rule in book.rules)])
        hint = f"the nearest is {close}" if close else "guardcone rules lists all names"
        raise CannotWork(f"there is no rule {one_line(chosen.rule)}; {hint}")
    told = None
    if source is not None:
        from guardcone.reports.rule_in_plan import rule_in_plan, text_fault_in_plan

        checked = check_plan(studio.read_plan(source), book)
        if rule:
            told = rule_in_plan(rule, checked, output.style)
        elif page:
            told = text_fault_in_plan(page, checked, output.style)
    if told is None and rule:
        told = rule_page(rule, book, output.style)
    elif told is None and page:
        told = text_fault_page(page, output.style)
    output.write(told or "")
    return 0
