"""Room: the command line; here `guardcone rules`, the rule book as a list."""

import argparse

from guardcone.commands.output import Output
from guardcone.reports.rule_list import rule_list
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.text_faults import text_fault_pages

NAME = "rules"
HELP = "list the rules in force"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone rules`."""
    del parser


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print the list of all rules."""
    del chosen
    output.write(rule_list(built_in_book(), text_fault_pages().values(), output.style))
    return 0
