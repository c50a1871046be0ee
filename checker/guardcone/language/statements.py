"""Line by line through a plan: each line is read by itself, and sorted into its section."""

import re
from collections.abc import Iterable
from functools import cached_property

from attrs import define, evolve, field

from guardcone.language.diagnosis import Diagnosis, diagnose, runs_told_once, section_meant
from guardcone.language.grammar import SECTIONS, PlanGrammar, plan_grammar
from guardcone.language.line_parser import Misread
from guardcone.language.line_statements import (
    Statement,
    all_said,
    section_opened,
    statement_of,
    statements_of,
)
from guardcone.language.meanings import still_to_fill_in
from guardcone.language.mended_lines import as_told, said_before_fault, said_behind_heading
from guardcone.language.nearest import shown
from guardcone.language.rewordings import begins_schedule
from guardcone.language.scanner import Quoted
from guardcone.language.source import OutOfSense, SourceLine, SourceText, TextFault
from guardcone.span import Span, Written
from guardcone.values import Temperature

__all__ = ["Section", "Statement", "StatementText", "read_statements"]

# Sections that a plan has once and that need no name: a run of their lines without a heading is
# read as if the heading stood there, so that one forgotten line is one finding.
_NAMELESS = ("plan", "kiln", "load", "schedule", "safety")

# Where lines to copy are offered in one; no danger follows from what is left to fill in there.
_JOINED = ("witness", "load")
# What the rest of a heading that can't be read may have said; nothing of safety is taken for said.
_SAID_IN_A_HEADING = {
    "schedule": ("climb",),
    "load": ("ware",),
    "witness": ("witness_guide", "target", "witness_guard", "witness_series"),
}


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
    reader = _Reader(plan_grammar(), StatementText(source))
    for line in source.lines:
        if not line.blank:
            reader.read_line(line)
    reader.text.faults += runs_told_once(source, reader.other_text)
    for section in reader.text.sections:
        section.unreadable |= reader.misplaced_facts.get(section.kind, set())
    return reader.text


