"""The records of the rule book: rules with levels, examples and sources, limits, text faults."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING, Any

from attrs import field, frozen

from guardcone.documents import document_rows
from guardcone.span import Span, Written

# Who only weighs findings needs nothing of the language of rules.
if TYPE_CHECKING:
    from guardcone.condition import typed
    from guardcone.condition.kinds import Type
    from guardcone.condition.sentences import Wording

__all__ = [
    "APART",
    "KEY",
    "Background",
    "BookFile",
    "Change",
    "Consequence",
    "Example",
    "ExampleKind",
    "Expected",
    "Level",
    "Limit",
    "Repair",
    "Rule",
    "RuleFault",
    "Said",
    "Silence",
    "Source",
    "TextFaultPage",
    "Where",
    "bibliography",
]


# How a source was come by, and how well it supports what is taken from it, as people read it.
READ = {
    "read": "read in the source",
    "copied": "read in a copy",
    "remembered": "from memory",
    "derived": "derived",
    "sense": "plain sense",
    "practice": "common practice, no source",
    "choice": "own choice",
}
BORNE = ("well borne", "one copy", "practice")
KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@frozen(repr=False)
class BookFile:
    """The name and the text of a file of rules, limits and reasons."""

    file: str
    source: str


@frozen(repr=False)
class RuleFault:
    """One error in a file of rules or limits: the file as it was named, the place, what and how."""

    file: str
    span: Span
    message: str
    hint: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.span.line}:{self.span.start}"
        return f"{place}: {self.message}" + (f" ({self.hint})" if self.hint else "")


@frozen(repr=False)
class Source:
    """Something that a rule or a limit leans on; without a key it is in a studio's own words."""

    what: str
    key: str = ""
    read: str = ""
    borne: str = ""

    def __str__(self) -> str:
        """The source with what is known of it, for people."""
        known = [READ[self.read]] if self.read else []
        implied = "one copy" if self.read == "copied" else "practice"
        known += [self.borne] if self.borne not in ("", implied) else []
        return f"{self.what} [{', '.join(known)}]" if known else self.what


@cache
def bibliography() -> Mapping[str, Source]:
    """The sources by key; raises ValueError for a row that says what no row may say."""
    found: dict[str, Source] = {}
    for row in document_rows("rules", "sources.csv"):
        source = Source(row["what"], row["key"], row["read"], row["borne"])
        wrong = source.read not in READ or source.borne not in BORNE
        if wrong or source.key in found or not KEY.fullmatch(source.key):
            raise ValueError(f"rules/sources.csv: this row can't stand: {row}")
        found[source.key] = source
    return found


class Consequence(Enum):
    """What happens if a finding is not heeded, the worst first."""

    DANGER = "danger"
    LOSS = "loss"
    DOUBT = "doubt"
    ADVICE = "advice"

    @property
    def rank(self) -> int:
        """0 for danger up to 3 for advice."""
        return _RANK[self]

    def at_least(self, other: Consequence) -> bool:
        """True if this is as bad as `other` or worse."""
        return self.rank <= other.rank


_RANK = {consequence: rank for rank, consequence in enumerate(Consequence)}


class Where(Enum):
    """How the line of a repair goes into the plan, seen from the line it is put to."""

    AFTER = "after"
    BEFORE = "before"
    INSTEAD = "instead"


@frozen(repr=False)
class Repair:
    """What to do, and where one line of the plan does it, that line and where it goes.

    `places` are facts, of which the first that was written is the line meant; if none was, it is
    the line that the finding points at.
    """

    say: Wording
    write: Wording | None
    where: Where
    places: tuple[typed.Value, ...]


class ExampleKind(Enum):
    """What an example shows; also the key under which it stands.

    The first that passes and the first that fails are ordinary plans, which people are shown;
    edges lie close to the limits, for tests only.
    """

    PASSES = "passes"
    FAILS = "fails"
    EDGES = "edges"


@frozen(repr=False)
class Change:
    """A line of a plan, or a part of one, and what stands in its place, or after that line.

    Without any lines it is left out. `line` is written as in the plan, blanks and remarks apart; of
    several such lines it is the first, or the first under the heading `inside`. Both come with
    their place in the rule file.
    """

    line: Written[str]
    lines: tuple[str, ...] = ()
    is_added: bool = False
    inside: Written[str] | None = None


@frozen(repr=False)
class Expected:
    """What an example gives of its rule: nothing, or a finding of this weight, and which case."""

    consequence: Consequence | None = None
    case: str = ""

    def __str__(self) -> str:
        """As an edge says it: `passes`, `loss`, or `doubt thick`."""
        if self.consequence is None:
            return ExampleKind.PASSES.value
        return f"{self.consequence.value} {self.case}".strip()


