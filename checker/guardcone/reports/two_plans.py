"""The two plans that show a rule are drawn with the lines marked in which they differ."""

from collections.abc import Iterable
from itertools import groupby

from attrs import frozen

from guardcone.checking.examples import OrdinaryPair
from guardcone.rulebook.example_plan import differences, sections_of

__all__ = ["DIFFERS", "DOTS", "two_plans"]

DIFFERS, DOTS = ">", "..."
_WHOLE = 6  # lines of a section that is shown whole
# Lines that are shown on each side of one that differs, in a longer section; cones are one pack.
_NEAR, _NEAR_OF_CONES = 1, 2
_TOGETHER = 8  # lines that differ, one after the other, before the rest is counted only
# The sections that are read with the target in mind.
_TO_THE_TARGET = {"witness", "load", "schedule", "reading"}


def two_plans(pair: OrdinaryPair) -> tuple[list[str], list[str]]:
    """What is shown of the plan without a finding, and of the plan that has it.

    That is what differs, and enough of its sections around it; with the line that the finding
    points at, and what is in the plan as in no sound one.
    """
    base, one, other = (plan.splitlines() for plan in (pair.base, pair.without, pair.having))
    apart = differences(one, other)
    own = {at for _, places in differences(base, other) for at in places}
    matter = {pair.finding.span.line - 1, *own}.difference(*(places for _, places in apart))
    in_one = {
        at + sum(len(mine) - len(its) for mine, its in apart if its.stop <= at) for at in matter
    }
    return (
        _drawn(one, {mine: _said(other, its) for mine, its in apart}, in_one),
        _drawn(other, {its: _said(one, mine) for mine, its in apart}, matter),
    )


def _said(lines: list[str], places: Iterable[int]) -> list[str]:
    return [lines[at] for at in places if lines[at].strip()]


@frozen(repr=False)
class _Section:
    """The places of a section's lines in a plan, and the word that opens it."""

    kind: str
    places: range


def _drawn(lines: list[str], apart: dict[range, list[str]], matter: set[int]) -> list[str]:
    """What is shown of a plan; `apart` are its places that differ, and the other's lines there."""
    differ = {at for own in apart for at in own if lines[at].strip()}
    absent = {own.start: others for own, others in apart.items() if not _said(lines, own)}
    # Where a whole section is not there, nothing around its place belongs to it.
    gaps = {at for at, others in absent.items() if others[0].startswith(" ")}
    sections: list[_Section] = []
    for part in sections_of("\n".join(lines)):
        start = sections[-1].places.stop if sections else 0
        sections.append(_Section(part.kind, range(start, start + len(part.text.splitlines()))))
    shown_too = differ | {at - 1 for at in gaps} | matter
    if any(one.kind in _TO_THE_TARGET and shown_too & {*one.places} for one in sections):
        matter = matter | {one.places.start for one in sections if one.kind == "target"}
    shown: list[str] = []
    known: set[tuple[str, ...]] = set()
    for section in sections:
        kept = _kept(section, differ, gaps, matter) if section.kind else set[int]()
        rows: list[str] = []
        for at in section.places:
            if others := absent.get(at):
                rows.append(_marked(f"  # not in this plan: {_in_short(others)}"))
            if at in differ:
                rows.append(_marked(lines[at]))
            elif at in kept:
                rows.append(f"    {lines[at]}")
            elif kept and lines[at].strip() and rows[-1].strip() != DOTS:
                rows.append(f"      {DOTS}")
        below = (section.kind, *rows[1:])
        shown += [rows[0], "      # as above"] if below in known and len(rows) > 2 else rows
        known.add(below)
    if others := absent.get(len(lines)):
        shown.append(_marked(f"  # not in this plan: {_in_short(others)}"))
    return _without_long_runs([row for row in shown if row.strip()])


def _kept(section: _Section, differ: set[int], gaps: set[int], matter: set[int]) -> set[int]:
    """The lines of a section to show: its heading and what is near, or all of a short one."""
    by = _NEAR_OF_CONES if section.kind == "witness" else _NEAR
    places = {*section.places}
    near = {at + beside for at in differ & places for beside in range(-by, by + 1)}
    # A gap lies before the line of its place.
    near |= {at + beside for at in gaps if at - 1 in places for beside in range(-by, by)}
    if near and len(places) <= _WHOLE:
        return places
    found = (near | matter) & places
    return {section.places.start, *found} if found else found


def _in_short(lines: list[str]) -> str:
    """Some lines of the other plan in a remark: one as it is, of several how many."""
    headings = [line.split()[0] for line in lines if not line.startswith(" ")]
    if len(headings) > 1:
        return "nearly all of the other"
    if headings:
        return f"the whole {headings[0]} section"
    return " ".join(lines[0].split()) if len(lines) == 1 else f"{len(lines)} lines of the other"


def _marked(line: str) -> str:
    return f"  {DIFFERS} {line}"


def _without_long_runs(rows: list[str]) -> list[str]:
    """The rows with no more marked ones together than people read, and the number of the others."""
    shown: list[str] = []
    for is_marked, run in groupby(rows, key=lambda row: row.startswith(_marked(""))):
        together = [*run]
        if is_marked and len(together) > _TOGETHER + 1:
            rest = len(together) - _TOGETHER
            together[_TOGETHER:] = [_marked(f"  # and {rest} lines more that the other has not")]
        shown += together
    return shown
