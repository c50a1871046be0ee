"""Room: the rule book; here the examples of a rule are read; every fault has its place."""

from collections.abc import Iterable, Iterator

from guardcone.rulebook.rule import Change, Example, ExampleKind
from guardcone.rulebook.splice import HEADINGS
from guardcone.rulebook.yaml_text import ListNode, MapNode, Reader, TextNode
from guardcone.span import Written

__all__ = [
    "DEFAULT_BASE",
    "EXAMPLE_KEYS",
    "NEEDED_EXAMPLE_KEYS",
    "PLAN_KEYS",
    "read_examples",
]

# An example says by at least one of these how its plan differs from a sound one, or which it is.
PLAN_KEYS = ("from", "plan", "change", "after", "without")
EXAMPLE_KEYS = {
    ExampleKind.PASSES: PLAN_KEYS,
    ExampleKind.FAILS: (*PLAN_KEYS, "at", "in", "also"),
}
NEEDED_EXAMPLE_KEYS: dict[ExampleKind, tuple[str, ...]] = {
    ExampleKind.PASSES: (),
    ExampleKind.FAILS: ("at",),
}
# The sound plan that fills an example up where it names none.
DEFAULT_BASE = "stoneware"

_RIGHT = {
    "change": "a line, a colon, and what it becomes: `guide 8: guide 7`",
    "after": "a line, a colon, and what comes after it: `guide 8: extra cone 8`",
    "without": "a line, a list of them, or lines below a heading",
}


def read_examples(
    rule: MapNode, kind: ExampleKind, name: str, reader: Reader
) -> tuple[Example, ...]:
    """The examples of one kind in the record of the rule called `name`."""
    node = rule.get(kind.value)
    if not isinstance(node, ListNode) or not node.items:
        if node is not None:
            reader.fault(node.span, f"{kind.value!r} must be a list of plans")
        return ()
    found = []
    for number, record in enumerate(node.items, 1):
        if not isinstance(record, MapNode):
            reader.fault(record.span, "an example is a set of `key: value` lines")
        elif reader.keys(record, EXAMPLE_KEYS[kind], NEEDED_EXAMPLE_KEYS[kind]):
            found.append(_example(record, kind, name, number, reader))
    return tuple(found)


def _example(record: MapNode, kind: ExampleKind, rule: str, number: int, reader: Reader) -> Example:
    if all(record.get(key) is None for key in PLAN_KEYS):
        hint = "give it sections as `plan`, or `change` lines of a sound plan"
        reader.fault(record.span, "this example has no plan", hint)
    nodes = (reader.text(record, key) for key in ("plan", "from", "at", "in"))
    plan, base, at, inside = (node.text if node else "" for node in nodes)
    sections, left_out = _left_out(record, reader)
    return Example(
        rule=rule,
        kind=kind,
        number=number,
        plan=plan,
        base=base or DEFAULT_BASE,
        without=sections,
        changes=(
            *_changes(record, "change", reader),
            *_changes(record, "after", reader),
            *left_out,
        ),
        at=at,
        inside=inside,
        also=tuple(node.text for node in reader.texts(record, "also")),
        file=reader.file,
        span=record.span,
    )


def _changes(record: MapNode, key: str, reader: Reader) -> Iterator[Change]:
    """What lines become, or under the key `after` what is added after them."""
    node = record.get(key)
    if node is None:
        return
    if not isinstance(node, MapNode) or not node.entries:
        reader.fault(node.span, f"{key!r} names no line", _RIGHT[key])
        return
    for lines, heading in _below_headings(node, key, reader):
        for entry in lines.entries:
            if isinstance(entry.value, MapNode):
                continue
            if isinstance(entry.value, TextNode) and not entry.value.text.strip():
                hint = "to leave a line out, name it under `without`"
                reader.fault(entry.key.span, f"nothing stands behind {entry.key.text!r}", hint)
                continue
            new = _lines(reader.texts(lines, entry.key.text))
            yield Change(_written(entry.key), new, is_added=key == "after", inside=heading)


def _below_headings(
    node: MapNode, key: str, reader: Reader
) -> Iterator[tuple[MapNode, Written[str] | None]]:
    """The lines of an example's key, and those that stand in it below a heading of the plan."""
    yield node, None
    for entry in node.entries:
        below = entry.value
        if isinstance(below, MapNode):
            too_deep = [inner.key for inner in below.entries if isinstance(inner.value, MapNode)]
            for wrong in too_deep if below.entries else [entry.key]:
                reader.fault(wrong.span, "below a heading stand its lines", _RIGHT[key])
            yield below, _written(entry.key)


def _left_out(record: MapNode, reader: Reader) -> tuple[tuple[str, ...], list[Change]]:
    """The kinds of sections to leave out, and the single lines."""
    node = record.get("without")
    if isinstance(node, MapNode):
        below = [
            Change(_written(line), inside=_written(entry.key))
            for entry in node.entries
            for line in reader.texts(node, entry.key.text)
        ]
        return (), below
    nodes = reader.texts(record, "without")
    sections = tuple(one.text for one in nodes if one.text in HEADINGS)
    return sections, [Change(_written(one)) for one in nodes if one.text not in HEADINGS]


def _lines(nodes: Iterable[TextNode]) -> tuple[str, ...]:
    return tuple(line.strip() for node in nodes for line in node.text.splitlines() if line.strip())


def _written(node: TextNode) -> Written[str]:
    return Written(node.text, node.span)
