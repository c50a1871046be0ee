"""The plan grammar made ready: the parser, and what its comments tell people."""

import re
from collections.abc import Iterable
from functools import cache
from typing import Any

from attrs import frozen
from lark import Lark
from lark.grammar import Symbol

from guardcone.documents import document_text
from guardcone.language.parts import Part
from guardcone.language.tokens import TokenValues

__all__ = ["SECTIONS", "PlanGrammar", "plan_grammar"]

# The sections in the order in which a plan is laid out. `target` is a heading of one line.
SECTIONS = ("plan", "kiln", "witness", "load", "schedule", "safety", "reading")

_KEYWORD = re.compile(r"^([A-Z_]+): /\((.*)\)(\(\?![^)]*\))/i$", re.MULTILINE)
_RIGHT_LINE = re.compile(r"^//> (.*)\n(?://.*\n)*([a-z_]+):", re.MULTILINE)
_LINE_TO_FILL_IN = re.compile(r"^//\? (.*)\n(?://.*\n)*([a-z_]+):", re.MULTILINE)
# A hyphen may also be one that a word processor has put there.
_BETWEEN_WORDS = r"[\s\-\u2010\u2011]+"
_PHRASE = re.compile(r"^//\| (.*)\n(?://.*\n)*([A-Z_]+)[.:]", re.MULTILINE)


@frozen
class PlanGrammar:
    """The parser of one line, with the words and right lines that its document gives.

    `parser` parses one line; `values` makes values of its tokens. `words` lists the spellings of
    each keyword terminal, the first one first; `phrases` says what a value terminal is;
    `right_lines` gives a right line for each statement rule, and `lines_to_copy` the same with what
    only a person can know left to be filled in; `opening` the terminals a line of a section may
    begin with; `example_of` a right line by section and opening terminal, and `copy_of` one to
    copy; `openings` the statement rules of each section, in the order of the document, with their
    opening terminals; `opening_words` finds such a terminal in a text; `value_patterns` finds a
    value of each sort.
    """

    parser: Lark
    values: TokenValues
    words: dict[str, tuple[str, ...]]
    phrases: dict[str, str]
    right_lines: dict[str, str]
    lines_to_copy: dict[str, str]
    opening: dict[str, frozenset[str]]
    headings: frozenset[str]
    example_of: dict[tuple[str, str], str]
    copy_of: dict[tuple[str, str], str]
    openings: dict[str, dict[str, frozenset[str]]]
    opening_words: dict[str, re.Pattern[str]]
    value_patterns: dict[str, re.Pattern[str]]

    def opening_terminal(self, section: str, code: str, start: int) -> str | None:
        """The keyword at this column (from 0) of a line, if it may open a line of the section."""
        found = self.opening_words[section].match(code, start)
        return found.lastgroup if found else None

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
            rule
            for rule in self.openings[section]
            if self.lines_to_copy.get(rule, "").startswith('"')
        )

    def facts_of(self, section: str) -> frozenset[str]:
        """The statement rules, headings left out, that have their place in this section."""
        return frozenset(
            rule for rule, firsts in self.openings[section].items() if not firsts <= self.headings
        )


@cache
def plan_grammar() -> PlanGrammar:
    """The grammar in grammar/plan.lark, built once."""
    text = document_text("grammar", "plan.lark")
    words = {
        terminal: _words_in(alternatives) for terminal, alternatives, _ in _KEYWORD.findall(text)
    }
    values = TokenValues([*words, "DASH"])

    def tree(name: str, children: list[Any]) -> Part:
        # lark dissolves the parts named with an underscore into the list of the part around them.
        return Part(str(name), children if name.startswith("_") else tuple(children))  # type: ignore[arg-type]

    parser = Lark(
        _KEYWORD.sub(_keyword_terminal, text),
        parser="lalr",
        lexer="contextual",
        start=[f"{section}_line" for section in SECTIONS],
        maybe_placeholders=False,
        transformer=values,
        tree_class=tree,
    )
    phrases = {terminal: phrase for phrase, terminal in _PHRASE.findall(text)}
    right_lines = {rule: line for line, rule in _RIGHT_LINE.findall(text)}
    to_copy = right_lines | {rule: line for line, rule in _LINE_TO_FILL_IN.findall(text)}
    openings = {section: _statements(parser, section) for section in SECTIONS}
    opened: dict[tuple[str, str], str] = {}
    for section in SECTIONS:
        # A section's own statement comes before a heading that begins with the same word.
        for rule in sorted(openings[section], key=lambda name: name.endswith("_heading")):
            for terminal in openings[section][rule]:
                if rule in right_lines:
                    opened.setdefault((section, terminal), rule)
    opening = {section: frozenset().union(*firsts.values()) for section, firsts in openings.items()}
    return PlanGrammar(
        parser=parser,
        values=values,
        words=words,
        phrases=phrases,
        right_lines=right_lines,
        lines_to_copy=to_copy,
        opening=opening,
        headings=frozenset.intersection(*opening.values()),
        example_of={key: right_lines[rule] for key, rule in opened.items()},
        copy_of={key: to_copy[rule] for key, rule in opened.items()},
        openings=openings,
        opening_words={
            section: re.compile(
                "|".join(
                    f"(?P<{terminal}>{_spellings(words[terminal])}(?!\\w))"
                    for terminal in sorted(opening[section] & words.keys())
                ),
                re.IGNORECASE,
            )
            for section in SECTIONS
        },
        value_patterns={
            terminal.name: re.compile(terminal.pattern.to_regexp())
            for terminal in parser.terminals
            if terminal.name in phrases
        },
    )


def _keyword_terminal(written: re.Match[str]) -> str:
    """The terminal of a keyword as lark gets it, from the list of spellings in the document."""
    terminal, alternatives, end = written.groups()
    return f"{terminal}: /({_spellings(_words_in(alternatives))}){end}/i"


def _words_in(alternatives: str) -> tuple[str, ...]:
    return tuple(word.replace("\\^", "^") for word in alternatives.split("|"))


def _spellings(words: Iterable[str]) -> str:
    """A pattern for any of these spellings, the longest first, any blanks or hyphen within."""
    return "|".join(
        _BETWEEN_WORDS.join(re.escape(part) for part in re.split("[ -]", word))
        for word in sorted(words, key=len, reverse=True)
    )


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
