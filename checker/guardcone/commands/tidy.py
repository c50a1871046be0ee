"""`guardcone tidy`, the one canonical layout."""

import argparse
from difflib import unified_diff
from pathlib import Path

from guardcone.commands.output import Output, file_work
from guardcone.commands.plan_files import STANDARD_INPUT, Unread, plan_paths, read_source
from guardcone.files import write_whole
from guardcone.language import split_lines
from guardcone.reports.page import one_line
from guardcone.tidy import tidy_text

HELP = "rewrite plans into the one canonical layout; comments stay, values never change"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `guardcone tidy`."""
    parser.add_argument("plans", nargs="+", metavar="PLAN-OR-FOLDER", help="a plan, a folder, or -")
    parser.add_argument(
        "--write",
        action="store_true",
        help="write the files, each whole or not at all, instead of showing what would change",
    )


def run(chosen: argparse.Namespace, output: Output) -> int:
    """Show or write the tidied plans; 1 if showing and something would change."""
    changed = False
    undone = Unread()
    for name in plan_paths(chosen.plans, undone):
        told = ""
        with undone.goes_on():
            told = _tidied(name, write=chosen.write)
        if name == STANDARD_INPUT:
            output.write_as_it_is(told)
        else:
            output.write(told)
            changed |= told != ""
    if undone.number:
        return 2
    return 1 if changed and not chosen.write else 0


def _tidied(name: str, *, write: bool) -> str:
    """What is told of a plan that is not tidy yet; of standard input the plan itself, tidied."""
    source, shown = read_source(name), one_line(name)
    if name == STANDARD_INPUT:
        return tidy_text("".join(f"{line.text}\n" for line in source.lines))
    with file_work(f"{shown} can't be read"):
        before = Path(name).read_bytes().decode("utf-8-sig")
    after = tidy_text(before, name)
    if after == before:
        return ""
    if not write:
        return difference(before, after, shown)
    with file_work(f"{shown} could not be written"):
        write_whole(Path(name), after)
    return f"{shown}: tidied\n"


def difference(before: str, after: str, name: str) -> str:
    """What changes from `before` to `after`, in the unified format; empty if nothing does.

    Changes that no eye can see on the screen, such as line ends, are said in words above it.
    """
    if before == after:
        return ""
    lines = unified_diff(
        _lines(before), _lines(after), f"{name} (as it is)", f"{name} (as it would be)", lineterm=""
    )
    return "".join(f"{line}\n" for line in [*_unseen(before, after, name), *lines])


def _lines(text: str) -> list[str]:
    return [line.text for line in split_lines(text.lstrip("\ufeff"))]


def _unseen(before: str, after: str, name: str) -> list[str]:
    """A sentence for each change that the lines themselves do not show."""
    notes = []
    if before.startswith("\ufeff") and not after.startswith("\ufeff"):
        notes.append(f"{name}: the byte order mark at the beginning goes.")
    if "\r" in before and "\r" not in after:
        notes.append(f"{name}: every line ends in a line feed alone.")
    if before and after and not before.endswith(("\n", "\r")) and after.endswith("\n"):
        notes.append(f"{name}: the last line gets a line end.")
    trailing = sum(line != line.rstrip() for line in _lines(before))
    if trailing and not any(line != line.rstrip() for line in _lines(after)):
        what = "one line go" if trailing == 1 else f"{trailing} lines go"
        notes.append(f"{name}: blanks at the end of {what}.")
    return notes
