"""Room: the reports; here the JSON Schemas of rule files and of studio.yaml, for editors.

They are made from the keys that the readers of those files use, and say what a person reads from
rules/tables/keys.csv. JSON Schema, draft 2020-12: https://json-schema.org/draft/2020-12
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from guardcone.firing.tables import table
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.described import DESCRIBED
from guardcone.rulebook.example_file import EXAMPLE_KEYS, NEEDED_EXAMPLE_KEYS, PLAN_KEYS
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.limit import Limit
from guardcone.rulebook.limit_file import CONFIDENCES, LIMIT_KEYS, MEASURES, NEEDED_LIMIT_KEYS
from guardcone.rulebook.rule import Consequence, ExampleKind, Rule, Where
from guardcone.rulebook.rule_file import (
    NEEDED_REPAIR_KEYS,
    NEEDED_RULE_KEYS,
    NEVER,
    REPAIR_KEYS,
    RULE_KEYS,
)
from guardcone.rulebook.studio_file import CHANGE_KEYS, CHANGES, STUDIO_KEYS
from guardcone.rulebook.vocabulary import Vocabulary

__all__ = ["as_text", "rules_schema", "studio_schema"]

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
# YAML takes `8`, `1.5` and `yes` for numbers and truths; the readers take them for text.
_TEXT: Schema = {"type": ["string", "number", "boolean"], "minLength": 1}
_TEXTS: Schema = {"oneOf": [_TEXT, {"type": "array", "items": _TEXT}]}
_BELOW_HEADING: Schema = {"type": "object", "additionalProperties": _TEXTS, "minProperties": 1}
_NAME: Schema = {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$"}


def rules_schema(vocabulary: Vocabulary) -> Schema:
    """The schema of a file of rules, and of limits."""
    subjects = [subject.name for subject in vocabulary.subjects]
    repair = _record("repair", REPAIR_KEYS, NEEDED_REPAIR_KEYS, dict.fromkeys(_where(), _TEXTS))
    repair["not"] = {"anyOf": _pairs(_where())}
    repair["dependentRequired"] = {where: ["write"] for where in _where()}
    rule = _record(
        "rule",
        RULE_KEYS,
        NEEDED_RULE_KEYS,
        {
            "rule": _NAME,
            "concerns": {"enum": subjects},
            "consequence": {"enum": [consequence.value for consequence in Consequence]},
            "at": _TEXTS,
            "repair": repair,
            "accept": {"enum": [NEVER]},
            "sources": _TEXTS,
            "silences": _several(_NAME),
            "needs": _several({"enum": subjects}),
            **{kind.value: _examples(kind) for kind in ExampleKind},
        },
    )
    limit = _record(
        "limit",
        LIMIT_KEYS,
        NEEDED_LIMIT_KEYS,
        {
            "limit": _NAME,
            "measures": {"enum": list(MEASURES)},
            "confidence": {"enum": list(CONFIDENCES)},
        },
    )
    return {
        "$schema": DIALECT,
        "title": "A file of guardcone rules and limits",
        "type": "array",
        "items": {
            "type": "object",
            # One of the two by its key, so that an editor says what is wrong with that one.
            "if": {"required": ["limit"], "not": {"required": ["rule"]}},
            "then": limit,
            "else": rule,
        },
    }


def studio_schema(book: RuleBook) -> Schema:
    """The schema of a studio.yaml: the rules and limits that this book has, and its own words."""
    described = dict.fromkeys(DESCRIBED, _named(_TEXT))
    described["kilns"] = _named(_TEXTS)
    return {
        "$schema": DIALECT,
        "title": "A studio's own file for guardcone",
        **_record(
            "studio",
            STUDIO_KEYS,
            (),
            {
                **described,
                "limits": _mapping({limit.name: _limit(limit) for limit in book.limits}),
                "rules": _mapping({rule.name: _change(rule) for rule in book.rules}),
                "may accept": _TEXTS,
                "own rules": _TEXTS,
            },
        ),
        "$defs": _changes(),
    }


def as_text(schema: Schema) -> str:
    """The schema as JSON text."""
    return json.dumps(schema, indent=2) + "\n"


def _record(
    name: str, keys: Iterable[str], needed: Iterable[str], forms: Mapping[str, Schema]
) -> Schema:
    """A record with these keys and no others; those without a form hold a text."""
    meanings = {row["key"]: row["meaning"] for row in table("keys") if row["record"] == name}
    schema: Schema = {
        "type": "object",
        "properties": {
            key: {**forms.get(key, _TEXT), "description": meanings[key]} for key in keys
        },
        "additionalProperties": False,
    }
    required = list(needed)
    return {**schema, "required": required} if required else schema


def _where() -> list[str]:
    return [where.value for where in Where]


def _pairs(keys: list[str]) -> list[Schema]:
    """A record with any two of these keys."""
    return [{"required": [one, other]} for at, one in enumerate(keys) for other in keys[at + 1 :]]


def _examples(kind: ExampleKind) -> Schema:
    either: Schema = {"oneOf": [*_TEXTS["oneOf"], _BELOW_HEADING]}
    lines = {"type": "object", "additionalProperties": either, "minProperties": 1}
    forms: dict[str, Schema] = {
        "from": {"enum": list(sound_plans())},
        "change": lines,
        "after": lines,
        "without": either,
        "also": _TEXTS,
    }
    example = _record(kind.value, EXAMPLE_KEYS[kind], NEEDED_EXAMPLE_KEYS[kind], forms)
    example["anyOf"] = [{"required": [key]} for key in PLAN_KEYS]
    return {"type": "array", "items": example, "minItems": 1}


def _several(form: Schema) -> Schema:
    return {"oneOf": [form, {"type": "array", "items": form}]}


def _mapping(properties: Mapping[str, Schema]) -> Schema:
    # An empty part of the file is null to YAML, and nothing to the reader.
    return {
        "type": ["object", "null"],
        "properties": dict(properties),
        "additionalProperties": False,
    }


def _named(form: Schema) -> Schema:
    """A mapping from names that people choose."""
    return {"type": ["object", "null"], "additionalProperties": form}


def _limit(limit: Limit) -> Schema:
    usual = limit.built_in if limit.changed_at else limit.value
    return {
        **_TEXT,
        "description": f"{usual} in the book; from {limit.least} to {limit.most}. "
        f"Source: {limit.source}",
    }


def _change(rule: Rule) -> Schema:
    usual = f"{rule.consequence.value} in the book. {' '.join(rule.why.split())}"
    danger = rule.consequence is Consequence.DANGER
    return {"$ref": f"#/$defs/{'danger' if danger else 'change'}", "description": usual}


def _changes() -> Schema:
    """What may become of a rule, and of one that is a danger."""
    chosen = {"change": list(CHANGES), "danger": [Consequence.DANGER.value]}
    return {
        name: _record("change", CHANGE_KEYS, CHANGE_KEYS, {"consequence": {"enum": words}})
        for name, words in chosen.items()
    }
