"""Rules with levels: which is the finding, what it silences, and what a studio makes of it."""

import pytest
from toy_kiln import SOUND, VOCABULARY, read_toy

from guardcone.checking import Finding, check
from guardcone.rulebook.book import Crossing, LimitChange, RuleBook, RuleChange
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.example_plan import splice
from guardcone.rulebook.rule import Consequence
from guardcone.values import Length

DANGER, LOSS, DOUBT, ADVICE = Consequence
THINNER = "Throw it thinner."

LIMITS = """\
- limit: thick
  value: 12 mm
  range: 5 mm to 40 mm
  sources: the studio's own
- limit: very-thick
  value: 25 mm
  range: 5 mm to 40 mm
  sources: the studio's own
"""
RULE = """\
- rule: wall-thick
  concerns: ware
  unless: state is bone-dry
  loss:
    when: wall is thicker than very-thick
    finding: The wall of {wall} is far too thick.
  doubt:
    - {case: damp, when: wall is thicker than thick and state is damp, do: Dry it.}
    - {case: other, when: wall is thicker than thick}
  advice when: state is damp
  at: wall
  finding: The wall of {wall} is thick.
  do: Throw it thinner.
  why: Thick walls dry slowly.
  sources: the studio's own
  passes: stoneware
  fails: {from: stoneware, gives: loss}
"""
OTHER = """\
- rule: ware-there
  concerns: ware
  advice when: name is present
  finding: There is ware.
  do: Look at it.
  why: Ware must be looked at.
  sources: the studio's own
  passes: stoneware
  fails: stoneware
"""


def book(*rules: str) -> RuleBook:
    """A sound book of these rules and the two limits."""
    reading = read_book([BookFile("rules", LIMITS + "".join(rules))], VOCABULARY)
    assert reading.faults == ()
    return reading.book


def faults(*rules: str) -> list[str]:
    """What is wrong with these rules."""
    return [
        str(one) for one in read_book([BookFile("r", LIMITS + "".join(rules))], VOCABULARY).faults
    ]


def found(facts: str, rules: RuleBook) -> list[Finding]:
    """What is found of a ware."""
    plan = splice(SOUND, f'load\n  ware "pots", {facts}\n').text
    return list(check(read_toy(plan), rules).findings)


@pytest.mark.parametrize(
    ("ware", "weight", "case", "text", "do"),
    [
        ("state damp, wall 30 mm", LOSS, "", "The wall of 30 mm is far too thick.", THINNER),
        ("state damp, wall 20 mm", DOUBT, "damp", "The wall of 20 mm is thick.", "Dry it."),
        ("state bisque, wall 20 mm", DOUBT, "other", "The wall of 20 mm is thick.", THINNER),
        ("state damp, wall 5 mm", ADVICE, "", "The wall of 5 mm is thick.", THINNER),
    ],
)  # fmt: skip
def test_the_worst_level_that_holds_is_the_finding(
    ware: str, weight: Consequence, case: str, text: str, do: str
) -> None:
    """One finding for one ware; what a level does not say is the rule's."""
    (finding,) = found(ware, book(RULE))

    assert (finding.consequence, finding.case, finding.text, finding.repair) == (
        weight,
        case,
        text,
        do,
    )
    assert finding.levels == (LOSS, DOUBT, ADVICE)


def test_unless_takes_the_whole_rule_out() -> None:
    """At every level."""
    assert found("state bone-dry, wall 30 mm", book(RULE)) == []


def test_a_level_of_which_nothing_is_known_is_passed_over_and_remembered() -> None:
    """The lighter one that holds is told, with the worse ones that nobody could look at."""
    (finding,) = found("state damp", book(RULE))

    assert finding.consequence is ADVICE
    assert finding.unknown == (LOSS, DOUBT)


@pytest.mark.parametrize(
    ("silence", "told"),
    [
        ("wall-thick up to advice", ["wall-thick", "ware-there"]),
        ("wall-thick up to doubt", ["ware-there"]),
        ("wall-thick up to loss", ["ware-there"]),
    ],
)
def test_a_silence_reaches_up_to_its_weight(silence: str, told: list[str]) -> None:
    """A finding of doubt is kept quiet up to doubt and up to loss, and not up to advice."""
    rules = book(RULE, f"{OTHER}  silences: [{silence}]\n")

    assert sorted(one.rule for one in found("state bisque, wall 20 mm", rules)) == told


