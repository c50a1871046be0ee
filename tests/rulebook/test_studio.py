"""The studio's own file: what it changes, what plans may lean on, and every fault at its place."""

from collections.abc import Callable, Collection
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_book import LEANING, plan_book
from syrupy.assertion import SnapshotAssertion

from guardcone.checking import Finding, check
from guardcone.facts import PlanCase
from guardcone.language import SourceText, split_lines
from guardcone.rulebook import studio_search
from guardcone.rulebook.book import RuleBook, Studio, StudioFaults
from guardcone.rulebook.book_files import BookFile
from guardcone.rulebook.rule import Consequence, RuleFault
from guardcone.rulebook.studio_file import read_studio
from guardcone.rulebook.studio_search import Studios, studio_for

BOOK = plan_book()

STUDIO = """\
local authority: "county fire office, asked 2026-02"
emergency: the number on the kiln-room door, then the studio manager

kilns:
  Heron: |
    electric, front door, 230 L, 11 kW   # the large one
    rated to cone 11
    thermocouple type S
    cools from 1000 C to 100 C in 15 h
  Little Egret: [electric, top lid, 60 L, rated to cone 6]

clays:
  Marsh buff: matures cone 8 to cone 10, stoneware
glazes:
  Reed ash: matures cone 8 to cone 10,
    stiff

limits:
  quickest-climb: 170 C/h

rules:
  kiln-too-cool: {consequence: doubt, because: "Heron has new elements for cone 13"}

own rules: our_rules.yaml
"""

OWN = """\
- limit: widest-wall
  value: 5 mm
  range: 1 mm to 20 mm
  sources: broken pots of last winter
- rule: wall-thick
  concerns: ware
  advice when: wall is thicker than widest-wall
  at: wall
  finding: The wall of {name} is {wall}.
  do: "Throw thinner, {widest-wall} at most."
  why: Thick walls dry slowly.
  sources: common practice, no source
  silences: clay-overfired
  passes: [{plan: target cone 9}]
  fails: [{plan: target cone 9, at: 6 mm}]
"""


def untried(book: RuleBook, names: Collection[str]) -> tuple[RuleFault, ...]:
    """Runs no examples: what comes of those is shown with the command, in tests/dangers."""
    del book, names
    return ()


def read(text: str, own: str = OWN) -> Studio | StudioFaults:
    """The studio of a file, whose own rules stand in `our_rules.yaml`."""

    def load(name: str) -> BookFile | str:
        return BookFile(name, own) if name == "our_rules.yaml" else "it is not there"

    return read_studio("studio.yaml", text, BOOK, load, untried)


def sound(text: str = STUDIO) -> Studio:
    """The studio of a file without fault."""
    studio = read(text)
    assert isinstance(studio, Studio), studio
    return studio


def findings(plan: str, studio: Studio) -> tuple[Finding, ...]:
    """What is found in a plan of this studio."""
    read_plan = studio.read_plan(SourceText("a.firing", split_lines(plan)))
    assert read_plan.faults == ()
    outcome = check(PlanCase(read_plan), studio.book)
    assert outcome.broken == ()
    return outcome.findings


def test_a_plan_may_lean_on_the_studio() -> None:
    """What the studio fills in is checked, and a finding stands where the plan leans on it."""
    lines = LEANING.splitlines()
    told = [
        (one.rule, one.consequence.value, one.span.line, one.span.of(lines[one.span.line - 1]))
        for one in findings(LEANING, sound())
    ]

    assert told == [
        ("kiln-too-cool", "doubt", 3, '"Heron"'),
        ("wall-thick", "advice", 9, "6 mm"),
        ("wall-thick", "advice", 10, "6 mm"),
        ("climb-too-fast", "doubt", 13, "180 C/h"),
    ]


def test_what_a_plan_says_goes_before_what_the_studio_says() -> None:
    """The studio fills in only where a plan is silent."""
    plan = LEANING.replace("altitude 30 m", "rated to cone 13")
    plan = plan.replace("load\n", 'load\n  clay "Marsh buff" matures cone 10 to cone 13\n')
    studio = sound(STUDIO.replace("own rules: our_rules.yaml\n", ""))

    assert [one.rule for one in findings(plan, studio)] == ["climb-too-fast"]
    alone = Studio(BOOK)
    assert [one.rule for one in findings(plan.replace(' with "Reed ash"', ""), alone)] == [
        "local-code-unsaid"
    ]


