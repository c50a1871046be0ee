"""Rules times facts: what is found in whole toy plans, where, and in which words."""

import operator

from attrs import evolve
from syrupy.assertion import SnapshotAssertion
from toy_book import LIMITS, RULES
from toy_kiln import SOUND, VOCABULARY, Part, ToyCase, read_toy, with_facts

from guardcone.checking import Finding, Outcome, check
from guardcone.condition.vocabulary import UNREADABLE, Fact, Vocabulary
from guardcone.rulebook.book import LimitChange, RuleBook
from guardcone.rulebook.book_files import BookFile, read_book
from guardcone.rulebook.example_plan import splice
from guardcone.values import Rate

READING = read_book([BookFile("rules", RULES), BookFile("limits", LIMITS)], VOCABULARY)
BOOK: RuleBook = READING.book

FAULTY = """\
plan "toy"
kiln "Heron"
  vent-on-throughout no
target cone 9
witness "bottom shelf"
  guide 10
  target 9
  guard 8
witness "top shelf"
  guide 9
  target 9
load
  clay "Marsh buff", matures-from 8, matures-to 9
  ware "planters", state leather-hard, wall 14 mm
schedule
  segment "first", rate 180 F/h, start 68 F, goal 203 F
"""


def _told(outcome: Outcome, plan: str) -> str:
    lines = plan.splitlines()
    told = []
    for finding in outcome.findings:
        span = finding.span
        told.append(f"{span.line}: {span.of(lines[span.line - 1])}")
        told.append(f"  {finding.rule} ({finding.consequence.value}): {finding.text}")
        told.append(f"  {finding.repair}")
        if finding.line_repair:
            repair = finding.line_repair
            told.append(f"  {repair.where.value} line {repair.span.line}: {repair.text}")
    return "\n".join([*told, f"silenced: {len(outcome.silenced)}"])


def test_a_sound_plan_has_no_finding() -> None:
    """Nothing is found, silenced or broken in the sound toy plan."""
    every_rule = frozenset(rule.name for rule in BOOK.rules)

    assert check(read_toy(SOUND), BOOK) == Outcome((), nothing_from=every_rule)


def test_a_faulty_plan_is_told_in_the_order_of_its_lines(snapshot: SnapshotAssertion) -> None:
    """Findings point at what was written, speak in its units, and a root cause speaks once."""
    assert snapshot == _told(check(read_toy(FAULTY), BOOK), FAULTY)


def test_silence_reaches_only_the_same_instance() -> None:
    """The reversed pack below silences its own guide's finding, not that of the pack above."""
    outcome = check(read_toy(FAULTY), BOOK)

    assert [
        (finding.rule, finding.span.line)
        for finding in outcome.findings
        if finding.rule in ("pack-reversed", "guide-not-cooler", "guard-not-hotter")
    ] == [("pack-reversed", 6), ("guide-not-cooler", 10)]
    assert len(outcome.silenced) == 2


def test_an_unreadable_fact_gives_no_second_finding() -> None:
    """A misspelled guard is not called missing, and an unreadable set is not asked."""
    case = read_toy(SOUND)
    case.parts["witness set"][0].facts["guard"] = UNREADABLE
    case.parts["witness set"].append(UNREADABLE)  # type: ignore[arg-type]

    known = {"clay-range-narrow", "damp-ware-too-fast", "vent-not-on"}

    assert check(case, BOOK) == Outcome((), nothing_from=frozenset(known))


def test_a_gap_in_a_sentence_is_spoken_and_its_line_not_written() -> None:
    """Without a target the guard cannot be named: the sentence says so, and no line is offered."""
    case = ToyCase({"witness set": [Part()]})
    (finding,) = (one for one in check(case, BOOK).findings if one.rule == "guard-missing")

    assert finding.text == "The witness set on the not stated has no guard cone."
    assert finding.line_repair is None
    assert "place" in finding.unstated
    assert "one step hotter than target" in finding.unstated


def test_findings_from_elsewhere_are_sorted_in() -> None:
    """Faults of the text stand among the findings of rules, by line."""
    outcome = check(read_toy(FAULTY), BOOK)
    other = evolve(outcome.findings[-1], rule="unit-missing", span=outcome.findings[1].span)
    mixed = check(read_toy(FAULTY), BOOK, also=[other])

    assert other in mixed.findings
    assert sorted(mixed.findings, key=operator.attrgetter("order")) == list(mixed.findings)


def _broken_wall(_part: Part) -> object:
    raise RuntimeError("the kiln god is angry")


def test_a_rule_that_raises_is_this_programs_fault() -> None:
    """A broken rule is named as such; it is no finding, and every other rule is still asked."""
    segment = VOCABULARY.subject("segment")
    assert segment is not None
    broken = tuple(
        Fact("rate", fact.type, fact.doc, _broken_wall) if fact.name == "rate" else fact
        for fact in segment.facts
    )
    subjects = tuple(
        with_facts(subject, *broken) if subject is segment else subject
        for subject in VOCABULARY.subjects
    )
    book = evolve(BOOK, vocabulary=Vocabulary(subjects))
    outcome = check(read_toy(FAULTY), book)

    (one,) = outcome.broken
    assert str(one) == (
        "guardcone could not apply its rule 'damp-ware-too-fast' "
        "(RuntimeError: the kiln god is angry)"
    )
    kept = [finding.rule for finding in check(read_toy(FAULTY), BOOK).findings]
    kept.remove("damp-ware-too-fast")
    assert kept == [finding.rule for finding in outcome.findings]


