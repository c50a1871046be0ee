"""A YAML file is read with the place of every key and character."""

import re
from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from attrs import evolve, field, frozen
from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from guardcone.condition.grammar import Mistake
from guardcone.language.nearest import did_you_mean
from guardcone.rulebook.rule import RuleFault
from guardcone.span import Span

__all__ = ["Entry", "ListNode", "MapNode", "Reader", "TextNode", "YamlNode"]

T = TypeVar("T")


@frozen(repr=False)
class YamlNode:
    """Something in a YAML file; `span` covers it, or its first line if it has several."""

    span: Span
    reader: "Reader" = field(repr=False, eq=False)

    def fault(self, message: str, hint: str = "") -> None:
        """Tell what is wrong here, and how it is mended."""
        self.reader.fault(self.span, message, hint)

    @property
    def line(self) -> str:
        """The file and the line, as ``studio.yaml:12``."""
        return f"{self.reader.file}:{self.span.line}"


@frozen(repr=False)
class TextNode(YamlNode):
    """A scalar, always taken as text: `08`, `no` and `12 mm` are what a person wrote."""

    text: str
    _first: int = field(repr=False, eq=False)
    _last: int = field(repr=False, eq=False)
    _style: str | None = field(repr=False, eq=False)

    @property
    def words(self) -> str:
        """The text in one line, one blank between the words."""
        return " ".join(self.text.split())

    def read(self, read: Callable[[str], T], start: int = 0, end: int | None = None) -> T | None:
        """What `read` makes of the text, or of a part of it; None, and a fault, for a mistake."""
        try:
            return read(self.text[start:end])
        except Mistake as mistake:
            place = self.place(start + mistake.start, start + mistake.end)
            self.reader.fault(place, mistake.message, mistake.hint)
            return None

    def place(self, start: int, end: int) -> Span:
        """Where characters `start` to `end` of the text (from 0) stand in the file.

        A stretch that runs over several lines is cut at the end of its first.
        """
        if not self.text:
            return self.span
        at = self._offsets()
        first = at[min(start, len(at) - 1)]
        last = at[max(min(end, len(at)), 1) - 1] + 1
        last = max(first + 1, min(last, self.reader.line_end(first)))
        source = self.reader.source
        begin = source.rfind("\n", 0, first) + 1
        return Span(source.count("\n", 0, first) + 1, first - begin + 1, last - begin + 1)

    def _offsets(self) -> list[int]:
        """For each character of the text, its offset in the file.

        Folding and indentation only change white space, so what is not white space is found again
        by walking through the source; quoting adds backslashes and doubled quotes.
        """
        source, at = self.reader.source, self._first
        if self._style in ("|", ">"):
            at = source.find("\n", at) + 1
        elif self._style in _LETTER:
            at += 1
        pattern = _LETTER.get(self._style or "", _PLAIN_LETTER)
        letters = (found for found in pattern.finditer(source, at, self._last) if found[1])
        offsets = []
        for letter in self.text:
            found = None if letter.isspace() else next(letters, None)
            offsets.append(found.start() if found else min(at, max(self._last - 1, 0)))
            at = found.end() if found else at
        return offsets


# How one character that is no white space is written, by the style of a scalar. Between double
# quotes some white space is spelled with a backslash, which is then passed over.
_PLAIN_LETTER = re.compile(r"(\S)")
_LETTER = {
    "'": re.compile(r"(''|\S)"),
    '"': re.compile(r"\\[\sntrvfNLP_]|(\\x..|\\u.{4}|\\U.{8}|\\.|\S)"),
}


@frozen(repr=False)
class ListNode(YamlNode):
    """A sequence."""

    items: tuple[YamlNode, ...]


@frozen(repr=False)
class Entry:
    """One key of a mapping with its value."""

    key: TextNode
    value: YamlNode

    def text(self, must: str = "must be a text", hint: str = "") -> TextNode | None:
        """The value, which must be a text; else that is a fault."""
        if isinstance(self.value, TextNode) and self.value.text.strip():
            return self.value
        self.written(self.value).fault(f"{self.key.text!r} {must}", hint)
        return None

    def texts(self) -> tuple[TextNode, ...]:
        """The value of a key that takes a text or a list of them."""
        found: list[TextNode] = []
        for item in self.value.items if isinstance(self.value, ListNode) else (self.value,):
            if isinstance(item, TextNode) and item.text.strip():
                found.append(item)
            else:
                message = f"{self.key.text!r} must be a text or a list of texts"
                self.written(item).fault(message)
        return tuple(found)

    def written(self, value: YamlNode) -> YamlNode:
        """The value; for an empty one, which stands nowhere, the key."""
        return self.key if isinstance(value, TextNode) and not value.text else value


