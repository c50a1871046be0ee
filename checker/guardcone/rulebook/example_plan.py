"""The few lines of an example are put into a whole sound plan."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import takewhile

from attrs import frozen

from guardcone.language.nearest import did_you_mean
from guardcone.language.source import split_lines
from guardcone.rulebook.rule import Change
from guardcone.span import Span

__all__ = [
    "HEADINGS",
    "SectionText",
    "Spliced",
    "Unspliceable",
    "changed_line",
    "differences",
    "heading_of",
    "line_of",
    "sections_of",
    "splice",
]

# The words that open a section, in the order in which a plan has them.
HEADINGS = ("plan", "kiln", "target", "witness", "load", "schedule", "safety", "reading", "accept")
# In sound plans and examples headings stand at the margin and facts are indented: `target 9` under
# `witness` is a fact. (In the plans of people indentation means nothing.)
_HEADING = re.compile(rf"(?:{'|'.join(HEADINGS)})\b", re.IGNORECASE)


@frozen(repr=False)
class SectionText:
    """The lines of one section; `kind` is its heading word, empty for what stands before any."""

    kind: str
    text: str


class Unspliceable(ValueError):
    """An example names what its plan does not have; `span` is where, None for the whole example."""

    def __init__(self, message: str, hint: str = "", span: Span | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.span = span


def sections_of(plan: str) -> tuple[SectionText, ...]:
    """A plan cut at its headings, so that the texts joined are the plan again."""
    parts = re.split(rf"^(?={_HEADING.pattern})", plan, flags=_HEADING.flags | re.MULTILINE)
    headings = map(_HEADING.match, parts)
    return tuple(
        SectionText(heading[0].lower() if heading else "", part)
        for heading, part in zip(headings, parts, strict=True)
        if part
    )


def heading_of(lines: Sequence[str], number: int) -> str:
    """The heading that line `number` (from 1) of a plan stands under, or is; empty without one."""
    above = (line for line in reversed(lines[:number]) if _HEADING.match(line))
    return next(above, "")


@frozen(repr=False)
class Spliced:
    """A whole plan, and the places in it that an example has of its own."""

    text: str
    own: tuple[Span, ...]


def splice(
    base: str, example: str, without: tuple[str, ...] = (), changes: Iterable[Change] = ()
) -> Spliced:
    """The plan `base` with the sections of `example` in place of all its sections of their kinds.

    Sections of a kind that the base lacks go where a plan has that kind; kinds in `without` are
    left out. Then the `changes` are made, all of them in lines of the plan as it is by then. Raises
    Unspliceable where the example does not begin with a heading at the margin, or `without` or a
    change names what is not there.
    """
    parts = [part for part in sections_of(example) if part.kind or part.text.strip()]
    loose = next((part.text.strip() for part in parts if not part.kind), None)
    if loose is not None:
        first = loose.splitlines()[0]
        raise Unspliceable(f"an example begins with a heading at the margin, not with {first!r}")
    kept = list(sections_of(base))
    for kind in without:
        if all(part.kind != kind for part in kept):
            hint = did_you_mean(kind, (part.kind for part in kept))
            raise Unspliceable(f"there is no section {kind!r} to leave out", hint)
        kept = [part for part in kept if part.kind != kind]
    for kind in dict.fromkeys(part.kind for part in parts):
        spot = _spot(kept, kind)
        before, after = (
            [part for part in some if part.kind != kind] for some in (kept[:spot], kept[spot:])
        )
        kept = [*before, *(part for part in parts if part.kind == kind), *after]
    lines: list[_Line] = []
    for part in kept:
        is_own = any(part is own for own in parts)
        lines += [_own(text) if is_own else (text, None) for text in part.text.splitlines()]
    changed = list(_changed(lines, tuple(changes)))
    return Spliced(
        "".join(f"{text}\n" for text, _ in changed),
        tuple(
            Span(number, own[0], max(own[1], own[0] + 1))
            for number, (_, own) in enumerate(changed, 1)
            if own
        ),
    )


def line_of(lines: Sequence[str], change: Change) -> int:
    """The number, from 1, of the line of a plan that a change means; Unspliceable without one.

    It is the first that reads so, or else the only one that has such a part, or the first of lines
    that are alike and have it.
    """
    wanted = _plain(change.line.value)
    plain = [_plain(line) for line in lines]
    under = list(range(1, len(lines) + 1))
    places = [number for number in under if plain[number - 1] == wanted != ""]
    if change.inside is not None:
        heading = _plain(change.inside.value)
        under = [number for number in under if _plain(heading_of(lines, number)) == heading]
        if not under:
            headings = [_plain(line) for line in lines if _HEADING.match(line)]
            message = f"there is no section {heading!r} in this plan"
            raise Unspliceable(message, _near(heading, headings), change.inside.span)
        if places and not set(places) & set(under):
            hint = f"it stands under {_plain(heading_of(lines, places[0]))}"
            message = f"there is no line {wanted!r} under {heading!r}"
            raise Unspliceable(message, hint, change.line.span)
        places = [number for number in places if number in under]
    if places:
        return places[0]
    found = [number for number in under for _ in _part(wanted).finditer(plain[number - 1])]
    if not found or not wanted:
        hint = _near(wanted, plain)
        raise Unspliceable(f"there is no {wanted!r} in this plan", hint, change.line.span)
    alike = dict.fromkeys(plain[number - 1] for number in found)
    if len(alike) > 1 or found.count(found[0]) > 1:
        where = " or ".join(alike)
        message = f"{wanted!r} stands in this plan {len(found)} times"
        raise Unspliceable(message, f"write more of one line: {where}", change.line.span)
    return found[0]


# A line of a plan, and the columns of it, the first and the one after the last, that are an
# example's own.
_Line = tuple[str, tuple[int, int] | None]


def _changed(lines: list[_Line], changes: tuple[Change, ...]) -> Iterator[_Line]:
    """The lines of a plan with every change made."""
    texts = [text for text, _ in lines]
    instead: dict[int, list[_Line]] = {}
    after: defaultdict[int, list[_Line]] = defaultdict(list)
    for change in changes:
        number = line_of(texts, change)
        line, span = texts[number - 1], change.line.span
        plain, is_heading = _plain(line), _HEADING.match(line) is not None
        fact = "  " if is_heading else " " * _margin(line)
        if change.is_added:
            after[number] += [_own(fact + new) for new in change.lines]
        # What is left out is a whole line, by whatever part of it that is named.
        elif change.lines and plain != _plain(change.line.value):
            before = instead.get(number, [(line, None)])
            if len(change.lines) != 1 or len(before) != 1:
                message = f"a part of {plain!r} becomes one text"
                raise Unspliceable(message, "write the whole line", span)
            instead[number] = [_with_part(before[0], change)]
        elif number in instead:
            raise Unspliceable(f"{plain!r} is changed twice", "put it below its heading", span)
        elif is_heading and not change.lines:
            below = (n for n in range(number, len(texts)) if _HEADING.match(texts[n]))
            instead |= {n: [] for n in range(number, next(below, len(texts)) + 1)}
        elif [_plain(text) for text in change.lines] == [plain]:
            raise Unspliceable(f"{plain!r} becomes what it was", "", span)
        else:
            first = "" if is_heading else fact
            new_lines = ((fact if at else first) + text for at, text in enumerate(change.lines))
            instead[number] = [_differing(line, new) for new in new_lines]
    for number, line_with_own in enumerate(lines, 1):
        yield from instead.get(number, (line_with_own,))
        yield from after[number]


def _with_part(line: _Line, change: Change) -> _Line:
    """The line with the part that a change means replaced."""
    text, own = line
    plain, new = " " * _margin(text) + _plain(text), change.lines[0]
    found = _part(_plain(change.line.value)).search(plain)
    if found is None:
        message = f"{change.line.value!r} is changed twice"
        raise Unspliceable(message, "write the whole line", change.line.span)
    start, end = found.start() + 1, found.start() + 1 + len(new)
    if own is not None:
        start, end = min(start, own[0]), max(end, own[1] + len(new) - len(found[0]))
    return plain[: found.start()] + new + plain[found.end() :], (start, end)


def _differing(old: str, new: str) -> _Line:
    """The new line, with the columns of the words in which it differs from the old one."""
    words = list(re.finditer(r"\S+", new))
    before, now = _plain(old).split(), [word[0] for word in words]
    first = _alike(before, now)
    last = _alike(before[first:][::-1], now[first:][::-1])
    changed = words[first : len(words) - last] or words[max(first - 1, 0) : first + 1]
    return new, (changed[0].start() + 1, changed[-1].end() + 1)


def _alike(one: Iterable[str], other: Iterable[str]) -> int:
    """How many words the two have in common before they differ."""
    pairs = zip(one, other, strict=False)
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))


def changed_line(line: str, change: Change) -> tuple[str, ...]:
    """What a change makes of the line that it means, without the margin."""
    if not change.lines or _plain(line) == _plain(change.line.value):
        return change.lines
    return (_with_part((line, None), change)[0].strip(),)


def differences(one: Sequence[str], other: Sequence[str]) -> list[tuple[range, range]]:
    """Where the lines of two plans differ, blanks and remarks apart, as places in each of them."""
    from difflib import SequenceMatcher  # only for people who ask about a rule

    plain, plain_other = [_plain(line) for line in one], [_plain(line) for line in other]
    blocks = SequenceMatcher(None, plain, plain_other, autojunk=False).get_opcodes()
    return [
        (range(start, end), range(start_other, end_other))
        for sign, start, end, start_other, end_other in blocks
        if sign != "equal" and any([*plain[start:end], *plain_other[start_other:end_other]])
    ]


def _own(text: str) -> _Line:
    return text, (_margin(text) + 1, len(text) + 1)


def _margin(line: str) -> int:
    return len(line) - len(line.lstrip())


def _part(text: str) -> re.Pattern[str]:
    """Finds a text that begins and ends where words and numbers do."""
    return re.compile(rf"(?<![\w.-]){re.escape(text)}(?![\w]|[.-]\w)")


def _plain(line: str) -> str:
    """A line without its remark, every run of blanks one blank."""
    return " ".join(word for part in split_lines(line) for word in part.code.split())


def _near(wanted: str, lines: Iterable[str]) -> str:
    """The hint with the line most like the one that is not there."""
    from difflib import get_close_matches  # only where something is wrong: it takes its time

    near = get_close_matches(wanted, filter(None, lines), 1, 0.5)
    return f"the nearest is: {near[0]}" if near else did_you_mean(wanted, HEADINGS)


def _spot(sections: list[SectionText], kind: str) -> int:
    """Where a plan has its first section of this kind, or would have it."""
    kinds = [section.kind for section in sections]
    if kind in kinds:
        return kinds.index(kind)
    later = HEADINGS[HEADINGS.index(kind) :]
    return next((place for place, other in enumerate(kinds) if other in later), len(kinds))
