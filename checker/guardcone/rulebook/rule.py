"""Room: the rule book; here one rule as it was read, with every name in it known."""

from enum import Enum

from attrs import frozen

from guardcone.rulebook import typed
from guardcone.rulebook.wording import Wording
from guardcone.span import Span, Written

__all__ = ["Change", "Consequence", "Example", "ExampleKind", "Repair", "Rule", "Where"]


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

    def at_least(self, other: "Consequence") -> bool:
        """True if this is as bad as `other` or worse."""
        return self.rank <= other.rank


_RANK = {consequence: rank for rank, consequence in enumerate(Consequence)}


class Where(Enum):
    """How the line of a repair goes into the plan, seen from the line it is put to."""

    AFTER = "after"
    BEFORE = "before"
    INSTEAD = "instead"


@frozen
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
    """What an example shows; also the key under which it stands."""

    PASSES = "passes"
    FAILS = "fails"


@frozen
class Change:
    """One line of a plan, and the lines that stand in its place, or after it if `is_added`.

    Without any lines it is left out. `line` is written as in the plan, blanks and remarks apart; of
    several such lines it is the first, or the first under the heading `inside`. Both come with
    their place in the rule file.
    """

    line: Written[str]
    lines: tuple[str, ...] = ()
    is_added: bool = False
    inside: Written[str] | None = None


@frozen
class Example:
    """What in a plan passes or fails a rule; the rest comes from the sound plan `base`.

    `plan` has whole sections, `without` the kinds of sections left out, and `changes` single lines.

    `at` is the text under the place that the finding must point at, empty if the plan passes; a run
    of blanks counts as one. Where that text stands more than once in the plan, `inside` (the key
    `in`) is a text of the line meant or of the heading of its section. `also` are other rules that
    the plan must break as well, such as a danger that comes with this one.
    """

    rule: str
    kind: ExampleKind
    number: int
    plan: str
    base: str
    without: tuple[str, ...]
    changes: tuple[Change, ...]
    at: str
    inside: str
    also: tuple[str, ...]
    file: str
    span: Span

    @property
    def id(self) -> str:
        """A name to call the example by: ``guard-missing/fails/1``."""
        return f"{self.rule}/{self.kind.value}/{self.number}"


@frozen
class Rule:
    """One rule of the book. One that is not acceptable can't be let stand by an accept line."""

    name: str
    concerns: str
    consequence: Consequence
    fails_when: typed.Condition
    condition_text: str
    at: tuple[typed.Value, ...]
    finding: Wording
    repair: Repair
    why: str
    accept_when: str
    is_acceptable: bool
    sources: tuple[str, ...]
    silences: tuple[str, ...]
    needs: tuple[str, ...]
    passes: tuple[Example, ...]
    fails: tuple[Example, ...]
    limits: frozenset[str]
    file: str
    span: Span
