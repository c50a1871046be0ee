"""Tidying any plan at all gives the same plan, and tidying it again changes nothing.

The lines come from the grammar itself: every statement it knows is written in random ways, so a
new statement or spelling is tried here without a word in this file. Only a new kind of value must
be added to `VALUES`.
"""

from collections import Counter
from enum import Enum
from functools import cache
from pathlib import Path

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guardcone.language import SourceText, read_statements, split_lines
from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.plan import Plan, read_plan
from guardcone.span import Span, Written
from guardcone.tidy import Kind, Layout, changes_of, laid_out, tidy_text
from guardcone.tidy.words import words_of
from guardcone.values import Quantity

SOUND = """\
# Heron, shelves 1 to 4: Thursday class, and two garden planters
plan "Thursday stoneware"
  by     "duty potter"
  starts 2026-10-03 07:30

kiln "Heron"
  electric, front door, 230 L, 11 kW
  rated   to cone 10
  shelves 4
  cools   from 1000 C to 100 C in 15 h

target cone 9, oxidation

witness "bottom shelf"
  large cones
  guide  8
  target 9
  guard  10
  lean   8 degrees, facing one way, staggered
  pad    pricked, dry
  seen   through the lower spy hole

load
  clay  "Marsh buff"  matures cone 8 to cone 10
  glaze "Reed ash"    matures cone 8 to cone 10
  ware  "mugs"      24 of "Marsh buff" with "Reed ash", bisque, wall 6 mm
  ware  "planters"   2 of "Marsh buff" with "Reed ash", bisque, wall 14 mm

schedule
  climb 108 F/h to 203 F  # slow while it is damp
  hold  2 h
  climb 60 C/h to 1252 C
  hold  10 min
  cool  freely to 90 C
  open  at 90 C

safety
  vent       on throughout
  clearance  50 cm
  watch      "duty potter" from 15:00 to end
  cut-off    backup timer 15 h
  electrics  inspected 2026-03 by a licensed electrician
  local code "checked with the county fire office"

reading "bottom shelf"  # written after the firing
  guide  down
  target 5 o'clock
  guard  standing

accept pad-damp because "pads were fired with last week's bisque" by "studio manager"
"""

SAMPLES = sorted((Path(__file__).parents[2] / "sample_plans").glob("*.firing"))

# -- what a plan says, and nothing of where it says it ----------------------------------------


def meaning(value: object) -> object:
    """A value with every place in the text taken out, and the unit of each quantity kept."""
    if isinstance(value, Written):
        return meaning(value.value)
    if isinstance(value, Span | SourceText):
        return None
    if isinstance(value, Quantity):
        return value.kind, value.base, value.plain()
    if isinstance(value, frozenset):
        return value
    if isinstance(value, tuple):
        return tuple(meaning(one) for one in value)
    if attrs.has(type(value)) and not isinstance(value, Enum):
        fields = attrs.fields(type(value))
        return type(value), {field.name: meaning(getattr(value, field.name)) for field in fields}
    return value


def read(text: str) -> Plan:
    return read_plan(SourceText("plan", split_lines(text.lstrip("\ufeff"))))


def comments(text: str) -> list[str]:
    """The comments, without the invisible marks that an editor may have put before them."""
    found = [line.comment for line in split_lines(text) if "#" in line.comment]
    return [comment[comment.index("#") :] for comment in found]


def told_of_each_change(layout: Layout) -> None:
    """A line is told to change if, and only if, it does."""
    rows = {row.line.number: row.text for row in layout.rows}
    changed = [change for change in changes_of(layout) if change.kind is not Kind.LEFT]
    told = {change.line for change in changed if change.kind is not Kind.BLANK_LINE_BEFORE}
    for line in layout.lines:
        assert (line.number in told) == (rows.get(line.number) != line.text), line
    assert bool(changed) == (layout.text != layout.before)


def judge(before: str) -> str:
    """Hold a text and its tidied form to everything that tidying promises."""
    layout = laid_out(before)
    told_of_each_change(layout)
    after = layout.text
    assert tidy_text(after) == after
    old, new = read(before), read(after)
    # Other readings are of lines that say the same again in other words; tidied, in the same words.
    said, said_anew = (attrs.evolve(plan, faults=(), otherwise=()) for plan in (old, new))
    assert meaning(said) == meaning(said_anew)
    assert Counter(f.rule for f in old.faults) == Counter(f.rule for f in new.faults)
    assert comments(before) == comments(after)
    assert not any(line != line.rstrip() for line in after.split("\n"))
    assert "\n\n\n" not in after
    return after


# -- plans that somebody broke ----------------------------------------------------------------


