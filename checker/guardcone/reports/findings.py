"""The findings are drawn for people, and as one line each.

The form of a line is that of the GNU Coding Standards, section 4.4: ``file:line:column: message``.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from attrs import Factory, frozen

from guardcone.checking.accepts import Accepted
from guardcone.checking.plans import CheckedPlan, InForce, in_force
from guardcone.checking.run import Finding
from guardcone.language.nearest import listed
from guardcone.reports.page import (
    SEEN,
    Style,
    count,
    counts,
    marked_line,
    paragraphs,
    reminder,
)
from guardcone.reports.right_as_written import right_as_written
from guardcone.reports.to_confirm import CONFIRM, to_confirm
from guardcone.reports.together import (
    Unsaid,
    asked_elsewhere,
    hiding,
    is_whole_section,
    left_unsaid,
    together,
)
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence

__all__ = [
    "changes_one_a_line",
    "finding_lines",
    "findings_for_people",
    "findings_one_a_line",
]


def findings_one_a_line(checked: CheckedPlan, style: Style) -> str:
    """One line a finding of a plan, by line."""
    return style.page(
        f"{checked.plan.source.name}:{finding.span.line}:{finding.span.start}: "
        f"{finding.consequence.value}: {finding.rule}: {finding.text}"
        for finding in sorted(checked.findings, key=lambda finding: finding.order)
    )


def changes_one_a_line(checked: Sequence[CheckedPlan], style: Style) -> str:
    """One line for each thing that a studio has changed, or has to be confirmed, in these plans."""
    return style.page(_changes_in_force(checked))


def _changes_in_force(checked: Sequence[CheckedPlan]) -> Iterator[str]:
    for studio in in_force(checked):
        own = f", own rules in {', '.join(studio.own_files)}" if studio.own_files else ""
        yield f"{studio.file}:1:1: studio: in-force: the studio's own file{own}"
        for change in studio.changes:
            place = change.place if ":" in change.place else f"{change.place}:1"
            yield f"{place}:1: studio: {change.name}: {change.what}"
    for place, what in to_confirm(one.plan for one in checked):
        yield f"{place}:1: studio: to-confirm: {what}"


def findings_for_people(
    checked: Sequence[CheckedPlan],
    style: Style,
    stop_at: Consequence | None,
    teach: Mapping[str, str] | None = None,
    unread: int = 0,
    first: int | None = None,
    passed_over: Sequence[str] = (),
) -> str:
    """The whole report on some plans, ending with the summary and the safety reminder.

    `teach` gives the reason of each rule by name; each is told once, with its first finding. Of
    each plan the `first` so many things are told, and every danger. After all else stand the
    sentences on files that were `passed_over` for their names, and how many files are `unread`,
    which the error output names.
    """
    untold = dict(teach or {})
    lines: list[str] = []
    for one in checked:
        if one.findings or one.accepted:
            lines += _plan(one, style, untold, first)
    for studio in in_force(checked):
        lines += [*_in_force(studio, style), ""]
    if looks := [f"{what} ({place})" for place, what in to_confirm(one.plan for one in checked)]:
        lines += [*style.wrapped(CONFIRM), *_listed(looks, style), ""]
    lines += _summary(checked, style, stop_at)
    if len(checked) == 1 and (right := right_as_written(checked[0])):
        lines += ["", *style.wrapped(right)]
    lines += ["", *style.wrapped(reminder())]
    for sentence in passed_over:
        lines += ["", *style.wrapped(f"{sentence}.")]
    if unread:
        files = count(unread, "file or folder", "files or folders")
        them = "it" if unread == 1 else "them"
        lines += ["", f"{files} could not be read, and nothing above is about {them}."]
    return style.page(lines)


def _plan(
    checked: CheckedPlan, style: Style, untold: dict[str, str], first: int | None
) -> Iterator[str]:
    name = checked.plan.name.value if checked.plan.name else "a plan without a name"
    yield f"{style.strong(name)}, {checked.plan.source.name}"
    acknowledged = {id(one.finding): one for one in checked.accepted}
    if checked.plan.schedule and "segments" in checked.plan.schedule.unreadable:
        until = "can be read" if hiding(checked) else "is filled in"
        text = f"The firing is computed, and more found, once the schedule {until}."
        yield from style.wrapped(text)
    unsaid = None if untold else left_unsaid(checked)
    if unsaid and (text := _dangers_first(unsaid)):
        yield from style.wrapped(text)
    offered = _offered(checked, unsaid)
    left: Counter[Consequence] = Counter()
    for at, told in enumerate(together(checked, unsaid)):
        findings = told.findings if isinstance(told, Unsaid) else told
        weights = [one.consequence for one in findings]
        if first is not None and at >= first and Consequence.DANGER not in weights:
            left.update(weights)
            continue
        yield ""
        if isinstance(told, Unsaid):
            yield from _unsaid(told, style)
            continue
        finding, *others = told
        if others:
            yield from _alike(checked, told, style, offered)
        else:
            yield from finding_lines(checked, finding, style, offered)
            yield from _acknowledged(acknowledged.get(id(finding)), style)
        if why := untold.pop(finding.rule, None):
            yield ""
            for paragraph in paragraphs(why):
                yield from style.wrapped(paragraph, "     Why   ")
    if left:
        yield from ("", *style.wrapped(f"Not shown: {counts(left)}. Without --first all are."))
    shown = {id(finding) for finding in checked.findings}
    for accepted in checked.accepted:
        if id(accepted.finding) not in shown:
            yield ""
            finding = accepted.finding
            text = f"line {finding.span.line}: {finding.rule} ({finding.consequence.value})"
            text = f"accepted{_by(accepted)}, {text}, because {accepted.by.reason.value}"
            yield from style.wrapped(text, "     ")
    yield ""


@frozen(eq=False, repr=False)
class _Offered:
    """What lines that can't be read offer of what the plan lacks.

    `names` stand behind those lines, by their fault and their place in it; `asked` are the findings
    that need offer no line of their own.
    """

    names: Mapping[tuple[int, int], str] = Factory(dict)
    asked: frozenset[int] = frozenset()


def _offered(checked: CheckedPlan, unsaid: Unsaid | None) -> _Offered:
    silent = unsaid.elsewhere if unsaid else ()
    names = {(id(one.fault), one.at): f"  # {_named(one.asked)}" for one in silent}
    return _Offered(names, frozenset(id(one.asked) for one in asked_elsewhere(checked)))


def finding_lines(
    checked: CheckedPlan, finding: Finding, style: Style, offered: _Offered = _Offered()
) -> Iterator[str]:
    """One finding, with the line that it points at."""
    yield f"{_weight(finding.consequence, style)}, line {finding.span.line}: {finding.rule}"
    yield _marked(checked, finding, style, "     ")
    for told in _said(checked, finding, offered):
        yield from _one(told, style, "     ")


def _acknowledged(acknowledged: Accepted | None, style: Style) -> Iterator[str]:
    if acknowledged:
        where, reason = acknowledged.by.span.line, acknowledged.by.reason.value
        text = f"Acknowledged{_by(acknowledged)} in line {where}: {reason}"
        yield from style.wrapped(text, "     ")


_MOST_LINES = 5
_FEW_IN_A_RUN = 2
_MOST_DANGERS_NAMED = 2


def _alike(
    checked: CheckedPlan, findings: Sequence[Finding], style: Style, offered: _Offered
) -> Iterator[str]:
    """Findings of one rule and weight: what is the same of all is said once."""
    numbers = [str(finding.span.line) for finding in findings]
    lines = list(dict.fromkeys(numbers))
    where = f"{len(lines)} lines" if len(lines) > _MOST_LINES else f"lines {listed(lines)}"
    where = where if len(lines) > 1 else f"line {numbers[0]}"
    yield f"{_weight(findings[0].consequence, style)}, {where}: {findings[0].rule}"
    said = [_said(checked, finding, offered, at > 0) for at, finding in enumerate(findings)]
    common = [one for one in said[0] if all(one in each for each in said)]
    rows = [*zip(numbers, findings, said, strict=True)]
    if findings[0].rule == "still-to-fill-in" and len(lines) > _MOST_LINES:
        yield from style.wrapped(f"Lines {_ranges([int(one) for one in lines])}.", "     ")
        rows = []
    width = max(map(len, numbers))
    before: list[_Said] = []
    done: set[_Said] = set()
    for number, finding, each in rows:
        yield _marked(checked, finding, style, f"     {number:>{width}}  ")
        for told in each:
            if told in common or (told in before and told[0] == "") or told in done:
                continue
            yield from _one(told, style, " " * (width + 7))
        before = each
        done.update(one for one in each if one[0] == "Do")
    if common and rows:
        yield ""
    for told in common:
        yield from _one(told, style, "     ")


def _ranges(numbers: Sequence[int]) -> str:
    """Numbers that rise, in words: 5, 6 and 14 to 27."""
    runs = groupby(enumerate(numbers), key=lambda one: one[1] - one[0])
    parts: list[str] = []
    for _, run in runs:
        some = [str(number) for _, number in run]
        parts += [f"{some[0]} to {some[-1]}"] if len(some) > _FEW_IN_A_RUN else some
    return listed(parts)


def _unsaid(unsaid: Unsaid, style: Style) -> Iterator[str]:
    """What a plan leaves unsaid, as lines to copy, each with its weight and the rule's name."""
    worst = min((one.consequence for one in unsaid.findings), key=lambda one: one.rank)
    yield f"{_weight(worst, style)}: what the plan leaves unsaid"
    if unsaid.of_fuel:
        names = listed([one.rule for one in unsaid.of_fuel])
        dangers = count(len(unsaid.of_fuel), "danger")
        yield from style.wrapped(
            "What heats the kiln is not said: say that first. If it burns fuel there are "
            f"{dangers} more, and their lines are given then: {names}.",
            "     ",
        )
    text = "Copy these lines below their headings, and fill in what you find:"
    yield from style.wrapped(text, "     ")
    for section in unsaid.sections:
        if section.line:
            yield f"     {section.heading}  # line {section.line}"
        elif not any(is_whole_section(_write(one)) for one in section.findings):
            missing = f"  # {_named(section.missing)}" if section.missing else ""
            yield f"     {section.heading}{missing}"
        alike: set[str] = set()
        for finding in section.findings:
            if _write(finding) in alike:
                continue  # one line for all who name an unknown clay
            alike.add(_write(finding))
            first, *further = _write(finding).split("\n")
            indent = "     " if is_whole_section(_write(finding)) else "       "
            yield f"{indent}{first}  # {_named(finding)}"
            for open_, lines in groupby(further, key=lambda line: "fill in" in line):
                # What is given is one line, `guide 5, target 6, guard 7`, and how a set stands.
                apart = open_ and section.section != "witness"
                yield from (f"       {line}" for line in (lines if apart else [", ".join(lines)]))


