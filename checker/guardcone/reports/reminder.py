"""Room: the reports; here the safety reminder that ends every report for people."""

from guardcone.documents import document_text

__all__ = ["reminder"]


def reminder() -> str:
    """The reminder and the referral to codes, manuals and trades, from rules/reminder.txt."""
    return document_text("rules", "reminder.txt")
