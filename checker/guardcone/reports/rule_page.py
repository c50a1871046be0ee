"""The long explanation of one rule, for people."""

from collections.abc import Iterable, Iterator

from guardcone.condition import typed
from guardcone.condition.sentences import Slot, Wording
from guardcone.reports.examples import example_base, example_lines
from guardcone.reports.page import Style, wrapped
from guardcone.rulebook.bibliography import Source
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.rule import Example, Rule, TextFaultPage

__all__ = ["rule_page", "text_fault_page"]


def rule_page(rule: Rule, book: RuleBook, style: Style) -> str:
    """What the rule says, why, its limits, sources, examples, what to do, when to accept."""
    weights = book.weights(rule)
    weight = ", ".join(weight.value for weight in weights) if weights else "turned off"
    lines = [f"{style.strong(rule.name)}: {weight}, about the {rule.concerns}", ""]
    lines += _levels(rule, book, style)
    lines += _paragraphs("Why", rule.why, style)
    lines += _limits(rule, book, style)
    lines += ["Source", *_sources(rule.sources, style, "  "), ""]
    lines += _example("A plan without this finding", rule.passes, rule.fails, style)
    lines += _example("A plan with this finding", rule.fails, (), style)
    change = book.changes.get(rule.name)
    if change:
        lines += _part("Changed by the studio", f"{change}: {change.reason}", style)
    return style.page(lines[:-1])


def text_fault_page(page: TextFaultPage, style: Style) -> str:
    """What a fault of the text is, why it matters, a line as it is wrong and as it is right."""
    lines = [f"{style.strong(page.name)}: {page.consequence.value}, a fault of the text", ""]
    lines += _part("What it finds", page.finding, style)
    lines += _paragraphs("Why", page.why, style)
    lines += ["A line that has it", f"  {page.wrong}", "", "A right line", f"  {page.right}"]
    return style.page(lines)


def _levels(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    """What is found at each level, when, what to do and when to accept it."""
    if rule.unless:
        yield from _part("Never where", rule.unless, style)
    if len(rule.levels) == 1:
        (level,) = rule.levels
        yield from _part("What it finds", _plainly(level.finding, book), style)
        yield from _part("It is found when", level.condition_text, style)
        yield from _part("What to do", _plainly(level.repair.say, book), style)
        if level.accept_when:
            yield from _paragraphs("When to accept it", level.accept_when, style)
        return
    for level in rule.levels:
        weight = book.consequence(rule, level)
        name = f"{weight.value if weight else 'off'} {level.case}".strip()
        yield from wrapped(f"{name}, when {level.condition_text}", style.width, "", "  ")
        told = (
            ("", _plainly(level.finding, book)),
            ("Do  ", _plainly(level.repair.say, book)),
            ("Accept it when  ", level.accept_when),
        )
        for lead, text in told:
            if text:
                further = "    " if lead else "  "
                yield from wrapped(f"{lead}{' '.join(text.split())}", style.width, "  ", further)
        yield ""


def _plainly(sentence: Wording, book: RuleBook) -> str:
    """A sentence with the value in force of each limit, and other slots as a rule asks for them.

    Those stand in pointed brackets: <wall of ware>.
    """
    return "".join(
        piece if isinstance(piece, str) else _slot(piece, book) for piece in sentence.pieces
    )


def _slot(slot: Slot, book: RuleBook) -> str:
    if isinstance(slot.value, typed.Constant):
        return str(slot.value.value)
    limit = book.limit(slot.value.name) if isinstance(slot.value, typed.LimitOf) else None
    return str(limit.value) if limit else f"<{slot.text}>"


def _sources(sources: Iterable[Source], style: Style, indent: str) -> Iterator[str]:
    for source in sources:
        yield from wrapped(str(source), style.width, indent, f"{indent}  ")


def _part(heading: str, text: str, style: Style) -> list[str]:
    return [heading, *wrapped(text, style.width, "  ", "  "), ""]


def _paragraphs(heading: str, text: str, style: Style) -> list[str]:
    lines = [heading]
    for paragraph in text.strip().split("\n\n"):
        lines += [*wrapped(" ".join(paragraph.split()), style.width, "  ", "  "), ""]
    return lines


def _limits(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    if not rule.limits:
        return
    yield "Limits in force"
    for name in sorted(rule.limits):
        limit = book.limit(name)
        if limit is None:
            continue
        yield f"  {name}: {limit.value} (a studio may set {limit.least} to {limit.most})"
        yield from _sources(limit.sources, style, "    ")
    yield ""


def _example(
    heading: str, examples: tuple[Example, ...], beside: tuple[Example, ...], style: Style
) -> list[str]:
    """The first example, which may be told by what changes in the first one beside it."""
    if not examples:
        return []
    example = examples[0]
    lines = [f"{heading} ({example_base(example)})"]
    text = example_lines(example, sound_plans(), next(iter(beside), None))
    lines += [f"  {line}" for line in text]
    if example.at:
        lines += wrapped(f"It points at: {example.at}", style.width, "  ", "  ")
    return [*lines, ""]
