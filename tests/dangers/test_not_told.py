"""Every danger to people or the building that a plan can be seen to have is told."""

import pytest
from danger_plans import EVERY_DANGER
from running import Danger, Folder, assert_told, changed, sound


@pytest.mark.parametrize("danger", EVERY_DANGER, ids=str)
def test_a_danger_is_told(folder: Folder, danger: Danger) -> None:
    """The danger is told in its words and at its weight, and the plan is stopped."""
    plan = changed(sound(danger.plan), danger.change)

    told = folder.check(plan, danger.studio, danger.beside)

    assert_told(told, danger)


@pytest.mark.parametrize("name", ["electric", "gas", "raku", "lustre"])
def test_a_plan_without_a_known_danger_is_told_none(folder: Folder, name: str) -> None:
    """What the dangers are put into has none of its own, so that each is told for what it is."""
    assert folder.check(sound(name)).dangers == []
