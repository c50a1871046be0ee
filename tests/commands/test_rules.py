"""`guardcone rules`: what is in force here, and rules of a studio's own tried."""

import json

import pytest
from plan_book import plan_book
from syrupy.assertion import SnapshotAssertion

from guardcone.commands import rules
from guardcone.documents import document_path
from guardcone.rulebook import studio_search
from guardcone.rulebook.library import BrokenBook
from guardcone.rulebook.rule import RuleFault
from guardcone.span import Span

STUDIO = """\
limits: {quickest-climb: 170 C/h}
rules:
  kiln-too-cool: {consequence: off, because: new elements in Heron}
own rules: our_rules.yaml
"""
OWN = """\
- rule: wall-thick
  concerns: ware
  advice when: wall is thicker than 7 mm
  at: wall
  finding: The wall of the {name} is {wall}.
  do: Throw it thinner.
  why: Thick walls dry slowly.
  sources: common practice, no source
  passes:
    - plan: target cone 9
  fails:
    - plan: |
        load
          clay "Marsh buff" matures cone 8 to cone 10
          ware "mugs" 2 of "Marsh buff", bisque, wall 8 mm
      at: 8 mm
"""


@pytest.fixture(autouse=True)
def small_book(monkeypatch: pytest.MonkeyPatch) -> None:
    """The small book in place of the built-in one."""
    book = plan_book()
    monkeypatch.setattr(rules, "built_in_book", lambda: book)
    monkeypatch.setattr(studio_search, "built_in_book", lambda: book)


def test_the_list_says_what_is_in_force_here(guardcone, studio, snapshot) -> None:
    """Rules and limits that studio.yaml changes name its line; own rules stand among the others."""
    (studio / "studio.yaml").write_text(STUDIO)
    (studio / "our_rules.yaml").write_text(OWN)

    said = guardcone("rules")

    assert said.screen.partition("rules/text.yaml")[0] == snapshot
    assert "4 rules in force, 1 turned off." in said.screen
    assert "quickest-climb 170 °C/h (set in studio.yaml:1; the book says 200 °C/h)" in said.screen
    assert guardcone("rules", "list") == said


def test_a_faulty_studio_file_is_told_whole(guardcone, studio, snapshot: SnapshotAssertion) -> None:
    """Nothing is listed: all errors of the file with their places, and exit status 2."""
    (studio / "studio.yaml").write_text(STUDIO.replace("climb: 170", "clim: 170"))

    assert str(guardcone("rules")) == snapshot


def test_own_rules_are_tried(guardcone, studio, snapshot: SnapshotAssertion) -> None:
    """Each example by its id, with what it gives; all right is exit status 0."""
    (studio / "our_rules.yaml").write_text(OWN)

    assert str(guardcone("rules", "test", "our_rules.yaml")) == snapshot


def test_a_wrong_example_is_status_1(guardcone, studio, snapshot: SnapshotAssertion) -> None:
    """An example that does not come out says what was found instead."""
    (studio / "our_rules.yaml").write_text(OWN.replace("thicker than 7 mm", "thicker than 8 mm"))

    said = guardcone("rules", "test", "our_rules.yaml")

    assert said.status == 1
    assert str(said) == snapshot


@pytest.mark.parametrize(
    ("text", "error"),
    [
        (
            OWN.replace("wall is", "wal is"),
            "our_rules.yaml:3:16: ware has no fact 'wal', nor is there such a limit "
            "(did you mean wall?)\n"
            "guardcone: this can't be used; the line above says where it is wrong\n",
        ),
        (None, "guardcone: our_rules.yaml can't be read: it is not there\n"),
    ],
)
def test_a_file_that_is_no_rule_file_is_status_2(
    guardcone, studio, text: str | None, error: str
) -> None:
    """A fault in the file, or no file, is told; no example is run."""
    if text is not None:
        (studio / "our_rules.yaml").write_text(text)

    said = guardcone("rules", "test", "our_rules.yaml")

    assert (said.screen, said.errors, said.status) == ("", error, 2)


def test_a_file_without_rules_is_no_success(guardcone, studio) -> None:
    """Where nothing was tried nothing is known, so the exit status is 2."""
    (studio / "our_rules.yaml").write_text("# to come\n")

    said = guardcone("rules", "test", "our_rules.yaml")

    assert said.screen == "There is no rule to try.\n"
    assert said.errors.startswith("guardcone: no example was run")
    assert said.status == 2


def test_a_limit_that_is_changed_tries_the_rules_that_use_it(guardcone) -> None:
    """After a change of the built-in limits, the rules with limits are tried, and no others."""
    said = guardcone("rules", "test", str(document_path("rules", "limits.yaml")))

    assert said.screen.endswith("2 examples of 1 rule: all come out as they say.\n")


def test_without_a_file_the_whole_book_is_tried(guardcone) -> None:
    """One command after one change in the rule book runs all its examples."""
    said = guardcone("rules", "test")

    assert said.status == 0
    assert said.screen.endswith("8 examples of 4 rules: all come out as they say.\n")


def test_a_broken_book_is_told_at_its_place(guardcone, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody who changes the built-in book and slips is told where, and nothing is run."""

    def broken() -> None:
        raise BrokenBook((RuleFault("rules/witness.yaml", Span(3, 5, 9), "no such fact"),))

    monkeypatch.setattr(rules, "built_in_book", broken)

    said = guardcone("rules", "test")

    assert said.errors == (
        "rules/witness.yaml:3:5: no such fact\n"
        "guardcone: the rule book can't be used; the line above says where it is wrong\n"
    )
    assert said.status == 2


@pytest.mark.parametrize("of", ["rules", "studio"])
def test_schemas_are_json(guardcone, of: str) -> None:
    """What `rules schema` prints is JSON that names its dialect."""
    said = guardcone("rules", "schema", of)

    assert said.status == 0
    assert json.loads(said.screen)["$schema"].endswith("/2020-12/schema")


@pytest.mark.parametrize(
    ("part", "begins"),
    [
        ("limits", "quickest-climb 200 °C/h\n"),
        ("vocabulary", "plan\n"),
        ("page", "# The rules of guardcone\n"),
    ],
)
def test_other_parts(guardcone, part: str, begins: str) -> None:
    """Limits, vocabulary and the page are printed, with exit status 0."""
    said = guardcone("rules", part)

    assert said.screen.startswith(begins)
    assert said.status == 0
