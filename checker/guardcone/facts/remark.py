"""Dangers that a plan tells in passing: in a note, a remark, or a line that can't be read."""

from collections.abc import Iterator

from attrs import fields

from guardcone.condition.kinds import TEXT
from guardcone.facts.case import Of, PlanCase, PlanSubject
from guardcone.language import SourceLine
from guardcone.language.claims import tells_danger
from guardcone.plan.plan import Plan
from guardcone.plan.safety import Safety
from guardcone.span import Span, Written

__all__ = ["REMARK"]


def _remarks(case: PlanCase) -> Iterator[Of[Written[str]]]:
    lines = case.plan.source.lines if case.plan.is_plan else ()
    told = _told_in_words(case.plan)
    for line in lines:
        if words := _in_passing(line, line.number in told):
            yield Of(case, words)


def _in_passing(line: SourceLine, whole: bool) -> Written[str] | None:
    """What of a line no statement asks for, the `whole` or what stands behind it, if it warns."""
    if whole and tells_danger(line.code):
        return Written(line.code.strip(), line.span)
    # What the line itself says is told already: `watch nobody  # nobody is here overnight`.
    if not line.comment or tells_danger(line.code) or not tells_danger(line.comment):
        return None
    start = line.text.index("#", line.code_end) + 1
    return Written(line.comment[1:].strip(), Span(line.number, start, start + len(line.comment)))


def _told_in_words(plan: Plan) -> set[int]:
    """The lines of which nothing but their words may tell a danger.

    Notes, what can't be read, and what stands behind a clearance or is said of bystanders. What
    else can be read of safety is asked for where it is named.
    """
    unread = {
        number
        for fault in plan.faults
        for number in range(fault.span.line, max(fault.until, fault.span.line) + 1)
    }
    safety = plan.safety
    free = (*plan.notes, *((safety.clearance, safety.bystanders) if safety else ()))
    return {one.span.line for one in free if one} | (unread - _read(safety))


def _read(safety: Safety | None) -> set[int]:
    """The lines that the safety section is read from."""
    values = [getattr(safety, one.name) for one in fields(Safety)] if safety else []
    several = [one for value in values for one in (value if isinstance(value, tuple) else (value,))]
    return {one.span.line for one in several if hasattr(one, "span")}


REMARK = PlanSubject(
    "remark",
    "A note, a remark or a line that can't be read, in which a danger is told.",
    _remarks,
    lambda of: of.it.span,
)


@REMARK.of_part(TEXT)
def _danger_told(words: Written[str]) -> Written[str]:
    """The words by which something is a danger."""
    return words
