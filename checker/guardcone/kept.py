"""Keeps between runs what is made of the documents, so that it need not be made each time.

The documents are what counts. What is made of them stands as plain JSON in the folder `compiled/`
of the package, under a key that is a check sum of the documents and of the code that reads them. A
wheel brings it along; a checkout makes it at the first run after a change. Where it is missing, or
has another key, the documents are read.
"""

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any
from zlib import adler32, crc32

from guardcone.documents import document_path
from guardcone.files import write_whole

__all__ = ["FOLDER", "keep", "kept"]

FOLDER = Path(__file__).resolve().parent / "compiled"
# The rooms that decide what a document means.
_READERS = ("values", "language", "condition", "facts", "rulebook")


@cache
def _key() -> str:
    """What tells a changed document, or changed code that reads it, from the one before.

    Two check sums and the length of all, which are quick to load and to reckon: it is slips that
    they find, not forgers, who could change the program itself.
    """
    read = {document_path("grammar"): (".lark", ".csv"), document_path("rules"): (".yaml", ".csv")}
    rooms = [FOLDER.parent / room for room in _READERS]
    read.update({room: (".py", ".py") for room in rooms if room.is_dir()})
    files = sorted(
        (folder.name, entry.name, entry.path)
        for folder, endings in read.items()
        for entry in os.scandir(folder)
        if entry.name.endswith(endings)
    )
    first, second, length = 0, 1, 0
    for folder, name, path in files:
        with open(path, "rb") as file:
            content = b"%s/%s " % (folder.encode(), name.encode()) + file.read()
        first, second = crc32(content, first), adler32(content, second)
        length += len(content)
    return f"{first:08x}{second:08x}{length}"


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
