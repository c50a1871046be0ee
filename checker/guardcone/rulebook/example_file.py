"""The examples of a rule are read; every fault in them has its place."""

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve

from guardcone.condition.rule_faults import did_you_mean
from guardcone.rulebook.example_plan import HEADINGS
from guardcone.rulebook.rule import Change, Consequence, Example, ExampleKind, Expected, Level
from guardcone.rulebook.yaml_text import ListNode, MapNode, Reader, TextNode, YamlNode
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
    "without": "a line, a list of them, or lines below a heading",
}


def read_examples(
    rule: MapNode, kind: ExampleKind, name: str, levels: Sequence[Level], reader: Reader
) -> tuple[Example, ...]:
    """The examples of one kind in the record of the rule called `name`, one or a list of them.

    A text alone names a sound plan that is taken as it is.
    """
    node = rule.get(kind.value)
    if node is None:
        return ()
    known = {str(_gives(level)): _gives(level) for level in levels}
    found: list[Example] = []
    for record in node.items if isinstance(node, ListNode) else (node,):
        if isinstance(record, TextNode) and record.text.strip():
            sound = Expected() if kind is not ExampleKind.FAILS else _gives(levels[0])
            found.append(_Record(record, name, kind, known, reader).sound(sound, len(found) + 1))
        elif not isinstance(record, MapNode):
            reader.fault(record.span, "an example is a set of `text: what it becomes` lines")
        else:
            read = _Record(record, name, kind, known, reader)
            found += read.examples(_gives(levels[0]), len(found) + 1)
    return tuple(found)


def _gives(level: Level) -> Expected:
    return Expected(level.consequence, level.case)


