"""Room: the rule book; here a file of named limits is read; every fault in it has its place."""

from collections.abc import Iterable
from typing import Any

from guardcone.rulebook import literals, syntax
from guardcone.rulebook.condition_text import parse_condition, reserved_words
from guardcone.rulebook.faults import Mistake, RuleFault, did_you_mean
from guardcone.rulebook.kinds import CONE, NUMBER, QUANTITY_CLASS, Type
from guardcone.rulebook.limit import Limit
from guardcone.rulebook.vocabulary import Vocabulary
from guardcone.rulebook.yaml_text import MapNode, Reader, TextNode

__all__ = [
    "CONFIDENCES",
    "LIMIT_KEYS",
    "MEASURES",
    "NEEDED_LIMIT_KEYS",
    "read_limit_records",
    "read_limit_value",
    "read_limits",
]

LIMIT_KEYS = ("limit", "measures", "value", "least", "most", "source", "confidence", "note")
NEEDED_LIMIT_KEYS = LIMIT_KEYS[:-1]
# How well a source bears a number.
CONFIDENCES = (
    "read in the source",
    "read in a copy",
    "derived",
    "common practice, no source",
    "from memory",
    "own choice",
)
# What a limit may measure, by the name under `measures`.
MEASURES: dict[str, Type] = {
    **{kind.value: Type(kind) for kind in QUANTITY_CLASS},
    CONE.kind.value: CONE,
    NUMBER.kind.value: NUMBER,
}


def read_limits(
    file: str, source: str, vocabulary: Vocabulary
) -> tuple[tuple[Limit, ...], tuple[RuleFault, ...]]:
    """The limits in the text `source` of a file named `file`, and what is wrong with it."""
    reader = Reader(file, source)
    records = reader.records(reader.root(), "limits")
    return read_limit_records(records, reader, vocabulary), tuple(reader.faults)


def read_limit_records(
    records: Iterable[MapNode], reader: Reader, vocabulary: Vocabulary
) -> tuple[Limit, ...]:
    """The limits in these records; what is wrong with the others is added to the reader."""
    found: dict[str, Limit] = {}
    for record in records:
        limit = _limit(record, reader, vocabulary)
        if limit is None:
            continue
        if limit.name in found:
            first = found[limit.name].span.line
            reader.fault(limit.span, f"the limit {limit.name!r} stands twice", f"see line {first}")
            continue
        found[limit.name] = limit
    return tuple(found.values())


def _limit(record: MapNode, reader: Reader, vocabulary: Vocabulary) -> Limit | None:
    if not reader.keys(record, LIMIT_KEYS, NEEDED_LIMIT_KEYS):
        return None
    texts = {key: reader.text(record, key) for key in LIMIT_KEYS}
    name, measures = texts["limit"], texts["measures"]
    if name is None or measures is None or not _name_is_free(name, reader, vocabulary):
        return None
    kind = MEASURES.get(measures.text)
    if kind is None:
        hint = did_you_mean(measures.text, MEASURES) or f"limits measure {', '.join(MEASURES)}"
        reader.fault(measures.span, f"no limit measures {measures.text!r}", hint)
        return None
    confidence = texts["confidence"]
    if confidence is not None and confidence.text not in CONFIDENCES:
        near = did_you_mean(confidence.text, CONFIDENCES)
        hint = near or f"write one of: {'; '.join(CONFIDENCES)}"
        reader.fault(confidence.span, f"there is no confidence {confidence.text!r}", hint)
    values = {}
    for key in ("value", "least", "most"):
        node = texts[key]
        value = None if node is None else read_limit_value(node, kind, reader)
        if node is None or value is None:
            return None
        values[key] = value
    value_node = texts["value"]
    if not _in_range(values["value"], values["least"], values["most"]):
        assert value_node is not None
        reader.fault(
            value_node.span,
            f"{value_node.text} does not lie between {values['least']} and {values['most']}",
        )
        return None
    said = {key: (node.text.strip() if node else "") for key, node in texts.items()}
    return Limit(
        name=name.text,
        type=kind,
        **values,
        source=said["source"],
        confidence=said["confidence"],
        note=said["note"],
        file=reader.file,
        span=name.span,
    )


def _name_is_free(name: TextNode, reader: Reader, vocabulary: Vocabulary) -> bool:
    try:
        path = parse_condition(name.text)
    except Mistake:
        path = None
    if not (isinstance(path, syntax.Path) and path.bare == name.text and " " not in name.text):
        hint = "write small letters and hyphens: damp-ware-rate"
        reader.fault(name.span, f"{name.text!r} cannot name a limit", hint)
        return False
    if name.text in vocabulary.names() or name.text in reserved_words():
        reader.fault(name.span, f"{name.text!r} is the name of something else already")
        return False
    return True


def read_limit_value(node: TextNode, kind: Type, reader: Reader) -> Any:
    """The value of a limit of this type; None after adding a fault to the reader."""
    try:
        written = parse_condition(node.text)
        match written:
            case syntax.Measure():
                constant = literals.measure(written, kind.kind)
            case syntax.Cone():
                constant = literals.cone(written)
            case syntax.Number():
                constant = literals.number(written)
            case _:
                raise Mistake(0, len(node.text), f"{node.text!r} is no single amount")
        if constant.type != kind:
            message = f"{node.text!r} is a {constant.type}, and this limit measures a {kind}"
            raise Mistake(0, len(node.text), message)
    except Mistake as mistake:
        span = node.place(mistake.start, mistake.end)
        reader.fault(span, mistake.message, mistake.hint)
        return None
    return constant.value


def _in_range(value: Any, least: Any, most: Any) -> bool:
    try:
        return bool(least <= value <= most)
    except TypeError:  # cones that two makers numbered have no order
        return False
