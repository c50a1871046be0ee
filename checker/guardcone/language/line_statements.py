"""What one line says: one statement, or one after another."""

import re

from attrs import evolve, frozen

from guardcone.language.grammar import PlanGrammar
from guardcone.language.line_parser import Misread, Part
from guardcone.language.scanner import Keyword
from guardcone.language.source import OutOfSense, SourceLine
from guardcone.span import Span

__all__ = [
    "BETWEEN",
    "JOINING",
    "Statement",
    "all_said",
    "as_statement",
    "goes_wrong_at",
    "section_opened",
    "statement_of",
    "statements_of",
    "without_joint",
]

# What may stand between two statements of one line: `climb 60 C/h to 95 C, then hold 2 h`.
BETWEEN = " \t,;&"
JOINING = re.compile(r"(?:[\s,;&]|\b(?:and|then)\b)*", re.IGNORECASE)


@frozen(repr=False)
class Statement(Part):
    """What a line, or a part of one, says: the rule of the grammar it meets, and its parts."""

    span: Span


def section_opened(statement: Statement) -> str | None:
    """The kind of section that a statement opens, None if it is no heading."""
    word = statement.value(Keyword) if statement.name == "section" else None
    return word.value if word else None


def statement_of(grammar: PlanGrammar, line: SourceLine, section: str) -> Statement:
    """What one line says; Misread or OutOfSense where it is wrong in this section."""
    grammar.values.line = line.number
    part = grammar.parse(line.code, section)
    return Statement(part.name, part.children, line.span)


def as_statement(grammar: PlanGrammar, line: SourceLine, section: str) -> Statement | None:
    """What one line says; None where it is wrong in this section."""
    try:
        return statement_of(grammar, line, section)
    except (Misread, OutOfSense):
        return None


def statements_of(
    grammar: PlanGrammar, line: SourceLine, section: str, end: int
) -> list[Statement]:
    """What a line says that says one thing after another: `guide 8, target 9, guard 10`.

    It is wrong as one statement at `end`. Each part must be whole where it stands, and below a
    heading a line of its section; else there is nothing.
    """
    said: list[Statement] = []
    start = line.code_start
    while True:
        at_end = end == len(line.code)
        # A comma may end a line; a word that joins it to nothing may not.
        whole = line.code.rstrip(" ,;") if at_end else without_joint(line.code[:end])
        part = evolve(line, text=" " * start + whole[start:], code_start=start, code_end=len(whole))
        statement = as_statement(grammar, part, section)
        if statement is None or (said and statement.name in ("section", "accept")):
            return []
        said.append(statement)
        if at_end:
            return said
        section = section_opened(statement) or section
        joint = JOINING.match(line.code, end)
        start = joint.end() if joint else end
        end = goes_wrong_at(grammar, evolve(line, text=" " * start + line.code[start:]), section)


def all_said(grammar: PlanGrammar, line: SourceLine, section: str) -> list[Statement]:
    """What a line says, one thing or one after another; nothing where it is wrong."""
    statement = as_statement(grammar, line, section)
    if statement:
        return [statement]
    return statements_of(grammar, line, section, goes_wrong_at(grammar, line, section))


def without_joint(code: str) -> str:
    """A part of a line without the signs and words that join it to the next."""
    while True:
        code = code.rstrip(BETWEEN)
        word = code[-5:].rpartition(" ")[2]
        if word.lower() not in ("and", "then"):
            return code
        code = code.removesuffix(word)


def goes_wrong_at(grammar: PlanGrammar, line: SourceLine, section: str) -> int:
    try:
        statement_of(grammar, line, section)
    except Misread as error:
        return error.at
    except OutOfSense:
        return line.code_start
    return len(line.code)
