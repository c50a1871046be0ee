"""Plans of every kind as a kiln technician writes them: none is accused of anything."""

from pathlib import Path

import pytest

from guardcone.checking.plans import CheckedPlan, check_plan
from guardcone.commands import main
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence

SOUND = Path(__file__).parent / "sound"
# Advice is a habit somebody may have a reason against; as many plans give one, and no more.
WITH_ADVICE = 6


def checked(text: str) -> CheckedPlan:
    """A plan, checked by the book alone."""
    return check_plan(read_plan(SourceText("plan", split_lines(text))), built_in_book())


def weighty(plan: CheckedPlan) -> list[str]:
    """What is found in it at doubt or worse."""
    return [
        f"{one.span.line}: {one.rule}: {one.text}"
        for one in plan.findings
        if one.consequence.at_least(Consequence.DOUBT)
    ]


@pytest.mark.parametrize("path", sorted(SOUND.glob("*.firing")), ids=lambda path: path.stem)
def test_a_sound_plan_is_accused_of_nothing(path: Path) -> None:
    """No doubt and no worse, of bisque and glost, of raku and lustre, of electric and wood."""
    assert weighty(checked(path.read_text(encoding="utf-8"))) == []


def test_a_sound_plan_may_lean_on_the_studios_file(capsys: pytest.CaptureFixture[str]) -> None:
    """The kiln, clay, glaze and room of the studio's own file are as good as the plan's."""
    assert main(["check", str(SOUND / "studio" / "by_the_studio.firing")]) == 0
    assert "advice" not in capsys.readouterr().out


def test_sound_plans_are_many_and_carry_little_advice() -> None:
    """At least thirty; where most of them carry advice nobody reads it any more."""
    plans = [checked(path.read_text(encoding="utf-8")) for path in SOUND.glob("*.firing")]

    assert len(plans) >= 30
    assert sum(bool(plan.findings) for plan in plans) <= WITH_ADVICE


def told(name: str, *changes: tuple[str, str]) -> list[str]:
    """What is found at doubt or worse where one of the plans says something else."""
    text = (SOUND / f"{name}.firing").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return weighty(checked(text))


def test_a_body_that_is_not_mature_is_no_low_glost() -> None:
    """`mature biscuit` is what makes the low glost sound; on raw ware it says nothing."""
    unsaid = told("low_glost", ("mature biscuit", "biscuit"))
    raw = told("low_glost", ("mature biscuit", "mature, bone dry"), ("firing glost", "firing once"))

    assert [one.split(": ")[1] for one in unsaid] == ["clay-and-glaze-apart"]
    assert "clay-and-glaze-apart" in [one.split(": ")[1] for one in raw]


def test_the_odd_kind_of_firing_is_told_once() -> None:
    """Where ware and target agree, the word for the firing is the odd one."""
    odd = "5: firing-kind-odd: The plan says firing {}, and its ware and target say firing glaze."

    assert told("propane", ("firing glaze", "firing bisque")) == [odd.format("bisque")]
    assert told("propane", ("firing glaze", "firing lustre")) == [odd.format("overglaze")]


def test_a_target_in_the_range_of_a_clay_is_no_slip() -> None:
    """The glaze is the odd one out where the clay is at home at the target."""
    told_of = told("propane", ('"Grey celadon" matures cone 9 to cone 11', '"Grey celadon" 010'))

    assert told_of
    assert not any("leading zero has likely slipped" in one for one in told_of)
