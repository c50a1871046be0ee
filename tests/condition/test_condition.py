"""What a condition means: truth of whole conditions over one small plan."""

import pytest
from toy_kiln import SOUND, VOCABULARY, Part, ToyCase, read_toy, with_facts

from guardcone.condition.kinds import LENGTH, RATE, many
from guardcone.condition.scope import Scope
from guardcone.condition.typed import Compiler
from guardcone.condition.typing import read_condition
from guardcone.condition.vocabulary import UNREADABLE, Fact, Vocabulary
from guardcone.span import Written
from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries, Length, Numbering, Rate

LIMITS = {"damp-ware-rate": RATE, "thick-wall": LENGTH}
IN_FORCE = {"damp-ware-rate": Rate.of(60, "C/h"), "thick-wall": Length.of(12, "mm")}

PLAN = """\
plan "toy"
kiln "Heron"
  rating 1280 C
  starts 2026-10-03 07:30, ends 2026-10-03 19:00
  vent-on-throughout yes
target cone 06
witness "bottom shelf"
  guide 07
  target 06
  guard 05, lean 8 degrees
witness "top shelf"
  target 06
load
  clay "Marsh buff", matures-from 06, matures-to 04
  clay "Red marl", matures-from 02, matures-to 1
  ware "mugs", state bone-dry, wall 1/4 in, pieces 24, of "Marsh buff"
  ware "planters", state damp, wall 14 mm, pieces 2, of "Red marl"
schedule
  segment "first", rate 60 C/h, start 20 C, goal 95 C
  segment "second", rate 180 F/h, start 95 C, goal 600 C, lasts 5 h 3 min
"""


def verdict(text, subject, number=0, case=None):
    """What a condition says of the first, second ... instance of a subject in a plan."""
    case = case or read_toy(PLAN)
    concerns = VOCABULARY.subject(subject)
    condition = read_condition(text, Scope(VOCABULARY, LIMITS, concerns))
    test = Compiler(VOCABULARY, IN_FORCE).value(condition)
    instance = list(concerns.each(case))[number]
    return test(case, instance)


@pytest.mark.parametrize(
    ("text", "subject", "number", "expected"),
    [
        # presence
        ("guide is present", "witness set", 0, True),
        ("guide is missing", "witness set", 0, False),
        ("guide is missing", "witness set", 1, True),
        ("guide is not missing", "witness set", 1, False),
        ("lean is not present", "witness set", 1, True),
        ("kiln is missing", "plan", 0, False),
        # cones: 07 is cooler than 06, though the number is larger
        ("guide is cooler than target", "witness set", 0, True),
        ("guide is hotter than target", "witness set", 0, False),
        ("guard is hotter than cone 06", "witness set", 0, True),
        ("guard is hotter than cone 6", "witness set", 0, False),
        ("guard is one step hotter than target", "witness set", 0, True),
        ("guard is one step cooler than target", "witness set", 0, False),
        ("steps from guide to guard is 2", "witness set", 0, True),
        ("steps from guard to guide is below 0", "witness set", 0, True),
        ("cone of target is cone 06", "plan", 0, True),
        ("guide is cone 07 or target is cone 9", "witness set", 0, True),
        # measures in mixed units: 1/4 in is 6.35 mm, 180 °F/h is 100 °C/h
        ("wall is thicker than 6 mm", "ware", 0, True),
        ("wall is at most 6.35 mm", "ware", 0, True),
        ("wall is thicker than thick-wall", "ware", 1, True),
        ("rate is faster than damp-ware-rate", "segment", 0, False),
        ("rate is at least damp-ware-rate", "segment", 0, True),
        ("rate is 100 C/h", "segment", 1, True),
        ("rate is slower than 2 C/min", "segment", 1, True),
        # arithmetic by kind
        ("goal - start is 75 C", "segment", 0, True),
        ("goal - start is 135 F", "segment", 0, True),
        ("goal - 20 C is 75 C", "segment", 0, True),
        ("start + 75 C is goal", "segment", 0, True),
        ("(goal - start) / rate is 1 h 15 min", "segment", 0, True),
        ("2 * rate is faster than 100 C/h", "segment", 0, True),
        ("1300 C - 20 C is rating", "kiln", 0, True),
        ("20 C + (goal - start) is goal", "segment", 0, True),
        ("goal is 20 C + (goal - start)", "segment", 0, True),
        ("wall / 7 mm is 2", "ware", 1, True),
        ("pieces / 0 is 2", "ware", 1, None),
        ("1280 C - rating is 0 C", "kiln", 0, True),
        # words
        ("state is damp", "ware", 1, True),
        ("state is not damp", "ware", 1, False),
        ("state is dry", "ware", 1, False),
        ("state is state", "ware", 1, True),
        ("state is damp or leather-hard", "ware", 1, True),
        ("state is damp or leather-hard", "ware", 0, False),
        ("state is not damp or leather-hard", "ware", 0, True),
        ("state is not damp or leather-hard", "ware", 1, False),
        ("state is damp or wall is thicker than 6 mm", "ware", 0, True),
        ("state is one of damp, bone-dry", "ware", 0, True),
        ("state is not one of damp, bone-dry", "ware", 0, False),
        # texts
        ('place is "Bottom Shelf"', "witness set", 0, True),
        ('place mentions "TOP"', "witness set", 1, True),
        ('place mentions "TOP"', "witness set", 0, False),
        # and, or, not
        ("guide is missing and guard is missing", "witness set", 1, True),
        ("guide is missing and target is missing", "witness set", 1, False),
        ("not (guide is missing and target is missing)", "witness set", 1, True),
        ("(guide is missing and lean is missing) or guard is missing", "witness set", 0, False),
        ("vent-on-throughout of kiln", "ware", 0, True),
        ("not vent-on-throughout", "kiln", 0, False),
        # other subjects
        ("rating of kiln is below 1300 C", "ware", 0, True),
        ("matures-to of clay is cooler than cone of target", "ware", 0, False),
        ("matures-from of clay is hotter than cone of target", "ware", 1, True),
        ("some ware has (state is damp)", "plan", 0, True),
        ("every ware has (wall is present)", "plan", 0, True),
        ("every ware has (state is damp)", "plan", 0, False),
        ("some clay has (matures-from is cone 02)", "ware", 0, True),
        ("some cones has (number is hotter than cone 06)", "witness set", 0, True),
        ("some cones has (number is hotter than cone 06)", "witness set", 1, False),
        ("count of ware is 2", "plan", 0, True),
        ("count of cones is 1", "witness set", 1, True),
        ("count of cones of set is 3", "witness cone", 0, True),
    ],
)
def test_a_condition_says_what_it_reads(text, subject, number, expected):
    """Each condition holds, fails or is unknown of the plan above as a person would say."""
    assert expected is verdict(text, subject, number)