def test_a_silence_says_up_to_which_weight() -> None:
    """By its bare name a rule of several weights would be silenced at one that nobody meant."""
    (fault,) = faults(RULE, f"{OTHER}  silences: [wall-thick]\n")

    assert "'wall-thick' has more than one weight" in fault
    assert "write wall-thick up to loss, wall-thick up to doubt, wall-thick up to advice" in fault


def test_circles_are_looked_for_level_by_level() -> None:
    """A doubt may silence what silences only the advice beside it; at one weight both would go."""
    own = RULE.replace("case: other, when", "case: other, silences: [ware-there], when")

    assert faults(own, f"{OTHER}  silences: [wall-thick up to advice]\n") == []
    assert any(
        "silences this rule in turn" in fault
        for fault in faults(own, f"{OTHER}  silences: [wall-thick up to doubt]\n")
    )


def test_a_fault_that_several_levels_read_is_told_once() -> None:
    """A slip in the finding that they share is one slip."""
    (fault,) = faults(RULE.replace("finding: The wall of {wall} is thick.", "finding: A {wal}."))

    assert "has no fact 'wal'" in fault


REASON = "- reason: slow-drying\n  text: Thick walls dry slowly.\n  sources: the studio's own\n"


def test_a_reason_is_shared_by_its_name() -> None:
    """The rule has the text and the sources; one that stands twice, or for nobody, is a fault."""
    named = RULE.replace(
        "  why: Thick walls dry slowly.\n  sources: the studio's own\n", "  reason: slow-drying\n"
    )
    rule = book(REASON, named).rule("wall-thick")

    assert rule is not None
    assert rule.why == "Thick walls dry slowly."
    assert [source.what for source in rule.sources] == ["the studio's own"]
    assert ["stands twice" in fault for fault in faults(REASON, REASON, named)] == [True]
    assert ["no rule uses the reason" in fault for fault in faults(REASON, RULE)] == [True]


# -- what a studio makes of a level ---------------------------------------------------------------


def weighed(**weights: Consequence | None) -> RuleBook:
    """The book with these levels of the rule changed."""
    known = {Consequence(name): weight for name, weight in weights.items()}
    return book(RULE).with_overrides({}, {"wall-thick": RuleChange(known, "we throw thick")})


def test_a_level_that_is_off_leaves_the_word_to_the_next() -> None:
    """Turned off or lowered, a level is weighed after it is asked."""
    assert [one.consequence for one in found("state damp, wall 30 mm", weighed(loss=None))] == [
        DOUBT
    ]
    assert [one.consequence for one in found("state damp, wall 30 mm", weighed(loss=DOUBT))] == [
        DOUBT
    ]
    assert found("state damp, wall 5 mm", weighed(advice=None)) == []


def test_weights_that_cross_are_refused() -> None:
    """Where a wall of 30 mm would weigh less than one of 20 mm."""
    with pytest.raises(Crossing, match="would weigh advice where it is worse than at doubt"):
        weighed(loss=ADVICE)


def test_limits_that_cross_are_refused() -> None:
    """Where no wall could ever be merely thick; both moved together are fine."""
    limits = {"thick": LimitChange(Length.of(30, "mm"))}

    with pytest.raises(Crossing, match="'thick' and 'very-thick' of 'wall-thick' would cross"):
        book(RULE).with_overrides(limits, {})
    book(RULE).with_overrides(limits | {"very-thick": LimitChange(Length.of(35, "mm"))}, {})


def test_a_level_of_danger_stays_what_it_is() -> None:
    """Its other levels may be changed."""
    rules = book(RULE.replace("  loss:\n", "  danger:\n").replace("gives: loss", "gives: danger"))

    with pytest.raises(ValueError, match="may be explained but not hidden"):
        rules.with_overrides({}, {"wall-thick": RuleChange({DANGER: LOSS}, "we throw thick")})
    quiet = rules.with_overrides({}, {"wall-thick": RuleChange({ADVICE: None}, "we throw thick")})
    assert [one.consequence for one in found("state damp, wall 30 mm", quiet)] == [DANGER]
