"""Tells what a studio's own file makes of the rule book.

Every report names it, so that nobody takes for the book what a studio has changed.
"""

from collections.abc import Iterable, Sequence

from attrs import frozen

from guardcone.checking.plans import CheckedPlan
from guardcone.rulebook.book import RuleBook

__all__ = ["Change", "InForce", "in_force"]


@frozen
class Change:
    """One thing that is otherwise than in the book: the rule or limit, what, and where it is said.

    `place` is as ``studio.yaml:12``.
    """

    name: str
    what: str
    place: str


@frozen
class InForce:
    """A studio's file that some plans were checked by, its files of own rules, and the changes."""

    file: str
    own_files: tuple[str, ...]
    may_accept: tuple[str, ...]
    changes: tuple[Change, ...]


def in_force(checked: Sequence[CheckedPlan]) -> tuple[InForce, ...]:
    """The studios' files that these plans were checked by, each once; none for the book alone."""
    by_file: dict[str, list[CheckedPlan]] = {}
    for one in checked:
        if one.book.studio:
            by_file.setdefault(one.book.studio, []).append(one)
    return tuple(_of(plans[0].book, plans) for plans in by_file.values())


def _of(book: RuleBook, plans: Iterable[CheckedPlan]) -> InForce:
    own_files = dict.fromkeys(rule.file for rule in book.rules if rule.name in book.own)
    return InForce(
        book.studio,
        tuple(own_files),
        book.may_accept,
        (*_changes(book), *_taken(book, plans), *_silenced(book, plans)),
    )


def _changes(book: RuleBook) -> Iterable[Change]:
    for name, change in book.changes.items():
        yield Change(name, f"{change}, because {change.reason}", change.place)
    for limit in book.limits:
        if limit.changed_at:
            what = f"{limit.value} in place of {limit.built_in}"
            yield Change(limit.name, what, limit.changed_at)


def _taken(book: RuleBook, plans: Iterable[CheckedPlan]) -> Iterable[Change]:
    """What heats a kiln and where it stands, where plans leave that to the studio.

    Dangers hang on these two, so that nobody should take them for words of the plan.
    """
    told: dict[str, Change] = {}
    for one in plans:
        kiln = one.plan.kiln
        if kiln is None or kiln.name is None:
            continue
        taken = [
            said.value
            for said in (kiln.fuel, kiln.setting)
            # What a plan takes over points at the name by which it does so.
            if said is not None and said.span == kiln.name.span
        ]
        if taken:
            what = f"{', '.join(taken)}: so says this file, not the plan"
            told.setdefault(kiln.name.value, Change(kiln.name.value, what, book.studio))
    return told.values()


def _silenced(book: RuleBook, plans: Iterable[CheckedPlan]) -> Iterable[Change]:
    """What the studio's own rules keep quiet, and where."""
    for plan in plans:
        for quiet in plan.silenced:
            rule = book.rule(quiet.by)
            if rule is not None and quiet.by in book.own:
                where = f"{plan.plan.source.name}:{quiet.span.line}"
                place = f"{rule.file}:{rule.span.line}"
                yield Change(quiet.rule, f"silenced at {where} by {quiet.by}", place)
