"""Plan text to statements: lines, the grammar, and every fault of the text at its place."""

from guardcone.language.faults import TextFault
from guardcone.language.parts import Keyword, Part, Quoted
from guardcone.language.reader import Section, Statement, StatementText, read_statements
from guardcone.language.source import (
    MAXIMUM_BYTES,
    SourceLine,
    SourceText,
    UnreadablePlan,
    load_source,
    split_lines,
)

__all__ = [
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