def _dangers_first(unsaid: Unsaid) -> str:
    """Which dangers stand only as lines to copy, perhaps far down; empty where none does."""
    known = [one for one in unsaid.findings if one not in unsaid.of_fuel]
    dangers = [one for one in known if one.consequence is Consequence.DANGER]
    asked = dict.fromkeys(_write(one).partition('"')[0].strip() for one in dangers)
    names = [name for name in asked if name]
    more = len(names) - _MOST_DANGERS_NAMED
    names = names[:_MOST_DANGERS_NAMED] + ([f"{more} more"] if more > 0 else [])
    return f"See to the dangers first: {listed(names)}, below." if names else ""


def _named(finding: Finding) -> str:
    return f"{finding.consequence.value}: {finding.rule}"


def _write(finding: Finding) -> str:
    return finding.line_repair.text if finding.line_repair else ""


_Said = tuple[str, str]


def _said(
    checked: CheckedPlan, finding: Finding, offered: _Offered, again: bool = False
) -> list[_Said]:
    """What is said of a finding, each with the word that leads it.

    Said `again` of another line, a slip is told by the line as it is to be.
    """
    line, repair, like = (
        checked.plan.source.line(finding.span.line),
        finding.repair,
        finding.example,
    )
    write, text = "" if id(finding) in offered.asked else _write(finding), finding.text
    opening = [word.rstrip(":") for word in line.casefold().split()[:1]]
    if write and finding.rule in text_fault_pages():
        meant = repair.split("`")[1:2]
        text = "" if again and meant and f"`{meant[0]}`" in text else text
        repair = like = ""  # the line as it is to be says it all
    elif "fill in" not in like and any(map(str.isdigit, like)):
        like = ""  # somebody would copy the numbers of another firing
    elif like.casefold().split() == opening:
        like = ""  # a heading that stands there already
    elif repair.startswith("Write `"):
        like = ""  # what to write is offered
    lines = [
        line + offered.names.get((id(finding), at), "") for at, line in enumerate(write.split("\n"))
    ]
    told = (
        ("", text),
        ("Do", repair),
        *((" ", f"  {line}") if at else ("Write", line) for at, line in enumerate(lines)),
        ("E.g.", like),
    )
    return [one for one in told if one[1].strip()]


