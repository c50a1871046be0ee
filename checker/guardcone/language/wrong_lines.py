"""Lines that are wrong where they stand: filed as far as they can be, and told."""

import re
from collections.abc import Iterator, Mapping
from itertools import groupby

from attrs import define, evolve

from guardcone.language.diagnosis import Diagnosis, diagnose, section_meant
from guardcone.language.grammar import SECTIONS, PlanGrammar
from guardcone.language.line_statements import Statement, all_said, section_opened
from guardcone.language.meanings import still_to_fill_in
from guardcone.language.mended_lines import as_told, said_before_fault
from guardcone.language.nearest import either, shown
from guardcone.language.parted_lines import said_behind_heading
from guardcone.language.reader import Reader, Section, StatementText
from guardcone.language.rewordings import begins_schedule
from guardcone.language.source import SourceLine, SourceText, TextFault
from guardcone.span import Span
from guardcone.values import Temperature

__all__ = ["WrongLines"]

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


# Two ways to write a line, in °C and in °F.
_LINES = "(`[^`]*`(?:(?:, | and )`[^`]*`)*)"
_EITHER_SCALE = re.compile(rf"Write {_LINES} or {_LINES}\.")
_EITHER = re.compile(r"(?<=[0-9] )[CF](?![a-z])")
_HOTTEST = 1400
# A line to fill in for a wall or a foot of which nobody said whose it is.
_BEGINS_WARE = re.compile('ware "fill in what".*, wall "fill in how thick", foot "fill in')
# So many lines of other text are told as one.
_FEWEST_OF_A_RUN = 3


