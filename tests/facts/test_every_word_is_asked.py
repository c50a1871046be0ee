"""What the language of plans can say is asked by some rule's fact, or is said to be for people."""

import ast
from inspect import getmembers, isclass
from pathlib import Path

from attrs import fields, has

from guardcone.facts import VOCABULARY
from guardcone.language.grammar import plan_grammar, words_of
from guardcone.plan import kiln, load, plan, safety, schedule, witness
from guardcone.plan.section import SectionFacts
from guardcone.values import ConeForm, Numbering

PACKAGE = Path(plan.__file__).parents[1]
# What people write for each other, and no rule asks: that lids are on.
FOR_PEOPLE_WORDS = {"lidded"}
# Likewise that a cut-off is called a back-up: by its kind it is one or is none.
FOR_PEOPLE_FIELDS = {"CutOff.backup"}
# How a record is held together.
HOLDING = set("span heading unreadable source faults otherwise accepts from_studio".split())


def asked_in(*rooms: str) -> set[str]:
    """Every text and every attribute that the code of some rooms names."""
    found = set()
    for file in (file for room in rooms for file in (PACKAGE / room).glob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(node.value)
            elif isinstance(node, ast.Attribute):
                found.add(node.attr)
    return found


def test_every_word_that_is_chosen_is_asked() -> None:
    """Where a line chooses one of several words, each is a fact's word or asked by its name."""
    listed = {word for one in VOCABULARY.subjects for fact in one.facts for word in fact.type.words}
    known = listed | asked_in("facts", "outlook", "plan")
    # Substances have a fact each; the series of a cone is part of the cone.
    facts = {fact.name for one in VOCABULARY.subjects for fact in one.facts}
    known |= {name.removeprefix("contains-") for name in facts if name.startswith("contains-")}
    known |= {one.name.lower().replace("_", "-") for one in (*Numbering, *ConeForm)}
    choices = [
        rule
        for rule, ways in plan_grammar().made_of.items()
        if rule[0] != "_"
        and len(ways) > 1
        and all(way[0].isupper() and not way[1:] for way in ways)
    ]
    unasked = {word for rule in choices for word in words_of(rule)} - known

    assert {"fuel", "state", "substance"} <= set(choices)
    assert unasked == FOR_PEOPLE_WORDS


def test_every_part_of_a_record_is_asked() -> None:
    """Each field that the reader of plans fills is asked by facts or by the forecast."""
    asked = asked_in("facts", "outlook", "checking", "reports")
    asked |= {name.replace("-", "_") for name in asked}
    records = {
        one
        for module in (kiln, load, plan, safety, schedule, witness)
        for _, one in getmembers(module, isclass)
        if has(one) and one.__module__.startswith("guardcone.plan.") and one is not SectionFacts
    }
    unasked = {
        f"{record.__name__}.{one.name}"
        for record in records
        for one in fields(record)
        if one.name not in HOLDING | asked
    }

    assert unasked == FOR_PEOPLE_FIELDS
