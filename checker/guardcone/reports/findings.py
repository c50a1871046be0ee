"""The findings are drawn for people, as one line each, and as JSON for other programs.

The form of a line is that of the GNU Coding Standards, section 4.4: ``file:line:column: message``.
"""

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

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
from guardcone.reports.together import Lacking, hiding, lines_lacking, together
from guardcone.rulebook.rule import Consequence
from guardcone.span import Span

__all__ = ["FORMAT", "findings_as_json", "findings_for_people", "findings_one_a_line"]


def findings_one_a_line(checked: Sequence[CheckedPlan], style: Style) -> str:
    """One line a finding, plan by plan, by line; then one for each thing a studio has changed."""
    return style.page([*_findings(checked), *_changes_in_force(checked)])


def _findings(checked: Sequence[CheckedPlan]) -> Iterator[str]:
    return (
        f"{one.plan.source.name}:{finding.span.line}:{finding.span.start}: "
        f"{finding.consequence.value}: {finding.rule}: {finding.text}"
        for one in checked
        for finding in sorted(one.findings, key=lambda finding: finding.order)
    )


def _changes_in_force(checked: Sequence[CheckedPlan]) -> Iterator[str]:
    for studio in in_force(checked):
        own = f", own rules in {', '.join(studio.own_files)}" if studio.own_files else ""
        yield f"{studio.file}:1:1: studio: in-force: the studio's own file{own}"
        for change in studio.changes:
            place = change.place if ":" in change.place else f"{change.place}:1"
            yield f"{place}:1: studio: {change.name}: {change.what}"


def findings_for_people(
    checked: Sequence[CheckedPlan],
    style: Style,
    stop_at: Consequence | None,
    teach: Mapping[str, str] | None = None,
    unread: int = 0,
    first: int | None = None,
) -> str:
    """The whole report on some plans, ending with the summary and the safety reminder.

    `teach` gives the reason of each rule by name; each is told once, with its first finding. Of
    each plan the `first` so many things are told, and every danger. After all else it is said how
    many files are `unread`, which the error output names.
    """
    untold = dict(teach or {})
    lines: list[str] = []
    for one in checked:
        if one.findings or one.accepted:
            lines += _plan(one, style, untold, first)
    for studio in in_force(checked):
        lines += [*_in_force(studio, style), ""]
    lines += _summary(checked, style, stop_at)
    lines += ["", *style.wrapped(reminder())]
    if unread:
        files = count(unread, "file or folder", "files or folders")
        them = "it" if unread == 1 else "them"
        lines += ["", f"{files} could not be read, and nothing above is about {them}."]
    return style.page(lines)


def _plan(
    checked: CheckedPlan, style: Style, untold: dict[str, str], first: int | None
) -> Iterator[str]:
    name = checked.plan.name.value if checked.plan.name else "a plan without a name"
    yield style.strong(name)
    yield checked.plan.source.name
    acknowledged = {id(one.finding): one for one in checked.accepted}
    if hiding(checked):
        text = (
            "Until each line of the schedule can be read its firing is not computed, and more may "
            "be found then."
        )
        yield from style.wrapped(text)
    lacking = {} if untold else lines_lacking(checked)
    left: Counter[Consequence] = Counter()
    for at, told in enumerate(together(checked, lacking)):
        findings = told.findings if isinstance(told, Lacking) else told
        weights = [one.consequence for one in findings]
        if first is not None and at >= first and Consequence.DANGER not in weights:
            left.update(weights)
            continue
        yield ""
        if isinstance(told, Lacking):
            yield from _lacking(told, style)
            continue
        finding, *others = told
        if others:
            yield from _alike(checked, told, style)
        else:
            asked_below = id(finding) in lacking
            yield from _finding(checked, finding, style, asked_below)
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


def _finding(
    checked: CheckedPlan, finding: Finding, style: Style, asked_below: bool
) -> Iterator[str]:
    """One finding; where its line is asked for below with others it points at none."""
    yield f"{_weight(finding, style)}, line {finding.span.line}: {finding.rule}"
    if not asked_below:
        yield _marked(checked, finding, style, "     ")
        yield ""
    for told in _said(finding):
        if not (asked_below and told[0] == "Write"):
            yield from _one(told, style, "     ")


def _acknowledged(acknowledged: Accepted | None, style: Style) -> Iterator[str]:
    if acknowledged:
        where, reason = acknowledged.by.span.line, acknowledged.by.reason.value
        text = f"Acknowledged{_by(acknowledged)} in line {where}: {reason}"
        yield from style.wrapped(text, "     ")


_MOST_LINES = 5


def _alike(checked: CheckedPlan, findings: Sequence[Finding], style: Style) -> Iterator[str]:
    """Findings of one rule and weight: what is the same of all is said once."""
    numbers = [str(finding.span.line) for finding in findings]
    lines = list(dict.fromkeys(numbers))
    where = f"{len(lines)} lines" if len(lines) > _MOST_LINES else f"lines {listed(lines)}"
    where = where if len(lines) > 1 else f"line {numbers[0]}"
    yield f"{_weight(findings[0], style)}, {where}: {findings[0].rule}"
    common = [one for one in _said(findings[0]) if all(one in _said(each) for each in findings)]
    width = max(map(len, numbers))
    for number, finding in zip(numbers, findings, strict=True):
        yield _marked(checked, finding, style, f"     {number:>{width}}  ")
        for told in _said(finding):
            if told not in common:
                yield from _one(told, style, " " * (width + 7))
    if common:
        yield ""
    for told in common:
        yield from _one(told, style, "     ")


