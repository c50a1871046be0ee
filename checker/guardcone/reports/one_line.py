"""Room: the reports; here each finding is one line, for editors and for searching.

The form is that of the GNU Coding Standards, section 4.4: ``file:line:column: message``.
"""

from collections.abc import Sequence

from guardcone.engine.plan_check import CheckedPlan
from guardcone.reports.style import Style

__all__ = ["findings_one_a_line"]


def findings_one_a_line(checked: Sequence[CheckedPlan], style: Style) -> str:
    """One line a finding, plan by plan, by line; empty if there is none."""
    lines = [
        f"{one.plan.source.name}:{finding.span.line}:{finding.span.start}: "
        f"{finding.consequence.value}: {finding.rule}: {finding.text}"
        for one in checked
        for finding in sorted(one.findings, key=lambda finding: finding.order)
    ]
    return style.plain("".join(f"{line}\n" for line in lines))
