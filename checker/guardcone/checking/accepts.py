"""The accept lines of a plan meet its findings."""

import re
from collections.abc import Sequence

from attrs import evolve, frozen

from guardcone.checking.run import Finding
from guardcone.language.meanings import is_one_of, is_same_person, names_nobody, says_nothing
from guardcone.language.nearest import nearest
from guardcone.plan.plan import Accept, Plan
from guardcone.plan.witness import Reading, WitnessSet
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.rule import Consequence

__all__ = ["Accepted", "apply_accepts"]

_DOUBT = Consequence.DOUBT


@frozen(repr=False)
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
        covered = [finding for finding in met if finding not in worse]
        if any(one.consequence is Consequence.DANGER for one in covered):
            refused = _refused(accept, plan, book)
            if refused:
                own.append(refused)
                continue
        accepted += [Accepted(finding, accept) for finding in covered]
        if not met:
            place = f' at "{accept.place.value}"' if accept.place else ""
            text = f"This accepts {accept.rule.value}{place}, and the plan has no such finding."
            own.append(Finding("accept-unused", _DOUBT, accept.span, text, "Take the line away."))
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
    """What is wrong with the line itself, whatever is found."""
    name, reason = accept.rule.value, accept.reason
    rule = book.rule(name)
    if name in text_fault_pages():
        text = f"{name} can't be accepted: it is a fault of the text."
        repair = "Mend the line that has the fault, and take this line away."
    elif rule is None:
        close = nearest(name, [rule.name for rule in book.rules])
        text = f"There is no rule {name}" + (f"; the nearest is {close}." if close else ".")
        repair = (
            f"Write {close}, if that is meant." if close else "guardcone rules lists all names."
        )
    elif not rule.is_acceptable:
        text = f"{name} can't be accepted: what is not written down nobody has looked at."
        repair = "Write what is missing, and take this line away."
    elif says_nothing(reason.value, name):
        text = f'"{reason.value}" gives no reason that would tell the next person anything.'
        repair = "Say what is known that makes this finding harmless in this firing."
        return Finding("accept-without-reason", _DOUBT, reason.span, text, repair)
    else:
        return None
    return Finding("accept-unknown", _DOUBT, accept.rule.span, text, repair)


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
    return Finding(
        "accept-not-allowed",
        _DOUBT,
        by.span if by else accept.span,
        f"This accepts a danger, {accept.rule.value}, and {why}: it does nothing.",
        "Mend the danger. Where it can't be mended, somebody decides who answers for the kiln, "
        "does not fire it, and is named under `may accept` in the studio's file.",
    )


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
    names = {" ".join(name.split()) for name in re.findall(r"[\"“„]([^\"“”„]*)[\"“”]", line)}
    named: tuple[WitnessSet | Reading, ...] = (*plan.witness_sets, *plan.readings)
    headed = [(one.heading.line, one.place.value if one.place else "") for one in named]
    sections = (plan, plan.kiln, plan.load, plan.schedule, plan.safety)
    headed += [(section.heading.line, "") for section in sections if section is not None]
    above = [pair for pair in headed if pair[0] <= finding.span.line]
    _, name = max(above, key=lambda pair: pair[0], default=(0, ""))
    return names | {name} if name else names
