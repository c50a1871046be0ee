"""Room: the reports; here the rules in force as a list, for people."""

from collections.abc import Iterable, Iterator

from guardcone.reports.style import Style, count, wrapped
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.text_faults import TextFaultPage

__all__ = ["rule_list"]

_WIDEST_NAME = 32


def rule_list(book: RuleBook, pages: Iterable[TextFaultPage], style: Style) -> str:
    """Every rule with its consequence and its condition, file by file; then the text faults."""
    lines: list[str] = []
    file = ""
    for rule in book.rules:
        if rule.file != file:
            file = rule.file
            lines += ["", style.strong(file)]
        consequence = book.consequence(rule)
        weight = consequence.value if consequence else "off"
        about = f"{rule.concerns}: {' '.join(rule.condition_text.split())}"
        lines += _entry(rule.name, weight, about, style)
    lines += ["", style.strong("rules/text.yaml")]
    for page in pages:
        lines += _entry(page.name, page.consequence.value, page.finding, style)
    number = count(len(book.rules), "rule", "rules")
    lines += ["", f"{number} in force. To read one: guardcone why NAME"]
    return style.plain("\n".join(lines).lstrip("\n") + "\n")


def _entry(name: str, weight: str, about: str, style: Style) -> Iterator[str]:
    yield f"  {name.ljust(_WIDEST_NAME)} {weight}"
    yield from wrapped(about, style.width, "      ", "      ")
