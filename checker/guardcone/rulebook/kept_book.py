"""The built-in book as plain JSON, for what is kept between runs; and the pages of text faults.

A `pool` of parts. A part is a list: the name of its class and what it is made of, text and numbers
as they are, and other parts as `[number in the pool]`. Equal parts stand there once. What is only
said, not asked, is kept apart in pools of its own, and stands as its number there: a check that
finds nothing reads none of it.
"""

import json
from collections.abc import Callable
from enum import Enum
from functools import cache, partial
from inspect import isclass
from types import ModuleType
from typing import Any

from attrs import fields, has

from guardcone import span
from guardcone.condition import kinds, typed
from guardcone.documents import document_text
from guardcone.kept import kept
from guardcone.rulebook import rule
from guardcone.rulebook.rule import APART, Consequence, TextFaultPage
from guardcone.values import amounts, cones, units

__all__ = [
    "KeptTuple",
    "decoded",
    "encoded",
    "kept_part",
    "read_text_fault_pages",
    "text_fault_pages",
]


def _classes_of(*modules: ModuleType) -> dict[str, Any]:
    return {
        name: one
        for module in modules
        for name, one in vars(module).items()
        if isclass(one)
        and one.__module__ == module.__name__
        and (has(one) or issubclass(one, Enum))
    }


# What a kept book may be made of, and nothing else.
_CLASSES: dict[str, Any] = _classes_of(span, kinds, typed, amounts, cones, units, rule) | {
    "tuple": lambda *parts: parts,
    "frozenset": lambda *parts: frozenset(parts),
}


@cache
def _with_sentences() -> dict[str, Any]:
    """Those that only a finding needs, too."""
    from guardcone.condition import sentences

    return _CLASSES | _classes_of(sentences)


def _kept_fields(one: Any) -> list[Any]:
    return [field for field in fields(one) if field.init and (field.eq or APART in field.metadata)]


# Which parts of what is made are kept apart, and under which name.
_PARTS_APART = {
    name: [
        (place, field.metadata[APART])
        for place, field in enumerate(_kept_fields(one))
        if APART in field.metadata
    ]
    for name, one in _CLASSES.items()
    if has(one)
}

# Gives what is kept apart, by the name of its part and its number there.
Later = Callable[[str, int], Any]


def _nothing_apart(part: str, number: int) -> Any:
    raise KeyError(f"number {number} of {part}")


def kept_part(name: str, later: Later = _nothing_apart) -> Any:
    """What is kept under this name, None where that is nothing or damaged."""
    try:
        return decoded(kept(name), later)
    except (ValueError, KeyError, TypeError, IndexError):
        return None


def encoded(content: Any, apart: dict[str, list[Any]] | None = None) -> list[list[Any]]:
    """The parts that `content` is made of, itself the last; TypeError for what can't be kept.

    What is kept apart is added to `apart` by its name.
    """
    pool: dict[str, int] = {}
    found: list[list[Any]] = []
    classes = _with_sentences()

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
        elif type(value).__name__ in classes:
            made = [type(value).__name__]
            for field in _kept_fields(type(value)):
                one = getattr(value, field.name)
                apart_as = field.metadata.get(APART)
                made.append(later(apart_as, one()) if apart_as else part(one))
        else:
            raise TypeError(f"this can't be kept: {value!r}")
        number = pool.setdefault(json.dumps(made), len(found))
        if number == len(found):
            found.append(made)
        return [number]

    def later(name: str, said: Any) -> int:
        if apart is None:
            raise TypeError(f"this is kept apart: {said!r}")
        some = apart.setdefault(name, [])
        some.append(said)
        return len(some) - 1

    part(content)
    return found


def decoded(pool: Any, later: Later = _nothing_apart) -> Any:
    """What the parts of a pool make; raises KeyError, TypeError or ValueError for a damaged one."""
    made: list[Any] = []
    for part in pool:
        made.append(_made(part, made.__getitem__, later))
    return made[-1]


class KeptTuple:
    """A tuple that is kept, of which one is made at a time; raises like `decoded`."""

    def __init__(self, pool: list[list[Any]]) -> None:
        self._pool = pool
        self._made: dict[int, Any] = {}

    def __getitem__(self, number: int) -> Any:
        return self._part(self._pool[-1][1 + number][0])

    def _part(self, place: int) -> Any:
        if place not in self._made:
            self._made[place] = _made(self._pool[place], self._part, _nothing_apart)
        return self._made[place]


def _made(part: list[Any], made: Callable[[int], Any], later: Later) -> Any:
    name, *arguments = part
    parts = [made(one[0]) if one.__class__ is list else one for one in arguments]
    for place, apart in _PARTS_APART.get(name, ()):
        parts[place] = partial(later, apart, parts[place])
    known = _CLASSES.get(name)
    return (known or _with_sentences()[name])(*parts)


@cache
def text_fault_pages() -> dict[str, TextFaultPage]:
    """The pages of rules/text.yaml by name."""
    return {page.name: page for page in kept_part("text_faults") or read_text_fault_pages()}


def read_text_fault_pages() -> tuple[TextFaultPage, ...]:
    """The same from the document itself."""
    from ruamel.yaml import YAML

    records = YAML(typ="safe", pure=True).load(document_text("rules", "text.yaml"))
    return tuple(
        TextFaultPage(
            name=record.pop("fault"),
            consequence=Consequence(record.pop("consequence")),
            why=record.pop("why").strip(),
            **record,
        )
        for record in records
    )
