"""Nothing that a plan, a name or a rule holds acts on the terminal, or hides on it."""

import json
import re
import unicodedata
from pathlib import Path

import pytest

HOSTILE = {
    "concealed": "\x1b[8m",
    "screen cleared": "\x1b[2J",
    "our own bold": "\x1b[1m",
    "our own end of colour": "\x1b[0m",
    "C1 sequence": "\x9b31m",
    "backspace": "\b",
    "DEL": "\x7f",
    "right to left": "\u202e",
    "isolate": "\u2067",
    "zero width": "\u200b",
    "word joiner": "\u2060",
    "byte order mark": "\ufeff",
    "soft hyphen": "\u00ad",
    "tag": "\U000e0041",
    "filler": "\u3164",
    "annotation": "\ufff9",
    "old format control": "\u206a",
    "line separator": "\u2028",
}
OUR_COLOURS = re.compile(r"\x1b\[(?:1|1;37;41|1;31|33|2)m([^\x1b]*)\x1b\[0m")
COLOURS = ("always", "never")


def acting_or_hidden(text: str) -> list[str]:
    """The letters that act on a terminal or are not seen, our own colours left out."""
    return [
        repr(letter)
        for letter in OUR_COLOURS.sub(r"\1", text)
        if letter not in "\n\t"
        and (unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Zl", "Zp") or letter == "\u3164")
    ]


@pytest.fixture(params=HOSTILE.values(), ids=HOSTILE)
def hostile(request: pytest.FixtureRequest) -> str:
    """Letters that must not reach a terminal."""
    return str(request.param)


@pytest.fixture
def plan(stoneware: str, hostile: str) -> str:
    """A plan without a guard, with the hostile letters in names, a remark and a reason."""
    plan = stoneware.replace("  guard  10\n", "", 1).replace(
        "guide  8", f"guide  8 # {hostile}8", 1
    )
    for name in ("Saturday stoneware", "bottom shelf", "mugs", "Heron", "duty potter"):
        plan = plan.replace(name, f"{name[:3]}{hostile}{name[3:]}")
    plan = plan.replace("wall 6 mm", "wall 60 mm").replace("cone 8 to", f"cone 12 {hostile} to", 1)
    reason = f'because "the {hostile} last cone 10 fell down" by "man{hostile}ager"'
    return f"{plan}accept guard-missing {reason}\n"


@pytest.mark.parametrize("colour", COLOURS)
@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("check", "--teach"),
        ("check", "--form", "line"),
        ("check", "--form", "json"),
        ("forecast",),
        ("forecast", "--form", "json"),
        ("tidy",),
    ],
    ids=" ".join,
)
def test_no_report_hands_on_what_a_plan_or_its_name_holds(
    guardcone, studio: Path, plan: str, hostile: str, colour: str, words: tuple[str, ...]
) -> None:
    """With colour and without, each report shows the plan and nothing of it acts or hides."""
    name = f"thu{hostile}rsday.firing"
    (studio / name).write_text(plan, encoding="utf-8")

    said = guardcone("--colour", colour, *words, name)

    assert "rsday" in said.screen or "urday" in said.screen
    assert acting_or_hidden(said.screen + said.errors) == []


@pytest.mark.parametrize("colour", COLOURS)
def test_what_was_there_is_seen_as_replaced(guardcone, studio, stoneware, colour: str) -> None:
    """Each letter that is not shown leaves a sign in its place, so that a name is not another."""
    plan = stoneware.replace("  guard  10\n", "", 1).replace("bottom shelf", "\x1b[8mbottom\u200b")
    (studio / "thursday.firing").write_text(plan, encoding="utf-8")

    said = guardcone("--colour", colour, "check", "thursday.firing")

    assert 'The witness set "�[8mbottom�" has no guard' in said.screen