def _lacking(lacking: Lacking, style: Style) -> Iterator[str]:
    """What a section leaves unsaid, as lines to copy, each with its weight and the rule's name."""
    weight, place = _weight(lacking.findings[0], style), lacking.place
    told, missing = "", lacking.missing
    if missing:
        yield f"{_weight(missing, style)}, line {missing.span.line}: {missing.rule}"
        told = f"{missing.text} "
    else:
        where = f", line {place.line}" if place else ""
        yield f"{weight}{where}: what the {lacking.section} section lacks"
    told += "Copy these lines into the plan, look, and write what you find in place of each "
    yield from style.wrapped(f'{told}"fill in ...":', "     ")
    yield ""
    if place is None:
        yield f"     {lacking.heading}"
    for finding in lacking.findings:
        assert finding.line_repair
        *lines, last = finding.line_repair.text.split("\n")
        yield from (f"       {line}" for line in lines)
        yield f"       {last}  # {finding.consequence.value}: {finding.rule}"


_Said = tuple[str, str]


def _said(finding: Finding) -> list[_Said]:
    """What is said of a finding, each with the word that leads it."""
    write = finding.line_repair.text if finding.line_repair else ""
    told = (
        ("", finding.text),
        ("Do", finding.repair),
        *(
            (" ", f"  {line}") if at else ("Write", line)
            for at, line in enumerate(write.split("\n"))
        ),
        ("Like", finding.example),
    )
    return [one for one in told if one[1].strip()]


def _one(told: _Said, style: Style, indent: str) -> Iterator[str]:
    lead, text = told
    if lead in ("", "Do"):
        yield from style.wrapped(text, f"{indent}{lead:<6}" if lead else indent)
    else:
        yield f"{indent}{lead:<6}{text}"  # a line of a plan stays one line


def _weight(finding: Finding, style: Style) -> str:
    consequence = finding.consequence
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


def _summary(
    checked: Sequence[CheckedPlan], style: Style, stop_at: Consequence | None
) -> Iterator[str]:
    numbers = Counter(finding.consequence for one in checked for finding in one.findings)
    accepted = sum(len(one.accepted) for one in checked)
    text = f"{count(len(checked), 'plan')} checked: {counts(numbers)}."
    if accepted:
        text += f" {count(accepted, 'finding')} accepted by name."
    yield from style.wrapped(text)
    stopped = sum(one.stops(stop_at) for one in checked)
    if stopped:
        what = "lines that can't be read"
        if stop_at:
            what = stop_at.value + ("" if stop_at is Consequence.DANGER else " or worse")
        who = "It has" if len(checked) == 1 else "One of them has" if stopped == 1 else ""
        who = who or f"{stopped} of them have"
        mend = "it" if stopped == 1 else "them"
        yield from style.wrapped(f"{who} findings of {what}: mend {mend} before you fire.")
    else:
        yield from style.wrapped(SEEN)
    first = next((finding.rule for one in checked for finding in one.findings), None)
    if first:
        yield from style.wrapped(f"To read more about a name: guardcone why {first}")


# -- as JSON ------------------------------------------------------------------------------------

# Goes up when a key changes its meaning or goes away; new keys may come at any time.
FORMAT = 2


def findings_as_json(checked: Sequence[CheckedPlan], stop_at: Consequence | None) -> str:
    """All findings of some plans.

    Lines and columns count from 1, columns in characters; `end` is the column after the last one.
    A plan `stops` where it must be mended before it is fired. Every letter beyond ASCII is written
    by its number, so that a name is whole, nothing in it acts on a terminal, and any output can
    show it.
    """
    numbers = Counter(finding.consequence.value for one in checked for finding in one.findings)
    document = {
        "format": FORMAT,
        "program": "guardcone",
        "plans": [_plan_keys(one, stop_at) for one in checked],
        "studios": [_studio_keys(studio) for studio in in_force(checked)],
        "counts": {consequence.value: numbers[consequence.value] for consequence in Consequence},
        "reminder": f"{SEEN} {reminder()}",
    }
    return json.dumps(document, indent=2, allow_nan=False) + "\n"


def _plan_keys(checked: CheckedPlan, stop_at: Consequence | None) -> dict[str, Any]:
    return {
        "file": checked.plan.source.name,
        "name": checked.plan.name.value if checked.plan.name else None,
        "studio": checked.book.studio or None,
        "stops": checked.stops(stop_at),
        "findings": [_finding_keys(finding) for finding in checked.findings],
        "accepted": [_accepted_keys(accepted) for accepted in checked.accepted],
    }


def _studio_keys(studio: InForce) -> dict[str, Any]:
    return {
        "file": studio.file,
        "own_rules": list(studio.own_files),
        "may_accept": list(studio.may_accept),
        "changes": [
            {"name": change.name, "what": change.what, "place": change.place}
            for change in studio.changes
        ],
    }


def _finding_keys(finding: Finding) -> dict[str, Any]:
    line = finding.line_repair
    return {
        "rule": finding.rule,
        "consequence": finding.consequence.value,
        "levels": [level.value for level in finding.levels],
        "unknown_levels": [level.value for level in finding.unknown],
        "case": finding.case or None,
        "place": _place(finding.span),
        "finding": finding.text,
        "repair": finding.repair,
        "example": finding.example or None,
        "write": {"text": line.text, "where": line.where.value, "place": _place(line.span)}
        if line
        else None,
    }


def _accepted_keys(accepted: Accepted) -> dict[str, Any]:
    return {
        "rule": accepted.finding.rule,
        "consequence": accepted.finding.consequence.value,
        "place": _place(accepted.finding.span),
        "because": accepted.by.reason.value,
        "by": accepted.by.by.value if accepted.by.by else None,
        "line": accepted.by.span.line,
    }


def _place(span: Span) -> dict[str, int]:
    return {"line": span.line, "start": span.start, "end": span.end}
