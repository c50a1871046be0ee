"""The built-in rule book, as far as it can be read, and what its examples run with."""

from collections.abc import Iterator
from functools import cache

from guardcone.engine.example_runs import ExampleRun, run_example
from guardcone.engine.rule_tests import check_text_with
from guardcone.rulebook.book_files import read_book
from guardcone.rulebook.facts import VOCABULARY
from guardcone.rulebook.library import limit_file, rule_files, sound_plans
from guardcone.rulebook.rule import Example, Rule

# A fault in one file leaves that rule out and fails a test of its own; the others are still tried.
READING = read_book(rule_files(), [limit_file()], VOCABULARY)
BOOK = READING.book
SOUND = sound_plans()
check_text = check_text_with(BOOK)


def examples(rule: Rule) -> tuple[Example, ...]:
    """All examples of a rule."""
    return (*rule.passes, *rule.fails)


def all_examples() -> Iterator[Example]:
    """All examples of the book, rule by rule."""
    for rule in BOOK.rules:
        yield from examples(rule)


@cache
def run(example: Example) -> ExampleRun:
    """What an example gives; each is run once, however many tests ask."""
    return run_example(example, BOOK, SOUND, check_text)
