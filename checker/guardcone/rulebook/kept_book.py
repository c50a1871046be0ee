"""The built-in book as plain JSON, for what is kept between runs; and the pages of text faults.

A `pool` of parts. A part is a list: the name of its class and what it is made of, text and numbers
as they are, and other parts as `[number in the pool]`. Equal parts stand there once.
"""

import json
from enum import Enum
from functools import cache
from inspect import isclass
from typing import Any

from attrs import fields, has

from guardcone import span
from guardcone.condition import kinds, sentences, typed
from guardcone.documents import document_text
from guardcone.kept import kept
from guardcone.rulebook import rule
from guardcone.rulebook.rule import Consequence, TextFaultPage
from guardcone.values import amounts, cones, units

__all__ = ["decoded", "encoded", "kept_part", "read_text_fault_pages", "text_fault_pages"]


# What a kept book may be made of, and nothing else.
_CLASSES: dict[str, Any] = {
    name: one
    for module in (span, kinds, typed, sentences, amounts, cones, units, rule)
    for name, one in vars(module).items()
    if isclass(one) and one.__module__ == module.__name__ and (has(one) or issubclass(one, Enum))
} | {"tuple": lambda *parts: parts, "frozenset": lambda *parts: frozenset(parts)}


def kept_part(name: str) -> Any:
    """What is kept under this name, None where that is nothing or damaged."""
    pool = kept(name)
    try:
        return decoded(pool) if pool else None
    except (ValueError, KeyError, TypeError, IndexError):
        return None


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
