"""The findings are written as JSON for other programs."""

import json
from collections import Counter
from collections.abc import Sequence
from typing import Any

from guardcone.checking.accepts import Accepted
from guardcone.checking.plans import CheckedPlan, InForce, in_force
from guardcone.checking.run import Finding
from guardcone.reports.page import SEEN, reminder
from guardcone.reports.to_confirm import looks_as_json
from guardcone.rulebook.rule import Consequence
from guardcone.span import Span

__all__ = ["FORMAT", "findings_as_json"]

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
        "to_confirm": looks_as_json(checked.plan),
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