def test_a_limit_in_force_changes_the_verdict() -> None:
    """A limit set higher by the studio is the one that the rule compares with and speaks of."""
    plan = splice(
        SOUND,
        'load\n  ware "pots", state damp\nschedule\n  segment "a", '
        "rate 90 C/h, start 20 C, goal 95 C\n",
    ).text
    higher = BOOK.with_overrides({"damp-ware-rate": LimitChange(Rate.of(100, "C/h"))}, {})

    def named(outcome: Outcome) -> list[Finding]:
        return [one for one in outcome.findings if one.rule == "damp-ware-too-fast"]

    assert len(named(check(read_toy(plan), BOOK))) == 1
    assert named(check(read_toy(plan), higher)) == []


def _plain_rule(name: str, concerns: str, condition: str, more: str = "") -> str:
    return f"""\
- rule: {name}
  concerns: {concerns}
  advice when: {condition}
  finding: Found.
  do: Mend.
  why: Because.
  sources: common practice, no source
  passes: [{{plan: x}}]
  fails: [{{plan: x, at: x}}]
{more}"""


def _rules_found(*rules: str, plan: str = SOUND) -> list[str]:
    reading = read_book([BookFile("rules", "".join(rules))], VOCABULARY)
    assert reading.faults == ()
    return [finding.rule for finding in check(read_toy(plan), reading.book).findings]


def test_a_finding_about_the_plan_silences_what_follows_anywhere() -> None:
    """A single subject's finding stands for those of any instance, and the other way round."""
    plan = _plain_rule("whole", "plan", "title is present", "  silences: [part]\n")
    part = _plain_rule("part", "ware", "wall is present")
    assert _rules_found(plan, part) == ["whole"]

    plan = _plain_rule("whole", "plan", "title is present")
    part = _plain_rule("part", "ware", "wall is present", "  silences: [whole]\n")
    assert _rules_found(plan, part) == ["part"]


def test_a_finding_silences_along_the_facts_that_lead_from_it() -> None:
    """A clay's finding stands for that of the ware made of it, and of no other ware."""
    plan = splice(
        SOUND,
        """\
load
  clay "Marsh buff", matures-from 8, matures-to 10
  clay "Red marl", matures-from 02, matures-to 1
  ware "mugs", state bisque, of "Marsh buff"
  ware "planters", state bisque, of "Red marl"
""",
    ).text
    clay = _plain_rule("clay-cool", "clay", "matures-to is cone 1", "  silences: [any-ware]\n")
    ware = _plain_rule("any-ware", "ware", "state is bisque")
    assert _rules_found(clay, ware, plan=plan) == ["clay-cool", "any-ware"]

    ware = _plain_rule("mugs", "ware", 'name is "mugs"', "  silences: [any-clay]\n")
    clay = _plain_rule("any-clay", "clay", "matures-to is present")
    assert _rules_found(ware, clay, plan=plan) == ["any-clay", "mugs"]

    cone = _plain_rule("cool-cone", "witness cone", "number is cone 8", "  silences: [any-set]\n")
    witness = _plain_rule("any-set", "witness set", "guide is present")
    assert _rules_found(cone, witness) == ["cool-cone"]


def test_a_finding_answers_in_the_units_of_its_line() -> None:
    """A measure takes the unit of its line, and a sentence keeps to one of °C and °F."""
    rule = """\
- rule: told
  concerns: segment
  advice when: rate is present or lasts is present
  at: [rate, lasts]
  finding: "{damp-ware-rate}, {damp-ware-rate / 60 C/h}, {goal}"
  do: Mend.
  why: Because.
  sources: common practice, no source
  passes: [{plan: x}]
  fails: [{plan: x, at: x}]
"""
    reading = read_book([BookFile("rules", rule), BookFile("limits", LIMITS)], VOCABULARY)
    assert reading.faults == ()
    told = []
    for facts in (
        "rate 108 F/h, goal 95 C",
        "rate 60 C/h, goal 203 F",
        "lasts 1 h, goal 203 F",
        "lasts 1 h, goal 95 C",
    ):
        plan = splice(SOUND, f'schedule\n  segment "a", {facts}\n').text
        told += [finding.text for finding in check(read_toy(plan), reading.book).findings]

    assert told == [
        "108 °F/h, 1, 203 °F",
        "60 °C/h, 1, 95 °C",
        "108 °F/h, 1, 203 °F",
        "60 °C/h, 1, 95 °C",
    ]


def test_a_repair_goes_to_the_line_it_names() -> None:
    """A line to put after the guide goes there, though the finding points at the guard."""
    rule = """\
- rule: told
  concerns: witness set
  advice when: guard is present
  at: guard
  finding: Found.
  do: Mend.
  write: lean 8 degrees
  after: guide
  why: Because.
  sources: common practice, no source
  passes: [{plan: x}]
  fails: [{plan: x, at: x}]
"""
    reading = read_book([BookFile("rules", rule)], VOCABULARY)
    assert reading.faults == ()
    (finding,) = check(read_toy(SOUND), reading.book).findings

    assert finding.span.line == 9
    assert finding.line_repair is not None
    assert finding.line_repair.span.line == 7
    assert finding.line_repair.text == "lean 8 degrees"
