"""A mutation run over the built-in rule book: do the examples pin down every condition?

    python tests/rules/mutation.py                 all rules
    python tests/rules/mutation.py guide-missing   these rules only
    python tests/rules/mutation.py --all           list the killed as well

Each condition is changed in one small thing at a time (see `mutants.py`), and so is the order and
the number of a rule's levels. The changed rule is then
asked of the examples: first its own, then those of rules that it silences or that silence it, then
those of all others. If an example that came out as it says no longer does, the mutant is killed. If
none notices, it survives: either an example is missing, or the change makes no difference to any
plan. Printed are the survivors, rule by rule, with the reason where one is known, and the score.
The exit status is 1 if one survives without a reason.

The plans of the examples are read and fired once, and a mutant is a changed tree compiled to a
closure, so the whole book takes seconds.
"""

import argparse
import copy
import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

from attrs import evolve, frozen

sys.path.insert(0, str(Path(__file__).parent))
from mutants import RuleMutant, rule_mutants
from the_book import BOOK, READING, SOUND, all_examples

from guardcone.checking import Finding, Outcome, check
from guardcone.checking.accepts import apply_accepts
from guardcone.checking.examples import run_example
from guardcone.checking.plans import check_plan
from guardcone.condition.typed import Closure, Compiler
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts import PlanCase
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.example_plan import splice
from guardcone.rulebook.rule import Example, Level, Rule

LIMITS = {limit.name: limit.value for limit in BOOK.limits}
COMPILER = Compiler(BOOK.vocabulary, LIMITS)


COMPUTED = "no plan that anyone writes makes this computed number just equal to its limit"
DOUBLED = "no effect: two cones of one number are told as cone-doubled, which silences this rule"
APART = "no effect: the two levels never hold at once"
SAME = "both cases weigh the same, and no plan of the examples has both"
WHOLE = "no effect: a chance is a whole number of percent"
OWN_DOUBT = "a thick wall has a worse case of its own, which is asked before both"
AT_TWELVE = "at the wall itself both cases have the same bound"
# Why a mutant survives, by its rule and its change.
REASONS = {
    "guide-hotter-than-target: guide > target: > becomes >=": DOUBLED,
    "guard-cooler-than-target: guard < target: < becomes <=": DOUBLED,
    "pad-damp: drying of forecast < pad-drying-time: < becomes <=": COMPUTED,
    "damp-without-hold: drying < drying-least of damp-ware: < becomes <=": COMPUTED,
    "damp-hold-short: loss, drying < drying-least of damp-ware: < becomes <=": COMPUTED,
    "damp-hold-short: advice, drying >= drying-least of damp-ware: >= becomes >": COMPUTED,
    "damp-hold-short: advice, drying < drying-most of damp-ware: < becomes <=": COMPUTED,
    "damp-hold-short: advice, asked before the one above": APART,
    "dry-hold-short: doubt, drying < drying-least of dry-raw-ware: < becomes <=": COMPUTED,
    "dry-hold-short: advice, drying < drying-least of dry-raw-ware: < becomes <=": COMPUTED,
    "guide-notice-short: notice < least-notice: < becomes <=": COMPUTED,
    "cooling-figure-unlikely: cooling-constant < cooling-constant-least: < becomes <=": COMPUTED,
    "cooling-figure-unlikely: cooling-constant > cooling-constant-most: > becomes >=": COMPUTED,
    "peak-far-from-target: loss, peak-off-target >= far-off-target: >= becomes >": COMPUTED,
    "stilts-too-hot: loss clay, asked before the one above": APART,
    "vent-not-throughout: advice, asked before the one above": APART,
    "raw-climb-fast: advice thick, asked before the one above": OWN_DOUBT,
    "damp-climb-fast: doubt thick, asked before the one above": OWN_DOUBT,
    **{
        f"{rule}: {level} thick, wall of {ware} > thick-wall: > becomes >=": AT_TWELVE
        for rule, ware, levels in (
            ("raw-climb-fast", "raw-ware", ("doubt", "advice")),
            ("damp-climb-fast", "damp-ware", ("loss", "doubt")),
        )
        for level in levels
    },
    "vent-missing: danger off, asked before the one above": APART,
    "toxic-fumes-unvented: danger off, asked before the one above": APART,
    "hood-missing: danger unsaid, asked before the one above": APART,
    "watch-missing: danger nobody, asked before the one above": APART,
    "electrics-inspection-unsaid: doubt no-licence, asked before the one above": APART,
    "look-out-of-date: doubt undated, asked before the one above": APART,
    "look-out-of-date: doubt later, asked before the one above": APART,
    "quartz-climbed-fast: doubt damp, asked before the one above": SAME,
    "quartz-climbed-fast: doubt refired, asked before the one above": SAME,
    "quartz-cooled-fast: doubt refired, asked before the one above": SAME,
    "down-unforeseen: doubt target, limit near-impossible: 5 % becomes 5.5 %": WHOLE,
    "down-unforeseen: doubt guard, limit near-impossible: 5 % becomes 5.5 %": WHOLE,
}