def test_our_own_colours_are_there(guardcone, studio, stoneware) -> None:
    """What the report itself makes strong is a colour on the terminal."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", "", 1))

    said = guardcone("--colour", "always", "check", "thursday.firing")

    assert said.screen.startswith("\x1b[1mSaturday stoneware\x1b[0m, ")
    assert "\x1b[33m▲▲   doubt\x1b[0m, line 19: guard-missing\n" in said.screen


@pytest.mark.parametrize("words", [("check",), ("forecast",)], ids=" ".join)
def test_json_keeps_every_name_whole(
    guardcone, studio, plan: str, hostile: str, words: tuple[str, ...]
) -> None:
    """A program finds the file by the name in JSON, which is written in letters that are safe."""
    name = f"thu{hostile}rs\nday \udcff.firing"
    (studio / name).write_text(plan, encoding="utf-8")

    said = guardcone(*words, "--form", "json", name)
    document = json.loads(said.screen)
    # A line separator is a blank of a plan, and one blank in a name is as good as another.
    in_plan = f"Sat{hostile}urday stoneware".replace("\u2028", " ")
    told = document["plans"][0] if "plans" in document else document

    assert said.screen.isascii()
    assert acting_or_hidden(said.screen) == []
    assert (told["file"], told["name"]) == (name, in_plan)


FORGED = "a\n\n1 plan checked: nothing found.\nb.firing"


@pytest.mark.parametrize(
    "words", [("check",), ("check", "--form", "line"), ("tidy",)], ids=" ".join
)
def test_a_line_end_in_a_name_forges_no_line(guardcone, studio, stoneware, words) -> None:
    """However a file is called, its name stays on the line of the report that it is on."""
    plan = stoneware.replace("  guard  10\n", "", 1).replace("guide  8", "guide 8", 1)
    (studio / FORGED).write_text(plan)

    said = guardcone(*words, FORGED)

    assert said.status == 1
    assert "a��1 plan checked: nothing found.�b.firing" in said.screen
    assert not [line for line in said.screen.splitlines() if line.startswith("1 plan checked: no")]


@pytest.mark.parametrize(
    "words",
    [
        ("check", "missing{}.firing"),
        ("check", "missing{}"),
        ("check", "empty{}"),
        ("check", "--called", "draft{}", "-"),
        ("check", "--stop-at", "{}never", "x"),
        ("check", "x", "--unknown{}"),
        ("forecast", "missing{}.firing"),
        ("tidy", "missing{}.firing"),
        ("why", "guard{}missing"),
        ("start", "new{}.txt"),
        ("rules", "test", "our{}rules.yaml"),
    ],
    ids=" ".join,
)
def test_the_error_output_hands_on_nothing(
    guardcone, studio, hostile: str, words: tuple[str, ...]
) -> None:
    """A name that is refused is repeated, on one line, without what would act or hide."""
    (studio / f"empty{hostile}\nforged").mkdir()

    said = guardcone(*(word.format(f"{hostile}\nforged") for word in words), typed=b"\xff")

    assert said.status == 2
    assert "forged" in said.errors
    assert acting_or_hidden(said.errors) == []
    assert not [line for line in said.errors.splitlines() if line.startswith("forged")]


OWN = r"""
- rule: wall-thick
  concerns: ware
  advice when: wall is thicker than 7 mm
  at: wall
  finding: "The wall \e[8m\u202e\U000e0041 of the {name} is {wall}."
  do: "Throw \u200b it \x9b2J thinner."
  why: "Thick \e[2J walls dry slowly."
  sources: "common practice,\n\nno \x7f source"
  passes:
    - plan: target cone 9
  fails:
    - plan: |
        load
          clay "Marsh buff" matures cone 8 to cone 10
          ware "mugs" 2 of "Marsh buff" unglazed, bisque, wall 8 mm
          elements 40 mm
      at: 8 mm
"""


@pytest.mark.parametrize("colour", COLOURS)
@pytest.mark.parametrize(
    "words",
    [
        ("why", "wall-thick"),
        ("rules",),
        ("rules", "page"),
        ("rules", "test", "our_rules.yaml"),
        ("rules", "schema", "studio"),
        ("check", "--teach", "thursday.firing"),
        ("check", "--form", "line", "thursday.firing"),
    ],
    ids=" ".join,
)
def test_a_rule_of_the_studio_hands_on_nothing(
    guardcone, studio, stoneware, colour: str, words: tuple[str, ...]
) -> None:
    """The texts of a rule, whoever wrote it, are as harmless as those of a plan."""
    (studio / "studio.yaml").write_text("own rules: our_rules.yaml\n")
    (studio / "our_rules.yaml").write_text(OWN)
    (studio / "thursday.firing").write_text(stoneware.replace("wall 6 mm", "wall 8 mm", 1))

    said = guardcone("--colour", colour, *words)

    assert "hrow" in said.screen or "wall-thick" in said.screen
    assert acting_or_hidden(said.screen + said.errors) == []


def test_tidy_never_changes_a_plan_on_its_way(guardcone, stoneware) -> None:
    """A plan that can't be shown as it is is not shown otherwise, since it may become a file."""
    said = guardcone("tidy", "-", typed=stoneware.replace("Heron", "He\x1b[8mron"))

    assert (said.screen, said.status) == ("", 2)
    assert (
        said.errors == "guardcone: the plan has letters that this output can't take as they are\n"
    )
    assert '"Heron"' in guardcone("tidy", "-", typed=stoneware).screen


def test_a_narrow_screen(guardcone, studio, stoneware, monkeypatch) -> None:
    """Forty columns are enough, but for the names of rules and lines to write; eighty are most."""
    (studio / "thursday.firing").write_text(stoneware.replace("  guard  10\n", ""))
    widest = {}
    for columns in ("40", "200", "80"):
        monkeypatch.setenv("COLUMNS", columns)
        told = guardcone("check", "thursday.firing").screen.splitlines()
        widest[columns] = max(len(line) for line in told if not line.startswith("▲"))

    assert widest["40"] <= 40
    assert 60 < widest["80"] == widest["200"] <= 80
