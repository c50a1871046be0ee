"""The plan grammar made ready: the parser, and what its comments tell people."""

import re
from collections.abc import Iterator, Mapping
from functools import cache, partial
from typing import Any

from attrs import frozen
from lark import Lark, Token, UnexpectedCharacters
from lark.grammar import Symbol
from lark.lexer import Lexer

from guardcone.documents import document_text
from guardcone.language.line_tree import Part
from guardcone.language.scanner import Reading, read, skip
from guardcone.language.tokens import TokenValues
from guardcone.language.words import keyword, trade_words

__all__ = [
    "HEADINGS",
    "SECTIONS",
    "LineScanner",
    "PlanGrammar",
    "grammar_text",
    "plan_grammar",
    "words_of",
]


# The sections in the order in which a plan is laid out. `target` is a heading of one line.
SECTIONS = ("plan", "kiln", "witness", "load", "schedule", "safety", "reading")

# The statements that may stand in any section.
HEADINGS = frozenset({"section", "target", "accept"})


@frozen
class PlanGrammar:
    """The parser of one line, with the words and right lines that its document gives.

    `parser` parses one line; `values` makes values of its tokens. `words` lists the spellings of
    each keyword terminal, the first one first; `phrases` says what a value terminal is;
    `right_lines` gives right lines for each statement rule, and `lines_to_copy` the same with what
    only a person can know left to be filled in; `opening` the terminals a line of a section may
    begin with; `example_of` a right line by section and opening terminal, and `copy_of` one to
    copy; `openings` the statement rules of each section, in the order of the document, with their
    opening terminals.
    """

    parser: Lark
    values: TokenValues
    words: Mapping[str, tuple[str, ...]]
    phrases: Mapping[str, str]
    right_lines: dict[str, tuple[str, ...]]
    lines_to_copy: dict[str, tuple[str, ...]]
    opening: dict[str, frozenset[str]]
    headings: frozenset[str]
    example_of: dict[tuple[str, str], str]
    copy_of: dict[tuple[str, str], str]
    openings: dict[str, dict[str, frozenset[str]]]

    def parse(self, code: str, section: str) -> Part:
        """The statement that one line is; UnexpectedInput or OutOfSense where it is wrong here."""
        line: object = self.parser.parse(code, start=f"{section}_line")
        assert isinstance(line, Part)
        statement = line.children[0]
        assert isinstance(statement, Part)
        return statement

    def opening_word(self, section: str, code: str, start: int) -> Reading | None:
        """The keyword at this column (from 0) of a line, if it may open a line of the section."""
        return read(code, start, self.opening[section] & self.words.keys())

    def terminals_of(self, rule: str) -> tuple[str, ...]:
        """The terminals that a rule of the grammar is made of, in the order of the document."""
        found: dict[str, None] = {}
        met: set[str] = set()

        def gather(name: str) -> None:
            met.add(name)
            for one in self.parser.rules:
                if one.origin.name != name:
                    continue
                for symbol in one.expansion:
                    if symbol.is_term:
                        found.setdefault(symbol.name)
                    elif symbol.name not in met:
                        gather(symbol.name)

        gather(rule)
        return tuple(found)

    def rules_opened_by(self, section: str, terminal: str) -> frozenset[str]:
        """The statement rules that a line of this section beginning with this word may meet."""
        return frozenset(
            rule for rule, firsts in self.openings.get(section, {}).items() if terminal in firsts
        )

    def opened_by_quote(self, section: str) -> frozenset[str]:
        """The statement rules of a section that a text to fill in may stand for all by itself."""
        return frozenset(
            rule for rule in self.openings[section] if self.lines_to_copy[rule][0].startswith('"')
        )

    def facts_of(self, section: str) -> frozenset[str]:
        """The statement rules, headings left out, that have their place in this section."""
        return frozenset(
            rule for rule, firsts in self.openings[section].items() if not firsts <= self.headings
        )


class LineScanner(Lexer):
    """The scanner as lark asks for it: it cuts off what the parser can take next."""

    __future_interface__ = 2  # lark hands over the state of the parser, too
    values: TokenValues

    def __init__(self, _: object) -> None:
        pass

    def lex(self, lexer_state: Any, parser_state: Any) -> Iterator[Token]:
        """The tokens of a line, each with its written value; UnexpectedCharacters where none is."""
        code: str = lexer_state.text.text
        states = parser_state.parse_conf.states
        at = skip(code, 0)
        while at < len(code):
            wanted = states[parser_state.position]
            # What only seems to be wanted is left to the parser: how far it gets tells people what
            # may stand instead.
            takes = partial(_takes, parser_state)
            found = read(code, at, wanted, takes) or read(code, at, wanted)
            if found is None:
                raise UnexpectedCharacters(code, at, 1, at + 1)  # type: ignore[no-untyped-call]
            token = Token(found.kind, code[at : found.end], start_pos=at, end_pos=found.end)
            token.value = self.values.written(token, found.value)
            yield token
            at = skip(code, found.end)