_LESS_AND_MORE = {
    "wall": ("6 mm", "thinner closer less", "thicker wider more"),
    "rate": ("100 C/h", "slower less", "faster more"),
    "lasts": ("2 h", "shorter less", "longer more"),
    "goal": ("600 C", "cooler less", "hotter more"),
    "guide": ("cone 06", "cooler less", "hotter more"),
    "pieces": ("24", "less", "more"),
}
_BELOW_AND_ABOVE = {
    "wall": ("5 mm", "7 mm"),
    "rate": ("90 C/h", "110 C/h"),
    "lasts": ("1 h", "3 h"),
    "goal": ("500 C", "700 C"),
    "guide": ("cone 07", "cone 05"),
    "pieces": ("23", "25"),
}
_OWNER = {"wall": "ware", "pieces": "ware", "guide": "witness set"}


@pytest.mark.parametrize("fact", list(_LESS_AND_MORE))
def test_every_comparative_points_the_way_it_says(fact):
    """Each comparative holds on one side of a value, and neither on the value nor beyond it."""
    amount, less, more = _LESS_AND_MORE[fact]
    lower, upper = _BELOW_AND_ABOVE[fact]
    subject = _OWNER.get(fact, "segment")
    scope = Scope(VOCABULARY, LIMITS, VOCABULARY.subject(subject))
    same = read_condition(f"{fact} is {amount}", scope)
    case = ToyCase({subject: [Part({fact: same.operands[1].value})]})

    def holds(comparison):
        return verdict(f"{fact} is {comparison}", subject, case=case)

    for word in less.split():
        assert [holds(f"{word} than {x}") for x in (lower, amount, upper)] == [False, False, True]
    for word in more.split():
        assert [holds(f"{word} than {x}") for x in (lower, amount, upper)] == [True, False, False]
    assert [holds(f"below {x}") for x in (lower, amount, upper)] == [False, False, True]
    assert [holds(f"above {x}") for x in (lower, amount, upper)] == [True, False, False]
    assert [holds(f"at most {x}") for x in (lower, amount, upper)] == [False, True, True]
    assert [holds(f"at least {x}") for x in (lower, amount, upper)] == [True, True, False]


def test_times_come_earlier_and_later():
    """A moment is earlier or later than another, and neither than itself."""
    words = ("earlier", "later")

    assert [verdict(f"starts is {word} than ends", "kiln") for word in words] == [True, False]
    assert [verdict(f"ends is {word} than starts", "kiln") for word in words] == [False, True]
    assert [verdict(f"ends is {word} than ends", "kiln") for word in words] == [False, False]


@pytest.mark.parametrize(
    ("left", "right", "both", "either"),
    [
        (True, True, True, True),
        (True, False, False, True),
        (True, None, None, True),
        (False, True, False, True),
        (False, False, False, False),
        (False, None, False, None),
        (None, True, None, True),
        (None, False, False, None),
        (None, None, None, None),
    ],
)
def test_three_values_combine_by_kleenes_tables(left, right, both, either):
    """`and`, `or` and `not` follow the strong tables of Kleene (Introduction to Metamathematics,
    1952, section 64; written here from memory)."""
    spelled = {True: "vent-on-throughout", False: "not vent-on-throughout", None: "rating is 5 C"}
    kiln = Part({"vent-on-throughout": True, "rating": None})
    case = ToyCase({"kiln": [kiln]})

    def said(text):
        return verdict(text, "kiln", case=case)

    assert both is said(f"({spelled[left]}) and ({spelled[right]})")
    assert either is said(f"({spelled[left]}) or ({spelled[right]})")
    assert (None if left is None else not left) is said(f"not ({spelled[left]})")


