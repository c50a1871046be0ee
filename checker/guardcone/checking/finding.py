"""One finding, small and frozen."""

from attrs import frozen

from guardcone.rulebook.rule import Consequence, Where
from guardcone.span import Span

__all__ = ["Finding", "LineRepair"]


@frozen
class LineRepair:
    """One line that mends the plan, and the place of the line it goes after, before or instead of.

    The text is in the words of a plan, without indentation.
    """

    text: str
    where: Where
    span: Span


@frozen
class Finding:
    """One thing a rule says about one place of a plan.

    `text` says what is wrong, `repair` what to do; `example` is a right line of the same sort, for
    a line that could not be read. `unstated` names the slots of the rule's
    sentences that had no value in this plan and say "not stated". `levels` are all the weights that
    its rule may have, the worst first, and `unknown` those worse ones of which the plan says too
    little; of several cases of one weight `case` says which.
    """

    rule: str
    consequence: Consequence
    span: Span
    text: str
    repair: str
    line_repair: LineRepair | None = None
    unstated: tuple[str, ...] = ()
    example: str = ""
    case: str = ""
    levels: tuple[Consequence, ...] = ()
    unknown: tuple[Consequence, ...] = ()

    @property
    def order(self) -> tuple[Span, int, str, str]:
        """The key to sort by: place, then the worst first."""
        return self.span, self.consequence.rank, self.rule, self.text
