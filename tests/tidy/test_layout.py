"""How a plan looks once it is tidy: a messy plan first, then what becomes of it."""

import pytest
from syrupy.assertion import SnapshotAssertion

from guardcone.tidy import tidy_text, words

# Line ends, the byte order mark and trailing blanks have tests of their own below.
MESSY = """

# Thursday, both shelves


FIRING PLAN “Thursday   stoneware”
  By “duty potter”    # keys in the office


  Start on 3 October 2026 at 7.30
firing glost
accept   PAD-Damp because ‘fired with last week's bisque’  by “studio manager”
# the county answers on Monday
accept local-code-unsaid because "see the board"
kiln «Heron»

electric;front loading ,230 litres& 11 kilowatts
max cone 10
  shelf 4
  thermocouple k class 1
  cools from 1000°C down to 100 degrees C within 15 hours # measured last March
  room 20C    # autumn
Target ^9, oxidation
cone pack "bottom shelf"
# the shop had no others
  large cones
  guide Δ 8
  firing cone 9
   guard cone 10
  extra cone 5 1/2
  lean 8°, facing the same way,staggered
pad pierced , Dry
  seen from the bottom spyhole
  # the drawing hangs at the door

  # planters first

load
 body "Marsh buff" matures from cone 8 to cone 10
 glaze "Reed ash" matures cone 8–10, runs
 ware "mugs" 24 pcs of "Marsh buff" with "Reed ash", biscuit, walls 1/4"
 ware "planters" 2 of "Marsh buff" with "Reed ash", bisque, wall 1/3 in
schedule
ramp 60 °C per hour up to 95 Celsius # while it is damp
soak 2h30   # the planters are thick
climb to 1,160 C at 2.5 C/min

   ramp at full power to 1252 c
dwell 10min
 cool naturally to 90C
# gloves
unload below 90 C
safety
 extraction on all through
 eye protection shade 4–5
 watch "duty potter" from 3pm till end
 watch the "studio manager" 7.00 - noon
 wiring tested March 2026 by an electrician
 no CO alarm
 local rules "checked with the county fire office"
reading "bottom shelf"
 guide flat
 target 5 O’Clock
 guard upright
# next time: fewer planters
"""

FAHRENHEIT = """\
plan "Saturday low-fire"
  starts Saturday, October 3, 2026 at 7:30 am
kiln "Little Egret"
  electric, lid, 7 cu. ft., 240 volts, 48 amps
  cools from 1832°F to 212 deg F in 14 hours
  altitude 5,280 ft
target 1,940 ºF
load
  clay "Creek red" matures 1900 F to 1990 F
  ware "tiles" 60 of "Creek red", flat, wall 3/8 inch
schedule
  climb 108°F/h to 200°F
  hold 90 mins
  climb 4.5 degrees F per minute to 1,940 F
  cool freely to 194 fahrenheit
"""

FAULTY = """\
by "duty potter"
plan "Thursday stoneware
   starts   2026-13-03 07:30   # next week
  by   "duty potter"

kilm "Heron"
  electric,  front door

witness bottom shelf
  giude    8
  # as on the poster
  guard 1O
  target   9
load
    guide 8
  clay ""   matures cone 8 to cone 10\x20\x20\x20
  ware "mugs"   24 of "Marsh buff"   # and lids
"""

REMARKS = """\
   # above everything
   plan "Thursday stoneware" # one
   by "duty potter" # two
   note "a # in a name" # three
   # below a fact

      # between blanks

   # above a fact
   firing glaze#four
target cone 9 # five
   #six

   ## above a heading
   #    with its own blanks
   load

   # in an empty section

   # at the end
"""

NAMES = """\
load
  clay "Marsh buff" matures cone 8 to cone 10
  clay "Creek red", earthenware
  glaze "A glaze with a name far longer than any shelf label has room for" runny
  ware "mugs" 24 of "Marsh buff"
  ware "planters" 2 of "Marsh buff"
  ware "lids" of "Creek red"
witness "one"
  no pad
  not seen
  guide 8
"""


@pytest.mark.parametrize(
    "text",
    [MESSY, FAHRENHEIT, FAULTY, REMARKS, NAMES],
    ids=["messy", "fahrenheit", "faulty", "remarks", "names"],
)
def test_a_plan_becomes_tidy(text: str, snapshot: SnapshotAssertion) -> None:
    """Margins, columns, blank lines, spellings and comments come out as a person would set them."""
    tidy = tidy_text(text)

    assert tidy == snapshot
    assert tidy_text(tidy) == tidy


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("last", [True, False])
def test_line_ends_become_one(end: str, mark: str, last: bool) -> None:
    """Whatever editor saved it: no byte order mark, a line feed after each line and the last."""
    text = mark + end.join(['plan "mugs"  ', '\tby "duty potter"\t']) + end * last

    assert tidy_text(text) == 'plan "mugs"\n  by "duty potter"\n'


@pytest.mark.parametrize("text", ["", "\n", " \n\t\n", "\r\n\r\n", "\ufeff"])
def test_nothing_stays_nothing(text: str) -> None:
    """A file of blank lines becomes an empty file."""
    assert tidy_text(text) == ""


@pytest.mark.parametrize(
    ("written", "tidy"),
    [
        ('by “duty potter”', 'by "duty potter"'),
        ("by ‘duty potter’", 'by "duty potter"'),
        ('by ‘the "duty" potter’', 'by ‘the "duty" potter’'),
        ('by  «the  "duty"   potter»', 'by «the "duty" potter»'),
        ('note "6 # 7"', 'note "6 # 7"'),
    ],
)  # fmt: skip
def test_names_get_straight_quotes(written: str, tidy: str) -> None:
    """A name stands in straight double quotes, unless it has one itself."""
    assert tidy_text(f'plan "x"\n{written}') == f'plan "x"\n  {tidy}\n'