@frozen(repr=False)
class MapNode(YamlNode):
    """A mapping; keys stand in the order of the file and are all different."""

    entries: tuple[Entry, ...]

    def entry(self, key: str) -> Entry | None:
        """The entry with this key, None if it is not there."""
        return next((entry for entry in self.entries if entry.key.text == key), None)

    def get(self, key: str) -> YamlNode | None:
        """The value of a key, None if it is not there."""
        entry = self.entry(key)
        return entry.value if entry else None

    def only(self, *entries: Entry) -> "MapNode":
        """The same place with these entries alone."""
        return evolve(self, entries=entries)

    def has(self, allowed: tuple[str, ...], needed: tuple[str, ...]) -> bool:
        """Check the keys; False if a needed one is missing."""
        free = [key for key in allowed if self.get(key) is None]
        misspelled = set()
        for entry in self.entries:
            if entry.key.text not in allowed:
                near = did_you_mean(entry.key.text, free)
                misspelled |= {key for key in free if near == f"did you mean {key}?"}
                hint = near or f"keys are {', '.join(allowed)}"
                entry.key.fault(f"there is no key {entry.key.text!r} here", hint)
        missing = [key for key in needed if key in free]
        for key in missing:
            if key not in misspelled:
                self.fault(f"the key {key!r} is missing")
        return not missing

    def section(self, key: str) -> tuple[Entry, ...]:
        """The entries under a key; none if absent or empty, a fault if it is another thing."""
        value = self.get(key)
        if isinstance(value, MapNode):
            return value.entries
        if value is not None and not (isinstance(value, TextNode) and not value.text):
            value.fault(f"{key!r} must have `name: value` lines below it")
        return ()

    def text(self, key: str) -> TextNode | None:
        """The text of a key; None if absent, a fault if it is empty or no text."""
        entry = self.entry(key)
        return entry.text() if entry else None

    def words(self, key: str) -> str:
        """The text of a key in one line, empty where there is none."""
        node = self.text(key)
        return node.words if node else ""

    def texts(self, key: str) -> tuple[TextNode, ...]:
        """The texts of a key that takes one or a list of them."""
        entry = self.entry(key)
        return entry.texts() if entry else ()


class Reader:
    """Reads one file; whatever is wrong is added to `faults`, and reading goes on."""

    def __init__(self, file: str, source: str) -> None:
        self.file = file
        self.source = source.replace("\r\n", "\n").removeprefix("\ufeff")
        self.faults: list[RuleFault] = []
        self._met: set[int] = set()

    def fault(self, span: Span, message: str, hint: str = "") -> None:
        """Add what is wrong at a place; said once, though several levels of a rule read it."""
        found = RuleFault(self.file, span, message, hint)
        if found not in self.faults:
            self.faults.append(found)

    def line_end(self, at: int) -> int:
        """The end of the line in which this character of the file stands."""
        found = self.source.find("\n", at)
        return found if found >= 0 else len(self.source)

    def root(self) -> YamlNode | None:
        """The whole document, None if it is empty or no YAML (which is then a fault)."""
        try:
            # Pure Python for the places; not round-trip, which marks folds with extra characters.
            node = YAML(typ="safe", pure=True).compose(self.source)
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

    def records(self) -> Iterator[MapNode]:
        """The mappings of a file that is a list of them; anything else is a fault."""
        root = self.root()
        if root is not None and not isinstance(root, ListNode):
            root.fault("this file must be a list of rules", "start each with a dash")
        for item in root.items if isinstance(root, ListNode) else ():
            if isinstance(item, MapNode):
                yield item
            else:
                item.fault("each of the rules must be a set of `key: value` lines")

    def _node(self, node: Any) -> YamlNode:
        span = self._span(node)
        if id(node) in self._met and node.id != "scalar":
            # Aliases of aliases make a short file endless; and a person who reads has to search.
            self.fault(span, "this stands in the file once more under an alias", "write it out")
            return ListNode(span, self, ())
        self._met.add(id(node))
        if node.id == "mapping":
            return MapNode(span, self, tuple(self._entries(node)))
        if node.id == "sequence":
            return ListNode(span, self, tuple(self._node(item) for item in node.value))
        start, end = node.start_mark.index, node.end_mark.index
        return TextNode(span, self, node.value, start, end, node.style)

    def _entries(self, node: Any) -> Iterator[Entry]:
        seen: set[str] = set()
        for key_node, value_node in node.value:
            key = self._node(key_node)
            if not isinstance(key, TextNode):
                key.fault("a key must be a word")
                continue
            if key.text in seen:
                key.fault(f"the key {key.text!r} stands here twice")
                continue
            seen.add(key.text)
            yield Entry(key, self._node(value_node))

    def _span(self, node: Any) -> Span:
        start, end = node.start_mark, node.end_mark
        column = start.column + 1
        if end.line == start.line:
            return Span(start.line + 1, column, max(end.column + 1, column + 1))
        length = self.line_end(start.index) - start.index
        return Span(start.line + 1, column, column + max(length, 1))