def test_a_finding_of_a_clay_of_the_studio_stands_at_its_name_in_a_ware() -> None:
    """Two wares of one clay of the studio give one finding, at the first of them."""
    studio = sound(STUDIO.replace("own rules: our_rules.yaml\n", ""))
    found = [one for one in findings(LEANING, studio) if one.rule == "clay-overfired"]

    assert [(one.span.line, one.text) for one in found] == [
        (9, "The clay Marsh buff matures up to cone 10.")
    ]
    assert found[0].span.of(LEANING.splitlines()[8]) == '"Marsh buff"'


def test_a_change_says_where_it_comes_from() -> None:
    """A changed rule or limit carries its line in the file; the limit, the book's own value too."""
    book = sound().book
    limit = book.limit("quickest-climb")
    change = book.changes["kiln-too-cool"]

    assert limit is not None
    assert (str(limit.value), str(limit.built_in)) == ("170 °C/h", "200 °C/h")
    assert limit.changed_at == "studio.yaml:19"
    assert change.weights == {Consequence.LOSS: Consequence.DOUBT}
    assert change.place == "studio.yaml:22"
    assert book.rule("wall-thick") is not None


def test_an_empty_file_changes_nothing() -> None:
    """A studio file with nothing in it, or with empty parts, is no fault."""
    for text in ("", "# to be filled in\n", "limits:\nkilns:\n"):
        assert sound(text).book.limits == BOOK.limits


FAULTY = """\
localauthority: county fire office
emergency:
kilns:
  Heron: |
    electric, frnt door, 230 L, 11 kW
    rated to cone 00
    hold 2 h
    safety
  "The \\"big\\" one": electric
  Egret:
  Tern: {fuel: electric}
  Gull: [electric, top lid, rated to cone 6, thermocouple type Q]
clays:
  Marsh buff: mature cone 8 to cone 10
  Red: "#"
glazes:
  Reed ash: [stiff]
limits:
  quickest-clim: 170 C/h
  quickest-climb: 500 C/h
rules:
  climb-to-fast: {consequence: off, because: we know our kiln}
  climb-too-fast: {consequence: of, because: todo}
  kiln-too-cool: {consequence: off}
  clay-overfired: off
  local-code-unsaid: {consequence: doubt, because: the office knows us well}
  unit-missing: {consequence: off, because: we all write degrees C}
own rules: [our_rules.yaml, theirs.yaml, our_rules.yaml]
"""

MORE_FAULTY = [
    "- kilns",
    "limits: [quickest-climb]",
    "limits: {quickest-climb: 200 C}",
    "limits: {quickest-climb: }",
    "kilns: {Heron: [rated to cone 6, rated to cone 7]}",
    "kilns: {Heron: &a [rated to cone 6], Egret: *a}",
    "kilns: {Heron: rated to cone 6, Heron: rated to cone 7}",
    'kilns: {Heron: rated to cone 6, "Heron ": rated to cone 7}',
    'glazes: {Reed ash: "stiff, stonware"}',
    "own rules: [unclosed",
]


def told(text: str, studio: Studio | StudioFaults) -> str:
    """Every fault with the text it points at."""
    assert isinstance(studio, StudioFaults)
    lines = text.splitlines()
    return "\n".join(
        f"{fault}\n    points at: {fault.span.of([*lines, ''][fault.span.line - 1])}"
        for fault in studio.faults
    )


def test_every_fault_is_told_at_its_place_in_one_run(snapshot: SnapshotAssertion) -> None:
    """A file with many faults is answered whole: line, column, what is wrong, the nearest name."""
    assert told(FAULTY, read(FAULTY)) == snapshot


def test_other_faults(snapshot: SnapshotAssertion) -> None:
    """One small faulty file after another, each with its answer."""
    assert "\n\n".join(f"{text}\n{told(text, read(text))}" for text in MORE_FAULTY) == snapshot


def test_faults_of_the_own_rules_are_faults_of_the_studio() -> None:
    """A faulty rule, or one named like a built-in one, is told in the studio's rule file."""
    wrong = read(STUDIO, OWN.replace("wall is thicker", "wal is thicker"))
    double = read(STUDIO, OWN.replace("rule: wall-thick", "rule: climb-too-fast"))

    assert isinstance(wrong, StudioFaults)
    assert [str(fault) for fault in wrong.faults] == [
        "our_rules.yaml:7:16: ware has no fact 'wal', nor is there such a limit "
        "(did you mean wall?)"
    ]
    assert isinstance(double, StudioFaults)
    assert [str(fault) for fault in double.faults] == [
        "our_rules.yaml:5:9: the rule 'climb-too-fast' stands twice (the first is at rules:1)"
    ]


@pytest.fixture
def small_book(monkeypatch: pytest.MonkeyPatch) -> None:
    """The small book in place of the built-in one."""
    monkeypatch.setattr(studio_search, "built_in_book", lambda: BOOK)


Write = Callable[[str, str], Path]


