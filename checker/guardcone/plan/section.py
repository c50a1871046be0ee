"""Runs the reader of each statement of a section, and notices what is said twice."""

from collections.abc import Callable
from typing import Any

from attrs import define, field

from guardcone.language import Part, Section, Statement, TextFault
from guardcone.language.grammar import plan_grammar
from guardcone.plan.cones_and_dates import keyword_of
from guardcone.span import Span, Written

__all__ = [
    "Faults",
    "Read",
    "SectionFacts",
    "collect",
    "collect_into",
    "fields_of",
    "named",
    "only",
    "simple",
]


# The fields that each statement rule fills, where they are not just the rule's own name.
_FIELDS = {
    "witness_series": ("series",),
    "witness_guide": ("guide",),
    "witness_guard": ("guard",),
    "witness_extra": ("extras",),
    "witness_order": ("order",),
    "stance": ("lean", "upright", "facing", "setting_out"),
    "pad": ("pad", "pricking", "pad_clay", "no_pad"),
    "seen": ("seen", "unseen"),
    "kiln_build": ("fuel", "loading", "setting", "draught", "volume", "power"),
    "rated": ("rated_cone", "rated_temperature"),
    "cools": ("cools_from", "cools_to", "cools_in"),
    "thermocouple": ("thermocouple", "thermocouple_limits"),
    "spread": ("spread_cones", "spread_temperature"),
    "clay": ("clays",),
    "glaze": ("glazes",),
    "ware": ("wares",),
    "begin": ("begins",),
    "climb": ("segments",),
    "hold": ("segments",),
    "cool": ("segments",),
    "open": ("opens",),
    "reduce": ("reductions",),
    "watch": ("watches",),
    "starts": ("starts_on", "starts_at"),
    "note": ("notes",),
    "read_guide": ("guide",),
    "read_target": ("target",),
    "read_guard": ("guard",),
}


# Lines of several things, which may begin with any of them.
_BEGIN_ANYHOW = frozenset({"kiln_build", "stance"})


def fields_of(rule: str) -> tuple[str, ...]:
    """The fields of the model that a statement rule fills."""
    return _FIELDS.get(rule, (rule,))


@define
class SectionFacts:
    """The fields gathered so far, and the faults found on the way; `rule` is of the line read."""

    section: Section
    faults: list[TextFault]
    fields: dict[str, Any] = field(factory=dict)
    rule: str = ""
    _said: dict[str, Span] = field(factory=dict)

    @property
    def unreadable(self) -> frozenset[str]:
        """The fields whose line is faulty, unless a good line gives them as well."""
        names = {name for rule in self.section.unreadable for name in fields_of(rule)}
        lists = {"segments", "clays", "glazes", "wares", "watches", "extras"}
        return frozenset(name for name in names if name in lists or self.fields.get(name) is None)

    def put(self, name: str, value: Any, span: Span, words: str = "") -> None:
        """Set a field; the second value of a field is a fault and is not used."""
        if value is None:
            return
        if name in self._said:
            self.fault_doubled(words or name.replace("_", " "), self._said[name], span)
            return
        self._said[name] = span
        self.fields[name] = value

    def fault_doubled(self, words: str, first: Span, second: Span) -> None:
        """Tell that `second` says again what `first` has said."""
        doubled = [fault for fault in self.faults[-1:] if fault.rule == "fact-doubled"]
        if doubled and doubled[0].span.line == second.line:
            return  # one line that says several things again is one fault
        if first.line == second.line:
            found = f"The line gives the {words} twice; the first is used."
            repair = "Keep one of the two."
        else:
            found = f"{self._again(words)} is said again; "
            found += f"line {first.line} says it first, and that is used."
            repair = "Keep one of the two lines."
        self.faults.append(TextFault("fact-doubled", second, found, repair, first=first))

    def _again(self, words: str) -> str:
        """What is said again: by the word its line begins with, or by the name of the value."""
        grammar = plan_grammar()
        terminals = grammar.terminals_of(self.rule) if self.rule else ()
        if not terminals or self.rule in _BEGIN_ANYHOW or terminals[0] not in grammar.words:
            return f"The {words}"
        return f"`{grammar.words[terminals[0]][0]}`"

    def put_written(self, name: str, written: Written[Any] | None, words: str = "") -> None:
        """Set a field to a written value, if there is one."""
        if written is not None:
            self.put(name, written, written.span, words)

    def add(self, name: str, value: Any) -> None:
        """Append to a field that holds many."""
        self.fields[name] = (*self.fields.get(name, ()), value)


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