@define(slots=False, repr=False)
class WrongLines:
    """What a reader does with a line that is wrong where it stands."""

    reader: Reader

    @property
    def grammar(self) -> PlanGrammar:
        """How plans are written."""
        return self.reader.grammar

    @property
    def text(self) -> StatementText:
        """What is read so far."""
        return self.reader.text

    @property
    def here(self) -> str:
        """The section that is open."""
        return self.reader.here

    def told_once(self) -> Iterator[TextFault]:
        """The faults of lines of which nothing is known; many one after another are one fault."""
        return _runs_told_once(self.text.source, self.reader.other_text)

    def _take(self, statement: Statement, section: Section | None) -> None:
        if not self.reader.take(statement, section):
            self.misplaced(statement, "plan")

    def read_elsewhere(self, line: SourceLine) -> None:
        """A line that is no fact of this section: perhaps one of another, perhaps a faulty one."""
        if self.reader.stray and (said := all_said(self.grammar, line, self.reader.stray.kind)):
            for statement in said:
                self._take(statement, self.reader.stray)
            return
        # `guard 2` in a reading is no line of a set, but says how no cone stands.
        own = self.grammar.opening_word(self.here, line.code, line.code_start)
        elsewhere = () if self.here == "reading" and own else SECTIONS
        for kind in elsewhere:
            said = all_said(self.grammar, line, kind) if kind != self.here else []
            if said and section_opened(said[0]) is None:
                self.misplaced(said[0], kind)
                for statement in said[1:]:
                    if self.reader.stray:
                        self._take(statement, self.reader.stray)
                    else:
                        self._lose(statement, kind)
                return
        is_later = self.here != "schedule" and "schedule" not in self.reader.headings
        if not self.reader.stray and is_later:
            other = diagnose(self.grammar, line, self.here)
            is_none = other.other_text or other.terminal == "COUNT"  # of `60 C/h to 95 C`
            if is_none and begins_schedule(self.grammar, line):
                self._imply("schedule", line.span)
        kept, stray = self.reader.current, self.reader.stray
        if stray and section_meant(self.grammar, line, stray.kind) == stray.kind:
            self.reader.current = stray  # it stands among lines of that section
        self.fault(line)
        if self.reader.current is self.reader.stray:
            self.reader.current = kept

    def misplaced(self, statement: Statement, kind: str) -> None:
        """A right line in the wrong section: say where it belongs, and use it if that is plain."""
        others = (one for one in SECTIONS if one != self.here)
        homes = [one for one in others if statement.name in self.grammar.facts_of(one)] or [kind]
        word = self.text.source.line(statement.span.line)[statement.span.start - 1 :].split()[0]
        word = word.rstrip(",;:") or word
        where = " or ".join(f"`{home}`" for home in homes)
        inside = f"in the {self.here} section" if self.text.sections else "before any heading"
        home = self.reader.latest.get(kind)
        found = f"{shown(word)} stands {inside}, and belongs under {where}."
        repair = f"Move the line below the heading {where}"
        below = self.reader.heading_below(kind, statement.span.line) if len(homes) == 1 else None
        at = home.heading.line if home else below
        repair += f" of line {at}." if at else "; there is none above it."
        if home and home.implied:
            repair = f"Move the line to the others of that section, at line {home.heading.line}."
        mended = ""
        if home is None and len(homes) == 1 and kind not in self.reader.headings:
            line = self.text.source.lines[statement.span.line - 1].code.strip()
            mended = f"{self.grammar.right_line(kind, kind.upper()).to_copy}\n  {line}"
        fault = TextFault("fact-misplaced", statement.span, found, repair, mended=mended)
        self.text.understood += 1
        self.text.faults.append(fault)
        taken = kind in _NAMELESS or (kind == "witness" and kind not in self.reader.headings)
        if home is None and taken:
            home = self._imply(kind, statement.span)
        if home is not None and taken:
            home.statements.append(statement)
            self.reader.stray = home
        else:
            self._lose(statement, kind)

    def _imply(self, kind: str, span: Span) -> Section:
        """The section that is open stays open: only the next lines stand astray."""
        home = Section(kind, span, implied=True)
        home.unreadable |= set() if kind in _NAMELESS else {"section"}  # it has a name
        self.text.sections.append(home)
        self.reader.current = self.reader.current or home
        self.reader.stray = self.reader.latest[kind] = home
        return home

    def _lose(self, statement: Statement, kind: str) -> None:
        """What the statement says may be meant for any section of its kind."""
        self.reader.misplaced_facts.setdefault(kind, set()).add(statement.name)
        self.text.unreadable_facts.add(statement.name)

    def fault(self, line: SourceLine) -> None:
        """Tell what is wrong with a line, and file what it says all the same."""
        diagnosis = diagnose(self.grammar, line, self.here, self._reached())
        if meant := _in_scale(diagnosis.fault, self.reader.scale):
            diagnosis = evolve(diagnosis, fault=meant)
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
            self.reader.other_text[line.number] = diagnosis.fault
        elif not said or not diagnosis.plain:
            has_kiln = "kiln" in self.reader.latest
            told = as_told(self.grammar, line, diagnosis, self.here, self.reader.headings, has_kiln)
            self.text.faults.append(self._of_ware_above(told))
        if begun:
            said = [begun]
        if not said or begun:
            self._mark_unreadable(line, diagnosis)  # the rest may have said more of the same
            said += said_behind_heading(self.grammar, line, self.here) if not said else []
        for statement in said:
            self._take(statement, self.reader.current)

    def _of_ware_above(self, fault: TextFault) -> TextFault:
        """What is said of a wall or foot belongs into the line of its ware: no second begins."""
        home = self.reader.current
        wares = [one for one in home.statements if one.name == "ware"] if home else []
        if not wares or not _BEGINS_WARE.match(fault.mended):
            return fault
        lines = either([str(one.span.line) for one in wares])
        repair = f"Write it behind the ware that it is said of, in line {lines}"
        return evolve(fault, repair=f"{repair}; then put # before it here.", mended="", line="")

    def _mark_to_fill_in(self, line: SourceLine, section: str) -> None:
        """What else such a line leaves to fill in: lean "fill in ...", pad "fill in ..."."""
        home = self.reader.latest.get(section)
        if home is None or section not in _JOINED:
            return
        for behind in re.finditer(r'(?<="),\s*(?=[^",]*"\s*fill in\b)', line.code):
            word = self.grammar.opening_word(section, line.code, behind.end())
            if word:
                home.lose(self.grammar.rules_opened_by(section, word.kind), line)

    def _reached(self) -> Temperature | None:
        """How hot the lines of this schedule have come; None where one can't be read."""
        if self.reader.current is None or self.reader.current.unreadable:
            return None
        ends = [one.value(Temperature, "destination") for one in self.reader.current.statements]
        return next((end.value for end in reversed(ends) if end), None)

    def _but_for_a_slip(self, line: SourceLine, diagnosis: Diagnosis) -> list[Statement]:
        """What the line says if one slip of the hand is mended: `hodl 10 min` is a hold.

        The slip is reported; the rest of the plan is checked as if the line were right, so that
        nothing is called missing that is only misspelt, and nothing else is hidden by it.
        """
        slip = diagnosis.slip
        if slip is None or diagnosis.section != self.here:
            return []
        if self.reader.current is None and diagnosis.terminal not in self.grammar.headings:
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
        known = kind in self.reader.latest
        is_new = kind == "witness" or not known
        if kind and not (is_name and is_new) and (slip.at > line.code_start or known):
            # What a faulty heading opens is decided with more care below.
            return []
        if len(read) == 1:
            return [evolve(read[0], span=line.span)]
        longer = len(slip.written) - len(slip.meant)
        return [evolve(one, span=one.span.moved(slip.at + 1, longer)) for one in read]

    def open_quote(self, line: SourceLine) -> None:
        """Tell a line with a quote that is never closed."""
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
            if self.reader.current and still_to_fill_in(line):
                self.reader.current.unreadable.update(
                    self.grammar.opened_by_quote(self.reader.current.kind)
                )
            if self.reader.current and self.reader.current.kind == "schedule":
                # Whatever it was to say, the firing is not known past this line.
                self.reader.current.lose({"climb"}, line)
            return
        kind = terminal.lower()
        if terminal in self.grammar.headings and kind in SECTIONS:
            earlier = self.reader.latest.get(kind)
            if kind in _NAMELESS and earlier and not earlier.implied:
                # A second heading that can't be read opens nothing new: no line below it is lost.
                # And a word that is only like a heading leaves the section that is open, as does
                # what is told of the kiln elsewhere: `kiln behind the shed door`.
                if not diagnosis.guessed and kind != "kiln":
                    self.reader.current = earlier
                return
            opened = Section(kind, line.span, unreadable={"section"})
            if kind in _SAID_IN_A_HEADING:
                opened.lose(_SAID_IN_A_HEADING[kind], line)
            self.reader.open(opened)
            return
        rules = self.grammar.rules_opened_by(diagnosis.section, terminal)
        home = self.reader.latest.get(diagnosis.section)
        if home:
            home.lose(rules, line)
        else:
            self.text.unreadable_facts.update(rules)
        if "target" in rules:
            self.text.unreadable_facts.add("target")


