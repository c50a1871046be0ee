"""Named limits with their ranges and sources, read from the records of a file."""

from collections.abc import Iterable
from functools import partial

from attrs import evolve

from guardcone.condition import typed
from guardcone.condition.grammar import bare_name, parse_condition, reserved_words
from guardcone.condition.kinds import CONE, NUMBER, QUANTITY_CLASS, Type
from guardcone.condition.rule_faults import Mistake, did_you_mean
from guardcone.condition.typing import read_amount
from guardcone.condition.vocabulary import Vocabulary
from guardcone.rulebook.rule import KEY, Limit, Source, bibliography
from guardcone.rulebook.yaml_text import MapNode, TextNode

__all__ = [
    "LIMIT_KEYS",
    "MEASURES",
    "NEEDED_LIMIT_KEYS",
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


def read_limits(records: Iterable[MapNode], vocabulary: Vocabulary) -> tuple[Limit, ...]:
    """The limits in these records; what is wrong with the others is told at its place."""
    found: dict[str, Limit] = {}
    for record in records:
        limit = _limit(record, vocabulary)
        if limit is not None and found.setdefault(limit.name, limit) is not limit:
            hint = f"see line {found[limit.name].span.line}"
            record.reader.fault(limit.span, f"the limit {limit.name!r} stands twice", hint)
    return tuple(found.values())


def read_sources(record: MapNode) -> tuple[Source, ...]:
    """The sources of a record: keys of the bibliography, or a studio's own words."""
    known = bibliography()
    nodes = record.texts("sources")
    for node in nodes:
        if node.words not in known and KEY.fullmatch(node.words):
            hint = (
                did_you_mean(node.words, known) or "add it to rules/sources.csv, or say it in words"
            )
            node.fault(f"the bibliography has no source {node.words!r}", hint)
    return tuple(known.get(node.words) or Source(node.words) for node in nodes)


def _limit(record: MapNode, vocabulary: Vocabulary) -> Limit | None:
    if not record.has(LIMIT_KEYS, NEEDED_LIMIT_KEYS):
        return None
    name, value, reach, measures = map(record.text, ("limit", "value", "range", "measures"))
    note = record.words("note")
    if name is None or value is None or reach is None or not _name_is_free(name, vocabulary):
        return None
    expected = MEASURES.get(measures.text) if measures else None
    if measures is not None and expected is None:
        hint = did_you_mean(measures.text, MEASURES) or f"limits measure {', '.join(MEASURES)}"
        measures.fault(f"no limit measures {measures.text!r}", hint)
        return None
    constant = value.read(partial(read_amount, kind=expected))
    ends = _range(reach, constant.type) if constant else None
    if constant is None or ends is None:
        return None
    limit = Limit(
        name=name.text,
        type=constant.type,
        value=constant.value,
        least=ends[0].value,
        most=ends[1].value,
        sources=(),
        note=note,
        file=record.reader.file,
        span=name.span,
    )
    if not limit.takes(limit.value):
        value.fault(f"{value.text} does not lie between {limit.least} and {limit.most}")
        return None
    return evolve(limit, sources=read_sources(record))


def _range(node: TextNode, kind: Type) -> tuple[typed.Constant, typed.Constant] | None:
    """The two ends of `40 C to 121 C`."""
    first, to, _ = node.text.partition(" to ")
    if not to:
        hint = "write the least and the most: 40 C to 121 C"
        node.fault(f"{node.text!r} is no range", hint)
        return None
    amount = partial(read_amount, kind=kind)
    least = node.read(amount, 0, len(first))
    most = node.read(amount, len(first) + len(to)) if least else None
    return (least, most) if least and most else None


def _name_is_free(name: TextNode, vocabulary: Vocabulary) -> bool:
    try:
        named = bare_name(parse_condition(name.text))
    except Mistake:
        named = None
    if named != name.text or " " in name.text:
        hint = "write small letters and hyphens: damp-ware-rate"
        name.fault(f"{name.text!r} cannot name a limit", hint)
        return False
    if name.text in vocabulary.names() or name.text in reserved_words():
        name.fault(f"{name.text!r} is the name of something else already")
        return False
    return True
