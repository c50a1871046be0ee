"""One canonical layout for a plan: every value and every comment as it was, only neater."""

from guardcone.tidy.layout import difference, tidy_text

__all__ = ["difference", "tidy_text"]
