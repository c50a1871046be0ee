"""Where rules and limits come from: rules/sources.csv, one source a row, called by its key."""

import csv
import re
from collections.abc import Mapping
from functools import cache

from attrs import frozen

from guardcone.documents import document_path

__all__ = ["KEY", "Source", "bibliography"]

# How a source was come by, and how well it bears what is taken from it, as people read it.
READ = {
    "read": "read in the source",
    "copied": "read in a copy",
    "remembered": "from memory",
    "derived": "derived",
    "practice": "common practice, no source",
    "choice": "own choice",
}
BORNE = ("well borne", "one copy", "practice")
KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@frozen
class Source:
    """Something that a rule or a limit leans on; without a key it is in a studio's own words."""

    what: str
    key: str = ""
    read: str = ""
    borne: str = ""

    def __str__(self) -> str:
        """The source with what is known of it, for people."""
        known = [READ[self.read]] if self.read else []
        implied = "one copy" if self.read == "copied" else "practice"
        known += [self.borne] if self.borne not in ("", implied) else []
        return f"{self.what} [{', '.join(known)}]" if known else self.what


@cache
def bibliography() -> Mapping[str, Source]:
    """The sources by key; raises ValueError for a row that says what no row may say."""
    found: dict[str, Source] = {}
    with document_path("rules", "sources.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            source = Source(row["what"], row["key"], row["read"], row["borne"])
            wrong = source.read not in READ or source.borne not in BORNE
            if wrong or source.key in found or not KEY.fullmatch(source.key):
                raise ValueError(f"rules/sources.csv: this row can't stand: {row}")
            found[source.key] = source
    return found
