"""Plans for the tests of the forecast: the studio's, and those that leave something open."""

from guardcone.language import SourceText, split_lines
from guardcone.plan import Plan, read_plan

THURSDAY = """
plan "Thursday stoneware"
  by     "duty potter"
  starts 2026-10-03 07:30
kiln "Heron"
  electric, front door, 230 L, 11 kW
  rated to cone 10
  cools from 1000 C to 100 C in 15 h
target cone 9, oxidation
witness "bottom shelf"
  large cones
  guide  8
  target 9
  guard  10
  seen   through the lower spy hole
load
  clay  "Marsh buff"  matures cone 8 to cone 10
  ware  "mugs"      24 of "Marsh buff", bisque, wall 6 mm
  ware  "planters"   2 of "Marsh buff", bisque, wall 14 mm
schedule
  climb 60 C/h to 95 C
  hold  2 h
  climb 100 C/h to 600 C
  climb 150 C/h to 1160 C
  climb 60 C/h to 1252 C
  hold  10 min
  cool  150 C/h to 1000 C
  cool  freely to 90 C
  open  at 90 C
"""

# In °F, two shelves, a spread, damp ware, an altitude, a climb beyond the kiln, no date.
BISQUE_IN_FAHRENHEIT = """
plan "Bisque on two levels"
  starts 07:30
kiln "Little Egret"
  electric, top lid, 2.6 cu ft
  rated to 2300 F
  thermocouple type S
  spread half cone
  altitude 5000 ft
target cone 04
witness "top shelf"
  self-supporting cones
  guide 05
  target 04
  guard 03
witness "bottom shelf"
  self-supporting cones
  guide 05
  target 04
  guard 03
load
  clay "Red" earthenware, matures cone 06 to cone 03
  ware "tiles" 10 of "Red", leather hard, wall 3/4 in
schedule
  from 65 F
  climb 80 F/h to 190 F
  hold 3 h
  climb 150 F/h to 1000 F
  climb 250 F/h to 1800 F
  climb 108 F/h to 1940 F
  cool freely to 200 F
  open at 200 F
"""

# Two different sets, one without a guard; a gas kiln; a crash; a hold elsewhere; no start.
TWO_SETS = """
plan "Reduction on two shelves"
kiln "Heron"
  gas, 500 L
  rated to 1250 C
target cone 10, reduction
witness "top"
  iron-free large cones
  guide 9
  target 10
witness "bottom"
  guide 8
  target 9
  guard 10
  extra cone 022
schedule
  climb 100 C/h to 1100 C
  hold 1 h at 1000 C
  climb 40 C/h to 1230 C
  cool crash to 1000 C
  cool freely
"""

RAKU = """
plan "Raku evening"
  firing raku
target 1000 C
schedule
  climb full power to 980 C
  open at 950 C
"""

SEGER = """
plan "Old cones"
  starts 08:00
target cone 7 Seger
witness "shelf"
  Seger cones
  guide 6
  target 7
  guard 8
schedule
  climb 100 C/h to 1200 C
  hold 20 min
  cool freely to 90 C
  open at 90 C
"""

FAULTY = """
plan "Faulty"
target cone 6
schedule
  climb 100 C/h to 600 C
  climb 150 to 1100 C
  climb 60 C/h to 1222 C
safety
  vent on
"""

NOTHING = 'plan "Nothing yet"\n'

NO_SEGMENTS = 'plan "No climbs"\ntarget cone 6\nschedule\n  open at 90 C\n'

NO_TARGET = """
plan "Candling only"
witness "shelf"
  large cones
schedule
  climb 50 C/h to 90 C
  hold 8 h
"""

# The target 25 °C short, and cones too near each other for the guard to stand.
TOO_COOL = """
plan "A little cool"
kiln "Little Egret"
  electric, top lid, 75 L
target cone 1
witness "shelf"
  large cones
  guide 01
  target 1
  guard 2
schedule
  climb 150 C/h to 1000 C
  climb 60 C/h to 1110 C
  open at 90 C
"""

# Nothing the kiln can do brings the target down.
TOO_WEAK = """
plan "Beyond the kiln"
kiln "Little Egret"
  electric, 75 L
  rated to 1000 C
target cone 9
witness "shelf"
  large cones
  guide 8
  target 9
  guard 10
schedule
  climb 100 C/h to 1000 C
  climb 100 C/h to 700 C
  hold 0 min
"""


def plan_of(text: str, name: str = "studio.firing") -> Plan:
    """The plan in a text, read as a file of that name."""
    return read_plan(SourceText(name, split_lines(text.lstrip("\n"))))


# Cones 6 and 7 lie closer than a cone takes to bend: a leaning guard is as good as it gets.
CLOSE_CONES = """
plan "Cone 6 in Little Egret"
  starts 2026-10-10 07:00
kiln "Little Egret"
  electric, top lid, 75 L, 4.5 kW
target cone 6
witness "shelf"
  self-supporting cones
  guide 5
  target 6
  guard 7
schedule
  climb 200 F/h to 1000 F
  climb 270 F/h to 2000 F
  climb 108 F/h to 2215 F
  hold 10 min
  open at 190 F
"""
