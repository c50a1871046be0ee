"""Examples of rules: each runs by itself, and a wrong example or rule does not get through."""

import pytest
from toy_book import LIMITS, RULES
from toy_kiln import SOUND, VOCABULARY, read_toy

from guardcone.engine import BrokenRule, Finding, Outcome, check
from guardcone.engine.example_runs import ExampleRun, run_examples
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.rule import Consequence
from guardcone.rulebook.splice import sections_of, splice
from guardcone.span import Span


def run(rules: str = RULES) -> tuple[ExampleRun, ...]:
    """All example runs of a toy book."""
    reading = read_book([BookFile("rules", rules)], [BookFile("limits", LIMITS)], VOCABULARY)
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
            "fails when: guard is missing",
            "fails when: guard is present",
            "guard-missing/passes/1",
            "it should pass; guard-missing (doubt, line 8, column 3): The witness set on the "
            "top shelf has no guard cone.",
        ),
        (
            "fails when: guard is missing",
            "fails when: guard is present",
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
            "vent-not-on/fails/2",
            "there is no section 'kilm' to leave out",
        ),
        (
            "      without: [kiln]\n",
            "      from: stonewear\n",
            "vent-not-on/fails/2",
            "there is no sound plan 'stonewear': did you mean stoneware?",
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


def _problems(outcome: Outcome, example: str) -> tuple[str, ...]:
    """What is wrong with an example of the toy book if every faulty plan gives this outcome."""
    reading = read_book([BookFile("rules", RULES)], [BookFile("limits", LIMITS)], VOCABULARY)

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
    reading = read_book([BookFile("rules", RULES)], [BookFile("limits", LIMITS)], VOCABULARY)
    runs = run_examples(
        reading.book, {"stoneware": SOUND}, lambda _text: Outcome((own, *everywhere))
    )
    problems = next(one.problems for one in runs if one.example.id == "guard-missing/fails/1")
    assert problems == (
        "something else is found: damp-ware-too-fast (loss, line 1, column 1): Fast.",
    )


def test_an_example_takes_the_place_of_its_sections() -> None:
    """Sections of the same kind go, new kinds come in order, those left out are left out."""
    spliced = splice(
        SOUND,
        'witness "top"\n  target 06\nwitness "middle"\n  target 06\nsafety\n  vent on throughout\n',
        without=("load",),
    )

    assert spliced == (
        'plan "toy"\nkiln "Heron"\n  rating 1280 C\n  vent-on-throughout yes\ntarget cone 9\n'
        'witness "top"\n  target 06\nwitness "middle"\n  target 06\n'
        'schedule\n  segment "first", rate 60 C/h, start 20 C, goal 95 C\n'
        "safety\n  vent on throughout\n"
    )


def test_a_kind_that_the_base_lacks_goes_where_a_plan_has_it() -> None:
    """A schedule put into a plan without one stands before the safety section."""
    base = 'plan "a"\nsafety\n  vent on\nreading "b"\n'

    assert splice(base, "schedule\n  hold 1 h\n") == (
        'plan "a"\nschedule\n  hold 1 h\nsafety\n  vent on\nreading "b"\n'
    )


def test_sections_joined_are_the_plan_again() -> None:
    """Cutting a plan at its headings loses nothing, comments before the first one included."""
    plan = "# a comment\n\n" + SOUND

    assert plan == "".join(section.text for section in sections_of(plan))


def test_an_example_begins_with_a_heading() -> None:
    """A fact without its section would vanish into the section before, so it is refused."""
    with pytest.raises(ValueError, match="begins with a heading at the margin, not with 'guard 9'"):
        splice(SOUND, "  guard 9\n")
