"""Lines into the layout: margins, columns, blank lines, and where remarks stand."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby, pairwise

from attrs import define, field, frozen

from guardcone.language import (
    Part,
    Section,
    SourceLine,
    SourceText,
    StatementText,
    read_statements,
    split_lines,
)
from guardcone.language.grammar import plan_grammar
from guardcone.language.meanings import still_to_fill_in
from guardcone.span import Span
from guardcone.tidy.words import Word, words_of

__all__ = ["Layout", "Row", "laid_out", "tidy_text"]

_INDENT = "  "
# Texts that differ more in length than this get no common column: the eye would lose the line.
_FARTHEST_APART = 24
# In `no pad` and `not seen` the word of the trade comes second; nothing lines up behind the first.
_NEGATIONS = frozenset({"NO", "NOT"})


def tidy_text(text: str, name: str = "the plan") -> str:
    """The plan `text` in canonical layout: the same values, comments and order, and one line end.

    A line that can't be read where it stands is left as it was written, but for trailing blanks;
    one that is still to be filled in stands in the columns of its section all the same. Tidying a
    tidied plan changes nothing. `name` is what the plan is called, as in `SourceText`.
    """
    return laid_out(text, name).text


def laid_out(text: str, name: str = "the plan") -> "Layout":
    """The plan `text` in canonical layout, line by line, as `tidy_text`."""
    source = SourceText(name, split_lines(text.lstrip("\ufeff")))
    rows = _with_blank_lines(_rows(read_statements(source)))
    _indent_comments(rows)
    facts = (row for row in rows if row.is_fact)
    for _, together in groupby(facts, key=lambda row: row.section):
        _line_up(list(together))
    for row in rows:
        row.lay_out()
    _line_up_comments(rows)
    return Layout(text, source.lines, tuple(rows))


@frozen(repr=False)
class Layout:
    """A text as it stands, its lines, and the rows of the layout, each with the line it was."""

    before: str
    lines: tuple[SourceLine, ...]
    rows: "tuple[Row, ...]"

    @property
    def text(self) -> str:
        """The plan as it becomes."""
        return "".join(f"{row.text}\n" for row in self.rows)


@define(repr=False)
class Row:
    """A line on its way into the layout; one that is put in has the number 0.

    `heading` is the rule of a heading that stands at the margin; `opens` is true if facts may
    follow it. A row without `words` is a comment, a blank line, or a line left as written. What is
    said in a line with something else has `is_part`.
    """

    line: SourceLine
    section: int = 0
    read_in: str = "plan"
    rule: str = ""
    heading: str = ""
    opens: bool = False
    words: tuple[Word, ...] = ()
    has_label: bool = False
    is_part: bool = False
    texts: list[str] = field(factory=list)
    indent: str = ""
    text: str = ""

    @property
    def is_blank(self) -> bool:
        return self.line.blank and not self.line.comment

    @property
    def is_comment(self) -> bool:
        return self.line.blank and bool(self.line.comment)

    @property
    def is_code(self) -> bool:
        return not self.line.blank

    @property
    def is_fact(self) -> bool:
        return bool(self.words) and not self.heading

    @property
    def margin(self) -> str:
        """The indentation of this row, and of a comment right above it."""
        if self.words:
            return "" if self.heading else _INDENT
        return _INDENT if self.line.text.rstrip()[:1].isspace() else ""

    def read(self, part: Part | None) -> None:
        """Take the words of the line: a heading, or the statement that is made of `part`.

        A faulty heading opens its section as well, and has no words here.
        """
        code = self.line.code
        # `cool down down to 60 C` becomes `cool down to 60 C`, where `cool down` is one word again.
        for _ in range(3):
            words = words_of(code, self.read_in)
            if words is None:
                break
            self.words = words
            self.texts = [word.text for word in words]
            self.has_label = part is not None and _has_label(part, words)
            if self.has_label or part is None:
                self.texts[0] = words[0].first_spelling
            code = " ".join(self.texts)

    def read_open(self) -> None:
        """Take a line with a place to fill in that can't be read yet: its label, and the rest."""
        code, start = self.line.code, self.line.code_start
        word = plan_grammar().opening_word(self.read_in, code, start)
        if word and word.kind in plan_grammar().headings:
            return
        end = word.end if word and code[word.end :].startswith(" ") else start
        begins = (
            [start, end + len(code[end:]) - len(code[end:].lstrip())] if end > start else [start]
        )
        self.has_label = len(begins) > 1
        self.texts = [code[one:two].strip() for one, two in pairwise((*begins, None))]
        self.words = tuple(
            Word("", text, text, text, text, at)
            for text, at in zip(self.texts, begins, strict=True)
        )

    def lay_out(self) -> None:
        """Put the words together; a line that would say something else so stays as written."""
        if self.is_comment:
            self.text = self.indent + self.line.comment
        elif self.is_code:
            self.text = self.margin + " ".join(self.texts)
            if not self.words or not self._says_the_same(self.text):
                self.words = ()
                self.text = self.line.text.rstrip()

    def _says_the_same(self, code: str) -> bool:
        """True if the line reads back, in its section, with the values it had."""
        if split_lines(code)[0].code != code:
            return False
        before, anew = (words_of(one, self.read_in) or () for one in (self.line.code, code))
        return [word.meaning for word in anew] == [word.meaning for word in before]

    @property
    def trailing_comment(self) -> str:
        return self.line.comment if self.words else ""


_BLANK = SourceLine(0, "", 0, 0)


# -- from the source to rows ------------------------------------------------------------------


