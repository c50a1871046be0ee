"""A small rule book about plans, the same whatever becomes of the built-in one; and a plan."""

from guardcone.documents import document_text
from guardcone.facts import VOCABULARY
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.book_files import BookFile, read_book

LIMITS = """\
- limit: quickest-climb
  value: 200 C/h
  range: 100 C/h to 300 C/h
  sources: common practice, no source
"""

RULES = """\
- rule: climb-too-fast
  concerns: segment
  doubt when: rate is faster than quickest-climb
  at: rate
  finding: Segment {number} climbs at {rate}.
  do: "Climb at {quickest-climb} at most."
  why: Fast climbs crack ware.
  sources: common practice, no source
  passes:
    - plan: |
        schedule
          climb 200 C/h to 1240 C
          cool freely to 90 C
          open at 90 C
  fails:
    - plan: |
        schedule
          climb 201 C/h to 1240 C
          cool freely to 90 C
          open at 90 C
      at: 201 C/h
- rule: kiln-too-cool
  concerns: kiln
  loss when: rated-cone is cooler than cone of target
  at: rated-cone
  finding: The kiln {name} is made for {rated-cone}.
  do: "Fire to {rated-cone} at most."
  why: Elements and bricks give out.
  sources: common practice, no source
  passes:
    - from: stoneware
  fails:
    - rated to cone 11: rated to cone 8
      after:
        shelves 4: altitude 30 m
      without: thermocouple type S
      at: "8"
- rule: clay-overfired
  concerns: clay
  loss when: hottest is cooler than cone of target
  at: hottest
  finding: The clay {name} matures up to {hottest}.
  do: "Fire to {hottest} at most."
  why: Clay slumps.
  sources: common practice, no source
  passes:
    - plan: target cone 10, oxidation
  fails:
    - plan: target cone 11, oxidation
      at: "10"
- rule: local-code-unsaid
  concerns: safety
  danger when: local-code is missing or emergency is missing
  finding: The plan does not say what code holds here, or whom to call.
  do: Ask the fire office.
  why: Codes differ.
  sources: common practice, no source
  passes:
    - plan: |
        safety
          local code "asked"
          call "the duty phone"
  fails:
    - plan: |
        safety
          call "the duty phone"
      at: safety
"""

# A plan that leans on the studio for all that it can.
LEANING = """\
plan "Thursday stoneware"

kiln "Heron"
  altitude 30 m

target cone 12, oxidation

load
  ware "mugs"  24 of "Marsh buff" with "Reed ash", bisque, wall 6 mm
  ware "bowls" 12 of "Marsh buff" with "Reed ash", bisque, wall 6 mm

schedule
  climb 180 C/h to 1240 C
  cool freely to 90 C
  open at 90 C

safety
  vent on throughout
"""


def plan_book() -> RuleBook:
    """The small book."""
    reading = read_book(
        [BookFile("rules", RULES), BookFile("rules/limits.yaml", LIMITS)], VOCABULARY
    )
    assert reading.faults == ()
    return reading.book


def stoneware() -> str:
    """The sound plan that examples are cut into."""
    return document_text("rules", "sound_plans", "stoneware.firing")
