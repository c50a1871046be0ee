"""The examples of a rule book are run, and files of rules are tried."""

import re
from collections.abc import Callable, Collection, Iterable, Mapping
from functools import cache

from attrs import evolve, frozen

from guardcone.checking.plans import check_plan
from guardcone.checking.run import Finding, Outcome
from guardcone.language import SourceText, split_lines
from guardcone.language.nearest import did_you_mean
from guardcone.plan import read_plan
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.example_plan import (
    Spliced,
    Unspliceable,
    differences,
    heading_of,
    splice,
)
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.rule import BookFile, Consequence, Example, Expected, Rule, RuleFault
from guardcone.span import Span
from guardcone.tidy import tidy_text

__all__ = [
    "CheckText",
    "ExampleRun",
    "OrdinaryPair",
    "RuleTest",
    "check_text_with",
    "ordinary_pair",
    "run_book",
    "run_example",
    "run_examples",
    "run_rule_files",
    "try_rules",
]


# Reads the text of a plan, fires it and checks it, text faults included.
CheckText = Callable[[str], Outcome]


@frozen(repr=False)
class ExampleRun:
    """One example, the whole plan it made, and what did not come out as it must.

    `found` are the findings of the example's own rule.
    """

    example: Example
    plan: str
    problems: tuple[str, ...]
    found: tuple[Finding, ...] = ()


def run_examples(
    book: RuleBook,
    bases: Mapping[str, str],
    check_text: CheckText,
    rules: Iterable[str] | None = None,
) -> tuple[ExampleRun, ...]:
    """Run the examples of all rules, or of those named in `rules`.

    `bases` are texts of sound plans by name.
    """
    wanted = None if rules is None else frozenset(rules)
    return tuple(
        run_example(example, book, bases, check_text)
        for rule in book.rules
        if wanted is None or rule.name in wanted
        for example in rule.examples
    )


def run_example(
    example: Example, book: RuleBook, bases: Mapping[str, str], check_text: CheckText
) -> ExampleRun:
    """Run one example.

    A plan that passes must give no finding of its rule. One that fails must give that finding once,
    of the weight and case it says, with no gap in its sentences, exactly at the text it names or
    else at something that the example changed; and beside it each of the rules
    it names under `also`, nothing else at doubt or worse, and no advice that the sound plan under
    it does not give. Neither may have a fault of the text.
    """
    try:
        if example.base not in bases:
            hint = did_you_mean(example.base, bases) or f"there are {', '.join(sorted(bases))}"
            raise Unspliceable(f"there is no sound plan {example.base!r}", hint)
        base = bases[example.base]
        spliced = splice(base, example.plan, example.without, example.changes)
    except Unspliceable as wrong:
        fault = RuleFault(example.file, wrong.span or example.span, wrong.message, wrong.hint)
        return ExampleRun(example, "", (str(fault),))
    outcome = check_text(spliced.text)
    problems = [str(broken) for broken in outcome.broken]
    own = [finding for finding in outcome.findings if finding.rule == example.rule]
    others = [finding for finding in outcome.findings if finding.rule != example.rule]
    problems += [_told(finding) for finding in others if book.rule(finding.rule) is None]
    if example.gives.consequence is None:
        problems += [f"it should not be found; {_told(finding)}" for finding in own]
    else:
        problems += _wrong_hit(example, own, spliced)
        usual = {finding.rule for finding in check_text(base).findings}
        found = {finding.rule for finding in others}
        problems += [
            f"{name} should be found as well" for name in example.also if name not in found
        ]
        problems += [
            f"something else is found: {_told(finding)}"
            for finding in others
            if book.rule(finding.rule) is not None
            and finding.rule not in example.also
            and (finding.consequence.at_least(Consequence.DOUBT) or finding.rule not in usual)
        ]
    return ExampleRun(example, spliced.text, tuple(problems), tuple(own))


def _wrong_hit(example: Example, own: list[Finding], spliced: Spliced) -> list[str]:
    if len(own) != 1:
        return [f"it should be found once, and is found {len(own)} times"]
    finding, lines = own[0], spliced.text.splitlines()
    line = lines[finding.span.line - 1] if finding.span.line <= len(lines) else ""
    problems = [f"no value for {{{slot}}} in: {finding.text}" for slot in finding.unstated]
    gives = str(Expected(finding.consequence, finding.case))
    if gives != str(example.gives):
        problems.append(f"it should give {example.gives}, not {gives}")
    pointed_at = finding.span.of(line)
    if not example.at and not any(_meet(finding.span, own) for own in spliced.own):
        problems.append(f"it points at {pointed_at!r}, which the example does not change: say `at`")
    if example.at and _even(pointed_at) != _even(example.at):
        problems.append(f"it should point at {example.at!r}, not at {pointed_at!r}")
    heading = heading_of(lines, finding.span.line)
    if all(_even(example.inside) not in _even(text) for text in (line, heading)):
        place = f"{line.strip()!r} under {heading.strip()!r}"
        problems.append(f"it should point at a place in {example.inside!r}, not at {place}")
    return problems