def _rows(read: StatementText) -> list[Row]:
    """A row for each line, blank lines included, in the order written."""
    # A section that no heading opens is a fault, and its lines stay as they are.
    headed = {section.heading: section for section in read.sections if not section.implied}
    one_line = {statement.span: statement for statement in (*read.targets, *read.accepts)}
    facts = {
        statement.span: (section, statement)
        for section in headed.values()
        for statement in section.statements
    }
    parts: dict[int, list[Span]] = {}
    for span in sorted({*headed, *one_line, *facts}):
        parts.setdefault(span.line, []).append(span)
    rows: list[Row] = []
    here: Section | None = None
    number = 0
    # A target or an acceptance between the facts of a section is laid out as one of them.
    perhaps_facts: list[Row] = []
    for line, place in _each_apart(read.source.lines, parts):
        row = Row(
            line, number, here.kind if here else "plan", is_part=len(parts.get(line.number, ())) > 1
        )
        if place in headed:
            here, number, perhaps_facts = headed[place], number + 1, []
            row.section, row.heading, row.opens = number, here.kind, True
            row.read(None)
        elif place in one_line:
            row.heading = one_line[place].name
            row.read(one_line[place])
            perhaps_facts.append(row)
        elif place in facts and facts[place][0] is here:
            row.rule = facts[place][1].name
            row.read(facts[place][1])
            for between in perhaps_facts:
                between.heading = ""
            perhaps_facts = []
        elif here and place is None and still_to_fill_in(line):
            row.read_open()
        rows.append(row)
    return rows


def _each_apart(
    lines: Iterable[SourceLine], parts: Mapping[int, list[Span]]
) -> Iterator[tuple[SourceLine, Span | None]]:
    """Each line, or where one thing is said after another each of them, with its place.

    A remark stays with the last of them.
    """
    for line in lines:
        places = parts.get(line.number, [])
        if len(places) < 2:
            yield line, next(iter(places), None)
            continue
        for place in places:
            code = place.of(line.text)
            rest = line.text[line.code_end :] if place is places[-1] else ""
            yield SourceLine(line.number, code + rest, 0, len(code)), place


def _has_label(part: Part, words: tuple[Word, ...]) -> bool:
    """True if the line is a keyword and what belongs to it, as `guide 8`; not `large cones`."""
    while isinstance(part.children[0], Part):
        part = part.children[0]
    return (
        len(words) > 1
        and len(part.children) > 1
        and words[0].terminal in plan_grammar().words
        and words[0].terminal not in _NEGATIONS
        and not words[0].text.endswith(",")
    )


# -- blank lines and comments -----------------------------------------------------------------


def _with_blank_lines(rows: list[Row]) -> list[Row]:
    """One blank line before each heading and the comment above it, and nowhere two."""
    kept: list[Row] = []
    before: Row | None = None
    spare: Row | None = None  # a blank line that would go, and may be wanted after all
    for row in rows:
        if row.is_blank:
            if kept and not kept[-1].is_blank and not (kept[-1].is_code and kept[-1].opens):
                kept.append(row)
            else:
                spare = row
            continue
        # Acceptances may stand together, one below the other.
        if row.heading and before and not (before.heading == row.heading and not row.opens):
            at = len(kept)
            while kept[at - 1].is_comment:
                at -= 1
            if not kept[at - 1].is_blank:
                kept.insert(at, spare or Row(_BLANK))
        kept.append(row)
        if row.is_code:
            before, spare = row, None
    while kept and kept[-1].is_blank:
        kept.pop()
    return kept


def _indent_comments(rows: list[Row]) -> None:
    """A comment stands like the line right below it, or else right above it, or else next."""
    above = Row(_BLANK)
    comments: list[Row] = []
    between_blanks: list[Row] = []
    for row in [*rows, Row(_BLANK)]:
        if row.is_comment:
            comments.append(row)
            continue
        if row.is_code:
            for comment in between_blanks + comments:
                comment.indent = row.margin
            between_blanks = []
        elif above.is_code:
            for comment in comments:
                comment.indent = _INDENT if above.opens else above.margin
        else:
            between_blanks += comments
        above, comments = row, []


# -- columns ----------------------------------------------------------------------------------


def _line_up(facts: list[Row]) -> None:
    """The values of a section in one column, and what follows the names in another."""
    labelled = [row for row in facts if row.has_label]
    width = max((len(row.texts[0]) for row in labelled), default=0)
    for row in labelled:
        row.texts[0] = row.texts[0].ljust(width)
    named = [row for row in labelled if len(row.words) > 2 and row.words[1].terminal == "NAME"]
    counted = {row.rule for row in named if row.words[2].terminal == "COUNT"}
    _line_up_names(row for row in named if row.rule in counted)
    _line_up_names(row for row in named if row.rule not in counted)


def _line_up_names(rows: Iterable[Row]) -> None:
    named = list(rows)
    lengths = [len(row.texts[1]) for row in named]
    if len(named) < 2 or max(lengths) - min(lengths) > _FARTHEST_APART:
        return
    counts = [row for row in named if row.words[2].terminal == "COUNT"]
    digits = max((len(row.texts[2]) for row in counts), default=0)
    for row in named:
        row.texts[1] = row.texts[1].ljust(max(lengths) + 1)
    for row in counts:
        row.texts[2] = row.texts[2].rjust(digits)


def _line_up_comments(rows: list[Row]) -> None:
    """Two blanks before a trailing comment; those of neighbouring lines in one column."""
    for commented, run in groupby(rows, key=lambda row: bool(row.trailing_comment)):
        if commented:
            together = list(run)
            lengths = [len(row.text) for row in together]
            width = max(lengths) if max(lengths) - min(lengths) <= _FARTHEST_APART else 0
            for row in together:
                row.text = f"{row.text.ljust(width)}  {row.trailing_comment}"
