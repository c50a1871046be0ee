"""Line by line through a plan: each line is read by itself, and sorted into its section."""

from typing import TYPE_CHECKING

from guardcone.language.grammar import plan_grammar
from guardcone.language.line_parser import Misread
from guardcone.language.line_statements import Statement, statement_of, statements_of
from guardcone.language.meanings import still_to_fill_in
from guardcone.language.reader import Reader, Section, StatementText
from guardcone.language.source import OutOfSense, SourceLine, SourceText

if TYPE_CHECKING:
    from guardcone.language.wrong_lines import WrongLines

__all__ = ["read_statements"]


def read_statements(source: SourceText) -> StatementText:
    """Read every line of a plan; never raises for what a person may have written."""
    reader = Reader(plan_grammar(), StatementText(source))
    for line in source.lines:
        if not line.blank:
            _read_line(reader, line)
    if reader.other_text:
        reader.text.faults += _wrong(reader).told_once()
    for section in reader.text.sections:
        section.unreadable |= reader.misplaced_facts.get(section.kind, set())
    return reader.text


def _wrong(reader: Reader) -> "WrongLines":
    """What sees to lines that are wrong where they stand; loaded for the first of them."""
    from guardcone.language.wrong_lines import WrongLines

    return WrongLines(reader)


def _read_line(reader: Reader, line: SourceLine) -> None:
    if line.open_quote is not None:
        _wrong(reader).open_quote(line)
        return
    to_fill_in = still_to_fill_in(line)
    if to_fill_in:
        reader.text.faults.append(to_fill_in)
        reader.text.understood += 1
    try:
        statement = statement_of(reader.grammar, line, reader.here)
    except OutOfSense:
        _wrong(reader).fault(line)
        return
    except Misread as error:
        several = statements_of(reader.grammar, line, reader.here, error.at)
        for one in several:
            _take(reader, one, reader.current)
        if not several:
            _wrong(reader).read_elsewhere(line)
        return
    # `elements 40 mm away` fits here too, but stands among the lines of the other section.
    if reader.stray and not _belongs(reader, statement, reader.stray.kind):
        reader.stray = None
    _take(reader, statement, reader.stray or reader.current)


def _take(reader: Reader, statement: Statement, section: Section | None) -> None:
    if not reader.take(statement, section):
        _wrong(reader).misplaced(statement, "plan")


def _belongs(reader: Reader, statement: Statement, kind: str) -> bool:
    of_set = kind == "witness" and statement.name == "target"
    return of_set or statement.name in reader.grammar.facts_of(kind)
