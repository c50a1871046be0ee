"""The examples of a rule are read; every fault in them has its place."""

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve

from guardcone.language.nearest import did_you_mean
from guardcone.rulebook.example_plan import HEADINGS
from guardcone.rulebook.rule import Change, Consequence, Example, ExampleKind, Expected, Level
from guardcone.rulebook.yaml_text import Entry, ListNode, MapNode, TextNode, YamlNode
from guardcone.span import Written

__all__ = ["DEFAULT_BASE", "EXAMPLE_KEYS", "PLAN_KEYS", "read_examples"]

PLAN_KEYS = ("from", "plan", "after", "without")
# Every other key is a text of the sound plan, with what it becomes.
_SAID_OF_IT = ("gives", "at", "in", "also")
EXAMPLE_KEYS = (*PLAN_KEYS, *_SAID_OF_IT)
# The sound plan that fills an example up where it names none.
DEFAULT_BASE = "stoneware"

_RIGHT = {
    "change": "a text of the plan, a colon, and what it becomes: `guide 8: guide 7`",
    "after": "a line, a colon, and what comes after it: `guide 8: extra cone 8`",
}
_WEIGHTS = {ExampleKind.PASSES.value, *(consequence.value for consequence in Consequence)}


def read_examples(
    rule: MapNode, kind: ExampleKind, name: str, levels: Sequence[Level]
) -> tuple[Example, ...]:
    """The examples of one kind in the record of the rule called `name`, one or a list of them.

    A text alone names a sound plan that is taken as it is.
    """
    node = rule.get(kind.value)
    outcomes = [Expected(level.consequence, level.case) for level in levels]
    known = {str(one): one for one in (Expected(), *outcomes)}
    found: list[Example] = []
    for record in node.items if isinstance(node, ListNode) else filter(None, (node,)):
        example = Example(
            rule=name,
            kind=kind,
            number=0,
            gives=Expected() if kind is ExampleKind.PASSES else outcomes[0],
            base=DEFAULT_BASE,
            file=record.reader.file,
            span=record.span,
        )
        if isinstance(record, TextNode) and record.text.strip():
            gives = outcomes[0] if kind is ExampleKind.FAILS else Expected()
            found.append(evolve(example, gives=gives, base=record.text.strip()))
        elif not isinstance(record, MapNode):
            record.fault("an example is a set of `text: what it becomes` lines")
        elif all(entry.key.text in _SAID_OF_IT for entry in record.entries):
            hint = "say what becomes of a text of a sound plan, or name one: `from: stoneware`"
            record.fault("this example has no plan", hint)
        else:
            found += _examples(record, example, known)
    return tuple(evolve(example, number=number) for number, example in enumerate(found, 1))


def _examples(
    record: MapNode, example: Example, known: Mapping[str, Expected]
) -> Iterator[Example]:
    """The example of the record, or one for each rung of its ladder."""
    plan, base, at, inside = (
        node.text if (node := record.text(key)) else "" for key in ("plan", "from", "at", "in")
    )
    own = [entry for entry in record.entries if entry.key.text not in EXAMPLE_KEYS]
    is_edge = example.kind is ExampleKind.EDGES
    ladders = [entry for entry in own if is_edge and _is_ladder(entry.value)]
    if len(ladders) > 1:
        ladders[1].key.fault("one text is changed step by step, not two")
    changed = record.only(*(entry for entry in own if entry not in ladders))
    sections, left_out = _left_out(record)
    example = evolve(
        example,
        gives=_outcome(record, example, known, bool(ladders)),
        base=base or DEFAULT_BASE,
        plan=plan,
        without=sections,
        changes=(*_changes(changed, False), *_added(record), *left_out),
        at=at,
        inside=inside,
        also=tuple(node.text for node in record.texts("also")),
    )
    if not ladders:
        yield example
        return
    for step in _entries(ladders[0].value):
        gives = _expected(step.value, known)
        if gives is not None:
            change = Change(_written(ladders[0].key), (step.key.words,))
            changes = (change, *example.changes)
            yield evolve(example, gives=gives, changes=changes, span=step.key.span)


def _entries(node: YamlNode | None) -> tuple[Entry, ...]:
    return node.entries if isinstance(node, MapNode) else ()


def _is_ladder(node: YamlNode) -> bool:
    """True for texts that each have an outcome, not lines below a heading."""
    steps = _entries(node)
    return bool(steps) and all(
        isinstance(step.value, TextNode) and step.value.words.partition(" ")[0] in _WEIGHTS
        for step in steps
    )


def _outcome(
    record: MapNode, example: Example, known: Mapping[str, Expected], is_ladder: bool
) -> Expected:
    node = record.text("gives")
    if example.kind is ExampleKind.PASSES or is_ladder:
        if node is not None:
            node.fault("what this gives stands elsewhere already")
        return Expected()
    if node is not None:
        return _expected(node, known) or example.gives
    if example.kind is ExampleKind.EDGES or len(known) > 2:
        record.fault("the key 'gives' is missing", f"one of {', '.join(known)}")
    return example.gives


def _expected(node: YamlNode, known: Mapping[str, Expected]) -> Expected | None:
    assert isinstance(node, TextNode)
    if node.words not in known:
        hint = did_you_mean(node.words, known) or f"write one of {', '.join(known)}"
        node.fault(f"this rule never gives {node.words!r}", hint)
    return known.get(node.words)


def _changes(node: MapNode, is_added: bool) -> Iterator[Change]:
    """What texts become, or what is added after their lines."""
    for lines, heading in _below_headings(node, "after" if is_added else "change"):
        for entry in lines.entries:
            if isinstance(entry.value, MapNode):
                continue
            if isinstance(entry.value, TextNode) and not entry.value.text.strip():
                hint = "to leave a line out, name it under `without`"
                entry.key.fault(f"nothing stands behind {entry.key.text!r}", hint)
                continue
            told = (line.strip() for one in entry.texts() for line in one.text.splitlines())
            yield Change(_written(entry.key), tuple(filter(None, told)), is_added, heading)


def _added(record: MapNode) -> Iterator[Change]:
    node = record.get("after")
    if isinstance(node, MapNode) and node.entries:
        yield from _changes(node, True)
    elif node is not None:
        node.fault("'after' names no line", _RIGHT["after"])


def _below_headings(node: MapNode, key: str) -> Iterator[tuple[MapNode, Written[str] | None]]:
    """The lines of an example's key, and those that stand in it below a heading of the plan."""
    yield node, None
    for entry in node.entries:
        below = entry.value
        if isinstance(below, MapNode):
            too_deep = [one.key for one in below.entries if isinstance(one.value, MapNode)]
            for wrong in too_deep if below.entries else [entry.key]:
                wrong.fault("below a heading stand its lines", _RIGHT[key])
            yield below, _written(entry.key)


def _left_out(record: MapNode) -> tuple[tuple[str, ...], list[Change]]:
    """The kinds of sections to leave out, and the single lines."""
    node = record.get("without")
    if isinstance(node, MapNode):
        return (), [
            Change(_written(line), inside=_written(entry.key))
            for entry in node.entries
            for line in entry.texts()
        ]
    nodes = record.texts("without")
    sections = tuple(one.text for one in nodes if one.text in HEADINGS)
    return sections, [Change(_written(one)) for one in nodes if one.text not in HEADINGS]


def _written(node: TextNode) -> Written[str]:
    return Written(node.text, node.span)
