"""The next firing like an older one: what is of that day, or only a person knows, is open again."""

import re
from collections.abc import Iterator

from attrs import define, field

from guardcone.language import (
    Keyword,
    Quoted,
    Section,
    SourceLine,
    SourceText,
    Statement,
    StatementText,
    read_statements,
    split_lines,
)
from guardcone.language.grammar import plan_grammar
from guardcone.span import Span
from guardcone.starting.asked import NotUnderstood
from guardcone.tidy import tidy_text

__all__ = ["next_plan"]

# Every line of these sections is of the day, and no remark in them outlasts it.
_OF_THE_DAY = frozenset({"safety", "reading"})
# So are these lines of other sections.
_OPENED = frozenset(
    "by starts approved room stance pad seen width element_gap spacing shelf_wash stilts "
    "mass".split()
)
# What a note tells is of the older firing.
_LEFT_OUT = frozenset({"note"})
# What a line of ware says of its pieces as they were that day, and what is written there instead.
_OF_THE_WARE = {
    "pieces": '"fill in how many"',
    "state": '"fill in how dry"',
    "wall": 'wall "fill in how thick"',
    "foot": 'foot "fill in how far it is wiped"',
    "support": '"fill in what it stands on"',
    "form": '"fill in vented or not"',
}
# What ware has been through, and how it is made, is so the next time too.
_LASTING = frozenset({"bisque", "glazed", "closed-form", "waxed", "flat-form", "lidded", "nested"})
# Of cones that stand by themselves no lean is asked.
_FACING = 'facing "fill in one way or different ways, and if staggered"'
# What is accepted, and by whom, is said anew for each firing.
_ACCEPTED = ('"fill in why it is harmless this time"', '"fill in who says so"')
_HEAD = (
    "# The next firing like an older one. What was of that day, or only a person can know, says",
    '# "fill in": go and look, and write what you find now.',
)


def next_plan(old: SourceText) -> str:
    """The text of a plan for the next firing like this one, in the layout of `tidy`.

    Kiln, target, cones, clays, glazes, the sorts of ware and the schedule are kept, with the
    remarks beside them. Nothing stays that tells how something was that day, or who said so. Raises
    NotUnderstood where the old plan has lines that can't be read.
    """
    read = read_statements(old)
    faulty = [one.span.line for one in read.faults if one.rule != "still-to-fill-in"]
    if faulty or not read.sections:
        why = f"line {faulty[0]} can't be read as it stands" if faulty else "it has no section"
        raise NotUnderstood(f"{old.name}: {why}; guardcone check tells what to mend")
    # Tidy gives each thing that is said in one line a line of its own.
    text = tidy_text("".join(f"{line.text}\n" for line in old.lines))
    lines = _Next(read_statements(SourceText(old.name, split_lines(text)))).lines()
    return tidy_text("".join(f"{line}\n" for line in lines))


@define(repr=False)
class _Next:
    """The lines of an older plan on their way into the next."""

    read: StatementText
    here: Section | None = None
    written: set[str] = field(factory=set)

    def lines(self) -> Iterator[str]:
        """The lines of the next plan; what says the same in one section is written once."""
        yield from _HEAD
        remarks: list[str] = []
        headings = {section.heading.line: section for section in self.read.sections}
        for line in self.read.source.lines:
            if line.blank:
                remarks.append(line.text)
                continue
            if self.here is None:
                remarks.clear()  # what stands above all tells of the older firing
            if line.number in headings:
                self.here, self.written = headings[line.number], set()
                yield ""
            anew = self._anew(line)
            if anew == line.code and not self._is_of_the_day:
                yield from remarks
                yield line.text
            elif anew and anew not in self.written:
                yield anew
                self.written.add(anew)
            remarks.clear()

    @property
    def _is_of_the_day(self) -> bool:
        return self.here is None or self.here.kind in _OF_THE_DAY

    def _anew(self, line: SourceLine) -> str:
        """What the line is in the next plan, without its remark; empty where it is left out."""
        here = self.here
        if here and here.kind == "reading":
            return ""
        if here and line.number == here.heading.line:
            return _to_copy("plan", "PLAN") if here.kind == "plan" else line.code
        one_line = (*self.read.accepts, *self.read.targets)
        statements = (*one_line, *(here.statements if here else ()))
        statement = next((one for one in statements if one.span.line == line.number), None)
        kind = here.kind if here else "plan"
        word = plan_grammar().opening_word(kind, line.code, line.code_start)
        if statement is None:
            return self._still_open(line, kind, word.kind if word else None)
        if statement.name in _LEFT_OUT:
            return ""
        if statement.name == "stance" and not statement.part("lean"):
            return f"  {_FACING}"
        if statement.name in _OPENED or (kind in _OF_THE_DAY and statement not in one_line):
            return f"  {_to_copy(kind, word.kind if word else None)}"
        return _edited(line.code, _edits(statement))

    def _still_open(self, line: SourceLine, kind: str, terminal: str | None) -> str:
        """A line with places to fill in: they stay open, and what else it says of the day goes."""
        rules = {*plan_grammar().rules_opened_by(kind, terminal)}
        if "accept" in rules:
            return ""  # which rule it is about can't be told
        if kind in _OF_THE_DAY or rules & (_OPENED | {"ware"}):
            return f"  {_to_copy(kind, terminal)}" if terminal else ""
        return line.code


def _to_copy(section: str, terminal: str | None) -> str:
    """The right line that begins so, with what only a person knows left open."""
    return plan_grammar().right_line(section, terminal).to_copy


def _edits(statement: Statement) -> list[tuple[Span, str]]:
    """The places of a line that are of the day, and what is written there."""
    if statement.name == "accept":
        reason, by = statement.last(Quoted), statement.part("accepted_by")
        who = by.value(Quoted) if by else None
        return [(one.span, text) for one, text in zip((reason, who), _ACCEPTED, strict=True) if one]
    if statement.name != "ware":
        return []
    parts = (part for name in _OF_THE_WARE for part in statement.parts(name))
    opened = (
        part for part in parts if not any(word.value in _LASTING for word in part.values(Keyword))
    )
    return [(part.span, _OF_THE_WARE[part.name]) for part in opened]


def _edited(code: str, edits: list[tuple[Span, str]]) -> str:
    for span, text in sorted(edits, reverse=True):
        code = code[: span.start - 1] + text + code[span.end - 1 :]
    if not edits:
        return code
    # The columns of what is gone are of no more use.
    return re.sub(r'("[^"]*")|\s+', lambda found: found[1] or " ", f"  {code.strip()}")
