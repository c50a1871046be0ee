"""The built-in book is put together from the folder rules/."""

from functools import cache
from pathlib import Path

from guardcone.condition.rule_faults import RuleFault
from guardcone.documents import document_path
from guardcone.facts import VOCABULARY
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.book_files import BookFile, read_book

__all__ = ["BrokenBook", "built_in_book", "rule_files", "sound_plans"]

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
    return [_file(document_path("rules", f"{name}.yaml")) for name in RULE_FILES]


def _file(path: Path) -> BookFile:
    return BookFile(f"rules/{path.name}", path.read_text(encoding="utf-8"))


@cache
def built_in_book() -> RuleBook:
    """The built-in book; raises BrokenBook where a rule file has a fault."""
    reading = read_book(rule_files(), VOCABULARY)
    if reading.faults:
        raise BrokenBook(reading.faults)
    return reading.book


@cache
def sound_plans() -> dict[str, str]:
    """The sound plans that examples are cut into, by name."""
    return {
        path.stem: path.read_text(encoding="utf-8")
        for path in sorted(document_path("rules", "sound_plans").glob("*.firing"))
    }
