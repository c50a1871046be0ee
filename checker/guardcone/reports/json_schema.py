"""The JSON Schemas of rule files and of studio.yaml, for editors.

They are made from the keys that the readers of those files use, and say what a person reads from
rules/tables/keys.csv. JSON Schema, draft 2020-12: https://json-schema.org/draft/2020-12
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from guardcone.condition.vocabulary import Vocabulary
from guardcone.firing.tables import table
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.example_file import EXAMPLE_KEYS
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.rule import Consequence, ExampleKind, Limit, Rule, Where
from guardcone.rulebook.rule_file import (
    CASE_KEYS,
    LEVEL_KEYS,
    LIMIT_KEYS,
    MEASURES,
    NEEDED_LIMIT_KEYS,
    NEEDED_RULE_KEYS,
    NEVER,
    REASON_KEYS,
    RULE_KEYS,
    WHEN_KEYS,
)
from guardcone.rulebook.studio_file import CHANGES, STUDIO_KEYS
from guardcone.rulebook.studio_words import DESCRIBED

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
    wheres = [where.value for where in Where]
    repair = dict.fromkeys([*wheres, "at", "silences"], _TEXTS)
    case = _record("level", CASE_KEYS, ("when",), repair)
    level = {"oneOf": [case, _several(case)]}
    rule = _record(
        "rule",
        RULE_KEYS,
        NEEDED_RULE_KEYS,
        {
            **repair,
            "rule": _NAME,
            "concerns": {"enum": subjects},
            **dict.fromkeys(LEVEL_KEYS, level),
            "reason": _NAME,
            "accept": {"enum": [NEVER]},
            "sources": _TEXTS,
            **{kind.value: _examples() for kind in ExampleKind},
        },
    )
    rule["anyOf"] = [{"required": [key]} for key in (*WHEN_KEYS, *LEVEL_KEYS)]
    rule["oneOf"] = [{"required": [key]} for key in ("why", "reason")]
    forms = {"limit": _NAME, "measures": {"enum": list(MEASURES)}, "sources": _TEXTS}
    limit = _record("limit", LIMIT_KEYS, NEEDED_LIMIT_KEYS, forms)
    reason = _record("reason", REASON_KEYS, REASON_KEYS, {"reason": _NAME, "sources": _TEXTS})
    return {
        "$schema": DIALECT,
        "title": "A file of guardcone rules, limits and reasons",
        "type": "array",
        "items": {
            "type": "object",
            # One of the three by its key, so that an editor says what is wrong with that one.
            "if": {"required": ["limit"], "not": {"required": ["concerns"]}},
            "then": limit,
            "else": {
                "if": {"required": ["reason"], "not": {"required": ["concerns"]}},
                "then": reason,
                "else": rule,
            },
        },
    }


def studio_schema(book: RuleBook) -> Schema:
    """The schema of a studio.yaml: the rules and limits that this book has, and its own words."""
    forms = {
        **dict.fromkeys(DESCRIBED, _mapping({}, _TEXT)),
        **dict.fromkeys(("room", "kilns"), _mapping({}, _TEXTS)),
        "limits": _mapping({limit.name: _limit(limit) for limit in book.limits}),
        "rules": _mapping({rule.name: _change(rule) for rule in book.rules}),
        "may accept": _TEXTS,
        "own rules": _TEXTS,
    }
    title = "A studio's own file for guardcone"
    return {"$schema": DIALECT, "title": title, **_record("studio", STUDIO_KEYS, (), forms)}


def as_text(schema: Schema) -> str:
    """The schema as JSON text."""
    return json.dumps(schema, indent=2) + "\n"


def _record(
    name: str, keys: Iterable[str], needed: Iterable[str], forms: Mapping[str, Schema]
) -> Schema:
    """A record with these keys and no others; those without a form hold a text."""
    meanings = {row["key"]: row["meaning"] for row in table("keys") if row["record"] == name}
    told = {key: {**forms.get(key, _TEXT), "description": meanings[key]} for key in keys}
    schema: Schema = {"type": "object", "properties": told, "additionalProperties": False}
    required = list(needed)
    return {**schema, "required": required} if required else schema


def _several(items: Schema) -> Schema:
    return {"type": "array", "items": items, "minItems": 1}


def _examples() -> Schema:
    """One example or a list of them; a text alone is a sound plan as it is."""
    below: Schema = {"oneOf": [*_TEXTS["oneOf"], _BELOW_HEADING]}
    lines = {"type": "object", "additionalProperties": below, "minProperties": 1}
    sound: Schema = {"enum": list(sound_plans())}
    forms = {"from": sound, "after": lines, "without": below, "also": _TEXTS}
    example = {**_record("example", EXAMPLE_KEYS, (), forms), "additionalProperties": below}
    either: Schema = {"oneOf": [sound, {**example, "minProperties": 1}]}
    return {"oneOf": [*either["oneOf"], _several(either)]}


def _mapping(properties: Mapping[str, Schema], others: Schema | bool = False) -> Schema:
    """A mapping from these names, and from `others` that people choose, where it has a form."""
    # An empty part of the file is null to YAML, and nothing to the reader.
    kind: Schema = {"type": ["object", "null"]}
    named = {"properties": dict(properties)} if properties else {}
    return {**kind, **named, "additionalProperties": others}


def _limit(limit: Limit) -> Schema:
    usual = limit.built_in if limit.changed_at else limit.value
    return {
        **_TEXT,
        "description": f"{usual} in the book; from {limit.least} to {limit.most}. "
        f"Source: {'; '.join(map(str, limit.sources))}",
    }


def _change(rule: Rule) -> Schema:
    told = ", ".join(weight.value for weight in rule.weights)
    meant = f"{told} in the book. {' '.join(rule.why.split())}"
    mild = [weight.value for weight in rule.weights if weight is not Consequence.DANGER]
    chosen = list(CHANGES) if len(mild) == len(rule.weights) else [Consequence.DANGER.value]
    forms: dict[str, Schema] = {
        "consequence": {"enum": chosen},
        **{weight: {"enum": list(CHANGES)} for weight in mild},
    }
    keys = ("consequence", *mild, "because") if mild else ("consequence", "because")
    return {**_record("change", keys, ("because",), forms), "description": meant}