@frozen(repr=False)
class Example:
    """What in a plan gives a finding of a rule or none; the rest is of the sound plan `base`.

    `plan` has whole sections, `without` the kinds of sections left out, and `changes` single lines
    and parts of lines.

    `at` is the text under the place that the finding must point at; a run of blanks counts as one.
    Where it is empty the finding must point at something that the example changed. Where that text
    stands more than once in the plan, `inside` (the key `in`) is a text of the line meant or of the
    heading of its section. `also` are other rules that the plan must break as well, such as a
    danger that comes with this one.
    """

    rule: str
    kind: ExampleKind
    number: int
    gives: Expected
    base: str
    plan: str = ""
    without: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    at: str = ""
    inside: str = ""
    also: tuple[str, ...] = ()
    file: str = ""
    span: Span = field(default=Span(1, 1, 2))

    @property
    def id(self) -> str:
        """A name to call the example by: ``guard-missing/fails/1``."""
        return f"{self.rule}/{self.kind.value}/{self.number}"


@frozen(repr=False)
class Silence:
    """A rule that says nothing where another is found, in findings up to this weight."""

    rule: str
    up_to: Consequence


@frozen(repr=False)
class Said:
    """What is said of a level: the level as it was written, and what is told where it holds."""

    condition_text: str
    finding: Wording
    repair: Repair
    accept_when: str


@frozen(repr=False)
class Background:
    """What people read about a rule: where it is never told, why, by what sources; examples."""

    unless: str
    why: str
    sources: tuple[Source, ...]
    examples: tuple[Example, ...]


# What is said is kept apart under this name, and read when somebody asks for it.
APART = "kept apart"


@frozen(repr=False)
class Level:
    """One weight of a rule, and of several cases of that weight one, with what is said of it.

    `condition` holds only where nothing that the rule excludes does. What the level does not say
    itself is the rule's.
    """

    consequence: Consequence
    case: str
    condition: typed.Value
    at: tuple[typed.Value, ...]
    silences: tuple[Silence, ...]
    limits: frozenset[str]
    said: Callable[[], Said] = field(eq=False, metadata={APART: "sentences"})

    @property
    def condition_text(self) -> str:
        """The level as it was written."""
        return self.said().condition_text

    @property
    def finding(self) -> Wording:
        """What is wrong where it holds."""
        return self.said().finding

    @property
    def repair(self) -> Repair:
        """What to do then."""
        return self.said().repair

    @property
    def accept_when(self) -> str:
        """When it is right to let it stand."""
        return self.said().accept_when


@frozen(repr=False)
class Rule:
    """One rule of the book: of its levels, the worst first, the first that holds is the finding.

    One that is not acceptable can't be let stand by an accept line.
    """

    name: str
    concerns: str
    levels: tuple[Level, ...]
    is_acceptable: bool
    file: str
    span: Span
    background: Callable[[], Background] = field(eq=False, metadata={APART: "background"})

    @property
    def unless(self) -> str:
        """Where it is never told, as that was written."""
        return self.background().unless

    @property
    def why(self) -> str:
        """Why it matters."""
        return self.background().why

    @property
    def sources(self) -> tuple[Source, ...]:
        """What it leans on."""
        return self.background().sources

    @property
    def consequence(self) -> Consequence:
        """The weight of its worst level."""
        return self.levels[0].consequence

    @property
    def weights(self) -> tuple[Consequence, ...]:
        """The weights of its levels, the worst first, each once."""
        return tuple(dict.fromkeys(level.consequence for level in self.levels))

    @property
    def limits(self) -> frozenset[str]:
        """The limits that any of its levels names."""
        return frozenset[str]().union(*(level.limits for level in self.levels))

    @property
    def examples(self) -> tuple[Example, ...]:
        """All its examples, the ordinary plans first."""
        return self.background().examples

    @property
    def passes(self) -> tuple[Example, ...]:
        """The ordinary plans without a finding."""
        return tuple(one for one in self.examples if one.kind is ExampleKind.PASSES)

    @property
    def fails(self) -> tuple[Example, ...]:
        """The ordinary plans with one."""
        return tuple(one for one in self.examples if one.kind is ExampleKind.FAILS)


@frozen(repr=False)
class Limit:
    """A number of the trade that rules use by name.

    `value`, `least` and `most` are of `type`: a Quantity, a Cone or a float. A studio may set the
    value anywhere from `least` to `most`.
    Where a studio has set the value, `changed_at` says where and `built_in` is the book's own.
    """

    name: str
    type: Type
    value: Any
    least: Any
    most: Any
    sources: tuple[Source, ...]
    note: str
    file: str
    span: Span
    changed_at: str = ""
    built_in: Any = None

    def takes(self, value: Any) -> bool:
        """True for a value of its own kind and within its range."""
        try:
            return type(value) is type(self.value) and bool(self.least <= value <= self.most)
        except TypeError:  # cones of two makers have no order
            return False


@frozen(repr=False)
class TextFaultPage:
    """What the rule book says of one fault of the text: its weight, why, and an example."""

    name: str
    consequence: Consequence
    finding: str
    why: str
    wrong: str
    right: str
