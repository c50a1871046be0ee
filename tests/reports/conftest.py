"""Lets these tests import `plans_to_forecast`, and `plan_book` of the tests of the rule book."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parent.parent / "rulebook"))
