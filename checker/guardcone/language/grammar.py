"""The plan grammar made ready: the parser, and what its comments tell people."""

import re
from collections.abc import Mapping
from functools import cache, cached_property
from typing import Any

from attrs import Factory, asdict, frozen

from guardcone.documents import document_text
from guardcone.kept import keep, kept
from guardcone.language.line_parser import LineReading, Misread, ParserTables, Part
from guardcone.language.scanner import Reading, keyword, read, trade_words
from guardcone.language.source import OutOfSense
from guardcone.language.tokens import TokenValues

__all__ = [
    "HEADINGS",
    "SECTIONS",
    "PlanGrammar",
    "RightLine",
    "Stuck",
    "lark_parser",
    "plan_grammar",
    "tables_to_keep",
    "words_of",
]


# The sections in the order in which a plan is laid out. `target` is a heading of one line.
# So many lines are kept at most; a folder of plans of one studio has fewer.
_MOST_KNOWN = 5000

SECTIONS = ("plan", "kiln", "witness", "load", "schedule", "safety", "reading")

# The statements that may stand in any section.
HEADINGS = frozenset({"section", "target", "accept"})


@frozen(repr=False)
class RightLine:
    """A right line for a statement; `to_copy` is the same with what only a person knows left open.

    Both are empty where there is none.
    """

    right: str = ""
    to_copy: str = ""


@frozen(repr=False)
class Stuck:
    """How far a line could be read: the column (from 0), the terminals that may stand there."""

    at: int
    accepts: frozenset[str]
    read: tuple[str, ...]


