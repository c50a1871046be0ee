"""Runs the reader of each statement of a section; parts that several sections share."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from attrs import define, evolve, field, fields, frozen, has

from guardcone.documents import document_rows
from guardcone.language import Keyword, Part, Section, Statement, TextFault
from guardcone.language.grammar import plan_grammar
from guardcone.span import Span, Written
from guardcone.values import (
    Cone,
    ConeForm,
    ConeNumber,
    ConeSeries,
    Numbering,
    Quantity,
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
    "fields_of",
    "last_word",
    "maturity_of",
    "named",
    "only",
    "out_of_sense",
    "placed",
    "series_of",
]


# What a plan means that does not say its series: the cones that stand in a pad.
LARGE_CONES = ConeSeries()


@frozen(repr=False)
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


# Lines of several things, which may begin with any of them.
_BEGIN_ANYHOW = frozenset({"kiln_build", "stance"})


# Fields of which a faulty line leaves something out even where a good line fills them.
_NEVER_WHOLE = frozenset({"segments", "clays", "glazes", "wares", "watches", "extras", "series"})


@define(repr=False)
class SectionFacts:
    """The fields gathered so far, and the faults found on the way.

    `rule` and `statement` are the name and the place of the statement that is read.
    """

    section: Section
    faults: list[TextFault]
    lines: "Lines" = field(factory=dict)
    fields: dict[str, Any] = field(factory=dict)
    rule: str = ""
    statement: Span | None = None
    _said: dict[str, Span] = field(factory=dict)

    @property
    def field(self) -> str:
        """The field that the line read fills, or the first of them."""
        return (*self.lines[self.rule][1:], self.rule)[0]

    @property
    def unreadable(self) -> frozenset[str]:
        """The fields whose line is faulty, unless a good line gives them as well."""
        return frozenset(
            name
            for name in fields_of(self.section.unreadable, self.lines)
            if name in _NEVER_WHOLE or self.fields.get(name) is None
        )

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
        here = self.statement
        if doubled and here and doubled[0].span in here and second in here:
            return  # one statement that says several things again is one fault
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
# How each statement is read, by a function or just as the one value of a kind, and the fields of
# the record that it fills where they are not just the rule's own name.
Lines = Mapping[str, tuple[Read | type[Any] | None, *tuple[str, ...]]]


def fields_of(rules: Iterable[str], lines: Lines) -> set[str]:
    """The fields of the record that these statements fill."""
    return {name for rule in rules for name in lines.get(rule, ())[1:] or (rule,)}


def collect(section: Section, faults: Faults, lines: Lines, **known: Any) -> SectionFacts:
    """The fields that the statements of a section fill, and those that are known before."""
    facts = SectionFacts(section, faults, lines, known)
    for statement in section.statements:
        facts.rule, facts.statement = statement.name, statement.span
        faults += out_of_sense(statement)
        how, *_ = lines.get(statement.name, (None,))
        if isinstance(how, type):
            facts.put(facts.field, statement.value(how))
        elif how:
            how(facts, statement)
    return facts


def out_of_sense(part: Part) -> Iterator[TextFault]:
    """Values within a statement that can be read, and that nobody can mean there.

    What is sensible where stands in rules/tables/sensible.csv, in base units. The value is used all
    the same, so that nothing is hidden by it.
    """
    for child in part.children:
        if isinstance(child, Part):
            yield from out_of_sense(child)
            continue
        limits = _sensible().get((part.name, type(child.value).__name__))
        amount = child.value.base if isinstance(child.value, Quantity) else child.value
        if limits and isinstance(amount, int | float) and not limits[0] <= amount <= limits[1]:
            size = "large" if amount > limits[1] else "small"
            found = f"{child.value} is too {size} to be meant here."
            yield TextFault("value-senseless", child.span, found, "Check the number and its unit.")


@cache
def _sensible() -> dict[tuple[str, str], tuple[float, float]]:
    """From where to where a measure makes sense, by statement and kind of measure."""
    rows = document_rows("rules", "tables", "sensible.csv")
    return {
        (row["statement"], row["measure"]): (float(row["least"]), float(row["most"]))
        for row in rows
    }


def last_word(facts: SectionFacts, statement: Statement) -> None:
    """Reads a line that says something in quotes or by a fixed word."""
    facts.put(facts.field, statement.last(str))


def only(facts: SectionFacts, part: Part, name: str, words: str = "") -> Part | None:
    """The part of this name; a second one in the line is a fault and not used."""
    first, *others = (*part.parts(name), None)
    if first and others[0]:
        facts.fault_doubled(words or name.replace("_", " "), first.span, others[0].span)
    return first


def named(facts: SectionFacts, part: Part, name: str) -> Written[str] | None:
    """The keyword within the only part of this name."""
    found = only(facts, part, name)
    return found.value(Keyword) if found else None


def placed(record: Any, span: Span) -> Any:
    """The record with every place in it moved to `span`."""
    if isinstance(record, Written):
        return Written(record.value, span)
    if isinstance(record, Span):
        return span
    if isinstance(record, tuple):
        return tuple(placed(item, span) for item in record)
    if has(type(record)):
        parts = {one.name: getattr(record, one.name) for one in fields(type(record))}
        return evolve(record, **{name: placed(part, span) for name, part in parts.items()})
    return record
