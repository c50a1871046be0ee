"""Lets the tests of this folder import `the_book` and `mutants`, and who follows a report."""

import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[1] / "people")]
