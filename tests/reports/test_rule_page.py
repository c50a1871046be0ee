"""The page of every rule: its numbers are there, its plans are read, and what is marked differs."""

import re
from collections import Counter
from functools import cache

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone.checking.examples import OrdinaryPair, ordinary_pair
from guardcone.condition.sentences import Slot, in_units
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.reports.page import Style
from guardcone.reports.rule_page import number_told, rule_page
from guardcone.reports.two_plans import DIFFERS, DOTS, two_plans
from guardcone.rulebook.book import LimitChange, RuleChange
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence, bibliography
from guardcone.values import Quantity, Temperature

BOOK = built_in_book()
PLAIN = Style()
RULES = [rule.name for rule in BOOK.rules]
# What is read in one go; the page of a rule with several levels may be longer.
LONG = 60
LONGER = {
    # The plans differ in many places.
    *("bisque-too-soft", "one-set-in-a-tall-kiln", "guide-standing"),
    # Many numbers, each with its source.
    *("clay-overfired", "clay-underfired", "zero-target-against-schedule"),
}


@cache
def page(name: str) -> str:
    """The page of a rule."""
    rule = BOOK.rule(name)
    assert rule
    return rule_page(rule, BOOK, PLAIN)


@cache
def pair(name: str) -> OrdinaryPair:
    """The two plans that the page of a rule shows, whole."""
    rule = BOOK.rule(name)
    assert rule
    found = ordinary_pair(rule, BOOK)
    assert found, f"{name} has no plan without any finding of doubt beside one with its own"
    return found


def even(line: str) -> str:
    """A line of a plan without the blanks that line it up."""
    return " ".join(line.split())


def rows(lines: list[str]) -> tuple[list[str], list[str]]:
    """What is shown of a plan: the marked lines, and the others; remarks that are ours are left."""
    marked, others = [], []
    for line in lines:
        is_marked = line.startswith(f"  {DIFFERS} ")
        text = even(line[4:])
        if text != DOTS and not text.startswith("#"):
            (marked if is_marked else others).append(text)
    return marked, others


@pytest.mark.parametrize(
    "name", ["guard-missing", "opening-hot", "hood-missing", "bisque-too-hard", "plan-empty"]
)
def test_a_page(name: str, snapshot: SnapshotAssertion) -> None:
    """What it finds, why, its numbers, when to let it stand, two plans, and who says so."""
    assert page(name) == snapshot


def test_a_page_under_a_studio(snapshot: SnapshotAssertion) -> None:
    """Numbers and weights are those in force; the two plans stay those of the book, and say so."""
    book = BOOK.with_overrides(
        {"opening-most": LimitChange(Temperature.of(140, "C"), "studio.yaml:4")},
        {
            "opening-hot": RuleChange(
                {Consequence.ADVICE: None}, "every load is opened at 110 °C", "studio.yaml:7"
            )
        },
    )
    rule = book.rule("opening-hot")
    assert rule

    assert rule_page(rule, book, PLAIN) == snapshot


def test_no_slot_is_left_open() -> None:
    """No braces, no pointed brackets and no empty value stand in any page."""
    wrong = [
        f"{name}: {found[0]}"
        for name in RULES
        if (found := re.search(r"[{}<]|not stated", page(name)))
    ]

    assert wrong == []


def test_every_limit_stands_there_as_a_number() -> None:
    """The number in force, and the range in which a studio may move it; never its bare name."""
    wrong = []
    for rule in BOOK.rules:
        told = even(page(rule.name))
        for limit in BOOK.limits:
            if limit.name in rule.limits:
                units = [limit.value] if isinstance(limit.value, Quantity) else []
                ends = (limit.value, limit.least, limit.most)
                value, least, most = (number_told(in_units(end, units)) for end in ends)
                there = f"a studio may move it from {least} to {most}" in told and value in told
                wrong += [f"{rule.name}: {limit.name}"] if not there else []
                slots = [
                    piece
                    for level in rule.levels
                    for piece in level.finding.pieces
                    if isinstance(piece, Slot)
                ]
                named = [slot for slot in slots if slot.text == limit.name]
                wrong += [f"{rule.name}: {slot}" for slot in named if str(slot) in told]

    assert wrong == []


def test_sources_are_told_in_words() -> None:
    """Each rule says where it comes from and how that was read, and never by a key of the list."""
    keys = {key for key in bibliography() if "-" in key and key not in RULES}
    wrong = []
    for name in RULES:
        told = page(name).partition("Where it comes from")[2].partition("\n")[2]
        if not told.strip():
            wrong.append(f"{name} has no source")
        words = set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)+", told))
        # What stands in the sentence of a source itself is a word there.
        said = " ".join(source.what.casefold() for source in bibliography().values())
        wrong += [f"{name}: {key}" for key in words & keys if key not in said]

    assert wrong == []


def test_both_plans_are_read() -> None:
    """Neither plan has a line that can't be read, and only the second one has the finding."""
    wrong = []
    for name in RULES:
        shown = pair(name)
        for text in (shown.without, shown.having):
            plan = read_plan(SourceText(name, split_lines(text)))
            wrong += [f"{name}: {fault}" for fault in plan.faults]
        wrong += [f"{name} tells something else"] if shown.finding.rule != name else []

    assert wrong == []


def test_what_is_marked_is_what_differs() -> None:
    """A marked line stands in that plan and not in the other, any other line in both.

    No line that one of the two has alone goes unmarked, but for those that are counted only.
    """
    wrong = []
    for name in RULES:
        shown = pair(name)
        counted = [
            Counter(filter(None, map(even, text.splitlines())))
            for text in (shown.without, shown.having)
        ]
        for number, lines in enumerate(two_plans(shown)):
            own, other = counted[number], counted[1 - number]
            marked, others = rows(lines)
            wrong += [f"{name}: {line}" for line in others if not (own[line] and other[line])]
            wrong += [f"{name}: > {line}" for line in marked if not own[line]]
            alone = own - other
            is_cut = any("lines more that the other has not" in line for line in lines)
            repeated = any(line.strip() == "# as above" for line in lines)
            unmarked = set(alone) - set(marked)
            if unmarked and not is_cut and not repeated:
                wrong.append(f"{name}: unmarked {unmarked}")
            if not marked and not any("not in this plan" in line for line in lines):
                other_lines, _ = rows(two_plans(shown)[1 - number])
                wrong += [f"{name}: nothing is marked"] if not other_lines else []

    assert wrong == []


def test_an_ordinary_page_is_read_in_one_go() -> None:
    """The page of a rule with one level is sixty lines at most, but for those that are listed."""
    long = {
        rule.name
        for rule in BOOK.rules
        if len(rule.levels) == 1 and page(rule.name).count("\n") > LONG
    }

    assert long == LONGER
