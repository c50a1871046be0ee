"""Who fills a plan in is a module of its own, which the tests here ask."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
