"""Room: the rule book; here the few lines of an example are put into a whole sound plan."""

import re
from collections.abc import Sequence

from attrs import frozen

__all__ = ["HEADINGS", "SectionText", "heading_of", "sections_of", "splice"]

# The words that open a section, in the order in which a plan has them.
HEADINGS = (
    "plan",
    "kiln",
    "target",
    "witness",
    "load",
    "schedule",
    "safety",
    "reading",
    "accept",
)
# In sound plans and examples headings stand at the margin and facts are indented: `target 9` under
# `witness` is a fact. (In the plans of people indentation means nothing.)
_HEADING = re.compile(rf"({'|'.join(HEADINGS)})\b", re.IGNORECASE)


@frozen
class SectionText:
    """The lines of one section; `kind` is its heading word, empty for what stands before any."""

    kind: str
    text: str


def sections_of(plan: str) -> tuple[SectionText, ...]:
    """A plan cut at its headings, so that the texts joined are the plan again."""
    found: list[tuple[str, list[str]]] = [("", [])]
    for line in plan.splitlines(keepends=True):
        heading = _HEADING.match(line)
        if heading:
            found.append((heading[1].lower(), []))
        found[-1][1].append(line)
    return tuple(SectionText(kind, "".join(lines)) for kind, lines in found if lines)


def heading_of(lines: Sequence[str], number: int) -> str:
    """The heading that line `number` (from 1) of a plan stands under, or is; empty without one."""
    above = (line for line in reversed(lines[:number]) if _HEADING.match(line))
    return next(above, "")


def splice(base: str, example: str, without: tuple[str, ...] = ()) -> str:
    """The plan `base` with the sections of `example` in place of all its sections of their kinds.

    Sections of a kind that the base lacks go where a plan has that kind; kinds in `without` are
    left out. Raises ValueError where the example does not begin with a heading at the margin, or
    `without` names no kind of section that the base has.
    """
    parts = [part for part in sections_of(example) if part.kind or part.text.strip()]
    loose = next((part.text.strip() for part in parts if not part.kind), None)
    if loose is not None:
        first = loose.splitlines()[0]
        raise ValueError(f"an example begins with a heading at the margin, not with {first!r}")
    kept = list(sections_of(base))
    for kind in without:
        if all(part.kind != kind for part in kept):
            raise ValueError(f"there is no section {kind!r} to leave out")
        kept = [part for part in kept if part.kind != kind]
    for kind in dict.fromkeys(part.kind for part in parts):
        new = [part for part in parts if part.kind == kind]
        spot = _spot(kept, kind)
        kept = (
            [part for part in kept[:spot] if part.kind != kind]
            + new
            + [part for part in kept[spot:] if part.kind != kind]
        )
    return "".join(part.text if part.text.endswith("\n") else part.text + "\n" for part in kept)


def _spot(sections: list[SectionText], kind: str) -> int:
    for place, section in enumerate(sections):
        if section.kind == kind:
            return place
    order = HEADINGS.index(kind)
    for place, section in enumerate(sections):
        if section.kind and HEADINGS.index(section.kind) > order:
            return place
    return len(sections)
