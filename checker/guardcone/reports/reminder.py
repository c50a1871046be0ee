"""The safety reminder that ends every report for people."""

from guardcone.documents import document_text

__all__ = ["SEEN", "reminder"]

# Said where nothing is left to mend, so that nobody takes that for more than it is.
SEEN = (
    "What was read is the text alone. Nothing here has seen the kiln, its wiring or gas, the vent, "
    "the ware, or who is really there."
)


def reminder() -> str:
    """The reminder and the referral to codes, manuals and trades, from rules/reminder.txt."""
    return document_text("rules", "reminder.txt")
