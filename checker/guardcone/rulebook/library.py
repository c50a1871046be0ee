"""The built-in book is put together from the folder rules/, or from what was made of it before."""

from functools import cache

from attrs import evolve

from guardcone.documents import document_path
from guardcone.facts import VOCABULARY
from guardcone.kept import keep
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.kept_book import encoded, kept_part, read_text_fault_pages
from guardcone.rulebook.rule import BookFile, Example, RuleFault

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
    found = kept_part("rules")
    if found is None:
        book = book_of_documents()
        keep(parts_to_keep(book))
        return book
    limits, rules = found
    later = tuple(evolve(rule, tried=lambda name=rule.name: _examples()[name]) for rule in rules)
    return RuleBook(VOCABULARY, limits, later)


def book_of_documents() -> RuleBook:
    """The same, read from the documents; raises BrokenBook."""
    # A check that finds the book made needs neither the parser nor YAML.
    from guardcone.rulebook.book_files import read_book

    reading = read_book(rule_files(), VOCABULARY)
    if reading.faults:
        raise BrokenBook(reading.faults)
    return reading.book


def parts_to_keep(book: RuleBook) -> dict[str, object]:
    """What is kept of a book: what a check needs, and apart from it what few ask for."""
    return {
        "text_faults": encoded(read_text_fault_pages()),
        "examples": encoded(tuple((rule.name, rule.examples) for rule in book.rules)),
        "rules": encoded((book.limits, book.rules)),
    }


@cache
def _examples() -> dict[str, tuple[Example, ...]]:
    found = kept_part("examples")
    if found is None:
        found = ((rule.name, rule.examples) for rule in book_of_documents().rules)
    return dict(found)


@cache
def sound_plans() -> dict[str, str]:
    """The sound plans that examples are cut into, by name."""
    return {
        path.stem: path.read_text(encoding="utf-8")
        for path in sorted(document_path("rules", "sound_plans").glob("*.firing"))
    }
