"""Room: the reports; here the long explanation of one rule, for people."""

from collections.abc import Iterator

from guardcone.reports.example_text import example_base, example_lines
from guardcone.reports.style import Style, wrapped
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.rule import Example, Rule
from guardcone.rulebook.text_faults import TextFaultPage
from guardcone.rulebook.typed import Constant, LimitOf
from guardcone.rulebook.wording import Slot, Wording

__all__ = ["rule_page", "text_fault_page"]


def rule_page(rule: Rule, book: RuleBook, style: Style) -> str:
    """What the rule says, why, its limits, sources, examples, what to do, when to accept."""
    consequence = book.consequence(rule)
    weight = consequence.value if consequence else "turned off"
    lines = [f"{style.strong(rule.name)}: {weight}, about the {rule.concerns}", ""]
    lines += _part("What it finds", _plainly(rule.finding, book), style)
    lines += [*_block("It is found when", rule.condition_text, style)]
    lines += _paragraphs("Why", rule.why, style)
    lines += _part("What to do", _plainly(rule.repair.say, book), style)
    if rule.accept_when:
        lines += _paragraphs("When to accept it", rule.accept_when, style)
    lines += _limits(rule, book, style)
    lines += [
        "Source",
        *(f"  {line}" for s in rule.sources for line in wrapped(s, 76, "", "  ")),
        "",
    ]
    lines += _example("A plan without this finding", rule.passes, rule.fails, style)
    lines += _example("A plan with this finding", rule.fails, (), style)
    change = book.changes.get(rule.name)
    if change:
        lines += _part("Changed by the studio", change.reason, style)
    return style.page(lines[:-1])


def text_fault_page(page: TextFaultPage, style: Style) -> str:
    """What a fault of the text is, why it matters, a line as it is wrong and as it is right."""
    lines = [f"{style.strong(page.name)}: {page.consequence.value}, a fault of the text", ""]
    lines += _part("What it finds", page.finding, style)
    lines += _paragraphs("Why", page.why, style)
    lines += ["A line that has it", f"  {page.wrong}", "", "A right line", f"  {page.right}"]
    return style.page(lines)


def _plainly(sentence: Wording, book: RuleBook) -> str:
    """A sentence with what is known of it, and in pointed brackets what a plan says: <wall>."""
    return "".join(
        piece if isinstance(piece, str) else _slot(piece, book) for piece in sentence.pieces
    )


def _slot(slot: Slot, book: RuleBook) -> str:
    if isinstance(slot.value, Constant):
        return str(slot.value.value)
    limit = book.limit(slot.value.name) if isinstance(slot.value, LimitOf) else None
    return str(limit.value) if limit else f"<{slot.text}>"


def _part(heading: str, text: str, style: Style) -> list[str]:
    return [heading, *wrapped(text, style.width, "  ", "  "), ""]


def _block(heading: str, text: str, style: Style) -> list[str]:
    return [heading, *wrapped(" ".join(text.split()), style.width, "  ", "  "), ""]


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
        yield from wrapped(f"{limit.source} [{limit.confidence}]", style.width, "    ", "    ")
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
