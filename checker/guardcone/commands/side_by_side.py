"""Plans are checked one after another, or by several workers side by side."""

from collections.abc import Iterator, Sequence
from typing import Any

from attrs import fields

from guardcone.checking.plans import CheckedPlan, check_plan
from guardcone.commands.output import CannotWork
from guardcone.commands.plan_files import STANDARD_INPUT, Unread, read_source, studio_of, studios
from guardcone.rulebook.studio_search import Studios

__all__ = ["checked_plans"]

# A worker is given so many plans at once, and each several times some while there are enough.
_MOST_AT_ONCE, _TURNS = 200, 4


def checked_plans(
    names: Sequence[str], called: str, found: Studios, unread: Unread, workers: int = 1
) -> Iterator[CheckedPlan]:
    """Each plan that can be read, checked, in the order named; others are added to `unread`.

    Raises CannotWork where a worker is lost: what it was given is unchecked.
    """
    if workers < 2 or STANDARD_INPUT in names:
        for name in names:
            with unread.goes_on():
                source = read_source(name, called)
                studio = studio_of(name, found)
                yield check_plan(studio.read_plan(source), studio.book)
        return
    # Whoever checks a plan or two needs none of this.
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool
    from functools import partial

    size = max(1, min(_MOST_AT_ONCE, len(names) // (workers * _TURNS)))
    chunks = [names[start : start + size] for start in range(0, len(names), size)]
    with ProcessPoolExecutor(workers) as executor:
        answers = executor.map(partial(_answers, called), chunks)
        try:
            for chunk, answered in zip(chunks, answers, strict=True):
                for name, answer in zip(chunk, answered, strict=True):
                    with unread.goes_on():
                        if isinstance(answer, str):
                            raise CannotWork(answer)
                        # What applies to it, and what is passed over on the way, is told here.
                        book = studio_of(name, found).book
                        yield CheckedPlan(book=book, **answer)
        except BrokenProcessPool as lost:
            told = "a worker was lost, so not every plan is checked; try it with fewer --workers"
            raise CannotWork(told) from lost


def _answers(called: str, names: Sequence[str]) -> list[dict[str, Any] | str]:
    """What a worker gives back: all of a checked plan but its book, or why it is not checked."""
    found = studios(lambda _: None)
    told = [one.name for one in fields(CheckedPlan) if one.name != "book"]
    answers: list[dict[str, Any] | str] = []
    for plan in names:
        try:
            source = read_source(plan, called)
            studio = studio_of(plan, found)
            checked = check_plan(studio.read_plan(source), studio.book)
            answers.append({name: getattr(checked, name) for name in told})
        except CannotWork as reason:
            answers.append(str(reason))
    return answers
