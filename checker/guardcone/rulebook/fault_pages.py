"""The explanations of the faults that the reader of a plan finds."""

from functools import cache

from attrs import frozen
from ruamel.yaml import YAML

from guardcone.documents import document_text
from guardcone.rulebook.rule import Consequence

__all__ = ["TextFaultPage", "text_fault_pages"]


@frozen
class TextFaultPage:
    """What the rule book says of one fault of the text: its weight, why, and an example."""

    name: str
    consequence: Consequence
    finding: str
    why: str
    wrong: str
    right: str


@cache
def text_fault_pages() -> dict[str, TextFaultPage]:
    """The pages of rules/text.yaml by name."""
    records = YAML(typ="safe", pure=True).load(document_text("rules", "text.yaml"))
    return {
        record["fault"]: TextFaultPage(
            record["fault"],
            Consequence(record["consequence"]),
            record["finding"],
            record["why"].strip(),
            record["wrong"],
            record["right"],
        )
        for record in records
    }
