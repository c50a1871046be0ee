"""Runs the reader of each statement of a section; the readers that many statements share."""

from collections.abc import Callable
from typing import Any

from guardcone.language import Part, Section, Statement, TextFault
from guardcone.plan.facts_of_section import SectionFacts
from guardcone.plan.shared_parts import keyword_of
from guardcone.span import Written

__all__ = ["Faults", "Read", "collect", "collect_into", "named", "only", "simple"]

Faults = list[TextFault]
Read = Callable[[SectionFacts, Statement], None]


def collect(section: Section, faults: Faults, readers: dict[str, Read]) -> SectionFacts:
    """Run the reader of each statement; those without one hold a single value of their name."""
    facts = SectionFacts(section, faults)
    collect_into(facts, readers)
    return facts


def collect_into(facts: SectionFacts, readers: dict[str, Read]) -> None:
    """The same for facts of which some are known."""
    for statement in facts.section.statements:
        reader = readers.get(statement.rule)
        if reader:
            facts.rule = statement.rule
            reader(facts, statement)


def simple(kind: type[Any], name: str = "") -> Read:
    """A reader for a statement that is a word and one value of this kind."""

    def read(facts: SectionFacts, statement: Statement) -> None:
        facts.put_written(name or statement.rule, statement.part.value(kind))

    return read


def only(facts: SectionFacts, part: Part, name: str, words: str = "") -> Part | None:
    """The part of this name; a second one in the line is a fault and not used."""
    first, *others = (*part.parts(name), None)
    if first and others[0]:
        facts.fault_doubled(words or name.replace("_", " "), first.span, others[0].span)
    return first


def named(facts: SectionFacts, part: Part, name: str, words: str = "") -> Written[str] | None:
    """The keyword within the only part of this name."""
    return keyword_of(only(facts, part, name, words))
