"""A plan that says something twice, read in each way that it may be meant.

The check goes by what stands first. Which of the two is right nobody can know, so a danger in any
of the ways is told, whatever the order of the lines.
"""

from collections.abc import Iterable, Iterator
from itertools import islice, product

from attrs import evolve

from guardcone.language import Statement, StatementText, TextFault

__all__ = ["other_readings"]

# A plan with more ways to read it than this is a heap of copies; then each line that says
# something again is only put in the place of the first by itself.
_MOST_WAYS = 64

# A choice leaves these out: whether it is a whole section, and the number of its line.
_LeftOut = frozenset[tuple[bool, int]]


def other_readings(
    statements: StatementText, faults: Iterable[TextFault]
) -> Iterator[StatementText]:
    """The statements in each way to read them but the first, as the faults tell what is doubled."""
    doubled = [_choices(group) for group in _groups(faults)]
    if not doubled:
        return
    ways = 1
    for choices in doubled:
        ways *= len(choices)
    combined: Iterable[_LeftOut]
    if ways <= _MOST_WAYS:
        combined = (frozenset[tuple[bool, int]]().union(*one) for one in product(*doubled))
        combined = islice(combined, 1, None)
    else:
        combined = (choice for choices in doubled for choice in choices[1:])
    for left_out in combined:
        yield _without(statements, left_out)


def _groups(faults: Iterable[TextFault]) -> Iterable[list[tuple[bool, int]]]:
    """What says the same: the first place and all that say it again."""
    groups: dict[tuple[bool, int], list[tuple[bool, int]]] = {}
    for fault in faults:
        if fault.first is not None:
            is_section = fault.rule == "section-doubled"
            first = (is_section, fault.first.line)
            groups.setdefault(first, [first]).append((is_section, fault.span.line))
    return groups.values()


def _choices(group: list[tuple[bool, int]]) -> list[_LeftOut]:
    """For each that may be meant what is left out: the others; the first choice is the first.

    Of a line that says something twice itself nobody knows what it says: it is left out whole.
    """
    places = list(dict.fromkeys(group))
    if len(places) == 1:
        return [frozenset(), frozenset(places)]
    return [frozenset(place for place in places if place != meant) for meant in places]


def _without(statements: StatementText, left_out: _LeftOut) -> StatementText:
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
