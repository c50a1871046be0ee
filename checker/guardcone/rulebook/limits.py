"""Named limits with their ranges and sources, read from the records of a file."""

from collections.abc import Iterable
from typing import Any

from guardcone.condition import typed
from guardcone.condition.grammar import bare_name, parse_condition, reserved_words
from guardcone.condition.kinds import CONE, NUMBER, QUANTITY_CLASS, Type
from guardcone.condition.rule_faults import Mistake, did_you_mean
from guardcone.condition.typing import read_amount
from guardcone.condition.vocabulary import Vocabulary
from guardcone.rulebook.rule import KEY, Limit, Source, bibliography
from guardcone.rulebook.yaml_text import MapNode, Reader, TextNode

__all__ = [
    "LIMIT_KEYS",
    "MEASURES",
    "NEEDED_LIMIT_KEYS",
    "read_limit_value",
    "read_limits",
    "read_sources",
]


LIMIT_KEYS = ("limit", "value", "range", "measures", "sources", "note")
NEEDED_LIMIT_KEYS = ("limit", "value", "range", "sources")
# What a limit may measure, by the name under `measures`, needed where the unit leaves it open.
MEASURES: dict[str, Type] = {
    **{kind.value: Type(kind) for kind in QUANTITY_CLASS},
    CONE.kind.value: CONE,
    NUMBER.kind.value: NUMBER,
}


def read_limits(
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


def read_sources(record: MapNode, reader: Reader) -> tuple[Source, ...]:
    """The sources of a record: keys of the bibliography, or a studio's own words."""
    known = bibliography()
    found = []
    for node in reader.texts(record, "sources"):
        text = " ".join(node.text.split())
        if text not in known and KEY.fullmatch(text):
            hint = did_you_mean(text, known) or "add it to rules/sources.csv, or say it in words"
            reader.fault(node.span, f"the bibliography has no source {text!r}", hint)
        found.append(known.get(text) or Source(text))
    return tuple(found)


def _limit(record: MapNode, reader: Reader, vocabulary: Vocabulary) -> Limit | None:
    if not reader.keys(record, LIMIT_KEYS, NEEDED_LIMIT_KEYS):
        return None
    name, value_node, reach, measures, note = (
        reader.text(record, key) for key in ("limit", "value", "range", "measures", "note")
    )
    if name is None or value_node is None or reach is None:
        return None
    if not _name_is_free(name, reader, vocabulary):
        return None
    expected = None
    if measures is not None:
        expected = MEASURES.get(measures.text)
        if expected is None:
            hint = did_you_mean(measures.text, MEASURES) or f"limits measure {', '.join(MEASURES)}"
            reader.fault(measures.span, f"no limit measures {measures.text!r}", hint)
            return None
    constant = _amount(value_node, reader, expected)
    if constant is None:
        return None
    ends = _range(reach, constant.type, reader)
    if ends is None:
        return None
    least, most = ends
    if not _in_range(constant.value, least, most):
        reader.fault(value_node.span, f"{value_node.text} does not lie between {least} and {most}")
        return None
    return Limit(
        name=name.text,
        type=constant.type,
        value=constant.value,
        least=least,
        most=most,
        sources=read_sources(record, reader),
        note=" ".join(note.text.split()) if note else "",
        file=reader.file,
        span=name.span,
    )


def _range(node: TextNode, kind: Type, reader: Reader) -> tuple[Any, Any] | None:
    """The two ends of `40 C to 121 C`."""
    first, to, last = node.text.partition(" to ")
    if not to:
        hint = "write the least and the most: 40 C to 121 C"
        reader.fault(node.span, f"{node.text!r} is no range", hint)
        return None
    ends = []
    for start, text in ((0, first), (len(first) + len(to), last)):
        found = _amount(node, reader, kind, start, text)
        if found is None:
            return None
        ends.append(found.value)
    return ends[0], ends[1]


def _name_is_free(name: TextNode, reader: Reader, vocabulary: Vocabulary) -> bool:
    try:
        named = bare_name(parse_condition(name.text))
    except Mistake:
        named = None
    if named != name.text or " " in name.text:
        hint = "write small letters and hyphens: damp-ware-rate"
        reader.fault(name.span, f"{name.text!r} cannot name a limit", hint)
        return False
    if name.text in vocabulary.names() or name.text in reserved_words():
        reader.fault(name.span, f"{name.text!r} is the name of something else already")
        return False
    return True


def read_limit_value(node: TextNode, kind: Type, reader: Reader) -> Any:
    """The value of a limit of this type; None after adding a fault to the reader."""
    constant = _amount(node, reader, kind)
    return None if constant is None else constant.value


def _amount(
    node: TextNode, reader: Reader, kind: Type | None, start: int = 0, part: str | None = None
) -> typed.Constant | None:
    """The amount that `part` of a node spells, which begins at `start`; of `kind` if one is given.

    None after adding a fault to the reader.
    """
    constant = read_amount(node.text if part is None else part, kind)
    if isinstance(constant, Mistake):
        span = node.place(start + constant.start, start + constant.end)
        reader.fault(span, constant.message, constant.hint)
        return None
    return constant


def _in_range(value: Any, least: Any, most: Any) -> bool:
    try:
        return bool(least <= value <= most)
    except TypeError:  # cones that two makers numbered have no order
        return False
