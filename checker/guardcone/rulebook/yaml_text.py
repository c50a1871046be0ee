"""A YAML file is read with the place of every key and character."""

from collections.abc import Iterator
from typing import Any

from attrs import field, frozen
from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from guardcone.condition.rule_faults import RuleFault, did_you_mean
from guardcone.span import Span

__all__ = ["Entry", "ListNode", "MapNode", "Reader", "TextNode", "YamlNode"]


@frozen
class YamlNode:
    """Something in a YAML file; `span` covers it, or its first line if it has several."""

    span: Span


@frozen
class TextNode(YamlNode):
    """A scalar, always taken as text: `08`, `no` and `12 mm` are what a person wrote."""

    text: str
    _source: str = field(repr=False, eq=False)
    _first: int = field(repr=False, eq=False)
    _last: int = field(repr=False, eq=False)
    _style: str | None = field(repr=False, eq=False)

    def place(self, start: int, end: int) -> Span:
        """Where characters `start` to `end` of the text (from 0) stand in the file.

        A stretch that runs over several lines is cut at the end of its first.
        """
        if not self.text:
            return self.span
        at = self._offsets()
        first = at[min(start, len(at) - 1)]
        last = at[max(min(end, len(at)), 1) - 1] + 1
        line_end = self._source.find("\n", first)
        last = max(first + 1, min(last, line_end if line_end >= 0 else len(self._source)))
        begin = self._source.rfind("\n", 0, first) + 1
        line = self._source.count("\n", 0, first) + 1
        return Span(line, first - begin + 1, last - begin + 1)

    def _offsets(self) -> list[int]:
        """For each character of the text, its offset in the file.

        Folding and indentation only change white space, so what is not white space is found again
        by walking through the source; quoting adds backslashes and doubled quotes.
        """
        source, at = self._source, self._first
        if self._style in ("|", ">"):
            at = source.find("\n", at) + 1
        elif self._style in ("'", '"'):
            at += 1
        offsets = []
        for letter in self.text:
            at = self._skip(at, letter)
            at = min(at, max(self._last - 1, 0))
            offsets.append(at)
            at += self._width(at, letter)
        return offsets

    def _skip(self, at: int, letter: str) -> int:
        if letter.isspace():
            return at
        while at < self._last and self._source[at].isspace():
            at += 1
        if self._style == '"' and self._source[at : at + 2] == "\\\n":
            return self._skip(at + 1, letter)
        return at

    def _width(self, at: int, letter: str) -> int:
        if self._style == "'" and letter == "'":
            return 2
        if self._style == '"' and self._source[at : at + 1] == "\\":
            return {"x": 4, "u": 6, "U": 10}.get(self._source[at + 1 : at + 2], 2)
        return 0 if letter.isspace() and not self._source[at : at + 1].isspace() else 1


@frozen
class ListNode(YamlNode):
    """A sequence."""

    items: tuple[YamlNode, ...]


@frozen
class Entry:
    """One key of a mapping with its value."""

    key: TextNode
    value: YamlNode


@frozen
class MapNode(YamlNode):
    """A mapping; keys stand in the order of the file and are all different."""

    entries: tuple[Entry, ...]

    def get(self, key: str) -> YamlNode | None:
        """The value of a key, None if it is not there."""
        for entry in self.entries:
            if entry.key.text == key:
                return entry.value
        return None