@pytest.fixture
def write(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, small_book: None) -> Write:
    """Writes a file below a folder that is the working folder, and gives its path."""
    monkeypatch.chdir(tmp_path)

    def write(name: str, text: str) -> Path:
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
        return path

    return write


def _emergency(plan: str | Path) -> str:
    studio = studio_for(plan, untried)
    assert isinstance(studio, Studio)
    said = (room.safety.emergency for room in studio.rooms)
    return next((one.value for one in said if one), "")


def test_the_nearest_file_up_the_tree_applies(write: Write, tmp_path: Path) -> None:
    """In a repository a plan takes the studio.yaml of its folder or the next above it."""
    (tmp_path / ".git").mkdir()
    write("studio.yaml", "emergency: all")
    write("classes/monday/studio.yaml", "emergency: monday")
    monday = write("classes/monday/late/a.firing", LEANING)
    tuesday = write("classes/tuesday/a.firing", LEANING)

    assert [_emergency(path) for path in (monday, tuesday, "-", tmp_path)] == [
        "monday",
        "all",
        "all",
        "all",
    ]
    assert _emergency("classes/monday/late/a.firing") == "monday"


def test_without_a_repository_only_the_plans_own_folder_counts(
    write: Write, tmp_path: Path
) -> None:
    """What lies above a folder that is no repository may be anybody's."""
    write("studio.yaml", "emergency: anybody")
    below = write("classes/a.firing", LEANING)
    beside = write("a.firing", LEANING)

    assert [_emergency(path) for path in (below, beside)] == ["", "anybody"]


def test_the_search_ends_with_the_repository(write: Write) -> None:
    """Above the folder that holds .git nothing applies, so a checkout means the same everywhere."""
    write("studio.yaml", "emergency: mine")
    write("repository/.git/HEAD", "")
    plan = write("repository/plans/a.firing", LEANING)

    assert _emergency(plan) == ""
    write("repository/studio.yaml", "emergency: ours")
    assert _emergency(plan) == "ours"


def test_a_file_that_cannot_be_read_is_never_passed_over(write: Write, tmp_path: Path) -> None:
    """A studio.yaml that is a folder, no text, or faulty, gives faults and no studio."""
    plan = write("a.firing", LEANING)
    file = tmp_path / "studio.yaml"
    file.mkdir()
    folder = studio_for(plan, untried)
    file.rmdir()
    file.write_bytes(b"emergency: \xff")
    no_text = studio_for(plan, untried)
    file.write_text("own rules: our_rules.yaml")
    missing = studio_for(plan, untried)
    file.unlink()
    file.symlink_to("nowhere.yaml")
    nowhere = studio_for(plan, untried)

    messages = []
    for studio in (folder, no_text, missing, nowhere):
        assert isinstance(studio, StudioFaults)
        messages += [str(fault) for fault in studio.faults]
    assert messages == [
        "studio.yaml:1:1: the studio's file can't be read (it is not a file)",
        "studio.yaml:1:1: the studio's file can't be read "
        "(it is not UTF-8 text: line 1 has the byte 0xff; save it as UTF-8)",
        "studio.yaml:1:12: the file 'our_rules.yaml' can't be read (it is not there)",
        "studio.yaml:1:1: the studio's file can't be read (it is not there)",
    ]


def test_each_file_is_read_once_in_a_run(write: Write) -> None:
    """Plans of one folder, and of folders below it, share the very same studio and book."""
    write(".git/HEAD", "ref: refs/heads/main")
    write("studio.yaml", STUDIO)
    write("our_rules.yaml", OWN)
    plans = [write("a.firing", LEANING), write("b.firing", LEANING), write("c/d.firing", LEANING)]
    studios = Studios(untried)
    found = [studios.of(plan) for plan in plans]

    assert isinstance(found[0], Studio)
    assert found[0].file == "studio.yaml"
    assert all(one is found[0] for one in found)


@settings(max_examples=150)
@given(st.data())
def test_any_file_is_read_or_answered(data: st.DataObject) -> None:
    """A studio file with any stretch cut out or doubled gives a studio or faults with a place."""
    start = data.draw(st.integers(0, len(STUDIO)))
    end = data.draw(st.integers(start, min(start + 120, len(STUDIO))))
    put = data.draw(st.sampled_from(["", STUDIO[start:end] * 2, ": [", "\t", '"', "\x00", "é°"]))
    text = STUDIO[:start] + put + STUDIO[end:]
    studio = read(text)
    if isinstance(studio, StudioFaults):
        assert studio.faults
        lines = [*text.splitlines(), ""]
        for fault in studio.faults:
            assert 1 <= fault.span.line <= len(lines) + 1
            assert 1 <= fault.span.start < fault.span.end
