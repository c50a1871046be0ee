"""The built-in book is put together from the folder rules/, or from what was made of it before."""

from functools import cache
from typing import Any

from guardcone.documents import document_path
from guardcone.facts import VOCABULARY
from guardcone.kept import keep, kept
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.kept_book import KeptTuple, encoded, kept_part, read_text_fault_pages
from guardcone.rulebook.rule import BookFile, RuleFault

__all__ = [
    "BrokenBook",
    "book_of_documents",
    "built_in_book",
    "parts_to_keep",
    "rule_files",
    "sound_plans",
]

# The order in which the book is read and listed.
RULE_FILES = (
    *("witness", "load", "drying", "climbing", "cones", "cooling", "clock"),
    *("kiln", "safety", "reading", "plan", "limits"),
)


class BrokenBook(Exception):
    """The built-in rule book has faults: this installation is broken."""

    def __init__(self, faults: tuple[RuleFault, ...]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


def rule_files() -> list[BookFile]:
    """The files of the built-in rules, with their limits and reasons."""
    paths = [document_path("rules", f"{name}.yaml") for name in RULE_FILES]
    return [BookFile(f"rules/{path.name}", path.read_text(encoding="utf-8")) for path in paths]


@cache
def built_in_book() -> RuleBook:
    """The built-in book; raises BrokenBook where a rule file has a fault."""
    found = kept_part("rules", _kept_apart)
    if found is None:
        book = book_of_documents()
        keep(parts_to_keep(book))
        return book
    limits, rules = found
    return RuleBook(VOCABULARY, limits, rules)


def book_of_documents() -> RuleBook:
    """The same, read from the documents; raises BrokenBook."""
    # A check that finds the book made needs neither the parser nor YAML.
    from guardcone.rulebook.book_files import read_book

    reading = read_book(rule_files(), VOCABULARY)
    if reading.faults:
        raise BrokenBook(reading.faults)
    return reading.book


def parts_to_keep(book: RuleBook) -> dict[str, Any]:
    """What is kept of a book: what a check needs, and apart from it what is told, and read."""
    apart: dict[str, list[Any]] = {}
    made = {"text_faults": encoded(read_text_fault_pages())}
    made["rules"] = encoded((book.limits, book.rules), apart)
    return made | {name: encoded(tuple(said)) for name, said in apart.items()}


@cache
def _kept_tuple(part: str) -> KeptTuple:
    pool = kept(part)
    if not isinstance(pool, list):
        made = parts_to_keep(book_of_documents())
        keep(made)
        pool = made[part]
    return KeptTuple(pool)


def _kept_apart(part: str, number: int) -> Any:
    return _kept_tuple(part)[number]


@cache
def sound_plans() -> dict[str, str]:
    """The sound plans that examples are cut into, by name."""
    return {
        path.stem: path.read_text(encoding="utf-8")
        for path in sorted(document_path("rules", "sound_plans").glob("*.firing"))
    }