def _one(told: _Said, style: Style, indent: str) -> Iterator[str]:
    lead, text = told
    if lead in ("", "Do"):
        yield from style.wrapped(text, f"{indent}{lead:<6}" if lead else indent)
    else:
        yield f"{indent}{lead:<6}{text}"  # a line of a plan stays one line


def _weight(consequence: Consequence, style: Style) -> str:
    return style.weigh(f"{style.cones(consequence)} {consequence.value}", consequence)


def _marked(checked: CheckedPlan, finding: Finding, style: Style, indent: str) -> str:
    """The line that a finding points at, with the place in it marked."""
    line = checked.plan.source.line(finding.span.line)
    width = style.width - len(indent)
    before, place, after = marked_line(line, finding.span, width, style.marks)
    return f"{indent}{before}{style.strong(place)}{after}"


def _by(accepted: Accepted) -> str:
    return f" by {accepted.by.by.value}" if accepted.by.by else ""


def _in_force(studio: InForce, style: Style) -> Iterator[str]:
    """The studio's own file, and what by it is otherwise than in the book."""
    own = f", with rules of its own in {', '.join(studio.own_files)}" if studio.own_files else ""
    text = f"Checked by the studio's own file {studio.file}{own}"
    yield from style.wrapped(f"{text}{':' if studio.changes else '.'}")
    for change in studio.changes:
        told = f"{change.name}: {change.what} ({change.place})"
        yield from style.wrapped(told, "  ", 2)