@pytest.mark.parametrize(
    ("written", "tidy"),
    [
        # another spelling, or a sign, of the same word
        ("pad Bone-Dry", "pad bone-dry"),
        ("pad leather hard", None),
        ("self supporting cones", "self-supporting cones"),
        ("guide ^8", "guide cone 8"),
        # another word for the label of the line
        ("leaning 8 degrees", "lean 8 degrees"),
        ("visible through the top peephole", "seen through the top peephole"),
        # another word elsewhere
        ("pad pierced", "pad pierced"),
        ("lean 8 degrees, in a line", "lean 8 degrees, in a line"),
    ],
)
def test_a_word_stays_the_word_it_is(written: str, tidy: str | None) -> None:
    """Labels take their first spelling; within a line a word is respelled and never replaced."""
    kept = f"  {tidy}" if tidy else written
    assert tidy_text(f'witness "x"\n{written}') == f'witness "x"\n{kept}\n'


@pytest.mark.parametrize(
    ("written", "tidy"),
    [
        ("hold half an hour", "hold 30 min"),
        ("hold ½ h", "hold 30 min"),
        ("hold 1:30 at 600C", "hold 1 h 30 min at 600 C"),
        ("hold 90 min", "hold 90 min"),
        ("climb 108 °F per hour to 1,112 F", "climb 108 F/h to 1112 F"),
        ("climb 2.50 C/min → 600.0 C", "climb 2.5 C/min -> 600 C"),
    ],
)
def test_measures_keep_their_unit(written: str, tidy: str) -> None:
    """A quantity is spelled in one way, in the scale and unit that it was written in."""
    assert tidy_text(f"schedule\n{written}\n") == f"schedule\n  {tidy}\n"


@pytest.mark.parametrize(
    ("written", "tidy"),
    [
        ("  shelves are washed", "  shelves washed"),
        ("- spacing is 6 mm.", "  spacing 6 mm"),
        ("  the shelves: the washed", "  the shelves the washed"),
    ],
)
def test_what_says_nothing_goes_but_an_article(written: str, tidy: str) -> None:
    """The mark of a list, `is`, `are`, a colon and a full stop go; an article is a person's own."""
    assert tidy_text(f"load\n{written}\n") == f"load\n{tidy}\n"


def test_two_words_that_join_into_one_are_tidied_at_once() -> None:
    """`cool down` is a way to say `cool`, and `down to` is one to say `to`: both go in one run."""
    written = "schedule\n  cool down down to 600 C at 60 C/h\n"

    assert tidy_text(written) == "schedule\n  cool to 600 C at 60 C/h\n"


def test_no_claim_is_made_that_nobody_made() -> None:
    """`electrician` is read like `licensed electrician`, and yet the licence is not written in."""
    line = "  electrics inspected 2026-03 by an electrician\n"

    assert tidy_text(f"safety\n{line}") == f"safety\n{line}"


@pytest.mark.parametrize(
    ("written", "tidy"),
    [
        ("wall 3/16   inch", "wall 3/16 in"),
        ('wall 1/3"', "wall 1/3 in"),
        ("wall 1-1/2 in", "wall 1 1/2 in"),
        ("wall 1½ in", "wall 1 1/2 in"),
        ("wall ⅜ inches", "wall 3/8 in"),
        ("wall 3⁄8 in", "wall 3/8 in"),
        ("wall 0.250 in", "wall 0.25 in"),
    ],
)
def test_fractions_stay_fractions(written: str, tidy: str) -> None:
    """Who writes 3/16 in thinks in sixteenths, and a third has no short decimal at all."""
    assert tidy_text(f'load\n  ware "mugs" {written}') == f'load\n  ware "mugs" {tidy}\n'


def test_a_wrong_spelling_of_a_value_is_not_used(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were a value ever spelled so that it reads as another, it would stay as it was written."""
    monkeypatch.setattr(words, "_spelling_of", lambda _: "7 mm")

    assert tidy_text('witness "x"\n  width 60   MM\n') == 'witness "x"\n  width 60 MM\n'


def test_a_line_that_would_read_otherwise_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were a line ever put together so that it reads otherwise, it would stay as it was written."""
    monkeypatch.setattr(words, "_same_word", lambda *_: "at")

    text = "schedule\n   hold 2h to   600 C\n   hold  2h  at 600C\n   hold 2h\n   cool  freely\n"
    assert tidy_text(text) == (
        "schedule\n   hold 2h to   600 C\n  hold 2 h at 600 C\n  hold 2 h\n   cool  freely\n"
    )


def test_what_is_still_to_be_filled_in_stands_in_the_columns() -> None:
    """Such a line can't be read yet, and its words stay, but it is laid out as it will stand."""
    text = (
        'kiln "Heron"\n"fill in   what heats it"\n shelves "fill in  how many" # count\n'
        'rated to cone 11\ncools from 1000C to "fill in", in 15h\n'
        '\ntarget "fill in the cone", oxidation\n'
    )

    assert tidy_text(text) == (
        'kiln "Heron"\n  "fill in   what heats it"\n  shelves "fill in  how many"  # count\n'
        '  rated   to cone 11\n  cools   from 1000C to "fill in", in 15h\n'
        '\ntarget "fill in the cone", oxidation\n'
    )
    assert tidy_text(tidy_text(text)) == tidy_text(text)