@st.composite
def broken(draw: st.DrawFn) -> str:
    """The sound plan with lines moved, doubled, lost, and letters changed."""
    lines = SOUND.splitlines()
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(lines) - 1))
        change = draw(st.sampled_from("move double lose letter blank comment indent end".split()))
        line = lines[at]
        if change == "move":
            lines.insert(draw(st.integers(0, len(lines) - 1)), lines.pop(at))
        elif change == "double":
            lines.insert(at, line)
        elif change == "lose" and len(lines) > 1:
            lines.pop(at)
        elif change == "letter":
            place = draw(st.integers(0, len(line)))
            letter = draw(st.sampled_from('abC019"“”‘«#,;:&-–½°^.\t\xa0\ufeff\x0b\u2028é/='))
            lines[at] = line[:place] + letter + line[place + draw(st.integers(0, 2)) :]
        elif change == "blank":
            lines.insert(at, draw(st.sampled_from(["", "   ", "\t"])))
        elif change == "comment":
            lines.insert(at, draw(st.sampled_from(["# note", "   #", '\t#  "half', "## ≈ 40 °C"])))
        elif change == "indent":
            lines[at] = draw(st.sampled_from(["", " ", "\t", "      "])) + line.strip()
        elif change == "end":
            lines[at] = line + draw(st.sampled_from(["  ", " # so", "#so", ",", " and"]))
    end = draw(st.sampled_from(["\n", "\r\n", "\r"]))
    text = draw(st.sampled_from(["", "\ufeff", "\n\n"])) + end.join(lines)
    return text + draw(st.sampled_from(["", end, end * 3]))


@settings(max_examples=150)
@given(broken())
def test_a_broken_plan_stays_the_plan_it_was(text: str) -> None:
    """A plan with random slips keeps its values, comments and kinds of fault."""
    judge(text)


@settings(max_examples=100)
@given(st.text(st.characters(codec="utf-8"), max_size=200))
def test_any_text_can_be_tidied(text: str) -> None:
    """No text at all makes tidy fail, and none is tidied differently the second time."""
    judge(text)


# -- lines made from the grammar --------------------------------------------------------------

_NUMBERS = ["60", "1,252", "998.5", "2012", "100"]
_SCALES = ["C", "c", "°C", "º F", "F", "deg. F", "degrees Celsius", "Fahrenheit", "centigrade"]
_PER_TIME = ["/h", " / hr", "/hour", " per hour", " an hour", "/min", " per minute"]
VALUES: dict[str, list[str]] = {
    "PHASES": ["3 phase", "three-phase", "single phase", "1 ph"],
    "NAME": ['"Reed ash"', "“Marsh   buff”", "„Reed ash“", "‘duty potter’", '« a "b" »', '"it\'s"',
             "'duty potter'", '“Reed ash"', '"a – b, 6 # 7"'],
    "RULE_NAME": ["pad-damp", "Guard-Cone-Missing"],
    "CONE_NUMBER": ["06", "5½", "5.5", "5 1/2", "05-1/2", "10", "6.0", "022", "015a", "8B"],
    "COUNT": ["1", "24", "007"],
    "NUMBER": ["4", "1.5", "0.50"],
    "TEMPERATURE": [f"{number}{blank}{scale}" for number in _NUMBERS for blank in ("", "  ")
                    for scale in _SCALES],
    "RATE": [f"{number} {scale}{per}" for number in _NUMBERS for scale in _SCALES
             for per in _PER_TIME],
    "DURATION": ["2 h", "2h30", "2 hrs 30 mins", "90 min", "1:30", "½ h", "2½ hours", "1 day",
                 "45 s", "1 1/2 h", "0.75 h", "10m", "2 h and 5 min", "1.51 h", "3 days", "1:05 h",
                 "1 day 6 h", "half an hour", "2 h 30.5 min", "1 h, 10 min & 5 s"],
    "LENGTH": ["6 mm", "1/4 in", "1/4\"", "1½ inches", "1-1/2 in", "0.5cm", "3 ft", "2'", "1/3 in",
               "1.60 metres"],
    "VOLUME": ["230 L", "230l", "8 cu ft", "8 cu. ft.", "0.2 m³", "3.50 ft3", "100 litres"],
    "POWER": ["11 kW", "11kw", "9500 watts", "120000 BTU/h", "7.20 kW", "90000 BTU per hour"],
    "VOLTAGE": ["240 V", "240 volts", "230.0v"],
    "CURRENT": ["48 A", "48 amps", "32.50 a"],
    "MASS_AMOUNT": ["30 kg", "30kilos", "66 lb", "66.0 pounds"],
    "ANGLE": ["8 degrees", "8°", "8.0 deg.", "90 º"],
    "TIME": ["07:30", "7.30", "7:30 pm", "7am", "noon", "Midnight", "3 p.m."],
    "DATE": ["2026-10-03", "2026-1-3", "3 October 2026", "Oct 3, 2026", "2026-10-03T", "2026/10/3",
             "3rd of October, 2026", "Sept. 30 2026"],
    "MONTH": ["2026-03", "March 2026", "mar. 2026", "2026-3"],
    "THERMOCOUPLE_TYPE": ["K", "s"],
    "O_CLOCK": ["5 o'clock", "5 O’Clock", "4½ o clock", "4:30 o'clock", "4.5 oclock", "12 o'clock",
                "4:15 o'clock", "12:30 o'clock"],
    "DASH": ["-", "–", "—", "/"],
    "COMMA": [","],
    "SEMICOLON": [";"],
    "AMPERSAND": ["&"],
}  # fmt: skip


