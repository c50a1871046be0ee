"""A folder to check plans in; lets the tests of this folder import `running` and its plans."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from running import Folder


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    """An empty folder for plans."""
    return Folder(tmp_path)
