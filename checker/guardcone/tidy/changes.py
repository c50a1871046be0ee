"""What the layout changes in each line, of what kind: told from the words that the line is made of.

A line is compared word by word with what its own words become, so that each change is known for
what it is: another spelling, a measure, quotes, a column.
"""

from collections.abc import Iterable, Iterator, Sequence
from enum import Enum, auto
from itertools import pairwise

from attrs import frozen

from guardcone.language.grammar import plan_grammar
from guardcone.language.scanner import folded
from guardcone.tidy.layout import Layout, Row
from guardcone.tidy.words import Word, words_of

__all__ = ["Change", "Kind", "changes_of"]


class Kind(Enum):
    """What happens to a line, in the order in which it is told."""

    WORD = auto()
    VALUE = auto()
    LETTERS = auto()
    QUOTES = auto()
    SIGNS = auto()
    OWN_LINE = auto()
    BELOW_HEADING = auto()
    AT_MARGIN = auto()
    COLUMN = auto()
    BLANKS = auto()
    REMARK = auto()
    TRAILING = auto()
    BLANK_LINE_BEFORE = auto()
    BLANK_LINE_GOES = auto()
    FIRST_MARK = auto()
    LINE_ENDS = auto()
    LAST_LINE_END = auto()
    LEFT = auto()


@frozen(repr=False)
class Change:
    """One change of the line `line`, counted in the text as it stands; 0 is the file as a whole.

    `before` and `after` are the word that changes, or all of a line of which the blanks change.
    What can't be read is LEFT, and is no change.
    """

    kind: Kind
    line: int
    before: str = ""
    after: str = ""


def changes_of(layout: Layout) -> list[Change]:
    """All that is otherwise in a layout than in the text it is made of, by line."""
    found = [Change(kind, 0) for kind in _of_the_file(layout)]
    gone = {line.number for line in layout.lines} - {row.line.number for row in layout.rows}
    for row, below in pairwise((*layout.rows, None)):
        if row and row.line.number:
            whole = row.line.text.rstrip(), row.text
            found += [
                Change(kind, row.line.number, *(pair or whole)) for kind, *pair in _of_line(row)
            ]
        elif below:
            found.append(Change(Kind.BLANK_LINE_BEFORE, below.line.number))
    found += [Change(Kind.BLANK_LINE_GOES, line) for line in gone]
    return sorted(found, key=lambda change: change.line)


def _of_the_file(layout: Layout) -> Iterator[Kind]:
    if layout.before.startswith("\ufeff"):
        yield Kind.FIRST_MARK
    if "\r" in layout.before:
        yield Kind.LINE_ENDS
    if layout.rows and not layout.before.endswith(("\n", "\r")):
        yield Kind.LAST_LINE_END


# A kind, with the word before and after where it is about one; else it is about all of the line.
_Found = tuple[Kind] | tuple[Kind, str, str]


def _of_line(row: Row) -> Iterable[_Found]:
    """What changes in one line, each once."""
    return dict.fromkeys(_in_order(row))


def _in_order(row: Row) -> Iterator[_Found]:
    text = row.line.text
    if row.is_comment and text[: text.index("#")] != row.indent:
        yield (Kind.REMARK,)
    elif row.words:
        yield from _of_words(row, words_of(row.line.code, row.read_in) or row.words)
        yield from _of_remark(row)
    elif row.is_code:
        yield (Kind.LEFT,)
    if text != text.rstrip() or (row.is_blank and text):
        yield (Kind.TRAILING,)


def _of_words(row: Row, written: Sequence[Word]) -> Iterator[_Found]:
    code = row.line.code
    before = code[: written[0].start]
    if row.is_part:
        yield (Kind.OWN_LINE,)
    elif before[: len(before) - len(before.lstrip())] != row.margin:
        yield (Kind.BELOW_HEADING if row.margin else Kind.AT_MARGIN,)
    if before.strip() or code[written[-1].end :]:
        yield (Kind.SIGNS,)
    # A line that is laid out says the same word for word, so there are as many.
    for word, text in zip(written, map(str.strip, row.texts), strict=True):
        yield from _of_word(word, text.removesuffix(",") if word.sign else text)
    for at, (one, two) in enumerate(pairwise(written), 1):
        between = code[one.end : two.start]
        left, right = row.texts[at - 1], row.texts[at]
        blanks = len(left) - len(left.rstrip()) + 1 + len(right) - len(right.lstrip())
        if between.strip():
            yield (Kind.SIGNS,)
        elif between != " " * blanks:
            in_column = blanks > 1 or (at == 1 and row.has_label)
            yield (Kind.COLUMN if in_column else Kind.BLANKS,)


def _of_word(word: Word, text: str) -> Iterator[_Found]:
    if word.sign.strip() != word.sign or word.sign not in ("", ","):
        yield (Kind.BLANKS if word.sign.strip() == "," else Kind.SIGNS,)
    if word.written == text:
        return
    if word.terminal == "DASH":
        yield (Kind.SIGNS,)
    elif word.terminal == "NAME":
        yield Kind.QUOTES, word.written, text
    elif folded(word.written) == folded(text):
        yield Kind.LETTERS, word.written, text
    else:
        is_word = word.terminal in plan_grammar().words
        yield Kind.WORD if is_word else Kind.VALUE, word.written, text


def _of_remark(row: Row) -> Iterator[_Found]:
    """A remark behind a line moves if neither its column nor its distance stays."""
    line, comment = row.line, row.trailing_comment
    column = line.text.find("#", line.code_end) if comment else len(line.text)
    before = line.text[line.code_end : column]
    if before.strip():  # marks that nobody sees
        yield (Kind.SIGNS,)
    elif comment:
        new = len(row.text) - len(comment)
        distance = new - len(row.text[:new].rstrip())
        if before.strip(" ") or (len(before) != distance and column != new):
            yield (Kind.REMARK,)
