"""What tidying would change in a plan, told to people, and as a unified difference."""

from collections import Counter
from collections.abc import Iterable, Iterator
from difflib import unified_diff
from itertools import groupby

from guardcone.language.nearest import listed
from guardcone.reports.page import Page, Style, count
from guardcone.tidy import Change, Kind, Layout, changes_of

__all__ = ["summary_of_tidied", "tidied_as_difference", "tidied_for_people"]

# Each is told once, with all its lines.
_TOLD = {
    Kind.WORD: "One word for the same in all plans",
    Kind.VALUE: "One spelling for the same number, unit or time",
    Kind.LETTERS: "Words of the trade in small letters, with the blanks and hyphens of all plans",
    Kind.QUOTES: "Names in straight quotes, with single blanks",
    Kind.SIGNS: "A comma between the parts of a line, and no signs that say nothing",
    Kind.OWN_LINE: "What was said one after another gets a line each",
    Kind.BELOW_HEADING: "Set in by two blanks below the heading",
    Kind.AT_MARGIN: "Set at the margin",
    Kind.COLUMN: "Set in one column with the lines around",
    Kind.BLANKS: "One blank between the parts of a line",
    Kind.REMARK: "The remark is set in line with what stands around it",
    Kind.TRAILING: "Blanks at the end go",
    Kind.BLANK_LINE_BEFORE: "A blank line is put in before",
    Kind.BLANK_LINE_GOES: "A blank line goes",
    Kind.FIRST_MARK: "The byte order mark at the beginning goes, which nobody sees",
    Kind.LINE_ENDS: "Every line ends in a line feed alone, which looks the same",
    Kind.LAST_LINE_END: "The last line gets a line end",
    Kind.LEFT: "Left as it stands, for a reason that guardcone check tells",
}
_WORD_BY_WORD = (Kind.WORD, Kind.VALUE)
# Of these one word or line is shown, of those above each, and of the rest none.
_ONE_WORD = (Kind.LETTERS, Kind.QUOTES)
_ONE_LINE = (
    Kind.SIGNS,
    Kind.OWN_LINE,
    Kind.BELOW_HEADING,
    Kind.AT_MARGIN,
    Kind.COLUMN,
    Kind.BLANKS,
    Kind.REMARK,
)
_BECOMES = "becomes"


def tidied_for_people(layout: Layout, name: str, style: Style) -> str:
    """What changes in a plan, kind by kind, each with its lines as they are counted now.

    Empty if nothing does: lines that can't be read, and so stay, are told beside changes alone. An
    empty line parts it from what follows.
    """
    changes = changes_of(layout)
    if all(change.kind is Kind.LEFT for change in changes):
        return ""
    page = Page(style)
    page.heading(name)
    seen: set[int] = set()
    how_many = Counter(change.line for change in changes)
    for kind in Kind:
        told = _TOLD[kind]
        alike = [change for change in changes if change.kind is kind]
        if not alike:
            continue
        page.blank()
        if kind in _WORD_BY_WORD:
            page.paragraph(f"{told}:", 0)
            page.table(_words(alike))
            continue
        lines = _lines(change.line for change in alike)
        # A line is shown once; that in which least else changes shows it best.
        unseen = [change for change in alike if change.line not in seen]
        example = min(unseen, key=lambda change: how_many[change.line], default=None)
        if kind not in _ONE_WORD + _ONE_LINE or not example:
            page.paragraph(f"{told}{lines and ': '}{lines}.", 0)
            continue
        such_as = "" if len({change.line for change in alike}) == 1 else ", such as"
        page.paragraph(f"{told}: {lines}{such_as or ':'}", 0)
        if kind in _ONE_WORD:
            page.table([[example.before, _BECOMES, example.after]])
        else:
            seen.add(example.line)
            page.lines += _line(example)
    page.blank()
    return page.text()


def _words(changes: Iterable[Change]) -> list[list[str]]:
    """A row for each word and what it becomes, with the lines that it stands in."""
    rows: dict[tuple[str, str], list[int]] = {}
    for change in changes:
        rows.setdefault((change.before, change.after), []).append(change.line)
    return [[before, _BECOMES, after, _lines(lines)] for (before, after), lines in rows.items()]


def _line(change: Change) -> Iterator[str]:
    """A line as it stands and as it becomes; a line of a plan stays one line."""
    for lead, line in ((f"line {change.line}", change.before), (_BECOMES, change.after)):
        yield f"  {lead:<9} {line}"


def _lines(numbers: Iterable[int]) -> str:
    """`line 3`, `lines 3, 5 to 8 and 11`; empty for the file as a whole, which has the number 0."""
    lines = sorted({number for number in numbers if number})
    runs = [
        [line for _, line in run]
        for _, run in groupby(enumerate(lines), key=lambda pair: pair[1] - pair[0])
    ]
    told = [
        one
        for run in runs
        for one in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run))
    ]
    return f"line{'s' * (len(lines) > 1)} {listed(told)}" if lines else ""


def summary_of_tidied(plans: int, changed: int, style: Style) -> str:
    """The last line on some plans, of which so many would change."""
    if not changed:
        told = f"{count(plans, 'plan')} looked at: the layout would not change."
    else:
        told = (
            f"{count(plans, 'plan')} looked at: {changed} would change, in layout and spelling "
            "alone. Nothing is written yet; guardcone tidy --write does that."
        )
    return style.page(style.wrapped(told))


def tidied_as_difference(layout: Layout, name: str) -> str:
    """What changes, in the unified format; empty if nothing does.

    Changes that no eye can see on the screen, such as line ends, are said in words above it.
    """
    if layout.text == layout.before:
        return ""
    lines = unified_diff(
        [line.text for line in layout.lines],
        [row.text for row in layout.rows],
        f"{name} (as it is)",
        f"{name} (as it would be)",
        lineterm="",
    )
    return "".join(f"{line}\n" for line in [*_unseen(layout, name), *lines])


def _unseen(layout: Layout, name: str) -> Iterator[str]:
    """A sentence for each change that the lines themselves do not show."""
    kinds = Counter(change.kind for change in changes_of(layout))
    trailing = kinds[Kind.TRAILING]
    told = {
        Kind.FIRST_MARK: "the byte order mark at the beginning goes",
        Kind.LINE_ENDS: "every line ends in a line feed alone",
        Kind.LAST_LINE_END: "the last line gets a line end",
        Kind.TRAILING: f"blanks at the end of {count(trailing, 'line')} go",
    }
    return (f"{name}: {sentence}." for kind, sentence in told.items() if kinds[kind])
