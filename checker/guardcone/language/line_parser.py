"""Reads one line of a plan by the tables that lark makes of grammar/plan.lark.

The tables are those of an LALR(1) parser, as in any book on compilers: a line is a walk from state
to state, and the state says which kinds may come next. Lark makes them; it need not be there when
they are used.
"""

from collections.abc import Iterator, Mapping
from typing import Any, TypeVar, cast

from attrs import define, field, frozen

from guardcone.language.scanner import SIGNS, Keyword, read, skip
from guardcone.language.source import begins_at
from guardcone.language.tokens import Token, TokenValues
from guardcone.span import Span, Written

__all__ = ["LineReading", "Misread", "ParserTables", "Part"]

END = "$END"

T = TypeVar("T")


@define(repr=False)
class Misread(Exception):
    """A line can't go on as it does at column `at` (from 0), or may not end there."""

    at: int


@frozen(repr=False)
class Part:
    """A rule of the grammar that was met, with what it holds, in the order written."""

    name: str
    children: "tuple[Part | Written[object], ...]"

    def parts(self, name: str, *further: str) -> "Iterator[Part]":
        """Every part of this name directly within this one, or what further names lead to."""
        for child in self.children:
            if isinstance(child, Part) and child.name == name:
                yield from child.parts(*further) if further else (child,)

    def part(self, name: str, *further: str) -> "Part | None":
        """The first part that these names lead to."""
        return next(self.parts(name, *further), None)

    def values(self, kind: type[T], *within: str) -> Iterator[Written[T]]:
        """Every value of this kind directly within this part, or within those under the names."""
        for part in self.parts(*within) if within else (self,):
            for child in part.children:
                if isinstance(child, Written) and isinstance(child.value, kind):
                    yield cast(Written[T], child)

    def value(self, kind: type[T], *within: str) -> Written[T] | None:
        """The first value of this kind there."""
        return next(self.values(kind, *within), None)

    def last(self, kind: type[T], *within: str) -> Written[T] | None:
        """The last value of this kind there."""
        return next(reversed(list(self.values(kind, *within))), None)

    def word(self, *words: str) -> Written[Keyword] | None:
        """The first of these keywords that stands directly within this part."""
        return next((word for word in self.values(Keyword) if word.value in words), None)

    def on_line(self, line: int) -> "Part":
        """The same in another line that says the same."""
        return Part(
            self.name,
            tuple(
                child.on_line(line)
                if isinstance(child, Part)
                else Written(child.value, Span(line, child.span.start, child.span.end))
                for child in self.children
            ),
        )

    @property
    def extent(self) -> Span:
        """The stretch of line from the first value of this part to the last."""
        return self.children[0].span.to(self.children[-1].span)

    @property
    def span(self) -> Span:
        """The place of this part; of a statement it is that of its line."""
        return self.extent


@frozen(repr=False)
class ParserTables:
    """The rules of the grammar, each with what it is made of, and the states of its parser.

    A state names, for each kind of token and each rule that may come next, the number of the state
    that follows; ~n in place of it closes rule n. `starts` has the first state of a line of each
    section.
    """

    rules: tuple[tuple[str, tuple[str, ...]], ...]
    states: tuple[Mapping[str, int], ...]
    starts: Mapping[str, int]

    @classmethod
    def of(cls, parser: Any) -> "ParserTables":
        """The tables of a `lark.Lark` for LALR."""
        table = parser.parser.parser._parse_table
        number = {rule: at for at, rule in enumerate(parser.rules)}
        states = [
            {kind: to if isinstance(to, int) else ~number[to] for kind, (_, to) in state.items()}
            for _, state in sorted(table.states.items())
        ]
        for end in table.end_states.values():
            states[end][END] = end  # a line that is complete may end
        return cls(
            tuple((rule.origin.name, tuple(s.name for s in rule.expansion)) for rule in number),
            tuple(states),
            {start.removesuffix("_line"): at for start, at in table.start_states.items()},
        )


@define(repr=False)
class LineReading:
    """A line on its way through the tables: the states gone through, and what each has brought."""

    tables: ParserTables
    _stack: list[int]
    _brought: "list[tuple[Part | Written[object], ...]]" = field(factory=list)

    def tokens(self, code: str, values: TokenValues) -> Iterator[Token]:
        """Each token, cut off as what may stand here, before it is taken.

        Raises Misread where nothing fits, OutOfSense for a value that no plan can mean.
        """
        at = skip(code, begins_at(code))
        while at < len(code):
            wanted = self.tables.states[self._stack[-1]]
            # What only seems to be wanted is tried all the same: how far it gets tells people what
            # may stand instead.
            found = read(code, at, wanted, self._takes) or read(code, at, wanted)
            if found is None:
                raise Misread(at)
            token = Token(found.kind, code[at : found.end], at)
            token.value = values.written(token, found.value)
            yield token
            self._take(token.kind, at, () if token.kind in SIGNS else (token.value,))
            at = skip(code, found.end)

    def statement(self, end: int) -> Part:
        """The statement of a line that ends here; Misread where it may not."""
        if not self._takes(END):
            raise Misread(end)  # nothing is reduced, so that it can be asked what may stand here
        self._take(END, end, ())
        line = self._brought[0][0]
        assert isinstance(line, Part)
        statement = line.children[0]
        assert isinstance(statement, Part)
        return statement

    def accepts(self) -> frozenset[str]:
        """The kinds of token that may come next."""
        here = self.tables.states[self._stack[-1]]
        return frozenset(kind for kind in here if kind.isupper() and self._takes(kind))

    def _takes(self, kind: str) -> bool:
        """True if this kind can really be taken next.

        The tables join states that go on alike, so a state names kinds that some way to it rules
        out.
        """
        states, stack = self.tables.states, list(self._stack)
        while (step := states[stack[-1]].get(kind)) is not None:
            if step >= 0:
                return True
            name, parts = self.tables.rules[~step]
            del stack[len(stack) - len(parts) :]
            stack.append(states[stack[-1]][name])
        return False

    def _take(self, kind: str, at: int, brings: "tuple[Part | Written[object], ...]") -> None:
        states, stack, brought = self.tables.states, self._stack, self._brought
        while (step := states[stack[-1]].get(kind)) is not None:
            if step >= 0:
                stack.append(step)
                brought.append(brings)
                return
            name, parts = self.tables.rules[~step]
            first = len(brought) - len(parts)
            children = tuple(child for one in brought[first:] for child in one)
            del brought[first:], stack[first + 1 :]
            stack.append(states[stack[-1]][name])
            # A rule named with an underscore is dissolved into the part around it.
            brought.append(children if name.startswith("_") else (Part(name, children),))
        raise Misread(at)
