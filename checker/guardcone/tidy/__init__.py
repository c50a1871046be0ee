"""One canonical layout for a plan: every value and every comment as it was, only neater.

Nothing here knows a statement: a line is cut into tokens by the grammar, and each token is written
anew from its terminal and its value. What the grammar learns to read, this can spell.
"""

from guardcone.tidy.changes import Change, Kind, changes_of
from guardcone.tidy.layout import Layout, laid_out, tidy_text

__all__ = ["Change", "Kind", "Layout", "changes_of", "laid_out", "tidy_text"]