@define(slots=False)
class _Reader:
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

    def read_line(self, line: SourceLine) -> None:
        if line.open_quote is not None:
            self._fault_open_quote(line)
            return
        to_fill_in = still_to_fill_in(line)
        if to_fill_in:
            self.text.faults.append(to_fill_in)
            self.text.understood += 1
        try:
            statement = statement_of(self.grammar, line, self.here)
        except OutOfSense:
            self._fault(line)
            return
        except Misread as error:
            several = statements_of(self.grammar, line, self.here, error.at)
            for statement in several:
                self._take(statement, self.current)
            if not several:
                self._read_elsewhere(line)
            return
        # `elements 40 mm away` fits here too, but stands among the lines of the other section.
        if self.stray and not self._belongs(statement, self.stray.kind):
            self.stray = None
        self._take(statement, self.stray or self.current)

    def _belongs(self, statement: Statement, kind: str) -> bool:
        of_set = kind == "witness" and statement.name == "target"
        return of_set or statement.name in self.grammar.facts_of(kind)

    def _take(self, statement: Statement, section: Section | None) -> None:
        """File a good line: open a section, or add a fact to the one that is open."""
        self.text.understood += 1
        kind = section_opened(statement)
        if kind:
            self._open(Section(kind, statement.span, statement.value(Quoted)))
        elif statement.name == "accept":
            self.text.accepts.append(statement)
        elif statement.name == "target" and not self._of_witness(statement, section):
            self.text.targets.append(statement)
        elif section is None:
            self._misplaced(statement, "plan")
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

    def _open(self, section: Section) -> None:
        self.stray = None
        earlier = self.latest.get(section.kind)
        if earlier is not None and earlier.implied:
            # Lines that stood too early belong to the section, now that its heading has come.
            self.text.sections.remove(earlier)
            section.statements = earlier.statements
            section.unreadable |= earlier.unreadable
        self.latest[section.kind] = self.current = section
        self.text.sections.append(section)

    # -- lines that are wrong where they stand ------------------------------------------------

    def _read_elsewhere(self, line: SourceLine) -> None:
        """A line that is no fact of this section: perhaps one of another, perhaps a faulty one."""
        if self.stray and (said := all_said(self.grammar, line, self.stray.kind)):
            for statement in said:
                self._take(statement, self.stray)
            return
        # `guard 2` in a reading is no line of a set, but says how no cone stands.
        own = self.grammar.opening_word(self.here, line.code, line.code_start)
        elsewhere = () if self.here == "reading" and own else SECTIONS
        for kind in elsewhere:
            said = all_said(self.grammar, line, kind) if kind != self.here else []
            if said and section_opened(said[0]) is None:
                self._misplaced(said[0], kind)
                for statement in said[1:]:
                    if self.stray:
                        self._take(statement, self.stray)
                    else:
                        self._lose(statement, kind)
                return
        if not self.stray and self.here != "schedule" and "schedule" not in self._headings:
            other = diagnose(self.grammar, line, self.here)
            is_none = other.other_text or other.terminal == "COUNT"  # of `60 C/h to 95 C`
            if is_none and begins_schedule(self.grammar, line):
                self._imply("schedule", line.span)
        kept = self.current
        if self.stray and section_meant(self.grammar, line, self.stray.kind) == self.stray.kind:
            self.current = self.stray  # it stands among lines of that section
        self._fault(line)
        if self.current is self.stray:
            self.current = kept

    def _misplaced(self, statement: Statement, kind: str) -> None:
        """A right line in the wrong section: say where it belongs, and use it if that is plain."""
        others = (one for one in SECTIONS if one != self.here)
        homes = [one for one in others if statement.name in self.grammar.facts_of(one)] or [kind]
        word = self.text.source.line(statement.span.line)[statement.span.start - 1 :].split()[0]
        word = word.rstrip(",;:") or word
        where = " or ".join(f"`{home}`" for home in homes)
        inside = f"in the {self.here} section" if self.text.sections else "before any heading"
        home = self.latest.get(kind)
        found = f"{shown(word)} stands {inside}, and belongs under {where}."
        repair = f"Move the line below the heading {where}"
        repair += f" of line {home.heading.line}." if home else "; there is none above it."
        if home and home.implied:
            repair = f"Move the line to the others of that section, at line {home.heading.line}."
        mended = ""
        if home is None and len(homes) == 1 and kind not in self._headings:
            line = self.text.source.lines[statement.span.line - 1].code.strip()
            mended = f"{self.grammar.right_line(kind, kind.upper()).to_copy}\n  {line}"
        fault = TextFault("fact-misplaced", statement.span, found, repair, mended=mended)
        self.text.understood += 1
        self.text.faults.append(fault)
        taken = kind in _NAMELESS or (kind == "witness" and kind not in self._headings)
        if home is None and taken:
            home = self._imply(kind, statement.span)
        if home is not None and taken:
            home.statements.append(statement)
            self.stray = home
        else:
            self._lose(statement, kind)

    def _imply(self, kind: str, span: Span) -> Section:
        """The section that is open stays open: only the next lines stand astray."""
        home = Section(kind, span, implied=True)
        home.unreadable |= set() if kind in _NAMELESS else {"section"}  # it has a name
        self.text.sections.append(home)
        self.current = self.current or home
        self.stray = self.latest[kind] = home
        return home

    def _lose(self, statement: Statement, kind: str) -> None:
        """What the statement says may be meant for any section of its kind."""
        self.misplaced_facts.setdefault(kind, set()).add(statement.name)
        self.text.unreadable_facts.add(statement.name)

    @cached_property
    def _headings(self) -> frozenset[str]:
        """The kinds of section of which a heading stands anywhere in the plan."""
        opened = {kind.upper() for kind in SECTIONS}
        lines = self.text.source.lines
        words = (self.grammar.opening_word("plan", one.code, one.code_start) for one in lines)
        return frozenset(word.kind.lower() for word in words if word and word.kind in opened)

    def _fault(self, line: SourceLine) -> None:
        diagnosis = diagnose(self.grammar, line, self.here, self._reached())
        if diagnosis.terminal and not diagnosis.guessed:
            self.text.understood += 1  # it begins as a line of a plan does
        to_fill_in = still_to_fill_in(line)
        opens_with_it = to_fill_in and to_fill_in.span.start == line.span.start
        if to_fill_in and (opens_with_it or diagnosis.fault.rule != "word-unknown"):
            # That is told; the rest of the line can be judged only when it is written.
            self._mark_unreadable(line, diagnosis)
            self._mark_to_fill_in(line, diagnosis.section)
            return
        said = self._but_for_a_slip(line, diagnosis)
        begun = None if said else said_before_fault(self.grammar, line, diagnosis, self.here)
        if diagnosis.other_text:
            self.other_text[line.number] = diagnosis.fault
        elif not said or not diagnosis.plain:
            has_kiln = "kiln" in self.latest
            told = as_told(self.grammar, line, diagnosis, self.here, self._headings, has_kiln)
            self.text.faults.append(told)
        if begun:
            said = [begun]
        if not said or begun:
            self._mark_unreadable(line, diagnosis)  # the rest may have said more of the same
            said += said_behind_heading(self.grammar, line, self.here) if not said else []
        for statement in said:
            self._take(statement, self.current)

    def _mark_to_fill_in(self, line: SourceLine, section: str) -> None:
        """What else such a line leaves to fill in: lean "fill in ...", pad "fill in ..."."""
        home = self.latest.get(section)
        if home is None or section not in _JOINED:
            return
        for behind in re.finditer(r'(?<="),\s*(?=[^",]*"\s*fill in\b)', line.code):
            word = self.grammar.opening_word(section, line.code, behind.end())
            if word:
                home.lose(self.grammar.rules_opened_by(section, word.kind), line)

    def _reached(self) -> Temperature | None:
        """How hot the lines of this schedule have come; None where one can't be read."""
        if self.current is None or self.current.unreadable:
            return None
        ends = [one.value(Temperature, "destination") for one in self.current.statements]
        return next((end.value for end in reversed(ends) if end), None)

    def _but_for_a_slip(self, line: SourceLine, diagnosis: Diagnosis) -> list[Statement]:
        """What the line says if one slip of the hand is mended: `hodl 10 min` is a hold.

        The slip is reported; the rest of the plan is checked as if the line were right, so that
        nothing is called missing that is only misspelt, and nothing else is hidden by it.
        """
        slip = diagnosis.slip
        if slip is None or diagnosis.section != self.here:
            return []
        if self.current is None and diagnosis.terminal not in self.grammar.headings:
            return []  # a fact before any heading would be a second fault of the same line
        values = self.grammar.values
        values.mended = (slip.at, len(slip.meant), len(slip.written))
        code = slip.mended(line.code)
        read = all_said(self.grammar, evolve(line, text=code, code_end=len(code)), self.here)
        values.mended = None
        kind = section_opened(read[0]) if read else None
        # `kiln Little Egret` has a name; `kiln off` may mean something else.
        further = " " in slip.written.strip() or len(read) > 1  # `kiln Heron electric` too
        is_name = slip.meant.startswith('"') and further
        is_new = kind == "witness" or kind not in self.latest
        if kind and not (is_name and is_new) and (slip.at > line.code_start or kind in self.latest):
            # What a faulty heading opens is decided with more care below.
            return []
        if len(read) == 1:
            return [evolve(read[0], span=line.span)]
        longer = len(slip.written) - len(slip.meant)
        return [evolve(one, span=one.span.moved(slip.at + 1, longer)) for one in read]

    def _fault_open_quote(self, line: SourceLine) -> None:
        assert line.open_quote is not None
        diagnosis = diagnose(self.grammar, line, self.here)
        self.text.faults.append(
            TextFault(
                "quote-open",
                Span(line.number, line.open_quote + 1, line.code_end + 1),
                "This quote is never closed.",
                "Close the name with a quote on the same line.",
                self.grammar.right_line(diagnosis.section, diagnosis.terminal).to_copy,
            )
        )
        self._mark_unreadable(line, diagnosis)

    def _mark_unreadable(self, line: SourceLine, diagnosis: Diagnosis) -> None:
        """Remember what a faulty line was to say; a faulty heading still opens its section."""
        terminal = diagnosis.terminal
        if terminal is None:
            if self.current and still_to_fill_in(line):
                self.current.unreadable.update(self.grammar.opened_by_quote(self.current.kind))
            if self.current and self.current.kind == "schedule":
                # Whatever it was to say, the firing is not known past this line.
                self.current.lose({"climb"}, line)
            return
        kind = terminal.lower()
        if terminal in self.grammar.headings and kind in SECTIONS:
            earlier = self.latest.get(kind)
            if kind in _NAMELESS and earlier and not earlier.implied:
                # A second heading that can't be read opens nothing new: no line below it is lost.
                # And a word that is only like a heading leaves the section that is open, as does
                # what is told of the kiln elsewhere: `kiln behind the shed door`.
                if not diagnosis.guessed and kind != "kiln":
                    self.current = earlier
                return
            opened = Section(kind, line.span, unreadable={"section"})
            if kind in _SAID_IN_A_HEADING:
                opened.lose(_SAID_IN_A_HEADING[kind], line)
            self._open(opened)
            return
        rules = self.grammar.rules_opened_by(diagnosis.section, terminal)
        home = self.latest.get(diagnosis.section)
        if home:
            home.lose(rules, line)
        else:
            self.text.unreadable_facts.update(rules)
        if "target" in rules:
            self.text.unreadable_facts.add("target")
