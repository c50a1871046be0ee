"""Lets the tests of this folder import `toy_kiln`, the small vocabulary that they share."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
