"""Room: the engine; here the accept lines of a plan meet its findings."""

import re
from collections.abc import Collection, Sequence

from attrs import frozen

from guardcone.engine.finding import Finding
from guardcone.language.nearest import nearest
from guardcone.plan.model import Accept, Plan
from guardcone.rulebook.reasons import says_nobody, says_none, says_nothing
from guardcone.rulebook.rule import Consequence
from guardcone.span import Span

__all__ = ["Accepted", "apply_accepts"]


@frozen
class Accepted:
    """A finding that an accept line lets stand."""

    finding: Finding
    by: Accept


def apply_accepts(
    plan: Plan, findings: Sequence[Finding], known: Collection[str], unacceptable: Collection[str]
) -> tuple[list[Finding], list[Accepted]]:
    """Sort findings into those that stand and those that are accepted.

    `known` are the names of all rules; those in `unacceptable` (faults of the text) can't be
    accepted. A danger that is accepted is in both lists: acknowledged, and still shown; only a
    person who is named can do that. An accept line with an unknown name, without a telling reason,
    without the person that a danger asks for, or that meets nothing, does nothing and gives a
    finding.
    """
    accepted: list[Accepted] = []
    own: list[Finding] = []
    for accept in plan.accepts:
        fault = _fault(accept, known, unacceptable)
        if fault:
            own.append(fault)
            continue
        met = [finding for finding in findings if _meets(accept, finding, plan)]
        if any(one.consequence is Consequence.DANGER for one in met) and not _has_person(accept):
            own.append(_nameless(accept))
            continue
        accepted += [Accepted(finding, accept) for finding in met]
        if not met:
            place = f' at "{accept.place.value}"' if accept.place else ""
            own.append(
                _finding(
                    "accept-unused",
                    accept.span,
                    f"This accepts {accept.rule.value}{place}, and the plan has no such finding.",
                    "Take the line away.",
                )
            )
    hidden = {
        id(one.finding) for one in accepted if one.finding.consequence is not Consequence.DANGER
    }
    standing = [finding for finding in findings if id(finding) not in hidden]
    return [*standing, *own], accepted


def _fault(accept: Accept, known: Collection[str], unacceptable: Collection[str]) -> Finding | None:
    name = accept.rule.value
    if name in unacceptable:
        return _finding(
            "accept-unknown",
            accept.rule.span,
            f"{name} can't be accepted: it is a fault of the text.",
            "Mend the line that has the fault, and take this line away.",
        )
    if name not in known:
        close = nearest(name, known)
        return _finding(
            "accept-unknown",
            accept.rule.span,
            f"There is no rule {name}" + (f"; the nearest is {close}." if close else "."),
            f"Write {close}, if that is meant." if close else "guardcone rules lists all names.",
        )
    if says_nothing(accept.reason.value, name):
        return _finding(
            "accept-without-reason",
            accept.reason.span,
            f'"{accept.reason.value}" gives no reason that would tell the next person anything.',
            "Say what is known that makes this finding harmless in this firing.",
        )
    return None


def _has_person(accept: Accept) -> bool:
    by = accept.by
    return by is not None and not says_none(by.value) and not says_nobody(by.value)


def _nameless(accept: Accept) -> Finding:
    return _finding(
        "accept-without-name",
        accept.by.span if accept.by else accept.span,
        f"This accepts a danger, {accept.rule.value}, and nobody answers for it by name: "
        "it does nothing.",
        "Mend the danger; or let the person who answers for the kiln decide, and write who: "
        'by "studio manager".',
    )


def _finding(rule: str, span: Span, text: str, repair: str) -> Finding:
    return Finding(rule, Consequence.DOUBT, span, text, repair)


def _meets(accept: Accept, finding: Finding, plan: Plan) -> bool:
    if finding.rule != accept.rule.value:
        return False
    return accept.place is None or accept.place.value in places_of(finding, plan)


def places_of(finding: Finding, plan: Plan) -> set[str]:
    """The names by which a person would call the place of a finding.

    They are the witness set, reading or kiln in whose section it points, and every name in quotes
    on its line.
    """
    line = plan.source.line(finding.span.line)
    names = {
        re.sub(r"\s+", " ", name).strip() for name in re.findall(r"[\"“„]([^\"“”„]*)[\"“”]", line)
    }
    headed: list[tuple[Span, str | None]] = [
        *((one.heading, one.place.value if one.place else None) for one in plan.witness_sets),
        *((one.heading, one.place.value if one.place else None) for one in plan.readings),
    ]
    sections = (plan, plan.kiln, plan.load, plan.schedule, plan.safety)
    headed += [(section.heading, None) for section in sections if section is not None]
    above = [pair for pair in headed if pair[0].line <= finding.span.line]
    if above:
        _, name = max(above, key=lambda pair: pair[0].line)
        names |= {name} if name else set()
    return names