class Reader:
    """Reads one file; whatever is wrong is added to `faults`, and reading goes on."""

    def __init__(self, file: str, source: str) -> None:
        self.file = file
        self.faults: list[RuleFault] = []
        self._met: set[int] = set()
        self._source = source.replace("\r\n", "\n").removeprefix("\ufeff")

    def fault(self, span: Span, message: str, hint: str = "") -> None:
        """Add what is wrong at a place; said once, though several levels of a rule read it."""
        found = RuleFault(self.file, span, message, hint)
        if found not in self.faults:
            self.faults.append(found)

    def root(self) -> YamlNode | None:
        """The whole document, None if it is empty or no YAML (which is then a fault)."""
        try:
            # Pure Python for the places; not round-trip, which marks folds with extra characters.
            node = YAML(typ="safe", pure=True).compose(self._source)
            return None if node is None else self._node(node)
        except MarkedYAMLError as error:
            mark = error.problem_mark or error.context_mark
            line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
            self.fault(Span(line, column, column + 1), f"this is no YAML: {error.problem}")
        except (YAMLError, ValueError) as error:
            self.fault(Span(1, 1, 2), f"this is no YAML: {str(error).splitlines()[0]}")
        except RecursionError:
            self.fault(Span(1, 1, 2), "this is nested too deep")
        return None

    def records(self, root: YamlNode | None, what: str) -> Iterator[MapNode]:
        """The mappings of a file that is a list of them; anything else is a fault."""
        if root is None:
            return
        if not isinstance(root, ListNode):
            self.fault(root.span, f"this file must be a list of {what}", "start each with a dash")
            return
        for item in root.items:
            if isinstance(item, MapNode):
                yield item
            else:
                self.fault(item.span, f"each of the {what} must be a set of `key: value` lines")

    def keys(self, record: MapNode, allowed: tuple[str, ...], needed: tuple[str, ...]) -> bool:
        """Check the keys of a record; False if a needed one is missing."""
        free = [key for key in allowed if record.get(key) is None]
        misspelled = set()
        for entry in record.entries:
            if entry.key.text not in allowed:
                near = did_you_mean(entry.key.text, free)
                misspelled |= {key for key in free if near == f"did you mean {key}?"}
                hint = near or f"keys are {', '.join(allowed)}"
                self.fault(entry.key.span, f"there is no key {entry.key.text!r} here", hint)
        missing = [key for key in needed if key in free]
        for key in missing:
            if key not in misspelled:
                self.fault(record.span, f"the key {key!r} is missing")
        return not missing

    def section(self, record: MapNode, key: str) -> MapNode | None:
        """The entries under a key; None if absent or empty, a fault if it is another thing."""
        value = record.get(key)
        if isinstance(value, MapNode):
            return value
        if value is not None and not (isinstance(value, TextNode) and not value.text):
            self.fault(value.span, f"{key!r} must have `name: value` lines below it")
        return None

    def text(self, record: MapNode, key: str) -> TextNode | None:
        """The text of a key; None if absent, a fault if it is empty or no text."""
        value = record.get(key)
        if value is None:
            return None
        if isinstance(value, TextNode) and value.text.strip():
            return value
        self.fault(self._written(record, key, value), f"{key!r} must be a text")
        return None

    def texts(self, record: MapNode, key: str) -> tuple[TextNode, ...]:
        """The texts of a key that takes one or a list of them."""
        value = record.get(key)
        if value is None:
            return ()
        found: list[TextNode] = []
        for item in value.items if isinstance(value, ListNode) else (value,):
            if isinstance(item, TextNode) and item.text.strip():
                found.append(item)
            else:
                place = self._written(record, key, item)
                self.fault(place, f"{key!r} must be a text or a list of texts")
        return tuple(found)

    @staticmethod
    def _written(record: MapNode, key: str, value: YamlNode) -> Span:
        """Where a value stands; for an empty one, which stands nowhere, its key."""
        if isinstance(value, TextNode) and not value.text:
            return next(entry.key.span for entry in record.entries if entry.key.text == key)
        return value.span

    def _node(self, node: Any) -> YamlNode:
        span = self._span(node)
        if id(node) in self._met and node.id != "scalar":
            # Aliases of aliases make a short file endless; and a person who reads has to search.
            self.fault(span, "this stands in the file once more under an alias", "write it out")
            return ListNode(span, ())
        self._met.add(id(node))
        if node.id == "mapping":
            return MapNode(span, tuple(self._entries(node)))
        if node.id == "sequence":
            return ListNode(span, tuple(self._node(item) for item in node.value))
        start, end = node.start_mark.index, node.end_mark.index
        return TextNode(span, node.value, self._source, start, end, node.style)

    def _entries(self, node: Any) -> Iterator[Entry]:
        seen: set[str] = set()
        for key_node, value_node in node.value:
            key = self._node(key_node)
            if not isinstance(key, TextNode):
                self.fault(key.span, "a key must be a word")
                continue
            if key.text in seen:
                self.fault(key.span, f"the key {key.text!r} stands here twice")
                continue
            seen.add(key.text)
            yield Entry(key, self._node(value_node))

    def _span(self, node: Any) -> Span:
        start, end = node.start_mark, node.end_mark
        column = start.column + 1
        if end.line == start.line:
            return Span(start.line + 1, column, max(end.column + 1, column + 1))
        line_end = self._source.find("\n", start.index)
        length = (line_end if line_end >= 0 else len(self._source)) - start.index
        return Span(start.line + 1, column, column + max(length, 1))
