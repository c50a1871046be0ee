"""Each finding is one line, for editors and for searching.

The form is that of the GNU Coding Standards, section 4.4: ``file:line:column: message``.
"""

from collections.abc import Iterator, Sequence

from guardcone.checking.in_force import in_force
from guardcone.checking.plans import CheckedPlan
from guardcone.reports.style import Style

__all__ = ["findings_one_a_line"]


def findings_one_a_line(checked: Sequence[CheckedPlan], style: Style) -> str:
    """One line a finding, plan by plan, by line; then one for each thing a studio has changed."""
    return style.page([*_findings(checked), *_in_force(checked)])


def _findings(checked: Sequence[CheckedPlan]) -> Iterator[str]:
    return (
        f"{one.plan.source.name}:{finding.span.line}:{finding.span.start}: "
        f"{finding.consequence.value}: {finding.rule}: {finding.text}"
        for one in checked
        for finding in sorted(one.findings, key=lambda finding: finding.order)
    )


def _in_force(checked: Sequence[CheckedPlan]) -> Iterator[str]:
    for studio in in_force(checked):
        own = f", own rules in {', '.join(studio.own_files)}" if studio.own_files else ""
        yield f"{studio.file}:1:1: studio: in-force: the studio's own file{own}"
        for change in studio.changes:
            place = change.place if ":" in change.place else f"{change.place}:1"
            yield f"{place}:1: studio: {change.name}: {change.what}"
