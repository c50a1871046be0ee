"""`guardcone rules`: the rules in force, and trying one's own."""

import argparse
from collections.abc import Iterable
from pathlib import Path

from guardcone.checking.examples import RuleTest, run_book, run_rule_files
from guardcone.commands.output import CannotWork, Output, write_error
from guardcone.commands.plan_files import studios
from guardcone.documents import document_path
from guardcone.facts import VOCABULARY
from guardcone.reports.json_schema import as_text, rules_schema, studio_schema
from guardcone.reports.page import one_line
from guardcone.reports.reference_page import reference_page
from guardcone.reports.rules import (
    faults_one_a_line,
    limit_list,
    rule_list,
    rule_test_report,
    vocabulary_list,
)
from guardcone.rulebook.book import RuleBook, StudioFaults
from guardcone.rulebook.book_files import BookFile
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.library import BrokenBook, built_in_book
from guardcone.rulebook.rule import Rule, RuleFault
from guardcone.rulebook.studio_search import STANDARD_INPUT, book_file

HELP = "list the rules in force, and test rules of your own"

_PARTS = {
    "list": "every rule in force, and what the studio has changed (also without a word)",
    "limits": "every limit with its value, range and source",
    "vocabulary": "every fact that a rule may ask",
    "page": "the whole rule book as one page of Markdown",
    "schema": "the JSON Schema of rule files or of studio.yaml, for editors",
    "test": "read files of rules and run their examples; without a file, those of the rule book",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone rules`."""
    parser.set_defaults(part="list")
    parts = parser.add_subparsers(title="parts", metavar="PART", dest="part")
    for name, help_text in _PARTS.items():
        own = parts.add_parser(name, help=help_text, description=help_text)
        if name == "test":
            own.add_argument("files", nargs="*", metavar="FILE", help="a file of rules")
        if name == "schema":
            own.add_argument("of", choices=("rules", "studio"), help="rule files, or studio.yaml")


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Print what was asked for; 1 only where an example of a rule is wrong."""
    part = chosen.part or "list"
    try:
        if part == "test":
            return _test(chosen.files, output)
        output.write(_text(part, chosen, output))
    except BrokenBook as broken:
        raise _faulty("the rule book", broken.faults, output) from broken
    return 0


def _text(part: str, chosen: argparse.Namespace, output: Output) -> str:
    if part == "vocabulary":
        return vocabulary_list(VOCABULARY, output.style)
    if part == "schema" and chosen.of == "rules":
        return as_text(rules_schema(VOCABULARY))
    book = _book_here(output)
    if part == "schema":
        return as_text(studio_schema(book))
    if part == "limits":
        return limit_list(book, output.style)
    if part == "page":
        return reference_page(book, text_fault_pages().values())
    return rule_list(book, text_fault_pages().values(), output.style)


def _book_here(output: Output) -> RuleBook:
    """The book in force in the current folder."""
    studio = studios().of(STANDARD_INPUT)
    if isinstance(studio, StudioFaults):
        raise _faulty("the studio's file", studio.faults, output)
    return studio.book


def _test(names: Iterable[str], output: Output) -> int:
    """Run the examples of the files named, or of the whole book."""
    book = built_in_book()
    built_in, own = _sorted(names)
    runs: tuple[RuleTest, ...] = ()
    if built_in or not own:
        rules = [rule.name for rule in book.rules if not built_in or _is_of(rule, built_in, book)]
        runs += (run_book(book, rules),)
    if own:
        runs += (run_rule_files(own, book),)
    faults = tuple(fault for test in runs for fault in test.faults)
    if faults:
        raise _faulty("this", faults, output)
    whole = RuleTest(tuple(run for test in runs for run in test.runs))
    output.write(rule_test_report(whole, output.style))
    if not whole.runs:
        raise CannotWork("no example was run, so nothing is known of these files")
    return 1 if whole.wrong else 0


def _is_of(rule: Rule, files: set[str], book: RuleBook) -> bool:
    """True if the rule stands in one of the files, or uses a limit that does."""
    leaning = (limit.name in rule.limits and limit.file in files for limit in book.limits)
    return rule.file in files or any(leaning)


def _sorted(names: Iterable[str]) -> tuple[set[str], list[BookFile]]:
    """Files of the built-in book, as it calls them; and all others, read."""
    built_in: set[str] = set()
    own: dict[Path, BookFile] = {}
    folder = document_path("rules").resolve()
    for name in names:
        path = Path(name)
        if path.resolve().parent == folder:
            built_in.add(f"rules/{path.name}")
            continue
        found = book_file(path, name)
        if isinstance(found, str):
            raise CannotWork(one_line(f"{name or 'a file without a name'} can't be read: {found}"))
        own.setdefault(path.resolve(), found)
    return built_in, list(own.values())


def _faulty(what: str, faults: tuple[RuleFault, ...], output: Output) -> CannotWork:
    """Tell all faults on the error output, one a line, and the reason to stop."""
    output.flush()
    write_error(faults_one_a_line(faults, output.style).rstrip("\n"))
    number = "the line above says" if len(faults) == 1 else f"the {len(faults)} lines above say"
    return CannotWork(f"{what} can't be used; {number} where it is wrong")
