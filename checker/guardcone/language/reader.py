"""A plan while it is read: what its lines said so far, in which section."""

import re
from collections.abc import Iterable
from functools import cached_property

from attrs import define, field

from guardcone.language.grammar import SECTIONS, PlanGrammar
from guardcone.language.line_statements import Statement, section_opened
from guardcone.language.scanner import Quoted
from guardcone.language.source import SourceLine, SourceText, TextFault
from guardcone.span import Span, Written

__all__ = ["Reader", "Section", "StatementText"]


@define(repr=False)
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


@define(repr=False)
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


_SCALE = re.compile(r"\b[0-9]{2,4} ?°? ?([CF])\b(?! ?(?:/|per|an ))")


@define(slots=False, repr=False)
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

    def take(self, statement: Statement, section: Section | None) -> bool:
        """File a good line: open a section, or add a fact to one; False where there is none."""
        self.text.understood += 1
        kind = section_opened(statement)
        if kind:
            self.open(Section(kind, statement.span, statement.value(Quoted)))
        elif statement.name == "accept":
            self.text.accepts.append(statement)
        elif statement.name == "target" and not self._of_witness(statement, section):
            self.text.targets.append(statement)
        elif section is None:
            self.text.understood -= 1
            return False
        else:
            section.statements.append(statement)
        return True

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

    @cached_property
    def headings(self) -> frozenset[str]:
        """The kinds of section of which a heading stands anywhere in the plan."""
        return frozenset(kind for kind, _ in self._all_headings)

    @cached_property
    def _all_headings(self) -> list[tuple[str, int]]:
        """Every heading of the plan, with its line."""
        opened = {kind.upper() for kind in SECTIONS}
        lines = self.text.source.lines
        words = (
            (self.grammar.opening_word("plan", one.code, one.code_start), one) for one in lines
        )
        return [
            (word.kind.lower(), one.number) for word, one in words if word and word.kind in opened
        ]

    @cached_property
    def scale(self) -> str:
        """The one scale in which all temperatures of the plan are that have one; else empty."""
        found = {met[1] for line in self.text.source.lines for met in _SCALE.finditer(line.code)}
        return found.pop() if len(found) == 1 else ""

    def heading_below(self, kind: str, line: int) -> int | None:
        """The line of the first heading of a kind of section that is told once, below a line."""
        below = (at for one, at in self._all_headings if one == kind and at > line)
        return next(below, None) if kind in ("load", "schedule", "safety") else None
