"""Plan text to statements: lines, the grammar, and every fault of the text at its place."""

from guardcone.language.line_parser import Part
from guardcone.language.line_statements import Statement
from guardcone.language.reader import Section, StatementText
from guardcone.language.scanner import Keyword, Quoted
from guardcone.language.source import (
    ENDING,
    MAXIMUM_BYTES,
    SourceLine,
    SourceText,
    TextFault,
    UnreadablePlan,
    load_source,
    split_lines,
)
from guardcone.language.statements import read_statements

__all__ = [
    "ENDING",
    "MAXIMUM_BYTES",
    "Keyword",
    "Part",
    "Quoted",
    "Section",
    "SourceLine",
    "SourceText",
    "Statement",
    "StatementText",
    "TextFault",
    "UnreadablePlan",
    "load_source",
    "read_statements",
    "split_lines",
]
