"""Examples of rules: each runs by itself, and a wrong example or rule does not get through."""

import pytest
from toy_book import LIMITS, RULES
from toy_kiln import SOUND, VOCABULARY, read_toy

from guardcone.checking import BrokenRule, Finding, Outcome, check
from guardcone.checking.examples import ExampleRun, run_examples
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.rule import Consequence
from guardcone.span import Span


def run(rules: str = RULES) -> tuple[ExampleRun, ...]:
    """All example runs of a toy book."""
    reading = read_book([BookFile("rules", rules), BookFile("limits", LIMITS)], VOCABULARY)
    assert reading.faults == ()

    def check_text(text: str) -> Outcome:
        return check(read_toy(text), reading.book)

    return run_examples(reading.book, {"stoneware": SOUND}, check_text)


@pytest.mark.parametrize("one", run(), ids=lambda one: one.example.id)
def test_example(one: ExampleRun) -> None:
    """Each example of the toy book does what it says."""
    assert one.problems == ()


@pytest.mark.parametrize(
    ("right", "wrong", "example", "problem"),
    [
        (
            "doubt when: guard is missing",
            "doubt when: guard is present",
            "guard-missing/passes/1",
            "it should not be found; guard-missing (doubt, line 8, column 3): The witness set on "
            "the top shelf has no guard cone.",
        ),
        (
            "doubt when: guard is missing",
            "doubt when: guard is present",
            "guard-missing/fails/1",
            "it should be found once, and is found 0 times",
        ),
        (
            "      at: target 9\n",
            "      at: target\n",
            "guard-missing/fails/1",
            "it should point at 'target', not at 'target 9'",
        ),
        (
            "      at: target 9\n\n- rule: pack",
            "\n- rule: pack",
            "guard-missing/fails/2",
            "it points at 'target 9', which the example does not change: say `at`",
        ),
        (
            "  silences: [guide-not-cooler, guard-not-hotter]\n",
            "",
            "pack-reversed/fails/1",
            "something else is found: guide-not-cooler (doubt, line 7, column 3): The guide, "
            "cone 10, is not cooler than the target, cone 9.",
        ),
        (
            "finding: The witness set on the {place} has no guard cone.",
            "finding: No guard, leaning {lean}.",
            "guard-missing/fails/1",
            "no value for {lean} in: No guard, leaning not stated.",
        ),
        (
            "      without: [kiln]\n",
            "      without: [kilm]\n",
            "vent-not-on/fails/3",
            "rules:159:17: there is no 'kilm' in this plan (did you mean kiln?)",
        ),
        (
            "      without: [kiln]\n",
            "      from: stonewear\n",
            "vent-not-on/fails/3",
            "rules:157:7: there is no sound plan 'stonewear' (did you mean stoneware?)",
        ),
        (
            "    - without: guard 10\n",
            "    - without: gard 10\n",
            "guard-missing/fails/2",
            "rules:28:16: there is no 'gard 10' in this plan (the nearest is: guard 10)",
        ),
        (
            "    - vent-on-throughout yes: vent",
            "    - vent on throughout: vent",
            "vent-not-on/fails/2",
            "rules:155:7: there is no 'vent on throughout' in this plan "
            "(the nearest is: vent-on-throughout yes)",
        ),
        (
            '    - witness "bottom shelf":\n',
            '    - witness "top shelf":\n',
            "pack-reversed/fails/2",
            "rules:53:7: there is no section 'witness \"top shelf\"' in this plan "
            '(the nearest is: witness "bottom shelf")',
        ),
    ],
)
def test_a_wrong_rule_or_example_is_caught(
    right: str, wrong: str, example: str, problem: str
) -> None:
    """A flipped rule, a wrong place, a lost silence or a gap in a sentence fails its example."""
    assert right in RULES
    problems = {
        one.example.id: one.problems for one in run(RULES.replace(right, wrong, 1)) if one.problems
    }

    assert problem in problems[example]


def test_columns_that_are_lined_up_are_no_difference() -> None:
    """A run of blanks counts as one in the text pointed at; a blank at its end is one too many."""
    for at, problems in [
        ('"target   9"', ()),
        ('"target 9 "', ("it should point at 'target 9 ', not at 'target 9'",)),
        ('"target9"', ("it should point at 'target9', not at 'target 9'",)),
    ]:
        rules = RULES.replace("      at: target 9\n", f"      at: {at}\n", 1)
        first = next(one for one in run(rules) if one.example.id == "guard-missing/fails/1")
        assert first.problems == problems


def _problems(outcome: Outcome, example: str) -> tuple[str, ...]:
    """What is wrong with an example of the toy book if every faulty plan gives this outcome."""
    reading = read_book([BookFile("rules", RULES), BookFile("limits", LIMITS)], VOCABULARY)

    def check_text(text: str) -> Outcome:
        return Outcome(()) if text == SOUND else outcome

    runs = run_examples(reading.book, {"stoneware": SOUND}, check_text)
    return next(one.problems for one in runs if one.example.id == example)


def test_nothing_else_may_be_found_in_an_example() -> None:
    """A fault of the text, a broken rule, and advice that the sound plan lacks are all problems."""
    spot = Span(1, 1, 2)
    own = Finding("guard-missing", Consequence.DOUBT, Span(8, 3, 11), "No guard.", "Add one.")
    text_fault = Finding("unit-missing", Consequence.ADVICE, spot, "No unit.", "Write one.")
    advice = Finding("clay-range-narrow", Consequence.ADVICE, spot, "Narrow.", "Mind.")
    loss = Finding("damp-ware-too-fast", Consequence.LOSS, spot, "Fast.", "Slow.")
    broken = BrokenRule("vent-not-on", KeyError("vent"))

    assert _problems(Outcome((own,)), "guard-missing/fails/1") == ()
    assert _problems(Outcome((own, text_fault)), "guard-missing/fails/1") == (
        "unit-missing (advice, line 1, column 1): No unit.",
    )
    assert _problems(Outcome((text_fault,)), "guard-missing/passes/1") == (
        "unit-missing (advice, line 1, column 1): No unit.",
    )
    assert _problems(Outcome((own, advice)), "guard-missing/fails/1") == (
        "something else is found: clay-range-narrow (advice, line 1, column 1): Narrow.",
    )
    assert _problems(Outcome((own,), broken=(broken,)), "guard-missing/fails/1") == (str(broken),)
    assert _problems(Outcome((), broken=(broken,)), "guard-missing/passes/1") == (str(broken),)
    assert _problems(Outcome((own, own)), "guard-missing/fails/1") == (
        "it should be found once, and is found 2 times",
    )
    # Advice that the sound plan gives too is no news; anything at doubt or worse always is.
    everywhere = [advice, loss]
    reading = read_book([BookFile("rules", RULES), BookFile("limits", LIMITS)], VOCABULARY)
    runs = run_examples(
        reading.book, {"stoneware": SOUND}, lambda _text: Outcome((own, *everywhere))
    )
    problems = next(one.problems for one in runs if one.example.id == "guard-missing/fails/1")
    assert problems == (
        "something else is found: damp-ware-too-fast (loss, line 1, column 1): Fast.",
    )
