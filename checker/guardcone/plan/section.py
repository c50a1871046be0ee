"""Runs the reader of each statement of a section; parts that several sections share."""

from collections.abc import Callable, Mapping
from typing import Any

from attrs import define, field, frozen

from guardcone.language import Keyword, Part, Section, Statement, TextFault
from guardcone.language.grammar import plan_grammar
from guardcone.span import Span, Written
from guardcone.values import (
    Cone,
    ConeForm,
    ConeNumber,
    ConeSeries,
    Numbering,
    Temperature,
)

__all__ = [
    "Faults",
    "Lines",
    "Maturity",
    "Read",
    "SectionFacts",
    "collect",
    "cone_of",
    "field_of",
    "fields_of",
    "last_word",
    "maturity_of",
    "named",
    "only",
    "series_of",
]


# What a plan means that does not say its series: the cones that stand in a pad.
LARGE_CONES = ConeSeries()


@frozen
class Maturity:
    """From where to where a clay or glaze matures: in cones or, some makers, in temperatures."""

    span: Span
    coolest: Written[Cone] | None = None
    hottest: Written[Cone] | None = None
    lowest: Written[Temperature] | None = None
    highest: Written[Temperature] | None = None


def series_of(part: Part, base: ConeSeries = LARGE_CONES) -> Written[ConeSeries] | None:
    """The series that the words of a part name; what they leave open is as in `base`."""
    words = list(part.values(Keyword, "series_words", "series_word"))
    if not words:
        return None
    form, numbering, iron_free = base.form, base.numbering, base.iron_free
    for word in words:
        member = word.value.upper().replace("-", "_")
        form = ConeForm.__members__.get(member, form)
        numbering = Numbering.__members__.get(member, numbering)
        iron_free = iron_free or word.value == "iron-free"
    return Written(ConeSeries(form, iron_free, numbering), words[0].span.to(words[-1].span))


def cone_of(part: Part | None, series: ConeSeries = LARGE_CONES) -> Written[Cone] | None:
    """The cone of a `cone` part; its span is that of the number alone."""
    if part is None:
        return None
    number = part.value(ConeNumber)
    if number is None:
        return None
    own = series_of(part, series)
    return Written(Cone(number.value, own.value if own else series), number.span)


def maturity_of(part: Part | None) -> Maturity | None:
    """The range of a clay or glaze; a single cone is both its ends."""
    if part is None:
        return None
    start, *_, end = (*part.parts("heat"),) * 2
    # The words around the range (`matures`, `to`) are not part of what a finding points at.
    span: Span = start.span.to(end.span)
    coolest = cone_of(start.part("cone"))
    hottest = cone_of(end.part("cone"), coolest.value.series if coolest else LARGE_CONES)
    return Maturity(span, coolest, hottest, start.value(Temperature), end.value(Temperature))


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
    "step": ("segments",),
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

    @property
    def known(self) -> dict[str, Any]:
        """All fields of the section's record but its heading."""
        return {"unreadable": self.unreadable, **self.fields}

    def put(self, name: str, value: Any, words: str = "", span: Span | None = None) -> None:
        """Set a field to what stands at its own span or at `span`; None sets nothing.

        The second value of a field is a fault and is not used; `words` are how people call it.
        """
        if value is None:
            return
        span = span or value.span
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

    def put_keywords(self, part: Part, *names: str) -> None:
        """Set fields to the keyword in the only part of their name."""
        for name in names:
            self.put(name, named(self, part, name))

    def add(self, name: str, value: Any) -> None:
        """Append to a field that holds many."""
        self.fields[name] = (*self.fields.get(name, ()), value)


Faults = list[TextFault]
Read = Callable[[SectionFacts, Statement], None]
# How each statement is read: by a function, or just as the one value of a kind.
Lines = Mapping[str, Read | type[Any]]


def collect(section: Section, faults: Faults, lines: Lines, **known: Any) -> SectionFacts:
    """The fields that the statements of a section fill, and those that are known before."""
    facts = SectionFacts(section, faults, known)
    for statement in section.statements:
        facts.rule = statement.rule
        how = lines.get(statement.rule)
        if isinstance(how, type):
            facts.put(field_of(statement), statement.part.value(how))
        elif how:
            how(facts, statement)
    return facts


def field_of(statement: Statement) -> str:
    """The field of the model that a statement of one value fills."""
    return fields_of(statement.rule)[0]


def last_word(facts: SectionFacts, statement: Statement) -> None:
    """Reads a line that says something in quotes or by a fixed word."""
    facts.put(field_of(statement), statement.part.last(str))


def only(facts: SectionFacts, part: Part, name: str, words: str = "") -> Part | None:
    """The part of this name; a second one in the line is a fault and not used."""
    first, *others = (*part.parts(name), None)
    if first and others[0]:
        facts.fault_doubled(words or name.replace("_", " "), first.span, others[0].span)
    return first


def named(facts: SectionFacts, part: Part, name: str, words: str = "") -> Written[str] | None:
    """The keyword within the only part of this name."""
    found = only(facts, part, name, words)
    return found.value(Keyword) if found else None