def _runs_told_once(source: SourceText, faults: Mapping[int, TextFault]) -> Iterator[TextFault]:
    """The faults of lines of which nothing is known; many one after another are one fault.

    Those lie together between which only blank lines stand: a recipe, a letter.
    """
    lines = [line for line in source.lines if not line.blank]
    for other, together in groupby(lines, key=lambda line: line.number in faults):
        run = list(together) if other else []
        if len(run) < _FEWEST_OF_A_RUN:
            yield from (faults[line.number] for line in run)
            continue
        first, last = run[0], run[-1]
        found = f"Lines {first.number} to {last.number} are other text: nothing is known of them."
        repair = "Put # before each of them, or write what they say as lines of a plan."
        right = faults[first.number].line
        yield TextFault("other-text", first.span, found, repair, right, until=last.number)


def _in_scale(fault: TextFault, scale: str) -> TextFault | None:
    """The fault with what it offers in the one scale that the plan has; None if no two are offered.

    A number too hot for a kiln in that scale is in the other one.
    """
    met = _EITHER_SCALE.fullmatch(fault.repair)
    if met is None or not scale or _EITHER.sub("C", met[1]) != _EITHER.sub("C", met[2]):
        return None
    hottest = max((int(one) for one in re.findall(r"[0-9]+", met[1])), default=0)
    if scale == "C" and hottest > _HOTTEST:
        return None
    repair = f"Write {met[1 if scale == 'C' else 2]}."
    return evolve(fault, repair=repair, found=f"{fault.found} The plan has °{scale} elsewhere.")
