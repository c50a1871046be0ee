"""What is right about the cones and the schedule of a plan, as far as rules were asked of them.

It follows from which rules were asked and had nothing to tell; no opinion stands here.
"""

from collections.abc import Iterator

from guardcone.checking.plans import CheckedPlan
from guardcone.condition import typed
from guardcone.language.nearest import listed
from guardcone.plan.witness import WitnessSet
from guardcone.rulebook.rule import Consequence, Rule

__all__ = ["right_as_written"]

_OF_CONES, _OF_PEAK, _OF_LOAD = "rules/witness.yaml", "rules/cones.yaml", "rules/load.yaml"
# What the rules of some files are about.
_FILES = {
    "climbs": ("rules/drying.yaml", "rules/climbing.yaml"),
    "peak": (_OF_PEAK,),
    "cooling": ("rules/cooling.yaml",),
}
_PACK = ("guide", "target", "guard")


def right_as_written(checked: CheckedPlan) -> str:
    """One sentence for people on cones and schedule, never on safety; empty where there is none.

    There is none while a line of the plan can't be read, or a danger or a loss of any sort stands;
    one that is accepted or told by another stands all the same.
    """
    rules = {rule.name: rule for rule in checked.book.rules}
    accepted = [one.finding for one in checked.accepted]
    found = [one for one in (*checked.findings, *accepted) if one.rule in rules]
    if checked.plan.faults or any(one.consequence.at_least(Consequence.LOSS) for one in found):
        return ""
    silent = {rules[one.rule] for one in checked.silenced if one.rule in rules}
    if any(rule.consequence.at_least(Consequence.LOSS) for rule in silent):
        return ""
    doubted = {rules[one.rule].file for one in found if one.consequence is Consequence.DOUBT}
    doubted |= {rule.file for rule in silent}
    told = {rules[one.rule].file for one in found} | doubted
    if _OF_LOAD in doubted:
        # A peak that suits the target is no good news where the target may not suit the load.
        told.add(_OF_PEAK)
    parts, subject = [], "Schedule"
    if _OF_CONES not in doubted and checked.plan.witness_sets and _are_in_order(checked):
        parts.append(_cones(checked.plan.witness_sets))
        subject = "Cones and schedule"
    if quiet := [*_quiet(checked, told)]:
        parts.append(f"the rules on {listed(quiet)} that could be asked found nothing")
    return f"{subject} alone, and no leave to fire: {'; '.join(parts)}." if parts else ""


def _quiet(checked: CheckedPlan, told: set[str]) -> Iterator[str]:
    """What there are rules on that were asked and have nothing to tell."""
    for name, files in _FILES.items():
        rules = [rule.name for rule in checked.book.rules if rule.file in files]
        if not checked.nothing_from.isdisjoint(rules) and told.isdisjoint(files):
            yield name


def _are_in_order(checked: CheckedPlan) -> bool:
    """True where each rule was asked that asks of nothing but guide, target and guard."""
    rules = [rule.name for rule in checked.book.rules if _asks_of_the_pack(rule)]
    return bool(rules) and checked.nothing_from.issuperset(rules)


def _asks_of_the_pack(rule: Rule) -> bool:
    """True for a rule of witness sets that asks of guide, target and guard alone."""
    if rule.concerns != "witness set":
        return False
    facts = {fact for level in rule.levels for fact in _facts(level.condition)}
    return facts <= {*_PACK}


def _facts(node: typed.Value) -> Iterator[str]:
    """The facts that a condition asks of the thing in question; a dash for all else."""
    match node:
        case typed.FactOf(owner=typed.It(), fact=fact):
            yield fact
        case typed.AllOf(parts=parts) | typed.AnyOf(parts=parts):
            for part in parts:
                yield from _facts(part)
        case typed.Operation(operands=operands):
            for operand in operands:
                yield from _facts(operand)
        case typed.Missing(value=value):
            yield from _facts(value)
        case _:
            yield "-"


def _cones(sets: tuple[WitnessSet, ...]) -> str:
    """The cones of the sets in words, once where they are the same in all."""
    packs = {
        ", ".join(f"{role} {cone.value.number}" for role in _PACK if (cone := getattr(one, role)))
        for one in sets
    }
    where = {1: "in the witness set", 2: "in both witness sets"}
    told = where.get(len(sets), f"in all {len(sets)} witness sets")
    pack = packs.pop() if len(packs) == 1 else "guide, target and guard"
    return f"{pack} stand in order {told}"
