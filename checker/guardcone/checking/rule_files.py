"""Files of rules are tried: they are read, and their examples run."""

from collections.abc import Callable, Collection, Iterable
from functools import cache

from attrs import frozen

from guardcone.checking.examples import ExampleRun, run_examples
from guardcone.checking.plans import check_plan
from guardcone.checking.run import Outcome
from guardcone.condition.rule_faults import RuleFault
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.library import sound_plans

__all__ = ["RuleTest", "check_text_with", "run_book", "run_rule_files", "try_rules"]


@frozen
class RuleTest:
    """What came of trying some rules: every example run, or what is wrong with their files."""

    runs: tuple[ExampleRun, ...]
    faults: tuple[RuleFault, ...] = ()

    @property
    def wrong(self) -> tuple[ExampleRun, ...]:
        """The examples that did not come out as they say."""
        return tuple(run for run in self.runs if run.problems)


def check_text_with(book: RuleBook) -> Callable[[str], Outcome]:
    """The function that reads the text of a plan, fires it and checks it; each text once."""

    @cache
    def check_text(text: str) -> Outcome:
        plan = read_plan(SourceText("example", split_lines(text)))
        return check_plan(plan, book).outcome

    return check_text


def run_book(book: RuleBook, rules: Iterable[str] | None = None) -> RuleTest:
    """Run the examples of all rules of a book, or of those named, in the built-in sound plans."""
    return RuleTest(run_examples(book, sound_plans(), check_text_with(book), rules))


def run_rule_files(files: Iterable[BookFile], book: RuleBook) -> RuleTest:
    """Read files of rules as additions to `book`, and run their examples.

    The examples may use the facts and limits of that book and the limits of the files themselves;
    all rules of both are asked. A file with a fault is not run.
    """
    reading = read_book(files, book.vocabulary, book)
    if reading.faults:
        return RuleTest((), reading.faults)
    return run_book(reading.book, reading.book.own)


def try_rules(book: RuleBook, names: Collection[str]) -> tuple[RuleFault, ...]:
    """What is wrong with the examples of these rules of a book: a rule must do what it shows."""
    return tuple(
        RuleFault(
            run.example.file,
            run.example.span,
            f"the example {run.example.id} comes out otherwise: {problem}",
            "guardcone rules test FILE runs the examples of a file",
        )
        for run in run_book(book, names).wrong
        for problem in run.problems
    )
