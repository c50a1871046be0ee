"""Files of rules and limits: what is read, and that every fault is told at its line and column."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion
from toy_book import LIMITS, RULES
from toy_kiln import VOCABULARY

from guardcone.rulebook.book import LimitChange, RuleChange
from guardcone.rulebook.book_files import BookFile, LoadedBook, read_book
from guardcone.rulebook.rule import Consequence
from guardcone.rulebook.yaml_text import ListNode, MapNode, Reader, TextNode
from guardcone.values import Rate


def read(rules: str = RULES, limits: str = LIMITS) -> LoadedBook:
    """The reading of one file of rules and one of limits."""
    files = [BookFile("rules.yaml", rules), BookFile("limits.yaml", limits)]
    return read_book(files, VOCABULARY)


def test_a_sound_book_is_read_whole() -> None:
    """Every rule and limit of the toy book is there, and there is nothing to complain of."""
    reading = read()

    assert reading.faults == ()
    assert len(reading.book.rules) == 7
    rule = reading.book.rule("damp-ware-too-fast")
    assert rule is not None
    assert Consequence.LOSS is rule.consequence
    assert frozenset({"damp-ware-rate"}) == rule.limits
    assert rule.fails[0].id == "damp-ware-too-fast/fails/1"


DANGER, DOUBT = Consequence.DANGER, Consequence.DOUBT

FAULTY = [
    # (what a person wrote, what it stood for)
    ("doubt when: guard is missing", "doubt when: gaurd is missing"),
    ("    and start is below 100 C", "    and start is below 100 C/h"),
    ("do: Swap guide and guard.", "do: Swap {guide} and {gard}."),
    ("do: Swap guide and guard.", 'do: "Swap \\"{guide}\\" and {gard}."'),
    ("do: Swap guide and guard.", "do: 'Swap ''guide'' and {gard}.'"),
    ("do: Swap guide and guard.", "do: Swap guide and guard}."),
    ("danger when: kiln", "dangerous when: kiln"),
    ("concerns: segment", "concerns: segments"),
    ("accept when: |", "accept wen: |"),
    ("  why: Fumes.\n", ""),
    ("  why: Fumes.\n", "  why: Fumes.\n  why: Fumes.\n"),
    ("rule: guide-not-cooler", "rule: guard-missing"),
    ("rule: vent-not-on", "rule: Vent not on"),
    ("silences: [guide-not-cooler, ", "silences: [guide-not-coler, "),
    ("guide-not-cooler, guard-not-hotter]", "guide-not-cooler, pack-reversed]"),
    ("silences: [guide-not-cooler, ", "silences: [clay-range-narrow, "),
    ("at: [rate]", "at: [rat]"),
    ("at: [rate]", "at: [60 C/h]"),
    ("  instead: guide\n", "  instead: guide\n  after: guide\n"),
    ("  write: guide {one step cooler than target}\n", ""),
    ("common practice, no source\n  silences", "comon-practice\n  silences"),
    ("  do: Add a guard cone", "  does: Add a guard cone"),
    ("concerns: clay", "concerns: [clay]"),
    ("  sources: common practice, no source\n  passes", "  sources:\n  passes"),
    ("- rule: vent-not-on", "- rule: [vent"),
    ("    - without: guard 10\n      at", "    - at"),
    ("      without: guard 10\n", "      without: [[guard 10]]\n"),
    ("      without: guard 10\n", '      without: {witness "bottom shelf": }\n'),
    ("    - vent-on-throughout yes: vent-on-throughout no\n", "    - vent-on-throughout yes:\n"),
    ("    - vent-on-throughout yes: vent-on-throughout no\n", "    - {}\n"),
    ("  why: Fumes.\n", "  reason: fumes\n"),
    ("  why: Fumes.\n", "  why: Fumes.\n  reason: fumes\n"),
    ("  doubt when: guard is missing\n", "  doubt: guard is missing\n"),
    ("  doubt when: guard is missing\n", "  doubt: {finding: None.}\n"),
    ("  doubt when: guard is missing\n", ""),
    (
        "  doubt when: guard is missing\n",
        "  doubt:\n    - when: guard is missing\n    - {when: guide is missing, case: both}\n",
    ),
    ("silences: [guide-not-cooler, ", "silences: [guide-not-cooler up to danger, "),
    ("silences: [guide-not-cooler, ", "silences: [guide-not-cooler up to loss, "),
    ("silences: [guide-not-cooler, ", "silences: [vent-not-on, "),
    ("      after:\n        target 9", "      after: target 9\n      before:\n        target 9"),
    ("        guide 8: guide 10\n", "        guide 8: guide 10\n" * 2),
    ("        guide 8: guide 10\n", "        guide 8:\n          guide 9: guide 10\n"),
    ("        guide 8: guide 10\n", "        {}\n"),
]


def test_each_fault_of_a_rule_file_is_told_at_its_place(snapshot: SnapshotAssertion) -> None:
    """One change at a time to the toy book is answered at the line and column of the change."""
    told = []
    for right, wrong in FAULTY:
        assert right in RULES
        text = RULES.replace(right, wrong, 1)
        reading = read(text)
        assert reading.faults, wrong
        lines = text.splitlines()
        told.append(f"{wrong.strip() or 'nothing in place of: ' + right.strip()}")
        for fault in reading.faults:
            line = lines[fault.span.line - 1] if fault.span.line <= len(lines) else ""
            told.append(f"  {fault}\n    points at: {fault.span.of(line)}")

    assert snapshot == "\n".join(told)


FAULTY_LIMITS = [
    ("value: 60 C/h", "value: 60 C"),
    ("value: 60 C/h", "value: 60"),
    ("value: 60 C/h", "value: 10 C/h"),
    ("value: 60 C/h", "value: 60 furlongs"),
    ("  range", "  measures: rates\n  range"),
    ("  range", "  measures: duration\n  range"),
    ("range: 20 C/h to 110 C/h", "range: 20 C/h"),
    ("range: 20 C/h to 110 C/h", "range: 20 C/h to 110 C"),
    ("limit: damp-ware-rate", "limit: Damp Ware"),
    ("limit: damp-ware-rate", "limit: rate"),
    ("limit: damp-ware-rate", "limit: hotter"),
    ("  sources: common practice, no source\n", ""),
    ("  note: Slower is safer.\n", "  remark: Slower is safer.\n"),
    ("  note: Slower is safer.\n", "  note: Slower is safer.\n" + LIMITS),
    ("  note: Slower is safer.\n", LIMITS.replace("damp-ware-rate", "dry-ware-rate")),
]


def test_each_fault_of_a_limit_file_is_told_at_its_place(snapshot: SnapshotAssertion) -> None:
    """One change at a time to the toy limits is answered at the line and column of the change."""
    told = []
    for right, wrong in FAULTY_LIMITS:
        reading = read(limits=LIMITS.replace(right, wrong, 1))
        own = [str(fault) for fault in reading.faults if fault.file == "limits.yaml"]
        assert own, wrong
        told.append("\n  ".join([wrong.strip().splitlines()[0] if wrong else "(no source)", *own]))

    assert snapshot == "\n".join(told)


def test_an_unused_limit_is_a_fault() -> None:
    """A limit that no rule uses is named, for it misleads whoever changes it."""
    unused = LIMITS.replace("damp-ware-rate", "dry-ware-rate")
    reading = read(limits=LIMITS + unused)

    assert [str(fault) for fault in reading.faults] == [
        "limits.yaml:6:10: no rule uses the limit 'dry-ware-rate'"
    ]


def test_rules_that_silence_each_other_are_a_fault() -> None:
    """Two rules that silence each other would both stay unsaid, through a third rule as well."""
    circle = RULES.replace(
        "- rule: guard-not-hotter\n", "- rule: guard-not-hotter\n  silences: pack-reversed\n"
    )
    messages = [fault.message for fault in read(circle).faults]

    assert messages == [
        "'guard-not-hotter' silences this rule in turn: both would stay unsaid",
        "'pack-reversed' silences this rule in turn: both would stay unsaid",
    ]


STYLES = [
    "key: {text}",
    "key: '{text}'",
    'key: "{text}"',
    "key: |\n    {text}\n",
    "key: >-\n    some words\n    {text}\n    and words",
    "key: plain text that\n    goes on with {text}\n    and on",
    "key: 'it''s quoted\n    and {text}'",
    'key: "a \\"quoted\\" \\u00b0 \\\n    and {text}"',
    'key: "two\\n\\nlines\\tand\\n\\\n    \\  {text}"',
    "key: [one, {text}, two]",
    "# °F and a comment\nkey: é° {text}",
]


@pytest.mark.parametrize("style", STYLES)
def test_a_place_in_a_yaml_text_is_a_place_in_the_file(style: str) -> None:
    """However a text is written in YAML, its characters are found again in the file."""
    source = style.replace("{text}", "wal is thick")
    root = Reader("x.yaml", source).root()
    assert isinstance(root, MapNode)
    value = root.entries[0].value
    if isinstance(value, ListNode):
        value = value.items[1]
    assert isinstance(value, TextNode)
    start = value.text.index("wal is")

    span = value.place(start, start + 3)

    assert span.of(source.splitlines()[span.line - 1]) == "wal"


@settings(max_examples=200)
@given(st.data())
def test_any_file_is_read_or_answered(data: st.DataObject) -> None:
    """A rule file with any stretch cut out or doubled gives a book and faults, never a crash."""
    start = data.draw(st.integers(0, len(RULES)))
    end = data.draw(st.integers(start, min(start + 200, len(RULES))))
    put = data.draw(st.sampled_from(["", RULES[start:end] * 2, ": [", "\t", "{x", "\x00", "é°"]))
    text = RULES[:start] + put + RULES[end:]
    reading = read(text)
    lines = text.splitlines() or [""]
    for fault in reading.faults:
        assert fault.message
        assert 1 <= fault.span.line <= len(lines) + 1
        assert 1 <= fault.span.start < fault.span.end


def test_a_studio_changes_limits_and_consequences_within_bounds() -> None:
    """Overrides take effect; a danger is not hidden, a limit not left, a reason not spared."""
    book = read().book
    changed = book.with_overrides(
        {"damp-ware-rate": LimitChange(Rate.of(80, "C/h"), "studio.yaml:7")},
        {"guard-missing": RuleChange({DOUBT: None}, "two sets")},
    )
    limit = changed.limit("damp-ware-rate")
    assert limit is not None
    assert Rate.of(80, "C/h") == limit.value
    assert Rate.of(60, "C/h") == limit.built_in
    assert limit.changed_at == "studio.yaml:7"
    rules = [rule.name for _, group in changed.by_subject for rule, _ in group]
    assert "guard-missing" not in rules
    assert len(rules) == 6
    for limits, changes in [
        ({"damp-ware-rate": LimitChange(Rate.of(500, "C/h"))}, {}),
        ({"no-such": LimitChange(Rate.of(80, "C/h"))}, {}),
        ({"damp-ware-rate": LimitChange(80.0)}, {}),
        ({}, {"vent-not-on": RuleChange({DANGER: None}, "windy")}),
        ({}, {"vent-not-on": RuleChange({DANGER: Consequence.ADVICE}, "windy")}),
        ({}, {"guard-missing": RuleChange({DOUBT: None}, " ")}),
        ({}, {"guard-misses": RuleChange({DOUBT: None}, "two sets")}),
    ]:
        with pytest.raises(ValueError, match=r"\w"):
            book.with_overrides(limits, changes)