def _listed(texts: Iterable[str], style: Style) -> Iterator[str]:
    for text in texts:
        yield from style.wrapped(text, "  ", 2)


def _summary(
    checked: Sequence[CheckedPlan], style: Style, stop_at: Consequence | None
) -> Iterator[str]:
    numbers = Counter(finding.consequence for one in checked for finding in one.findings)
    accepted = sum(len(one.accepted) for one in checked)
    stopped = sum(one.stops(stop_at) for one in checked)
    one_stops = len(checked) == 1 and stopped
    head = "Not to be fired as it stands" if one_stops else f"{count(len(checked), 'plan')} checked"
    text = f"{head}: {counts(numbers)}."
    if accepted:
        text += f" {count(accepted, 'finding')} accepted by name."
    yield from style.wrapped(text)
    if stopped and not one_stops:
        what = "lines that can't be read"
        if stop_at:
            what = stop_at.value + ("" if stop_at is Consequence.DANGER else " or worse")
        who = "One of them has" if stopped == 1 else f"{stopped} of them have"
        mend = "it stands" if stopped == 1 else "they stand"
        yield from style.wrapped(f"{who} findings of {what}, and must not be fired as {mend}.")
    if not stopped:
        yield from style.wrapped(SEEN)
    first = next((finding.rule for one in checked for finding in one.findings), None)
    if first:
        yield from style.wrapped(f"To read more about a name: guardcone why {first}")
