"""The accept lines of a plan meet its findings."""

import re
from collections.abc import Sequence

from attrs import evolve, frozen

from guardcone.checking.run import Finding
from guardcone.language.fillers import is_one_of, is_same_person, names_nobody, says_nothing
from guardcone.language.nearest import nearest
from guardcone.plan.plan import Accept, Plan
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence
from guardcone.span import Span

__all__ = ["Accepted", "apply_accepts"]


@frozen
class Accepted:
    """A finding that an accept line lets stand."""

    finding: Finding
    by: Accept


def apply_accepts(
    plan: Plan, findings: Sequence[Finding], book: RuleBook
) -> tuple[list[Finding], list[Accepted]]:
    """Sort findings into those that stand and those that are accepted.

    Faults of the text and missing sections can't be accepted. A line covers the weight that it
    names and what is lighter; of a rule with several weights it covers the lightest where it names
    none. What has become worse than that stands, and says so. A danger that is accepted is in both
    lists: acknowledged, and still shown; only somebody whom the studio names can do that, and never
    who fires. An accept line with an unknown name, without a telling reason, by somebody who may
    not accept what it meets, or that meets nothing, does nothing and gives a finding.
    """
    accepted: list[Accepted] = []
    own: list[Finding] = []
    standing = list(findings)
    for accept in plan.accepts:
        fault = _fault(accept, book)
        if fault:
            own.append(fault)
            continue
        met = [finding for finding in standing if _meets(accept, finding, plan)]
        if accept.weight is None and met and len(met[0].levels) > 1:
            own.append(_weight_unsaid(accept, met))
        known = {id(one.finding) for one in accepted}
        worse = [one for one in met if not _covers(accept, one) and id(one) not in known]
        standing = [_become_worse(f, accept) if f in worse else f for f in standing]
        met = [finding for finding in met if finding not in worse]
        if any(one.consequence is Consequence.DANGER for one in met):
            refused = _refused(accept, plan, book)
            if refused:
                own.append(refused)
                continue
        accepted += [Accepted(finding, accept) for finding in met]
        if not met and not worse:
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
    return [*(finding for finding in standing if id(finding) not in hidden), *own], accepted


def _covers(accept: Accept, finding: Finding) -> bool:
    """True if the line lets a finding of this weight stand."""
    if accept.weight is not None:
        return Consequence(accept.weight.value).at_least(finding.consequence)
    return len(finding.levels) <= 1 or finding.consequence is finding.levels[-1]


def _become_worse(finding: Finding, accept: Accept) -> Finding:
    weight = accept.weight.value if accept.weight else finding.levels[-1].value
    told = f"Line {accept.span.line} accepts it as {weight}; it is {finding.consequence.value} now."
    return evolve(finding, text=f"{finding.text} {told}")


def _weight_unsaid(accept: Accept, met: Sequence[Finding]) -> Finding:
    """What to write in a line that does not say how bad a finding it lets stand."""
    name, lightest = accept.rule.value, met[0].levels[-1].value
    worst = min((finding.consequence for finding in met), key=lambda weight: weight.rank)
    return Finding(
        "accept-weight-unsaid",
        Consequence.ADVICE,
        accept.rule.span,
        f"This does not say how bad a finding it lets stand; {name} is covered as {lightest} only.",
        f"Write `accept {name} as {worst.value} because ...` if that is meant.",
    )


def _fault(accept: Accept, book: RuleBook) -> Finding | None:
    name = accept.rule.value
    rule = book.rule(name)
    if name in text_fault_pages():
        return _finding(
            "accept-unknown",
            accept.rule.span,
            f"{name} can't be accepted: it is a fault of the text.",
            "Mend the line that has the fault, and take this line away.",
        )
    if rule is None:
        close = nearest(name, [rule.name for rule in book.rules])
        return _finding(
            "accept-unknown",
            accept.rule.span,
            f"There is no rule {name}" + (f"; the nearest is {close}." if close else "."),
            f"Write {close}, if that is meant." if close else "guardcone rules lists all names.",
        )
    if not rule.is_acceptable:
        return _finding(
            "accept-unknown",
            accept.rule.span,
            f"{name} can't be accepted: what is not written down nobody has looked at.",
            "Write what is missing, and take this line away.",
        )
    if says_nothing(accept.reason.value, name):
        return _finding(
            "accept-without-reason",
            accept.reason.span,
            f'"{accept.reason.value}" gives no reason that would tell the next person anything.',
            "Say what is known that makes this finding harmless in this firing.",
        )
    return None


def _refused(accept: Accept, plan: Plan, book: RuleBook) -> Finding | None:
    """Why this accept line does not let a danger stand; None where it does."""
    by, fires = accept.by, plan.by
    if by is None or names_nobody(by.value):
        why = "nobody answers for it by name"
    elif not book.may_accept:
        why = "the studio names nobody who may accept one"
    elif not is_one_of(by.value, book.may_accept):
        why = f"{by.value} is not among those whom {book.studio} names under `may accept`"
    elif fires is None or names_nobody(fires.value):
        why = "the plan does not say who fires, so nobody can tell that it is somebody else"
    elif is_same_person(by.value, fires.value):
        why = f"{by.value} is who fires"
    else:
        return None
    return _finding(
        "accept-not-allowed",
        by.span if by else accept.span,
        f"This accepts a danger, {accept.rule.value}, and {why}: it does nothing.",
        "Mend the danger. Where it can't be mended, somebody decides who answers for the kiln, "
        "does not fire it, and is named under `may accept` in the studio's file.",
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
