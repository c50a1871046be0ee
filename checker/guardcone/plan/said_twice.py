"""A plan that says something twice, read in each way that it may be meant.

The check goes by what stands first. Which of the two is right nobody can know, so a danger in any
of the ways is told, whatever the order of the lines.
"""

from collections.abc import Iterable, Iterator
from itertools import islice, product

from attrs import evolve

from guardcone.language import Statement, StatementText, TextFault

__all__ = ["MOST_WAYS", "other_readings"]

# A plan that may be read in more ways than this is a heap of copies; then each line that says
# something otherwise is put in the place of the first by itself, as many as this.
MOST_WAYS = 64

# Whether it is a whole section, and the number of its line.
_Place = tuple[bool, int]


def other_readings(
    statements: StatementText, faults: Iterable[TextFault]
) -> Iterator[StatementText]:
    """The statements in each way to read them but the first, as the faults tell what is doubled."""
    said = _said(statements)
    doubled = [_choices(group, said) for group in _groups(faults)]
    doubled = [choices for choices in doubled if len(choices) > 1]
    ways = 1
    for choices in doubled:
        ways = min(ways * len(choices), MOST_WAYS + 1)
    combined: Iterable[frozenset[_Place]]
    if ways <= MOST_WAYS:
        combined = (frozenset[_Place]().union(*one) for one in product(*doubled))
        combined = islice(combined, 1, None)
    else:
        combined = (choice for choices in doubled for choice in choices[1:])
    for left_out in islice(combined, MOST_WAYS):
        yield _without(statements, left_out)


def _said(statements: StatementText) -> dict[_Place, str]:
    """What stands at each place, blanks and capitals apart."""

    def text(one: Statement) -> str:
        return " ".join(statements.source.line(one.span.line).casefold().split())

    lines = [*statements.targets, *(one for s in statements.sections for one in s.statements)]
    said: dict[_Place, str] = {(False, one.span.line): text(one) for one in lines}
    for section in statements.sections:
        said[True, section.heading.line] = "\n".join(text(one) for one in section.statements)
    return said


def _groups(faults: Iterable[TextFault]) -> list[list[_Place]]:
    """What says the same: the first place and all that say it again; the fewest first."""
    groups: dict[_Place, dict[_Place, None]] = {}
    for fault in faults:
        if fault.first is not None:
            is_section = fault.rule == "section-doubled"
            first = (is_section, fault.first.line)
            groups.setdefault(first, {first: None})[is_section, fault.span.line] = None
    return sorted((list(group) for group in groups.values()), key=len)


def _choices(group: list[_Place], said: dict[_Place, str]) -> list[frozenset[_Place]]:
    """For each that may be meant what is left out: all others; the first choice is the first.

    The same words again are no other way to read it. Of a line that says something twice itself
    nobody knows what it says: it is left out whole.
    """
    if len(group) == 1:
        return [frozenset(), frozenset(group)]
    meant: dict[str, _Place] = {}
    for place in group:
        meant.setdefault(said.get(place, ""), place)
    return [frozenset(group) - {place} for place in meant.values()]


def _without(statements: StatementText, left_out: frozenset[_Place]) -> StatementText:
    def kept(some: Iterable[Statement]) -> tuple[Statement, ...]:
        return tuple(one for one in some if (False, one.span.line) not in left_out)

    return evolve(
        statements,
        sections=tuple(
            evolve(section, statements=kept(section.statements))
            for section in statements.sections
            if (True, section.heading.line) not in left_out
        ),
        targets=kept(statements.targets),
    )
