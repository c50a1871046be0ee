"""Who does what a finding tells, to the figure that is printed, is told no more."""

from guardcone.checking.plans import check_plan
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book

PLAN = """\
plan "Thursday mugs"
kiln "Heron"
  electric
load
  ware "mugs" 4 of "Marsh buff", dry
schedule
  climb {rate} F/h to 1000 F
  climb 180 F/h to 1900 F
"""


def told(rate: int) -> list[str]:
    """What the plan is told to do about its first climb."""
    plan = read_plan(SourceText("plan", split_lines(PLAN.format(rate=rate))))
    findings = check_plan(plan, built_in_book()).findings
    return [one.repair for one in findings if one.rule == "raw-climb-fast"]


def test_the_most_there_may_be_is_rounded_down() -> None:
    """The limit is 201.6 °F/h: 202 °F/h is beyond it, so 202 °F/h or slower is no help."""
    assert told(202) == ["Climb at 201 °F/h or slower to 1112 °F."]
    assert told(201) == []