@cache
def expansions() -> dict[str, list[list[str]]]:
    """What each rule of the grammar may be made of: names of rules and of terminals."""
    found: dict[str, list[list[str]]] = {}
    for rule, made_of in plan_grammar().tables.rules:
        found.setdefault(rule, []).append([*made_of])
    return found


@cache
def depth(name: str, above: frozenset[str] = frozenset()) -> float:
    """How many rules stand one in another in the shortest text of this name."""
    if name not in expansions():
        return 0
    if name in above:
        return float("inf")
    return 1 + min(
        max((depth(part, above | {name}) for part in parts), default=0)
        for parts in expansions()[name]
    )


def terminals(draw: st.DrawFn, name: str, budget: int) -> list[str]:
    """Random terminals that the rule `name` is made of; past `budget` the shortest there are."""
    if name not in expansions():
        return [name]
    ways = expansions()[name]
    if budget <= 0:
        ways = [min(ways, key=lambda parts: (max(map(depth, parts), default=0), len(parts)))]
    parts = draw(st.sampled_from(ways))
    return [one for part in parts for one in terminals(draw, part, budget - 1)]


def spelled(draw: st.DrawFn, terminal: str) -> str:
    words = plan_grammar().words.get(terminal)
    if not words:
        return draw(st.sampled_from(VALUES[terminal]))
    word = draw(st.sampled_from(words))
    return draw(st.sampled_from([word, word, word.upper(), word.capitalize()]))


NAMES = st.sampled_from(VALUES["NAME"])
BLANKS = st.sampled_from([" ", " ", "  ", "\t", "\xa0", " \t  "])
ARTICLES = st.sampled_from(["", "", "", "", "", "", "the ", "A\t", "an "])


def line_of(draw: st.DrawFn, rule: str) -> str:
    """One statement, in any spelling, with any blanks."""
    parts = []
    for terminal in terminals(draw, rule, 8):
        joiner = terminal in ("COMMA", "SEMICOLON", "AMPERSAND")
        blank = draw(st.sampled_from(["", " "])) if joiner else draw(BLANKS)
        parts += [blank, "" if joiner else draw(ARTICLES), spelled(draw, terminal)]
    comment = draw(st.sampled_from(["", "", "", " # as agreed", "#", '\t# 6" pots']))
    return "".join(parts) + comment


@st.composite
def written_anyhow(draw: st.DrawFn) -> str:
    """A plan whose sections hold random statements of theirs."""
    lines = []
    for section in draw(st.lists(st.sampled_from(SECTIONS), min_size=1, max_size=3)):
        named = "" if section in ("load", "schedule", "safety") else f" {draw(NAMES)}"
        lines.append(spelled(draw, section.upper()) + named)
        statements = sorted(plan_grammar().facts_of(section) | {"accept", "target"})
        for rule in draw(st.lists(st.sampled_from(statements), max_size=4)):
            lines.append(line_of(draw, rule))
            if draw(st.integers(0, 5)) == 0:
                lines.append(draw(st.sampled_from(["", "  # a remark"])))
    return "\n".join(lines)


@settings(max_examples=200)
@given(written_anyhow())
def test_every_statement_in_any_spelling_stays_what_it_says(text: str) -> None:
    """Whatever the grammar can read is tidied without a change of value, unit or comment."""
    judge(text)


@settings(max_examples=200)
@given(written_anyhow())
def test_every_line_that_can_be_read_is_tidied(text: str) -> None:
    """No good line is left in its own spelling: its words are the canonical ones, singly spaced."""
    after = SourceText("plan", split_lines(tidy_text(text)))
    for section in read_statements(after).sections:
        for statement in section.statements if not section.implied else ():
            code = after.lines[statement.span.line - 1].code
            words = words_of(code, section.kind)
            if words is not None and statement.span.line > section.heading.line:
                singly = " ".join(word.text for word in words)
                assert " ".join(code.split(" ")).split() == singly.split()
                assert "\t" not in code
                assert "\xa0" not in code


@pytest.mark.parametrize("section", SECTIONS)
def test_right_lines_of_the_grammar_are_tidy_already(section: str) -> None:
    """The right line that the grammar shows for a statement is the way tidy writes it."""
    grammar = plan_grammar()
    heading = grammar.right_line(section, section.upper()).right
    for rule in sorted(grammar.facts_of(section) & grammar.right_lines.keys()):
        text = f"{heading}\n  {grammar.right_lines[rule][0].right}\n"
        assert tidy_text(text) == text


def test_the_sound_plan_is_tidy_already() -> None:
    """A plan in the canonical layout is left as it is, to the letter."""
    assert judge(SOUND) == SOUND
    assert not read(SOUND).faults


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_plan_stays_the_plan_it_is(path: Path) -> None:
    """The plans that come with the project keep their values, comments and faults."""
    judge(path.read_text(encoding="utf-8"))


def test_every_kind_of_value_is_tried() -> None:
    """Each terminal of the grammar has spellings here or in the grammar."""
    used = {name for ways in expansions().values() for parts in ways for name in parts}
    assert used - expansions().keys() - plan_grammar().words.keys() <= VALUES.keys()
