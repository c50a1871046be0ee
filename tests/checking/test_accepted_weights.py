"""An accept line covers the weight that it names, and nothing that has become worse."""

import pytest

from guardcone.checking.plans import check_plan
from guardcone.documents import document_text
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book

PLAN = document_text("rules", "sound_plans", "stoneware.firing")
BECAUSE = 'because "these tiles were opened so all year" by "studio manager"'


def told(opened: str, accept: str) -> list[str]:
    """What is found, and what is accepted, where the kiln is opened at this temperature."""
    text = PLAN.replace("open  at 90 C", f"open  at {opened}")
    assert text != PLAN
    checked = check_plan(
        read_plan(SourceText("plan", split_lines(f"{text}\n{accept}\n"))), built_in_book()
    )
    return [
        *(f"{one.consequence.value}: {one.rule}: {one.text}" for one in checked.findings),
        *(
            f"accepted: {one.finding.consequence.value}: {one.finding.rule}"
            for one in checked.accepted
        ),
    ]


def test_a_line_covers_the_weight_it_names_and_what_is_lighter() -> None:
    """Accepted as doubt, a finding of doubt stands, and one of advice as well."""
    accept = f"accept opening-hot as doubt {BECAUSE}"

    assert told("126 C", accept) == ["accepted: doubt: opening-hot"]
    assert told("105 C", accept) == ["accepted: advice: opening-hot"]


def test_what_has_become_worse_is_told_again() -> None:
    """After an edit the finding is shown in full, and says what the line let stand."""
    (finding,) = told("210 C", f"accept opening-hot as advice {BECAUSE}")

    assert finding.startswith("loss: opening-hot: The kiln is opened at 210 °C")
    assert finding.endswith("accepts it as advice; it is loss now.")


@pytest.mark.parametrize(
    ("opened", "findings"),
    [
        ("105 C", ["accepted: advice: opening-hot"]),
        ("126 C", ["doubt: opening-hot: "]),
    ],
)
def test_without_a_weight_the_lightest_is_covered(opened: str, findings: list[str]) -> None:
    """And the line to write is told, so that nobody has to guess."""
    found = told(opened, f"accept opening-hot {BECAUSE}")

    unsaid = [one for one in found if one.startswith("advice: accept-weight-unsaid")]
    assert len(unsaid) == 1
    others = [one for one in found if one not in unsaid]
    assert [one[: len(start)] for one, start in zip(others, findings, strict=True)] == findings


def test_a_rule_of_one_weight_needs_no_weight() -> None:
    """Where only one weight is possible the line covers it."""
    text = PLAN.replace(
        '  call         "the number on the kiln-room door, then the studio manager"\n', ""
    )
    assert text != PLAN
    plan = read_plan(
        SourceText("plan", split_lines(f"{text}accept emergency-call-unsaid {BECAUSE}\n"))
    )
    checked = check_plan(plan, built_in_book())

    assert checked.findings == ()
    assert [one.finding.rule for one in checked.accepted] == ["emergency-call-unsaid"]
