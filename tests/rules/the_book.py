"""The built-in rule book, as far as it can be read, and what its examples run with."""

from collections.abc import Iterator
from functools import cache

from guardcone.checking.examples import ExampleRun, check_text_with, run_example
from guardcone.facts import VOCABULARY
from guardcone.rulebook.book_files import read_book
from guardcone.rulebook.library import rule_files, sound_plans
from guardcone.rulebook.rule import Example

# A fault in one file leaves that rule out and fails a test of its own; the others are still tried.
READING = read_book(rule_files(), VOCABULARY)
BOOK = READING.book
SOUND = sound_plans()
check_text = check_text_with(BOOK)


def all_examples() -> Iterator[Example]:
    """All examples of the book, rule by rule."""
    for rule in BOOK.rules:
        yield from rule.examples


@cache
def run(example: Example) -> ExampleRun:
    """What an example gives; each is run once, however many tests ask."""
    return run_example(example, BOOK, SOUND, check_text)
