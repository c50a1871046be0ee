"""A line that can't be read, or that is still to be filled in, hides no danger told beside it."""

import re

import pytest

from guardcone.checking.plans import CheckedPlan, check_plan
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book, sound_plans

SOUND = sound_plans()["stoneware"]


def checked(*changes: tuple[str, str]) -> CheckedPlan:
    """The sound plan with lines that begin so put right, or wrong, in place of what they were."""
    text = SOUND
    for begins, line in changes:
        text, count = re.subn(rf"(?m)^ *{re.escape(begins)}.*$", lambda _, to=line: to, text)
        assert count == 1
    return check_plan(read_plan(SourceText("plan", split_lines(text))), built_in_book())


def told(plan: CheckedPlan) -> set[str]:
    """The names of what is found, with how bad each is."""
    return {f"{one.consequence.value}: {one.rule}" for one in plan.findings}


@pytest.mark.parametrize(
    ("begins", "line", "finding"),
    [
        # carbon monoxide where the kiln is electric and no alarm is named
        ("target cone 9, ox", "target cone 9, light reduction from 900 C",
         "danger: co-alarm-missing"),
        ("target cone 9, ox", "target cone 9 in heavy reduction", "danger: co-alarm-missing"),
        ("hold  10 min", '  reduce from "fill in from what temperature to what"',
         "danger: co-alarm-missing"),
        # by its own words nobody watches, or nothing stops the kiln
        ("watch", "  kiln unattended overnight", "danger: watch-missing"),
        ("watch", "  left unwatched from midnight", "danger: watch-missing"),
        ("cut-off", "  cut-off bypassed", "danger: cut-off-defeated"),
        ("cut-off", "  controller bypassed, contactor sticks", "danger: cut-off-defeated"),
        ("dust", "  relay is stuck", "danger: cut-off-defeated"),
        # the danger of a line that was to say otherwise
        ("watch", "  kiln Heron has somebody beside it", "danger: watch-missing"),
    ],
)  # fmt: skip
def test_what_warns_in_a_line_counts(begins: str, line: str, finding: str) -> None:
    """It is told as if it were written well, beside the line itself."""
    plan = checked((begins, line))

    assert finding in told(plan)
    assert plan.plan.faults


@pytest.mark.parametrize(
    ("begins", "line"),
    [
        ("cool  freely", '  cool freely to "fill in how cool"'),
        ("climb 60 C/h to 95", "  climb slowly to 95 C"),
        ("hold  30", "  candled till dry"),
        ("open", "  open when the potter says so"),
    ],
)
@pytest.mark.parametrize(
    ("rated", "finding"),
    [
        ("  rated to 1200 C", "loss: peak-above-rating"),
        ("  rated to 1150 C", "danger: peak-above-rating"),
    ],
)
def test_a_peak_that_can_be_read_is_compared(
    begins: str, line: str, rated: str, finding: str
) -> None:
    """What the kiln is rated to holds whatever another line of the schedule is to say."""
    assert finding in told(checked(("rated", rated), (begins, line)))


@pytest.mark.parametrize(
    "line",
    [
        "climb 100 C/h to 600 C in reduction",
        "climb 100 C/h to 600 C, body reduction",
        "hold 30 min in light reduction",
    ],
)
def test_reduction_is_no_remark(line: str) -> None:
    """The lines to copy of what is told of a climb in reduction ask from where it is reduced."""
    plan = checked(("climb 100", f"  {line}"))
    (fault,) = plan.plan.faults

    assert fault.mended.startswith(line.partition(" in ")[0].partition(",")[0])
    assert 'reduce from "fill in' in fault.mended


def test_what_is_told_of_the_kiln_is_no_second_kiln() -> None:
    """The lines below it stay where they are, and no name is offered for it."""
    plan = checked(("watch", "  kiln behind the shed door"))

    assert told(plan) == {"danger: watch-missing", "doubt: line-unclear"}
    assert [one.mended for one in plan.plan.faults] == [""]


@pytest.mark.parametrize(
    ("begins", "line", "kept"),
    [
        ("firing", "  glaze firing  # the kiln smells of gas", "# the kiln smells of gas"),
        ("firing", "  glaze firing, wires get warm and brown", "wires get warm and brown"),
        ("eyes", "  green glasses shade 5  # lid switch taped over", "# lid switch taped over"),
    ],
)
def test_what_is_offered_keeps_what_warns(begins: str, line: str, kept: str) -> None:
    """A remark stays behind the line that is offered, and so does a danger in its words."""
    plan = checked((begins, line))

    assert [one.mended.count(kept) for one in plan.plan.faults] == [1]
    assert "danger: danger-in-passing" in told(plan)


def test_ware_is_as_damp_as_is_said() -> None:
    """Greenware that is damp is damp: the milder word does not hide it."""
    ware = 'of "Marsh buff" with "Reed ash", {}, wall 16 mm, foot wiped 6 mm'
    damp, both = (
        told(checked(('ware  "mugs"', f'  ware "mugs" 24 {ware.format(state)}')))
        for state in ("damp", "greenware, damp")
    )

    assert "loss: damp-hold-short" in damp
    assert damp == both
