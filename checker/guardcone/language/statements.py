"""Line by line through a plan: each line is read by itself, and sorted into its section."""

from collections.abc import Iterable
from functools import cached_property
from typing import TYPE_CHECKING

from attrs import define, field

from guardcone.language.grammar import PlanGrammar, plan_grammar
from guardcone.language.line_parser import Misread
from guardcone.language.line_statements import (
    Statement,
    section_opened,
    statement_of,
    statements_of,
)
from guardcone.language.meanings import still_to_fill_in
from guardcone.language.scanner import Quoted
from guardcone.language.source import OutOfSense, SourceLine, SourceText, TextFault
from guardcone.span import Span, Written

__all__ = ["Reader", "Section", "Statement", "StatementText", "read_statements"]

if TYPE_CHECKING:
    from guardcone.language.wrong_lines import WrongLines


@define
class Section:
    """A heading and the statements below it; it grows while the plan is read.

    `unreadable` names the rules of lines that are faulty here, so that nothing is called missing
    that is only misspelled; `first_fault` is the place of the first of those lines. `heading` is
    the place of the heading, or of the first line where the heading was forgotten (`implied`).
    """

    kind: str
    heading: Span
    name: Written[str] | None = None
    statements: list[Statement] = field(factory=list)
    unreadable: set[str] = field(factory=set)
    implied: bool = False
    first_fault: Span | None = None

    def lose(self, rules: Iterable[str], line: SourceLine) -> None:
        """Remember that a line that can't be read was to say one of these."""
        self.unreadable.update(rules)
        self.first_fault = self.first_fault or line.span


@define
class StatementText:
    """A whole plan as statements: its sections, its one-line headings, and every fault.

    `understood` counts the lines that say something, or begin to, or are to be filled in.
    """

    source: SourceText
    understood: int = 0
    sections: list[Section] = field(factory=list)
    targets: list[Statement] = field(factory=list)
    accepts: list[Statement] = field(factory=list)
    faults: list[TextFault] = field(factory=list)
    unreadable_facts: set[str] = field(factory=set)

    @property
    def is_plan(self) -> bool:
        """False for a text of which hardly a line is one of a plan: a letter, a recipe, prose."""
        lines = sum(not line.blank for line in self.source.lines)
        return lines < _SHORT or self.understood * _ONE_IN >= lines


# A text of fewer lines is a plan that begins; of a longer one so many lines are read at least (own
# choice, far below the two thirds and more of plans that people typed; a letter has none).
_SHORT, _ONE_IN = 4, 15


def read_statements(source: SourceText) -> StatementText:
    """Read every line of a plan; never raises for what a person may have written."""
    reader = Reader(plan_grammar(), StatementText(source))
    for line in source.lines:
        if not line.blank:
            reader.read_line(line)
    if reader.other_text:
        reader.text.faults += reader.wrong.told_once()
    for section in reader.text.sections:
        section.unreadable |= reader.misplaced_facts.get(section.kind, set())
    return reader.text


@define(slots=False)
class Reader:
    """A plan that is being read: what its lines said so far, and which section is open."""

    grammar: PlanGrammar
    text: StatementText
    current: Section | None = None
    stray: Section | None = None
    # The section of each kind that was opened last; and what may be missing in any of a kind.
    latest: dict[str, Section] = field(factory=dict)
    misplaced_facts: dict[str, set[str]] = field(factory=dict)
    # The faults of lines of which nothing is known, by their numbers.
    other_text: dict[int, TextFault] = field(factory=dict)

    @property
    def here(self) -> str:
        """The section that the next line belongs to; before any heading only headings are right."""
        return self.current.kind if self.current else "plan"

    @cached_property
    def wrong(self) -> "WrongLines":
        """What sees to lines that are wrong where they stand; loaded for the first of them."""
        from guardcone.language.wrong_lines import WrongLines

        return WrongLines(self)

    def read_line(self, line: SourceLine) -> None:
        """Read one line that is not blank, and file what it says."""
        if line.open_quote is not None:
            self.wrong.open_quote(line)
            return
        to_fill_in = still_to_fill_in(line)
        if to_fill_in:
            self.text.faults.append(to_fill_in)
            self.text.understood += 1
        try:
            statement = statement_of(self.grammar, line, self.here)
        except OutOfSense:
            self.wrong.fault(line)
            return
        except Misread as error:
            several = statements_of(self.grammar, line, self.here, error.at)
            for statement in several:
                self.take(statement, self.current)
            if not several:
                self.wrong.read_elsewhere(line)
            return
        # `elements 40 mm away` fits here too, but stands among the lines of the other section.
        if self.stray and not self._belongs(statement, self.stray.kind):
            self.stray = None
        self.take(statement, self.stray or self.current)

    def _belongs(self, statement: Statement, kind: str) -> bool:
        of_set = kind == "witness" and statement.name == "target"
        return of_set or statement.name in self.grammar.facts_of(kind)

    def take(self, statement: Statement, section: Section | None) -> None:
        """File a good line: open a section, or add a fact to the one that is open."""
        self.text.understood += 1
        kind = section_opened(statement)
        if kind:
            self.open(Section(kind, statement.span, statement.value(Quoted)))
        elif statement.name == "accept":
            self.text.accepts.append(statement)
        elif statement.name == "target" and not self._of_witness(statement, section):
            self.text.targets.append(statement)
        elif section is None:
            self.wrong.misplaced(statement, "plan")
        else:
            section.statements.append(statement)

    def _of_witness(self, statement: Statement, section: Section | None) -> bool:
        """True if a `target` line is the target cone of the witness set it stands in.

        With an atmosphere, or as the second one in a set where the plan has none yet, it is the
        target of the plan.
        """
        if section is None or section.kind != "witness" or not statement.part("goal", "cone"):
            return False
        if statement.part("target_detail", "atmosphere"):
            return False
        # What a misspelt line is taken for decides nothing of another line.
        faulty = {fault.span.line for fault in self.text.faults}
        taken = any(
            earlier.name == "target" and earlier.span.line not in faulty
            for earlier in section.statements
        )
        return not (taken and not self.text.targets)

    def open(self, section: Section) -> None:
        """Go on in this section."""
        self.stray = None
        earlier = self.latest.get(section.kind)
        if earlier is not None and earlier.implied:
            # Lines that stood too early belong to the section, now that its heading has come.
            self.text.sections.remove(earlier)
            section.statements = earlier.statements
            section.unreadable |= earlier.unreadable
        self.latest[section.kind] = self.current = section
        self.text.sections.append(section)