@frozen
class Verdict:
    """A mutant of a rule, and the example that killed it, None if it survives."""

    rule: str
    mutant: RuleMutant
    killer: Example | None

    @property
    def reason(self) -> str:
        """Why it survives, as far as that is known."""
        return REASONS.get(f"{self.rule}: {self.mutant.what}", "")


@cache
def _case(text: str) -> tuple[PlanCase, tuple[Finding, ...]]:
    """A plan, fired when first asked, and the findings that no rule makes: faults of its text."""
    plan = read_plan(SourceText("example", split_lines(text)))
    names = {fault.rule for fault in plan.faults}
    faults = [one for one in check_plan(plan, BOOK).outcome.findings if one.rule in names]
    return PlanCase(plan), tuple(faults)


def _outcome(text: str, book: RuleBook) -> Outcome:
    """What a check of a plan gives, its accept lines heeded."""
    case, faults = _case(text)
    outcome = check(case, book, faults)
    standing, _ = apply_accepts(case.plan, outcome.findings, book)
    return evolve(outcome, findings=tuple(standing))


@cache
def _right(example: Example) -> bool:
    """True if the example comes out as it says; one that does not proves nothing."""
    run = run_example(example, BOOK, SOUND, cache(lambda text: _outcome(text, BOOK)))
    return not run.problems


@cache
def _instances(text: str, subject: str) -> tuple[Any, ...]:
    found = BOOK.vocabulary.subject(subject)
    assert found is not None
    return tuple(one for one in found.each(_case(text)[0]) if one is not UNREADABLE)


def _levels(levels: tuple[Level, ...], text: str, rule: Rule) -> tuple[str, ...]:
    """Which level holds of each instance, empty where none does."""
    case, _ = _case(text)
    tests = [(f"{one.consequence} {one.case}", _test(one)) for one in levels]
    return tuple(
        next((name for name, test in tests if test(case, one) is True), "")
        for one in _instances(text, rule.concerns)
    )


_TESTS: dict[int, tuple[Level, Closure]] = {}


def _test(level: Level) -> Closure:
    """The closure of a level's condition, compiled once while the level is there."""
    found = _TESTS.get(id(level))
    if found is None:
        found = _TESTS[id(level)] = (level, COMPILER.value(level.condition))
    return found[1]


@cache
def _levels_now(name: str, text: str) -> tuple[str, ...]:
    rule = BOOK.rule(name)
    assert rule is not None
    return _levels(rule.levels, text, rule)


@cache
def _text(example: Example) -> str:
    return splice(SOUND[example.base], example.plan, example.without, example.changes).text


