"""Lets the tests of this folder import `toy_kiln`, which stands with the tests of the rule book."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "rulebook"))
