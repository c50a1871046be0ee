"""What of an example's plan is shown to people: what is its own, and where it stands."""

import pytest
from plan_book import plan_book, stoneware

from guardcone.reports.rules import example_base, example_lines
from guardcone.rulebook.example_file import read_examples
from guardcone.rulebook.rule import Example, ExampleKind
from guardcone.rulebook.yaml_text import MapNode, Reader

BASES = {"stoneware": stoneware()}
LEVELS = plan_book().rules[0].levels


def example(text: str) -> Example:
    """The example that a rule file has in these lines."""
    rows = "\n    ".join(text.splitlines())
    reader = Reader("own.yaml", f"fails:\n  - {rows}\n    at: here\n")
    root = reader.root()
    assert isinstance(root, MapNode)
    found = read_examples(root, ExampleKind.FAILS, "own-rule", LEVELS)
    assert reader.faults == []
    return found[0]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (
            "vent downdraft, on throughout: vent off",
            ["safety", "  vent off  # in place of: vent downdraft, on throughout"],
        ),
        # A remark that would make the line too long stands below it.
        (
            'clay "Marsh buff" matures cone 8 to cone 10, stoneware:\n'
            '  clay "Marsh buff" matures cone 6 to cone 8, stoneware',
            [
                "load",
                '  clay "Marsh buff" matures cone 6 to cone 8, stoneware',
                '    # in place of: clay "Marsh buff" matures cone 8 to cone 10, stoneware',
            ],
        ),
        (
            "after:\n  open at 90 C: reduce from 900 C\nwithout: hold 30 min",
            [
                "schedule",
                "  # left out: hold 30 min",
                "  open  at 90 C",
                "  reduce from 900 C  # added",
            ],
        ),
        (
            'witness "top shelf":\n  guide 8: guide 7',
            ['witness "top shelf"', "  guide 7  # in place of: guide 8"],
        ),
        # A heading that changes is shown once; whole sections are shown whole, whatever changes.
        (
            'kiln "Heron": kiln "Little Egret"',
            ['kiln "Little Egret"  # in place of: kiln "Heron"'],
        ),
        (
            "plan: |\n  safety\n    vent on throughout\n    eyes shade 4\n"
            "eyes shade 4: eyes sunglasses",
            ["safety", "  vent on throughout", "  eyes sunglasses  # in place of: eyes shade 4"],
        ),
        # Parts of a line are shown in the whole line.
        (
            "vent downdraft: vent hood\non throughout: part",
            ["safety", "  vent hood, part  # in place of: vent downdraft, on throughout"],
        ),
        ("from: stoneware", []),
        ("without: safety", []),
        # What does not fit is shown as it is written; the run of the examples says what is wrong.
        (
            "vent on: vent off\nwithout: open",
            ["vent off  # in place of: vent on", "# left out: open"],
        ),
        ("from: stonewear\nplan: |\n  safety\n    vent off", ["safety", "  vent off"]),
    ],
)
def test_what_is_shown_of_an_example(text: str, shown: list[str]) -> None:
    """Changed lines under their headings with what stood there, and whole sections as they are."""
    assert example_lines(example(text), BASES) == shown


def test_a_sound_plan_shows_what_the_other_example_changes() -> None:
    """Beside a plan that has it, the sound plan is shown where the two differ."""
    fails = example("eyes shade 4: eyes sunglasses\nwithout: hands heat gloves")

    assert example_lines(example("from: stoneware"), BASES, fails) == [
        "safety",
        "  eyes         shade 4",
        "  hands        heat gloves",
    ]
    # One that itself leaves out what the other changes, or is of another plan, shows nothing.
    assert example_lines(example("without: safety"), BASES, fails) == []
    assert example_lines(example("from: raku"), BASES | {"raku": 'plan "a"\n'}, fails) == []


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("from: raku", "the sound plan raku as it is"),
        ("eyes shade 4: eyes sunglasses", "the rest as in the sound plan stoneware"),
        (
            "without: [witness, safety, open at 90 C]",
            "the rest as in the sound plan stoneware, without its witness and safety sections",
        ),
    ],
)
def test_where_the_rest_comes_from(text: str, told: str) -> None:
    """The sound plan is named, and whole sections that are left out."""
    assert example_base(example(text)) == told