@pytest.mark.parametrize(
    ("facts", "text", "expected"),
    [
        ({}, "guide is missing", True),
        ({}, "guide is hotter than target", None),
        ({}, "not guide is hotter than target", None),
        ({"guide": UNREADABLE}, "guide is missing", None),
        ({"guide": UNREADABLE}, "guide is present", None),
        ({"guide": UNREADABLE}, "guide is cone 9", None),
        ({"guide": UNREADABLE}, "guide is missing or target is missing", True),
        ({"guide": UNREADABLE}, "guide is missing and target is present", False),
        ({"cones": UNREADABLE}, "some cones has (number is present)", None),
        ({"cones": [UNREADABLE]}, "some cones has (number is present)", None),
        ({"cones": [UNREADABLE]}, "every cones has (number is present)", None),
        ({"cones": [UNREADABLE]}, "count of cones is 1", None),
        ({"cones": []}, "every cones has (number is present)", True),
    ],
)
def test_what_is_not_known_makes_no_claim(facts, text, expected):
    """A missing fact makes a comparison unknown, an unreadable one even whether it is missing."""
    case = ToyCase({"witness set": [Part(dict(facts))]})

    assert expected is verdict(text, "witness set", case=case)


def test_a_fact_of_something_missing_is_unknown_not_missing():
    """A ware whose clay is not described gets no second finding about that clay's range."""
    case = ToyCase({"ware": [Part()]})

    assert verdict("clay is missing", "ware", case=case) is True
    assert verdict("matures-to of clay is missing", "ware", case=case) is None


def test_cones_of_two_makers_are_not_compared():
    """Seger 9 and Orton 9 have no order, so a rule about their order stays silent."""
    seger = Cone(ConeNumber.read("9"), ConeSeries(numbering=Numbering.SEGER))
    witness = Part({"guide": seger, "target": Cone(ConeNumber.read("9"))})
    case = ToyCase({"witness set": [witness]})

    assert verdict("guide is cooler than target", "witness set", case=case) is None
    assert verdict("guide is target", "witness set", case=case) is None
    assert verdict("guide is Seger cone 9", "witness set", case=case) is True
    assert verdict("steps from guide to target is 0", "witness set", case=case) is None


def test_the_same_number_in_another_form_is_the_same_cone():
    """A small cone 9 is cone 9: rules compare numbers, tables compare forms."""
    small = Cone(ConeNumber.read("9"), ConeSeries(form=ConeForm.SMALL))
    case = ToyCase({"witness set": [Part({"guide": small})]})

    assert verdict("guide is cone 9", "witness set", case=case) is True


def test_a_value_may_carry_its_place():
    """`Written` or bare, a fact compares alike, and `Written(UNREADABLE)` is unreadable."""
    wall = Length.of(6, "mm")
    spot = read_toy(SOUND).parts["ware"][0].span
    for fact in (wall, Written(wall, spot)):
        assert verdict("wall is 6 mm", "ware", case=ToyCase({"ware": [Part({"wall": fact})]}))
    case = ToyCase({"ware": [Part({"wall": Written(UNREADABLE, spot)})]})

    assert verdict("wall is missing", "ware", case=case) is None


def test_a_crowd_of_ones_own_comes_before_all_of_that_name():
    """Where a subject has several of something, `some` means those and not all in the plan."""
    kiln = VOCABULARY.subject("kiln")
    own = Fact("ware", many("ware"), "what stands in it", lambda part: part.facts["ware"])
    subjects = tuple(
        with_facts(subject, *subject.facts, own) if subject is kiln else subject
        for subject in VOCABULARY.subjects
    )
    vocabulary = Vocabulary(subjects)
    condition = read_condition(
        "some ware has (state is damp)", Scope(vocabulary, {}, vocabulary.subject("kiln"))
    )
    damp, dry = Part({"state": "damp"}), Part({"state": "bisque"})
    one, other = Part({"ware": [damp]}), Part({"ware": [dry]})
    case = ToyCase({"ware": [damp, dry], "kiln": [one, other]})
    test = Compiler(vocabulary, {}).value(condition)

    assert test(case, one) is True
    assert test(case, other) is False


def test_a_count_may_be_a_whole_number():
    """Pieces counted as an int compare and divide like any number."""
    case = ToyCase({"ware": [Part({"pieces": 24})]})

    assert verdict("pieces is 24", "ware", case=case) is True
    assert verdict("48 / pieces is 2", "ware", case=case) is True
    assert verdict("pieces * 2 is at least 48", "ware", case=case) is True