def _meet(one: Span, other: Span) -> bool:
    return one.line == other.line and one.start < other.end and other.start < one.end


def _even(text: str) -> str:
    """The text with one blank for each run of them: columns are lined up for the eye only."""
    return re.sub(r"\s+", " ", text)


def _told(finding: Finding) -> str:
    place = f"line {finding.span.line}, column {finding.span.start}"
    return f"{finding.rule} ({finding.consequence.value}, {place}): {finding.text}"


@frozen(repr=False)
class RuleTest:
    """What came of trying some rules: every example run, or what is wrong with their files."""

    runs: tuple[ExampleRun, ...]
    faults: tuple[RuleFault, ...] = ()

    @property
    def wrong(self) -> tuple[ExampleRun, ...]:
        """The examples that did not come out as they say."""
        return tuple(run for run in self.runs if run.problems)


def check_text_with(book: RuleBook) -> Callable[[str], Outcome]:
    """The function that reads the text of a plan, fires it and checks it; each text once."""

    @cache
    def check_text(text: str) -> Outcome:
        plan = read_plan(SourceText("example", split_lines(text)))
        return check_plan(plan, book).outcome

    return check_text


@frozen(repr=False)
class OrdinaryPair:
    """Two whole plans that differ in little: one without a finding of a rule, the other with it.

    `base` is the sound plan under the second one, `finding` is the rule's in it, and `others` are
    what else is found there.
    """

    base: str
    without: str
    having: str
    finding: Finding
    others: tuple[Finding, ...]


def ordinary_pair(rule: Rule, book: RuleBook) -> OrdinaryPair | None:
    """What shows people a rule; None where its examples do not come out.

    The second plan is the first example that fails. The first one is the most like it of those
    that pass and of the sound plan under it, which has nothing in it to learn from but this. A
    studio's limits and weights are left out of it: examples are by the numbers of the book.
    """
    check_text = check_text_with(_as_written(book))
    fails = rule.fails[0]
    base = sound_plans().get(fails.base, "")
    having = tidy_text(_spliced(fails))
    found = check_text(having).findings
    own = [finding for finding in found if finding.rule == rule.name]
    without = [
        tidy_text(plan)
        for plan in (*map(_spliced, rule.passes), base)
        if not any(
            one.rule == rule.name or one.consequence.at_least(Consequence.DOUBT)
            for one in check_text(plan).findings
        )
    ]
    if not own or not without:
        return None
    nearest = min(without, key=lambda plan: _lines_apart(plan, having))
    others = tuple(finding for finding in found if finding.rule != rule.name)
    return OrdinaryPair(tidy_text(base), nearest, having, own[0], others)


def _as_written(book: RuleBook) -> RuleBook:
    """The book without what a studio makes of its limits and weights."""
    limits = tuple(
        evolve(one, value=one.built_in, changed_at="", built_in=None) if one.changed_at else one
        for one in book.limits
    )
    return evolve(book, limits=limits, changes={}) if book.changes or book.studio else book


def _spliced(example: Example) -> str:
    """The whole plan of an example, empty where it does not fit the one it names."""
    try:
        base = sound_plans()[example.base]
        return splice(base, example.plan, example.without, example.changes).text
    except (KeyError, Unspliceable):
        return ""


def _lines_apart(one: str, other: str) -> int:
    apart = differences(one.splitlines(), other.splitlines())
    return sum(len(block) + len(other_block) for block, other_block in apart)


def run_book(book: RuleBook, rules: Iterable[str] | None = None) -> RuleTest:
    """Run the examples of all rules of a book, or of those named, in the built-in sound plans."""
    return RuleTest(run_examples(book, sound_plans(), check_text_with(book), rules))


def run_rule_files(files: Iterable[BookFile], book: RuleBook) -> RuleTest:
    """Read files of rules as additions to `book`, and run their examples.

    The examples may use the facts and limits of that book and the limits of the files themselves;
    all rules of both are asked. A file with a fault is not run.
    """
    from guardcone.rulebook.book_files import read_book  # only files of rules want its parsers

    reading = read_book(files, book.vocabulary, book)
    if reading.faults:
        return RuleTest((), reading.faults)
    return run_book(reading.book, reading.book.own)


def try_rules(book: RuleBook, names: Collection[str]) -> tuple[RuleFault, ...]:
    """What is wrong with the examples of these rules of a book: a rule must do what it shows."""
    return tuple(
        RuleFault(
            run.example.file,
            run.example.span,
            f"the example {run.example.id} comes out otherwise: {problem}",
            "guardcone rules test FILE runs the examples of a file",
        )
        for run in run_book(book, names).wrong
        for problem in run.problems
    )