def _takes(parser_state: Any, kind: str) -> bool:
    """True if the parser can really take this kind next.

    The tables join states that go on alike, so a state names kinds that some way to it rules out.
    """
    states, stack = parser_state.parse_conf.states, list(parser_state.state_stack)
    while kind in states[stack[-1]]:
        _, rule = states[stack[-1]][kind]
        if not hasattr(rule, "expansion"):
            return True  # not a rule to close but a state to go to
        del stack[len(stack) - len(rule.expansion) :]
        stack.append(states[stack[-1]][rule.origin.name][1])
    return False


def _tree(name: str, children: list[Any]) -> Part:
    found = [child.value if isinstance(child, Token) else child for child in children]
    # lark dissolves the parts named with an underscore into the list of the part around them.
    return Part(str(name), found if name.startswith("_") else tuple(found))  # type: ignore[arg-type]


@cache
def _document() -> str:
    return document_text("grammar", "plan.lark")


def grammar_text() -> str:
    """The document as lark gets it: the words and values of the tables are declared."""
    table = trade_words()
    return f"{_document()}\n%declare {' '.join([*table.spellings, *table.phrases])}\n"


@cache
def words_of(rule: str) -> tuple[str, ...]:
    """The words that a rule of the grammar chooses from, as keywords: `natural-gas` of `fuel`.

    Raises KeyError where the document has no such rule.
    """
    found = re.search(rf"^{rule}:(.*\n(?:\s+\|.*\n)*)", _document(), re.MULTILINE)
    if found is None:
        raise KeyError(f"grammar/plan.lark has no rule {rule!r}")
    kinds = re.findall(r"[A-Z][A-Z_]*", found[1])
    return tuple(keyword(kind) for kind in kinds if kind in trade_words().spellings)


@cache
def plan_grammar() -> PlanGrammar:
    """The grammar in grammar/plan.lark, built once."""
    text, table = _document(), trade_words()

    class Scanner(LineScanner):
        values = TokenValues()

    parser = Lark(
        grammar_text(),
        parser="lalr",
        lexer=Scanner,
        start=[f"{section}_line" for section in SECTIONS],
        maybe_placeholders=False,
        tree_class=_tree,
    )
    right_lines, to_copy = _lines(text)
    openings = {section: _statements(parser, section) for section in SECTIONS}
    opened: dict[tuple[str, str], tuple[str, str]] = {}
    for section in SECTIONS:
        # A section's own statement comes before a heading that begins with the same word.
        for rule in sorted(openings[section], key=HEADINGS.__contains__):
            for terminal in openings[section][rule]:
                lines = zip(right_lines[rule], to_copy[rule], strict=True)
                first, *others = lines
                of_word = (pair for pair in others if read(pair[0], 0, {terminal}))
                opened.setdefault((section, terminal), next(of_word, first))
    opening = {section: frozenset().union(*firsts.values()) for section, firsts in openings.items()}
    return PlanGrammar(
        parser=parser,
        values=Scanner.values,
        words=table.spellings,
        phrases=table.phrases,
        right_lines=right_lines,
        lines_to_copy=to_copy,
        opening=opening,
        headings=frozenset.intersection(*opening.values()),
        example_of={key: right for key, (right, _) in opened.items()},
        copy_of={key: to_copy for key, (_, to_copy) in opened.items()},
        openings=openings,
    )


def _lines(text: str) -> tuple[dict[str, tuple[str, ...]], dict[str, tuple[str, ...]]]:
    """The right lines above each rule, and the same to copy."""
    right: dict[str, tuple[str, ...]] = {}
    to_copy: dict[str, tuple[str, ...]] = {}
    above: list[tuple[str, str]] = []
    for line in text.splitlines():
        mark, written = line[:4], line[4:]
        rule = re.match("[a-z_]+(?=:)", line)
        if mark == "//> ":
            above.append((written, written))
        elif mark == "//? ":
            above[-1] = above[-1][0], written
        elif rule and above:
            right[rule[0]], to_copy[rule[0]] = zip(*above, strict=True)
            above = []
    return right, to_copy


def _statements(parser: Lark, section: str) -> dict[str, frozenset[str]]:
    """The statement rules of a section, each with the terminals that may begin it."""
    expansions: dict[str, list[Symbol]] = {}
    for rule in parser.rules:
        if rule.expansion:
            expansions.setdefault(rule.origin.name, []).append(rule.expansion[0])

    def statements(name: str) -> dict[str, None]:
        # A dictionary keeps the order of the document, and each name once.
        return {
            statement: None
            for symbol in expansions[name]
            for statement in (statements(symbol.name) if symbol.name[0] == "_" else [symbol.name])
        }

    def first(name: str, above: frozenset[str] = frozenset()) -> frozenset[str]:
        if name not in expansions:
            return frozenset({name})
        return frozenset().union(
            *(
                first(symbol.name, above | {name})
                for symbol in expansions[name]
                if symbol.name not in above | {name}
            )
        )

    return {name: first(name) for name in statements(f"{section}_line")}
