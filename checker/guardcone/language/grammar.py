"""The plan grammar made ready: the parser, and what its comments tell people."""

import re
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

_KEYWORD = re.compile(r"^([A-Z_]+): /\((.*)\)\(\?![^)]*\)/i$", re.MULTILINE)
_RIGHT_LINE = re.compile(r"^//> (.*)\n(?://.*\n)*([a-z_]+):", re.MULTILINE)
_PHRASE = re.compile(r"^//\| (.*)\n(?://.*\n)*([A-Z_]+):", re.MULTILINE)


@frozen
class PlanGrammar:
    """The parser of one line, with the words and right lines its document gives.

    `words` lists the spellings of each keyword terminal, the first one first; `phrases` says what
    a value terminal is; `right_lines` gives a right line for each statement rule; `opening` the
    terminals a line of a section may begin with; `example_of` a right line by section and opening
    terminal; `openings` the statement rules of each section with their opening terminals.
    """

    parser: Lark
    values: TokenValues
    words: dict[str, tuple[str, ...]]
    phrases: dict[str, str]
    right_lines: dict[str, str]
    opening: dict[str, frozenset[str]]
    headings: frozenset[str]
    example_of: dict[tuple[str, str], str]
    openings: dict[str, dict[str, frozenset[str]]]

    def rules_opened_by(self, section: str, terminal: str) -> frozenset[str]:
        """The statement rules that a line of this section beginning with this word may meet."""
        return frozenset(
            rule for rule, firsts in self.openings.get(section, {}).items() if terminal in firsts
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
        terminal: tuple(word.replace("\\^", "^") for word in alternatives.split("|"))
        for terminal, alternatives in _KEYWORD.findall(text)
    }
    values = TokenValues([*words, "DASH"])

    def tree(name: str, children: list[Any]) -> Part:
        # lark dissolves the parts named with an underscore into the list of the part around them.
        return Part(str(name), children if name.startswith("_") else tuple(children))  # type: ignore[arg-type]

    parser = Lark(
        text,
        parser="lalr",
        lexer="contextual",
        start=[f"{section}_line" for section in SECTIONS],
        maybe_placeholders=False,
        transformer=values,
        tree_class=tree,
    )
    right_lines = {rule: line for line, rule in _RIGHT_LINE.findall(text)}
    openings = {section: _statements(parser, section) for section in SECTIONS}
    examples = {
        (section, first): line
        for section in SECTIONS
        for rule, line in reversed(right_lines.items())
        if rule in openings[section]
        for first in openings[section][rule]
    }
    opening = {section: frozenset().union(*firsts.values()) for section, firsts in openings.items()}
    return PlanGrammar(
        parser=parser,
        values=values,
        words=words,
        phrases={terminal: phrase for phrase, terminal in _PHRASE.findall(text)},
        right_lines=right_lines,
        opening=opening,
        headings=frozenset.intersection(*opening.values()),
        example_of=examples,
        openings=openings,
    )


def _statements(parser: Lark, section: str) -> dict[str, frozenset[str]]:
    """The statement rules of a section, each with the terminals that may begin it."""
    expansions: dict[str, list[Symbol]] = {}
    for rule in parser.rules:
        if rule.expansion:
            expansions.setdefault(rule.origin.name, []).append(rule.expansion[0])

    def statements(name: str) -> set[str]:
        return {
            statement
            for symbol in expansions[name]
            for statement in (statements(symbol.name) if symbol.name[0] == "_" else {symbol.name})
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

    return {name: first(name) for name in sorted(statements(f"{section}_line"))}