def _order(rule: Rule) -> Iterator[Example]:
    """The examples that may kill a mutant of a rule, the likeliest first, each once."""
    related = [
        other for other in BOOK.rules if _silences(rule, other.name) or _silences(other, rule.name)
    ]
    first = [example for one in (rule, *related) for example in one.examples]
    yield from (example for example in first if _right(example))
    seen = {example.id for example in first}
    yield from (one for one in all_examples() if one.id not in seen and _right(one))


def _silences(rule: Rule, name: str) -> bool:
    return any(silence.rule == name for level in rule.levels for silence in level.silences)


def _with(rule: Rule, levels: tuple[Level, ...]) -> RuleBook:
    """The book in which one rule has other levels; nothing else is compiled anew."""
    book = copy.copy(BOOK)
    now = {id(one.level): one for _, group in BOOK.by_subject for _, its in group for one in its}
    kept = {level.condition_text + level.case: now[id(level)] for level in rule.levels}
    compiled = tuple(
        evolve(kept[level.condition_text + level.case], test=_test(level)) for level in levels
    )
    by_subject = tuple(
        (of, tuple((one, compiled if one is rule else its) for one, its in group))
        for of, group in BOOK.by_subject
    )
    object.__setattr__(book, "by_subject", by_subject)
    return book


def _killer(rule: Rule, mutant: RuleMutant) -> Example | None:
    """The first example whose outcome the mutant changes."""
    return next(_killers(rule, mutant, _order(rule)), None)


def _killers(rule: Rule, mutant: RuleMutant, examples: Iterable[Example]) -> Iterator[Example]:
    """Those of the examples whose outcome the mutant changes."""
    changed = None
    for example in examples:
        texts = (_text(example), SOUND[example.base])
        if all(
            _levels(mutant.levels, text, rule) == _levels_now(rule.name, text) for text in texts
        ):
            continue
        changed = changed or _with(rule, mutant.levels)
        book = changed
        run = run_example(example, BOOK, SOUND, lambda text: _outcome(text, book))  # noqa: B023
        if run.problems:
            yield example


def verdicts(rules: list[Rule]) -> Iterator[Verdict]:
    """Every mutant of these rules with what becomes of it."""
    for rule in rules:
        for mutant in rule_mutants(rule, LIMITS):
            yield Verdict(rule.name, mutant, _killer(rule, mutant))
            _TESTS.clear()


def main() -> int:
    """Run, print, and give the exit status."""
    parser = argparse.ArgumentParser(description="Mutation run over the built-in rule book.")
    parser.add_argument("rules", nargs="*", metavar="RULE")
    parser.add_argument("--all", action="store_true", help="list the killed mutants as well")
    chosen = parser.parse_args()
    unknown = [name for name in chosen.rules if BOOK.rule(name) is None]
    if unknown:
        print(f"there is no rule {', '.join(unknown)}, or it has a fault", file=sys.stderr)
        return 2
    rules = [rule for rule in BOOK.rules if not chosen.rules or rule.name in chosen.rules]
    start = time.perf_counter()
    found = list(verdicts(rules))
    for verdict in found:
        if verdict.killer is None:
            print(f"survives  {verdict.rule}: {verdict.mutant.what}")
            print(f"          {verdict.reason or 'NO REASON KNOWN: an example is missing'}")
        elif chosen.all:
            print(f"killed    {verdict.rule}: {verdict.mutant.what} (by {verdict.killer.id})")
    for fault in READING.faults:
        print(f"left out  {fault}")
    for example in all_examples():
        if not _right(example):
            print(f"no proof  {example.id} does not come out as it says, so it kills nothing")
    survivors = Counter(verdict.rule for verdict in found if verdict.killer is None)
    number, alive = len(found), sum(survivors.values())
    score = 100.0 * (number - alive) / number if number else 100.0
    print(
        f"{number} mutants of {len(rules)} rules: {number - alive} killed, {alive} survive "
        f"in {len(survivors)} rules; score {score:.1f} % ({time.perf_counter() - start:.1f} s)"
    )
    return int(any(one.killer is None and not one.reason for one in found))


if __name__ == "__main__":
    sys.exit(main())
