"""What a person reads of a rule book: lists, the page, and what came of running examples."""

import re

import pytest
from plan_book import RULES, plan_book
from syrupy.assertion import SnapshotAssertion

from guardcone.checking.examples import run_book, run_rule_files
from guardcone.condition.sentences import Slot
from guardcone.facts import VOCABULARY
from guardcone.reports.page import Style
from guardcone.reports.reference_page import reference_page
from guardcone.reports.rule_page import rule_page
from guardcone.reports.rules import (
    faults_one_a_line,
    limit_list,
    rule_list,
    rule_test_report,
    vocabulary_list,
)
from guardcone.rulebook.book import LimitChange, RuleBook, RuleChange
from guardcone.rulebook.book_files import BookFile
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence, TextFaultPage
from guardcone.values import Rate

BOOK = plan_book()
PLAIN = Style()
PAGE = TextFaultPage(
    "unit-missing",
    Consequence.DOUBT,
    "A number has no unit.",
    "1000 is *bisque* in °C.",
    "climb 60 to 95",
    "climb 60 C/h to 95 C",
)


@pytest.fixture(scope="module")
def changed() -> RuleBook:
    """The book with a limit and two rules changed by a studio."""
    return BOOK.with_overrides(
        {"quickest-climb": LimitChange(Rate.of(306, "F/h"), "studio.yaml:4")},
        {
            "kiln-too-cool": RuleChange(
                {Consequence.LOSS: Consequence.DOUBT}, "Heron has new elements", "studio.yaml:7"
            ),
            "climb-too-fast": RuleChange(
                {Consequence.DOUBT: None}, "the controller bounds every climb", "studio.yaml:8"
            ),
        },
    )


def test_rules_in_force(changed: RuleBook, snapshot: SnapshotAssertion) -> None:
    """Each rule with its weight; a changed one with the line that changes it and the reason."""
    assert rule_list(changed, [PAGE], PLAIN) == snapshot


def test_limits_in_force(changed: RuleBook, snapshot: SnapshotAssertion) -> None:
    """Each limit with its value, whoever set it, range, source and the rules that use it."""
    assert limit_list(changed, PLAIN) == snapshot


def test_reference_page(changed: RuleBook, snapshot: SnapshotAssertion) -> None:
    """The page up to the facts: every rule, limit and fault of the text, fit for Markdown."""
    page = reference_page(changed, [PAGE])

    assert page.partition("\n## What a rule may ask")[0] == snapshot


def test_every_link_of_the_page_leads_somewhere() -> None:
    """Each rule in the contents has a heading, and every fact of the vocabulary a row."""
    page = reference_page(BOOK, [PAGE])
    headings = set(re.findall(r"^### (\S+)$", page, re.MULTILINE))

    assert set(re.findall(r"\]\(#([^)]+)\)", page)) <= headings
    for subject in VOCABULARY.subjects:
        section = page.partition(f"### Subject: {subject.name}\n")[2].partition("\n### ")[0]
        for fact in subject.facts:
            assert f"| `{fact.name}` |" in section


def test_the_vocabulary_lists_every_fact() -> None:
    """Every subject and fact has its name, kind and meaning in the listing, within the width."""
    listing = vocabulary_list(VOCABULARY, PLAIN)
    words = " ".join(listing.split())

    for subject in VOCABULARY.subjects:
        for fact in subject.facts:
            assert f"{fact.name}: {fact.type} {fact.doc}" in words
    assert max(len(line) for line in listing.splitlines()) <= PLAIN.width


def test_a_book_whose_examples_come_out() -> None:
    """Every example of the small book comes out as it says, on the sound stoneware plan."""
    test = run_book(BOOK)

    assert [run.example.id for run in test.wrong] == []
    assert len(test.runs) == 8


