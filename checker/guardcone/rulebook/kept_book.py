"""The built-in book as it is kept between runs, so that its documents need not be read each time.

The documents are the book; what is kept is made from them: plain JSON in the folder `compiled/` of
the package, under a key that is the hash of the documents and of the code that reads them. A wheel
brings it along; a checkout makes it at the first run after a change. Where it is missing, or has
another key, the documents are read.

A file holds a `pool` of parts. A part is a list: the name of its class and what it is made of, text
and numbers as they are, and other parts as `[number in the pool]`. Equal parts stand there once.
"""

import json
from collections.abc import Mapping
from contextlib import suppress
from enum import Enum
from functools import cache
from hashlib import blake2b
from inspect import isclass
from pathlib import Path
from typing import Any

from attrs import fields, has

from guardcone import span
from guardcone.condition import kinds, sentences, typed
from guardcone.documents import document_path
from guardcone.rulebook import bibliography, rule
from guardcone.values import amounts, cones, units

__all__ = ["FOLDER", "decoded", "encoded", "keep", "kept"]

FOLDER = Path(__file__).resolve().parent.parent / "compiled"

# What a kept book may be made of, and nothing else.
_CLASSES: dict[str, Any] = {
    name: one
    for module in (span, kinds, typed, sentences, amounts, cones, units, bibliography, rule)
    for name, one in vars(module).items()
    if isclass(one) and (has(one) or issubclass(one, Enum))
} | {"tuple": lambda *parts: parts, "frozenset": lambda *parts: frozenset(parts)}
# The rooms that decide what a document means.
_READERS = ("values", "language", "condition", "facts", "rulebook")


@cache
def _key() -> str:
    """The hash of the documents of the book and of the code that reads them."""
    package, rules = FOLDER.parent, document_path("rules")
    grammar = document_path("grammar")
    files = [*grammar.glob("*.lark"), *grammar.glob("*.csv")]
    files += [*rules.glob("*.yaml"), *rules.glob("*.csv")]
    files += [file for room in _READERS for file in (package / room).glob("*.py")]
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
        return decoded(found["pool"]) if found["key"] == _key() else None
    except (OSError, ValueError, KeyError, TypeError, IndexError):
        return None


def keep(contents: Mapping[str, Any], folder: Path = FOLDER) -> None:
    """Keep the contents by name for the next run; where none may be written, nothing is kept."""
    from guardcone.tidy.files import write_whole

    with suppress(OSError):
        folder.mkdir(exist_ok=True)
        for name, content in contents.items():
            found = {"key": _key(), "pool": encoded(content)}
            text = json.dumps(found, ensure_ascii=False, separators=(",", ":"))
            write_whole(folder / f"{name}.json", text)


def encoded(content: Any) -> list[list[Any]]:
    """The parts that `content` is made of, itself the last; TypeError for what can't be kept."""
    pool: dict[str, int] = {}
    found: list[list[Any]] = []

    def part(value: Any) -> Any:
        if isinstance(value, str):
            return str(value)
        if value is None or isinstance(value, bool | int | float):
            return value
        if isinstance(value, Enum):
            made = [type(value).__name__, value.value]
        elif isinstance(value, tuple | frozenset):
            ordered = value if isinstance(value, tuple) else sorted(value)
            made = [type(value).__name__, *map(part, ordered)]
        elif type(value).__name__ in _CLASSES:
            kept_fields = (one.name for one in fields(type(value)) if one.init and one.eq)
            made = [type(value).__name__, *(part(getattr(value, name)) for name in kept_fields)]
        else:
            raise TypeError(f"this can't be kept: {value!r}")
        number = pool.setdefault(json.dumps(made), len(found))
        if number == len(found):
            found.append(made)
        return [number]

    part(content)
    return found


def decoded(pool: list[list[Any]]) -> Any:
    """What the parts of a pool make; raises KeyError, TypeError or ValueError for a damaged one."""
    made: list[Any] = []
    for name, *arguments in pool:
        parts = [made[one[0]] if one.__class__ is list else one for one in arguments]
        made.append(_CLASSES[name](*parts))
    return made[-1]
