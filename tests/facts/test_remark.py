"""A danger that a plan tells in passing is found where it is told, and nothing else there."""

import pytest

from guardcone.facts.case import PlanCase
from guardcone.facts.remark import REMARK
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan

PLAN = """\
plan "Thursday mugs"
  {note}
kiln "Heron"
  electric, front door{behind}
safety
  {line}
"""


def told(
    note: str = 'note "new shelves"', behind: str = "", line: str = "vent hood, on"
) -> list[str]:
    """The words of the plan that tell a danger."""
    text = PLAN.format(note=note, behind=behind, line=line)
    plan = read_plan(SourceText("plan", split_lines(text)))
    return [of.it.span.of(plan.source.line(of.it.span.line)) for of in REMARK.each(PlanCase(plan))]


@pytest.mark.parametrize(
    "words",
    [
        "our flame failure device is taped down",
        "sitter jammed last time and welded the contactor",
        "lid switch bridged",
        "the fan stays off, it is too loud",
        "the regulator hisses",
        "the plug gets hot and goes brown",
        "kids sleep in the loft above the kiln",
        "cardboard stacked against the kiln",
        "nobody watches it on Sundays",
        "an element sparks where it shorts",
        "we unload with the pilot on",
        "I got a shock from the casing",
        "the earth wire is loose",
        "the fuse was replaced with a nail",
        "the breaker keeps tripping",
        "it runs on an extension lead",
        "smoke comes out of the controller",
        "the exit is blocked with boxes of clay",
        "smoke alarm was taken down because it beeps",
        "a bottle of propane stands next to the kiln",
        "the floor is scorched under the stand",
        "somebody gets dizzy when it fires",
        "goes home at ten, it will switch itself off",
        "our burner has no flame failure device",
        "the teacher watches by webcam",
    ],
)
def test_a_danger_is_told_wherever_it_stands(words: str) -> None:
    """In a note, a remark behind a line or alone, and in a line that can't be read."""
    assert told(note=f'note "{words}"') == [f'note "{words}"']
    assert told(behind=f"  # {words}") == [f"# {words}"]
    assert told(note=f"# {words}") == [f"# {words}"]
    assert told(line=words) == [words]


@pytest.mark.parametrize(
    "words",
    [
        "the fan was broken in August, replaced since",
        "second contactor, opens if the first is stuck",
        "cone sitter, never bypassed",
        "vent off once the kiln is below 100 C",
        "gas line leak tested with soap",
        "do not leave it unattended",
        "nobody is allowed in the kiln room",
        "keep cardboard away from the kiln",
        "the cable is kept off the hot lid",
        "nobody there while it cools",
        "battery changed in the CO alarm this month",
        "students watch from behind the line",
        "students go home at nine",
        "ware may crack from thermal shock",
        "no sunglasses",
        "the exit is never blocked",
        "children may not touch the kiln",
        "ground to a powder, glaze cut with water",
        "breaker off before unloading",
        "fire door kept shut",
        "call if you feel dizzy",
        "a bottle of glaze stands next to the sink",
    ],
)
def test_what_is_mended_or_kept_away_is_none(words: str) -> None:
    """Nor is what is only thought of."""
    assert told(note=f'note "{words}"') == []
    assert told(behind=f"  # {words}") == []


def test_what_safety_asks_for_is_asked_there() -> None:
    """A line of safety that can be read is judged by the rules on what it names."""
    assert told(line='cut-off "sitter, bypassed"') == []
    assert told(line="flame safety taped down") == []
    assert told(line="watch nobody  # nobody here overnight") == []
    assert told(line="flame safety fitted  # flame safety taped down") != []
    assert told(line='clearance 1 m, "paper stacked against it"') != []


def test_other_text_is_looked_through() -> None:
    """A danger in the middle of a letter is found at its line."""
    lines = ["Dear all,", "some words on Friday", "the fan is broken, windows open", "see you then"]
    text = 'plan "p"\nkiln "Heron"\n  electric\nsafety\n  vent hood, on\n' + "\n".join(lines)
    plan = read_plan(SourceText("plan", split_lines(text)))

    assert [of.it.span.line for of in REMARK.each(PlanCase(plan))] == [8]
