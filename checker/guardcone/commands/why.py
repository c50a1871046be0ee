"""`guardcone why`, the long explanation of one rule."""

import argparse

from guardcone.commands.output import CannotWork, Output
from guardcone.commands.plan_files import studio_of, studios
from guardcone.language.nearest import nearest
from guardcone.reports.page import one_line
from guardcone.reports.rule_page import rule_page, text_fault_page
from guardcone.rulebook.kept_book import text_fault_pages

HELP = "explain a rule: what it finds, why, what to do, and plans without and with its finding"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone why`."""
    parser.add_argument("rule", metavar="RULE", help="the name of a rule, as findings give it")


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the page of one rule; 2 where there is no such rule."""
    book, pages = studio_of(".", studios()).book, text_fault_pages()
    name = chosen.rule.strip().lower()
    if not name:
        raise CannotWork("the name of the rule is empty")
    rule = book.rule(name)
    if rule is not None:
        output.write(rule_page(rule, book, output.style))
    elif name in pages:
        output.write(text_fault_page(pages[name], output.style))
    else:
        close = nearest(name, [*pages, *(rule.name for rule in book.rules)])
        hint = f"the nearest is {close}" if close else "guardcone rules lists all names"
        raise CannotWork(f"there is no rule {one_line(chosen.rule)}; {hint}")
    return 0