@frozen(repr=False)
class PlanGrammar:
    """The parser of one line, with the words and right lines that its document gives."""

    tables: ParserTables
    values: TokenValues = Factory(TokenValues)
    # The spellings of each word, the first one first; what each kind of value is, in words.
    words: Mapping[str, tuple[str, ...]] = Factory(lambda: trade_words().spellings)
    phrases: Mapping[str, str] = Factory(lambda: trade_words().phrases)
    # Lines that were read, by their section.
    _known: dict[tuple[str, str], Part] = Factory(dict)

    def reading(self, section: str) -> LineReading:
        """A line of this section, of which nothing is read yet."""
        return LineReading(self.tables, [self.tables.starts[section]])

    def parse(self, code: str, section: str) -> Part:
        """The statement that one line is; Misread or OutOfSense where it is wrong here.

        Plans of one studio repeat most of their lines, so what was read is kept for a while.
        """
        known = self._known.get((section, code))
        if known is not None and self.values.mended is None:
            return known.on_line(self.values.line)
        reading = self.reading(section)
        for _ in reading.tokens(code, self.values):
            pass
        part = reading.statement(len(code))
        if self.values.mended is None:
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            self._known[section, code] = part
        return part

    def how_far(self, code: str, section: str) -> Stuck:
        """Up to where a line can be read here; OutOfSense for a value that no plan can mean."""
        reading = self.reading(section)
        read: list[str] = []
        at = len(code)
        try:
            for token in reading.tokens(code, self.values):
                read.append(token.kind)
        except Misread as error:
            at = error.at
        return Stuck(at, reading.accepts(), tuple(read))

    def is_right(self, code: str, section: str) -> bool:
        """True if a line of the section can be read, and a plan can mean it."""
        try:
            self.parse(code, section)
        except (Misread, OutOfSense):
            return False
        return True

    def is_right_somewhere(self, code: str) -> bool:
        """True if it is a line of any section."""
        return any(self.is_right(code, section) for section in SECTIONS)

    @cached_property
    def right_lines(self) -> dict[str, list[RightLine]]:
        """The right lines above each statement rule of the document."""
        found: dict[str, list[RightLine]] = {}
        above: list[RightLine] = []
        for line in document_text("grammar", "plan.lark").splitlines():
            mark, written = line[:4], line[4:]
            rule = re.match("[a-z_]+(?=:)", line)
            if mark == "//> ":
                above.append(RightLine(written, written))
            elif mark == "//? ":
                above[-1] = RightLine(above[-1].right, written)
            elif rule and above:
                found[rule[0]], above = above, []
        return found

    @cached_property
    def openings(self) -> dict[str, dict[str, frozenset[str]]]:
        """The statements of each section, in the order of the document, by what may open them."""
        return {section: self._statements(section) for section in SECTIONS}

    @cached_property
    def opening(self) -> dict[str, frozenset[str]]:
        """The terminals that a line of each section may begin with."""
        return {
            section: frozenset().union(*statements.values())
            for section, statements in self.openings.items()
        }

    @cached_property
    def headings(self) -> frozenset[str]:
        """The terminals that a line of any section may begin with."""
        return frozenset.intersection(*self.opening.values())

    def right_line(self, section: str, terminal: str | None) -> RightLine:
        """A right line of this section that begins with this word; empty where none does."""
        # A section's own statement comes before a heading that begins with the same word.
        rules = sorted(self.rules_opened_by(section, terminal), key=HEADINGS.__contains__)
        if terminal is None or not rules:
            return RightLine()
        first, *others = self.right_lines[rules[0]]
        return next((one for one in others if read(one.right, 0, {terminal})), first)

    def opening_word(self, section: str, code: str, start: int) -> Reading | None:
        """The keyword at this column (from 0) of a line, if it may open a line of the section."""
        return read(code, start, self.opening[section] & self.words.keys())

    def terminals_of(self, rule: str) -> tuple[str, ...]:
        """The terminals that a rule of the grammar is made of, in the order of the document."""
        found: dict[str, None] = {}
        waiting = [rule]
        while waiting:
            name = waiting.pop()
            if name not in found:
                found[name] = None
                made_of = (symbol for made in self.made_of.get(name, ()) for symbol in made)
                waiting += reversed([*made_of])
        return tuple(name for name in found if name.isupper())

    def spellings_of(self, rule: str) -> list[str]:
        """The spellings of all words that a rule of the grammar is made of."""
        return [word for one in self.terminals_of(rule) for word in self.words.get(one, ())]

    def rules_opened_by(self, section: str, terminal: str | None) -> list[str]:
        """The statement rules that a line of this section beginning with this word may meet."""
        return [rule for rule, firsts in self.openings[section].items() if terminal in firsts]

    def opened_by_quote(self, section: str) -> list[str]:
        """The statement rules of a section that a text to fill in may stand for all by itself."""
        lines = ((rule, self.right_lines[rule][0]) for rule in self.openings[section])
        return [rule for rule, line in lines if line.to_copy.startswith('"')]

    def facts_of(self, section: str) -> frozenset[str]:
        """The statement rules, headings left out, that have their place in this section."""
        return frozenset(
            rule for rule, firsts in self.openings[section].items() if not firsts <= self.headings
        )

    @cached_property
    def made_of(self) -> dict[str, list[tuple[str, ...]]]:
        """What each rule of the grammar may be made of."""
        found: dict[str, list[tuple[str, ...]]] = {}
        for name, symbols in self.tables.rules:
            found.setdefault(name, []).append(symbols)
        return found

    def _statements(self, section: str) -> dict[str, frozenset[str]]:
        """The statement rules of a section, each with the terminals that may begin it."""
        first_of = {
            name: [symbols[0] for symbols in ways if symbols] for name, ways in self.made_of.items()
        }

        def statements(name: str) -> dict[str, None]:
            # A dictionary keeps the order of the document, and each name once.
            return {
                statement: None
                for symbol in first_of[name]
                for statement in (statements(symbol) if symbol[0] == "_" else [symbol])
            }

        def first(name: str, above: frozenset[str] = frozenset()) -> frozenset[str]:
            if name.isupper():
                return frozenset({name})
            further = [symbol for symbol in first_of[name] if symbol not in above | {name}]
            return frozenset().union(*(first(symbol, above | {name}) for symbol in further))

        return {name: first(name) for name in statements(f"{section}_line")}


def lark_parser(**options: Any) -> Any:
    """The parser that lark makes of grammar/plan.lark; it takes further `options` of its own."""
    from lark import Lark

    table = trade_words()
    words = " ".join([*table.spellings, *table.phrases])
    return Lark(
        f"{document_text('grammar', 'plan.lark')}\n%declare {words}\n",
        parser="lalr",
        lexer="basic",
        start=[f"{section}_line" for section in SECTIONS],
        maybe_placeholders=False,
        **options,
    )


@cache
def plan_grammar() -> PlanGrammar:
    """The grammar in grammar/plan.lark, with the tables made of it before or now."""
    found = kept("grammar")
    if found is not None:
        return PlanGrammar(ParserTables(**found))
    made = tables_to_keep()
    keep(made)
    return PlanGrammar(ParserTables(**made["grammar"]))


def tables_to_keep() -> dict[str, Any]:
    """What is kept of the grammar."""
    return {"grammar": asdict(ParserTables.of(lark_parser()), recurse=False)}


def words_of(rule: str) -> tuple[str, ...]:
    """The words that a rule of the grammar chooses from, as keywords: `natural-gas` of `fuel`.

    Raises KeyError where the document has no such rule.
    """
    ways = plan_grammar().made_of[rule]
    return tuple(keyword(kind) for (kind,) in ways if kind in trade_words().spellings)
