"""Room: the reports; here the findings are JSON, for other programs."""

import json
from collections import Counter
from collections.abc import Sequence
from typing import Any

from guardcone.engine.accepting import Accepted
from guardcone.engine.finding import Finding
from guardcone.engine.plan_check import CheckedPlan
from guardcone.rulebook.rule import Consequence
from guardcone.span import Span

__all__ = ["FORMAT", "findings_as_json"]

# Goes up when a key changes its meaning or goes away; new keys may come at any time.
FORMAT = 1


def findings_as_json(checked: Sequence[CheckedPlan], stop_at: Consequence | None) -> str:
    """All findings of some plans.

    Lines and columns count from 1, columns in characters; `end` is the column after the last one.
    """
    numbers = Counter(finding.consequence.value for one in checked for finding in one.findings)
    document = {
        "format": FORMAT,
        "program": "guardcone",
        "plans": [_plan(one, stop_at) for one in checked],
        "counts": {consequence.value: numbers[consequence.value] for consequence in Consequence},
    }
    return json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def _plan(checked: CheckedPlan, stop_at: Consequence | None) -> dict[str, Any]:
    return {
        "file": checked.plan.source.name,
        "name": checked.plan.name.value if checked.plan.name else None,
        "passes": not checked.stops(stop_at),
        "findings": [_finding(finding) for finding in checked.findings],
        "accepted": [_accepted(accepted) for accepted in checked.accepted],
    }


def _finding(finding: Finding) -> dict[str, Any]:
    line = finding.line_repair
    return {
        "rule": finding.rule,
        "consequence": finding.consequence.value,
        "place": _place(finding.span),
        "finding": finding.text,
        "repair": finding.repair,
        "example": finding.example or None,
        "write": {"text": line.text, "where": line.where.value, "place": _place(line.span)}
        if line
        else None,
    }


def _accepted(accepted: Accepted) -> dict[str, Any]:
    return {
        "rule": accepted.finding.rule,
        "place": _place(accepted.finding.span),
        "because": accepted.by.reason.value,
        "by": accepted.by.by.value if accepted.by.by else None,
        "line": accepted.by.span.line,
    }


def _place(span: Span) -> dict[str, int]:
    return {"line": span.line, "start": span.start, "end": span.end}
