"""A fault of the text: where, what was found, what may stand there, one right line."""

from attrs import frozen

from guardcone.span import Span

__all__ = ["OutOfSense", "TextFault"]


@frozen
class TextFault:
    """One thing wrong with how the plan is written.

    `rule` is the name under which the rule book explains it, `found` says what is wrong,
    `repair` what may stand there, `line` is one right line (or empty). Of what is said twice,
    `first` is the place that says it first, and that is used.
    """

    rule: str
    span: Span
    found: str
    repair: str
    line: str = ""
    first: Span | None = None


class OutOfSense(Exception):
    """A value that is spelled right and can't be meant: cone 00, a hold of -5 min, month 13."""

    def __init__(self, rule: str, span: Span, found: str, repair: str) -> None:
        super().__init__(found)
        self.rule = rule
        self.span = span
        self.found = found
        self.repair = repair