class _Record:
    """Reads one example, or a ladder of them."""

    def __init__(
        self,
        node: YamlNode,
        rule: str,
        kind: ExampleKind,
        known: dict[str, Expected],
        reader: Reader,
    ) -> None:
        self._node = node
        self._rule = rule
        self._kind = kind
        self._known = {ExampleKind.PASSES.value: Expected(), **known}
        self._reader = reader

    def sound(self, gives: Expected, number: int) -> Example:
        """The sound plan that a text names, as it is."""
        assert isinstance(self._node, TextNode)
        text = self._node.text.strip()
        return Example(
            self._rule,
            self._kind,
            number,
            gives,
            text,
            file=self._reader.file,
            span=self._node.span,
        )

    def examples(self, worst: Expected, number: int) -> Iterator[Example]:
        """The example of the record, or one for each rung of its ladder."""
        record, reader = self._node, self._reader
        assert isinstance(record, MapNode)
        if all(entry.key.text in _SAID_OF_IT for entry in record.entries):
            hint = "say what becomes of a text of a sound plan, or name one: `from: stoneware`"
            reader.fault(record.span, "this example has no plan", hint)
            return
        plan, base, at, inside = (
            node.text if (node := reader.text(record, key)) else ""
            for key in ("plan", "from", "at", "in")
        )
        changes = [entry for entry in record.entries if entry.key.text not in EXAMPLE_KEYS]
        ladders = [entry for entry in changes if self._is_ladder(entry.value)]
        if len(ladders) > 1:
            reader.fault(ladders[1].key.span, "one text is changed step by step, not two")
        changed = MapNode(record.span, tuple(entry for entry in changes if entry not in ladders))
        sections, left_out = self._left_out(record)
        example = Example(
            rule=self._rule,
            kind=self._kind,
            number=number,
            gives=self._outcome(record, worst, bool(ladders)),
            base=base or DEFAULT_BASE,
            plan=plan,
            without=sections,
            changes=(*self._changes(changed, False), *self._added(record), *left_out),
            at=at,
            inside=inside,
            also=tuple(node.text for node in reader.texts(record, "also")),
            file=reader.file,
            span=record.span,
        )
        if not ladders:
            yield example
            return
        for step, gives in self._rungs(ladders[0].value):
            yield self._rung(example, number, ladders[0].key, step, gives)
            number += 1

    def _rung(
        self, example: Example, number: int, key: TextNode, step: TextNode, gives: Expected
    ) -> Example:
        change = Change(_written(key), (" ".join(step.text.split()),))
        return evolve(
            example,
            number=number,
            gives=gives,
            changes=(change, *example.changes),
            span=step.span,
        )

    def _is_ladder(self, node: YamlNode) -> bool:
        """True for texts that each have an outcome, not lines below a heading."""
        return (
            self._kind is ExampleKind.EDGES
            and isinstance(node, MapNode)
            and bool(node.entries)
            and all(
                isinstance(entry.value, TextNode)
                and entry.value.text.split()[:1]
                and entry.value.text.split()[0] in _WEIGHTS
                for entry in node.entries
            )
        )

    def _rungs(self, node: YamlNode) -> Iterator[tuple[TextNode, Expected]]:
        assert isinstance(node, MapNode)
        for entry in node.entries:
            assert isinstance(entry.value, TextNode)
            gives = self._expected(entry.value)
            if gives is not None:
                yield entry.key, gives

    def _outcome(self, record: MapNode, worst: Expected, is_ladder: bool) -> Expected:
        node = self._reader.text(record, "gives")
        if self._kind is ExampleKind.PASSES or is_ladder:
            if node is not None:
                self._reader.fault(node.span, "what this gives stands elsewhere already")
            return Expected()
        if node is not None:
            return self._expected(node) or worst
        if self._kind is ExampleKind.EDGES or len(self._known) > 2:
            words = ", ".join(self._known)
            self._reader.fault(record.span, "the key 'gives' is missing", f"one of {words}")
        return worst

    def _expected(self, node: TextNode) -> Expected | None:
        text = " ".join(node.text.split())
        if text not in self._known:
            hint = did_you_mean(text, self._known) or f"write one of {', '.join(self._known)}"
            self._reader.fault(node.span, f"this rule never gives {text!r}", hint)
        return self._known.get(text)

    def _changes(self, node: MapNode, is_added: bool) -> Iterator[Change]:
        """What texts become, or what is added after their lines."""
        key = "after" if is_added else "change"
        for lines, heading in self._below_headings(node, key):
            for entry in lines.entries:
                if isinstance(entry.value, MapNode):
                    continue
                if isinstance(entry.value, TextNode) and not entry.value.text.strip():
                    hint = "to leave a line out, name it under `without`"
                    message = f"nothing stands behind {entry.key.text!r}"
                    self._reader.fault(entry.key.span, message, hint)
                    continue
                new = _lines(self._reader.texts(lines, entry.key.text))
                yield Change(_written(entry.key), new, is_added, heading)

    def _added(self, record: MapNode) -> Iterator[Change]:
        node = record.get("after")
        if isinstance(node, MapNode) and node.entries:
            yield from self._changes(node, True)
        elif node is not None:
            self._reader.fault(node.span, "'after' names no line", _RIGHT["after"])

    def _below_headings(
        self, node: MapNode, key: str
    ) -> Iterator[tuple[MapNode, Written[str] | None]]:
        """The lines of an example's key, and those that stand in it below a heading of the plan."""
        yield node, None
        for entry in node.entries:
            below = entry.value
            if isinstance(below, MapNode):
                too_deep = [one.key for one in below.entries if isinstance(one.value, MapNode)]
                for wrong in too_deep if below.entries else [entry.key]:
                    self._reader.fault(wrong.span, "below a heading stand its lines", _RIGHT[key])
                yield below, _written(entry.key)

    def _left_out(self, record: MapNode) -> tuple[tuple[str, ...], list[Change]]:
        """The kinds of sections to leave out, and the single lines."""
        node = record.get("without")
        if isinstance(node, MapNode):
            below = [
                Change(_written(line), inside=_written(entry.key))
                for entry in node.entries
                for line in self._reader.texts(node, entry.key.text)
            ]
            return (), below
        nodes = self._reader.texts(record, "without")
        sections = tuple(one.text for one in nodes if one.text in HEADINGS)
        return sections, [Change(_written(one)) for one in nodes if one.text not in HEADINGS]


_WEIGHTS = {ExampleKind.PASSES.value, *(consequence.value for consequence in Consequence)}


def _lines(nodes: Iterable[TextNode]) -> tuple[str, ...]:
    return tuple(line.strip() for node in nodes for line in node.text.splitlines() if line.strip())


def _written(node: TextNode) -> Written[str]:
    return Written(node.text, node.span)
