"""What is right about the cones and the schedule of a plan, as far as rules were asked of them.

It follows from which rules were asked and had nothing to tell; no opinion stands here.
"""

from collections.abc import Iterator

from guardcone.checking.plans import CheckedPlan
from guardcone.condition import typed
from guardcone.plan.witness import WitnessSet
from guardcone.rulebook.rule import Consequence, Rule

__all__ = ["right_as_written"]

_OF_CONES, _OF_SAFETY = "rules/witness.yaml", "rules/safety.yaml"
_OF_LOAD, _OF_PEAK = "rules/load.yaml", "rules/cones.yaml"
# What the rules of some files are about.
_FILES = {
    "on the climbs": ("rules/drying.yaml", "rules/climbing.yaml"),
    "on the peak": (_OF_PEAK,),
    "on the cooling": ("rules/cooling.yaml",),
}
_PACK = ("guide", "target", "guard")


def right_as_written(checked: CheckedPlan) -> str:
    """One sentence for people on cones and schedule, never on safety; empty where there is none.

    There is none while a line of the plan can't be read, or a danger or a loss stands that is not
    of the safety section; one that is accepted or told by another stands all the same.
    """
    rules = {rule.name: rule for rule in checked.book.rules}
    accepted = [one.finding for one in checked.accepted]
    found = [one for one in (*checked.findings, *accepted) if one.rule in rules]
    grave = (one for one in found if one.consequence.at_least(Consequence.LOSS))
    if checked.plan.faults or any(rules[one.rule].file != _OF_SAFETY for one in grave):
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
    parts = []
    if _OF_CONES not in doubted and checked.plan.witness_sets and _are_in_order(checked):
        parts.append(_cones(checked.plan.witness_sets))
    if quiet := [*_quiet(checked, told)]:
        parts.append(f"rules asked that found nothing: {', '.join(quiet)}")
    return f"Cones and schedule alone, and no leave to fire: {'; '.join(parts)}." if parts else ""


def _quiet(checked: CheckedPlan, told: set[str]) -> Iterator[str]:
    """What rules have nothing to tell of, with how many were asked and how many could not be."""
    could = "could not be asked"
    for name, files in _FILES.items():
        rules = [rule.name for rule in checked.book.rules if rule.file in files]
        asked = len(checked.nothing_from.intersection(rules))
        if asked and told.isdisjoint(files):
            rest = f" ({len(rules) - asked} {could})" if asked < len(rules) else ""
            yield f"{asked} {name}{rest}"
            could = "not" if rest else could


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
