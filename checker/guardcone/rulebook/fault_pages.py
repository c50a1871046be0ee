"""The explanations of the faults that the reader of a plan finds."""

from functools import cache

from guardcone.documents import document_text
from guardcone.rulebook.kept_book import kept_part
from guardcone.rulebook.rule import Consequence, TextFaultPage

__all__ = ["read_text_fault_pages", "text_fault_pages"]


@cache
def text_fault_pages() -> dict[str, TextFaultPage]:
    """The pages of rules/text.yaml by name."""
    return {page.name: page for page in kept_part("text_faults") or read_text_fault_pages()}


def read_text_fault_pages() -> tuple[TextFaultPage, ...]:
    """The same from the document itself."""
    from ruamel.yaml import YAML

    records = YAML(typ="safe", pure=True).load(document_text("rules", "text.yaml"))
    return tuple(
        TextFaultPage(
            record["fault"],
            Consequence(record["consequence"]),
            record["finding"],
            record["why"].strip(),
            record["wrong"],
            record["right"],
        )
        for record in records
    )
