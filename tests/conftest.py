"""What holds for the whole suite: no example is timed, and what takes long is marked `slow`.

Every test may import from `tests/toys`: a small vocabulary with its book, and a book for plans.
"""

import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

sys.path.insert(0, str(Path(__file__).parent / "toys"))

# A busy machine is no fault of the program.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")

# Properties tried on many plans drawn at random are slow; so is what begins like this.
SLOW = (
    "tests/packaging/",
    "tests/dangers/",
    "tests/commands/test_no_answer.py",
    "tests/commands/test_terminal.py",
    "tests/commands/test_unwritten.py",
    "tests/rules/test_conventions.py::test_what_is_printed_is_sentences",
    "tests/rules/test_repairs.py::test_a_repair_of_a_slip_holds",
    "tests/rules/test_repairs.py::test_a_line_to_copy_mends_what_was_left_out",
    "tests/rules/test_facts.py::test_every_fact_keeps_its_kind",
    "tests/language/test_cost.py",
    "tests/language/test_grammar_document.py::test_every_spelling_reads_where_the_first_does",
)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what `pytest -m "not slow"` leaves out."""
    for item in items:
        drawn = getattr(getattr(item, "obj", None), "is_hypothesis_test", False)
        if drawn or item.nodeid.startswith(SLOW):
            item.add_marker(pytest.mark.slow)