OWN = """\
- limit: widest-wall
  value: 6 mm
  range: 1 mm to 20 mm
  sources: broken pots of last winter
- rule: wall-thick
  concerns: ware
  doubt when: wall is thicker than widest-wall
  at: wall
  finding: The wall of the {name} is {wall}.
  do: "Throw it thinner, {widest-wall} at most."
  why: Thick walls dry slowly.
  sources: common practice, no source
  passes:
    - plan: |
        load
          clay "Marsh buff" matures cone 8 to cone 10
          ware "mugs" 2 of "Marsh buff", bisque, wall 6 mm
    - plan: |
        load
          clay "Marsh buff" matures cone 8 to cone 10
          ware "mugs" 2 of "Marsh buff", bisque, wall 7 mm
  fails:
    - plan: |
        load
          clay "Marsh buff" matures cone 8 to cone 10
          ware "mugs" 2 of "Marsh buff", bisque, wall 7 mm
      at: 7 mm
      in: ware "mugs"
    - plan: |
        load
          clay "Marsh buff" matures cone 8 to cone 10
          ware "mugs" 2 of "Marsh buff", bisque, wall 7 mm
          ware "bowls" 2 of "Marsh buff", bisque, wall 6 mm
      at: 7 mm
      in: ware "bowls"
    - plan: |
        target cone 12
        load
          clay "Marsh buff" matures cone 8 to cone 12
          ware "mugs" 2 of "Marsh buff", bisque, wall 7 mm
      at: 7 mm
      in: load
"""


def test_rules_of_a_studio(snapshot: SnapshotAssertion) -> None:
    """Each example by its id: right with the sentences it gives, wrong with what was found."""
    test = run_rule_files([BookFile("our_rules.yaml", OWN)], BOOK)

    assert test.faults == ()
    assert rule_test_report(test, PLAIN) == snapshot


def test_a_faulty_file_is_not_run() -> None:
    """A fault in the file is told at its place, and no example is run."""
    test = run_rule_files([BookFile("our_rules.yaml", OWN.replace("at: wall", "at: wal"))], BOOK)

    assert test.runs == ()
    assert faults_one_a_line(test.faults, PLAIN) == (
        "our_rules.yaml:8:7: ware has no fact 'wal', nor is there such a limit "
        "(did you mean wall?)\n"
    )


def test_rules_of_a_studio_may_use_the_limits_of_the_book() -> None:
    """An own rule names a limit of the book, and silences a rule of it with the same root cause."""
    first = RULES.partition("- rule: kiln-too-cool")[0]
    own = first.replace("climb-too-fast", "any-climb").replace("200 C/h to", "199 C/h to")
    own = own.replace("  why:", "  silences: climb-too-fast\n  why:")
    silencing = run_rule_files([BookFile("own", own)], BOOK)
    without = run_rule_files(
        [BookFile("own", own.replace("  silences: climb-too-fast\n", ""))], BOOK
    )

    assert [run.example.id for run in silencing.runs] == ["any-climb/passes/1", "any-climb/fails/1"]
    assert silencing.wrong == ()
    assert [run.example.id for run in without.wrong] == ["any-climb/fails/1"]


def test_no_rule_is_no_success_in_disguise() -> None:
    """A file without rules says so, rather than that all went well."""
    test = run_rule_files([BookFile("own", "")], BOOK)

    assert rule_test_report(test, PLAIN) == "There is no rule to try.\n"


def test_the_page_of_a_rule_says_its_numbers() -> None:
    """A limit or a number of the rule stands there as what it is: 60 °C/h, not its name."""
    book = built_in_book()
    known = {limit.name: limit for limit in book.limits}
    told = 0
    for rule in book.rules:
        page = " ".join(rule_page(rule, book, PLAIN).split())
        said = [piece for level in rule.levels for piece in level.repair.say.pieces]
        slots = [piece for piece in said if isinstance(piece, Slot)]
        for slot in slots:
            if slot.text in known:
                told += 1
                assert f"<{slot.text}>" not in page
                assert str(known[slot.text].value) in page
            elif slot.text[0].isdigit():
                told += 1
                assert f"<{slot.text}>" not in page

    assert told > 20
