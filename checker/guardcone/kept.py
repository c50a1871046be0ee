"""Keeps between runs what is made of the documents, so that it need not be made each time.

The documents are what counts. What is made of them stands as plain JSON in the folder `compiled/`
of the package, under a key that is the hash of the documents and of the code that reads them. A
wheel brings it along; a checkout makes it at the first run after a change. Where it is missing, or
has another key, the documents are read.
"""

import json
from collections.abc import Mapping
from contextlib import suppress
from functools import cache
from hashlib import blake2b
from pathlib import Path
from typing import Any

from guardcone.documents import document_path
from guardcone.files import write_whole

__all__ = ["FOLDER", "keep", "kept"]

FOLDER = Path(__file__).resolve().parent / "compiled"
# The rooms that decide what a document means.
_READERS = ("values", "language", "condition", "facts", "rulebook")


@cache
def _key() -> str:
    """The hash of the documents and of the code that reads them."""
    grammar, rules = document_path("grammar"), document_path("rules")
    files = [*grammar.glob("*.lark"), *grammar.glob("*.csv")]
    files += [*rules.glob("*.yaml"), *rules.glob("*.csv")]
    files += [file for room in _READERS for file in (FOLDER.parent / room).glob("*.py")]
    found = blake2b(digest_size=20)
    for file in sorted(files, key=lambda file: (file.parent.name, file.name)):
        content = file.read_bytes()
        found.update(f"{file.parent.name}/{file.name} {len(content)} ".encode())
        found.update(content)
    return found.hexdigest()


def kept(name: str) -> Any:
    """What is kept under this name; None if that is nothing, or was made from other documents."""
    try:
        found = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
        return found["made"] if found["key"] == _key() else None
    except (OSError, ValueError, KeyError, TypeError):
        return None


def keep(made: Mapping[str, Any], folder: Path | None = None) -> None:
    """Keep what JSON can hold, by name, for the next run; where none may be written, nothing is.

    Beside the documents of an installation nothing is written: it brings what it needs.
    """
    if folder is None and document_path("rules").is_relative_to(FOLDER.parent):
        return
    folder = folder or FOLDER
    with suppress(OSError):
        folder.mkdir(exist_ok=True)
        for name, content in made.items():
            found = {"key": _key(), "made": content}
            text = json.dumps(found, ensure_ascii=False, separators=(",", ":"))
            write_whole(folder / f"{name}.json", text)
