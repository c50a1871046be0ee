"""One canonical layout for a plan: every value and every comment as it was, only neater."""

from guardcone.tidy.difference import difference
from guardcone.tidy.layout import tidy_text

__all__ = ["difference", "tidy_text"]
