"""Nothing that is printed says that a firing may go ahead."""

import re

import pytest
from running import Folder, changed, run, sound

GREEN = re.compile(r"[✓✔☑✅👍]|\b(passed|ok|okay|ready|all clear|go ahead)\b", re.I)
# What stands in quotes is a plan's, or an example of what somebody may have written.
QUOTED = re.compile(r"[\"“][^\"“”]*[\"”]|`[^`]*`|^\s*\S*\s*approved by .*$", re.MULTILINE)

COMMANDS = [
    ("check", "PLAN"),
    ("check", "PLAN", "--form", "json"),
    ("check", "PLAN", "--form", "line"),
    ("check", "PLAN", "--stop-at", "nothing"),
    ("check", "PLAN", "--teach"),
    ("forecast", "PLAN"),
    ("forecast", "PLAN", "--form", "json"),
    ("tidy", "PLAN"),
    ("rules",),
    ("rules", "limits"),
    ("start",),
    ("--help",),
    ("check", "--help"),
    ("why", "guard-missing"),
]


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("plan", ["electric", "gas", "raku", "lustre"])
def test_no_report_gives_a_green_light(folder: Folder, words: tuple[str], plan: str) -> None:
    """No tick and no word that sounds like one, whatever is asked of a plan without findings."""
    path = folder.path / "plan.firing"
    path.write_text(sound(plan))

    told = run(*(str(path) if word == "PLAN" else word for word in words))

    said = QUOTED.sub(" ", told.screen.replace(str(folder.path), "") + told.errors)
    assert not GREEN.search(said), GREEN.search(said)


@pytest.mark.parametrize("plan", ["electric", "gas"])
def test_nothing_found_says_what_was_not_seen(folder: Folder, plan: str) -> None:
    """Under it stand what no program can see, and whom to ask before any firing."""
    told = folder.check(sound(plan), form="people")
    text = told.everything.casefold()

    assert "nothing found" in text
    after = text.split("nothing found", 1)[1]
    for word in ("kiln", "vent", "local fire and electrical codes", "manual", "licensed"):
        assert word in after


def test_a_green_light_for_others_is_a_red_one_for_us(folder: Folder) -> None:
    """A program that reads the report finds no word of passing in it, only whether it stops."""
    stopped = folder.check(changed(sound("gas"), {"CO alarm fitted": ""}), form="json")

    assert not re.search(r'"(passes|passed|ok|success|valid)"', stopped.screen)
