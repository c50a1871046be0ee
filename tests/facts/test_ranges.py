"""How clay, glaze and target suit each other: what a plan means that does not say it outright."""

import pytest

from guardcone.facts import VOCABULARY, PlanCase
from guardcone.facts.ranges import Range, split
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.values import Cone, ConeNumber

STONEWARE = 'clay "Marsh buff" matures cone 8 to cone 10, stoneware'
EARTHENWARE = 'clay "Brick lane red" matures cone 06 to cone 02, earthenware'
BONE_CHINA = 'clay "Swan" matures cone 6 to cone 8, bone china'
RAKU = 'clay "Grog" matures cone 06 to cone 5, raku'
REED_ASH = 'glaze "Reed ash" matures cone 8 to cone 10'
CLEAR_DROP = 'glaze "Clear drop" matures cone 05 to cone 03'
GOLD = 'glaze "Gold" matures cone 019 to cone 017, lustre'


def case_of(*lines: str, target: str = "cone 9", firing: str = "") -> PlanCase:
    """A plan of a target and a load."""
    head = ['plan "Test"', *([f"  firing {firing}"] if firing else []), f"target {target}", "load"]
    text = "\n".join([*head, *(f"  {line}" for line in lines)])
    return PlanCase(read_plan(SourceText("test", split_lines(text))))


def fact(case: PlanCase, subject: str, name: str) -> list[object]:
    """A fact of every instance of a subject, without its place."""
    found = VOCABULARY.subject(subject)
    assert found is not None
    asked = found.find(name)
    assert asked is not None
    values = [asked.get(one) for one in found.each(case)]
    return [getattr(value, "value", value) for value in values]


def cone(number: str) -> Cone:
    return Cone(ConeNumber.read(number))


KINDS = [
    (
        "glaze",
        "cone 9",
        (STONEWARE, REED_ASH, 'ware "w" 2 of "Marsh buff" with "Reed ash", bisque'),
    ),
    ("bisque", "cone 06", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bone dry')),
    ("bisque", "cone 06", (STONEWARE, 'ware "w" 2 of "Marsh buff"')),
    ("bisque", "1000 C", (STONEWARE, 'ware "w" 2 of "Marsh buff", greenware')),
    ("once", "cone 9", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bone dry')),
    ("once", "cone 04", (EARTHENWARE, 'ware "w" 2 of "Brick lane red" unglazed, bone dry')),
    ("once", "cone 9", (STONEWARE, REED_ASH, 'ware "w" of "Marsh buff" with "Reed ash", bone dry')),
    ("overglaze", "cone 018", (STONEWARE, GOLD, 'ware "w" 2 of "Marsh buff" with "Gold", glazed')),
    (
        "overglaze",
        "cone 018",
        (STONEWARE, REED_ASH, GOLD, 'ware "w" 2 of "Marsh buff" with "Reed ash", "Gold", glazed'),
    ),
    ("raku", "980 C", (RAKU, CLEAR_DROP, 'ware "w" 2 of "Grog" with "Clear drop", bisque')),
    (None, "cone 9", ()),
]


@pytest.mark.parametrize(("kind", "target", "lines"), KINDS)
def test_what_sort_of_firing_it_is_shows_without_its_name(
    kind: str | None, target: str, lines: tuple[str, ...]
) -> None:
    """Ware, glaze and target tell bisque, once-firing, glaze, lustre and raku firing apart."""
    assert fact(case_of(*lines, target=target), "load", "firing-kind") == [kind]


def test_what_the_plan_says_of_the_firing_stands() -> None:
    """A firing that is named is not guessed."""
    lines = (STONEWARE, REED_ASH, 'ware "w" 2 of "Marsh buff" with "Reed ash", bisque')
    assert fact(case_of(*lines, firing="test"), "load", "firing-kind") == ["test"]


MUST_MATURE = [
    (True, "", (STONEWARE, REED_ASH, 'ware "w" 2 of "Marsh buff" with "Reed ash", bisque')),
    (False, "bisque", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bone dry')),
    (False, "candling", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, damp')),
    (False, "raku", (STONEWARE, CLEAR_DROP, 'ware "w" 2 of "Marsh buff" with "Clear drop"')),
    (False, "overglaze", (STONEWARE, GOLD, 'ware "w" 2 of "Marsh buff" with "Gold", glazed')),
    (False, "glaze", (BONE_CHINA, CLEAR_DROP, 'ware "w" 2 of "Swan" with "Clear drop", bisque')),
]


@pytest.mark.parametrize(("matures", "firing", "lines"), MUST_MATURE)
def test_which_firings_need_not_bring_the_clay_to_its_range(
    matures: bool, firing: str, lines: tuple[str, ...]
) -> None:
    """Bisque, candling, raku, lustre and the glost firing of bone china leave it below.

    Bone china: Potclays; lustre 018 to 016: Bath Potters; raku: common practice, no source.
    """
    assert fact(case_of(*lines, firing=firing), "clay", "must-mature") == [matures]


def test_the_lustre_matures_where_what_is_under_it_does_not() -> None:
    """In an overglaze firing the overglaze must come into its range, and nothing else."""
    ware = 'ware "w" 2 of "Marsh buff" with "Reed ash", "Gold", glazed'
    case = case_of(STONEWARE, REED_ASH, GOLD, ware, target="cone 018")
    assert fact(case, "glaze", "must-mature") == [False, True]
    assert fact(case, "load", "common-coolest") == [cone("019")]
    assert fact(case, "load", "common-hottest") == [cone("017")]


STRETCHED = [
    ("cone 06 to cone 8", "cone 6 to cone 8, or cone 08 to cone 06"),
    ("cone 05 to cone 10", None),
    ("cone 06 to cone 6", None),
    ("cone 06 to cone 04", None),
    ("cone 8 to cone 10", None),
    ("1000 C to 1200 C", None),
]


@pytest.mark.parametrize(("written", "meant"), STRETCHED)
def test_a_range_with_one_zero_too_many_is_told_in_both_ways(
    written: str, meant: str | None
) -> None:
    """Only a range that is short once mended is taken for a slip."""
    case = case_of(f'clay "A" matures {written}', 'ware "w" 2 of "A" unglazed, bisque')
    assert fact(case, "clay", "mended-range") == [meant]


SLIPS = [
    ("cone 6", "glaze", (EARTHENWARE, 'ware "w" 2 of "Brick lane red" unglazed, bisque'), "06"),
    ("cone 09", "glaze", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bisque'), "9"),
    ("cone 6", "bisque", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bone dry'), "06"),
    ("cone 06", "bisque", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bone dry'), None),
    ("cone 6", "bisque", (BONE_CHINA, 'ware "w" 2 of "Swan" unglazed, bone dry'), None),
    ("cone 07", "glaze", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bisque'), None),
    ("1000 C", "glaze", (STONEWARE, 'ware "w" 2 of "Marsh buff" unglazed, bisque'), None),
]


@pytest.mark.parametrize(("target", "firing", "lines", "meant"), SLIPS)
def test_a_slip_in_the_target_shows_by_the_load(
    target: str, firing: str, lines: tuple[str, ...], meant: str | None
) -> None:
    """The other reading must suit all ware, and the one that is written none."""
    case = case_of(*lines, target=target, firing=firing)
    assert fact(case, "load", "slipped-target") == [cone(meant) if meant else None]


def test_a_load_without_a_common_cone_is_split_into_the_fewest() -> None:
    """Two groups are enough for these four, and each shares a cone."""
    ranges = [
        ("mugs", Range(cone("8"), cone("10"))),
        ("tiles", Range(cone("06"), cone("02"))),
        ("jars", Range(cone("9"), cone("11"))),
        ("pots", Range(cone("04"), cone("1"))),
    ]
    assert split(ranges) == [
        (["mugs", "jars"], Range(cone("9"), cone("10"))),
        (["tiles", "pots"], Range(cone("04"), cone("02"))),
    ]


def test_a_range_in_degrees_is_the_cones_nearest_to_its_ends() -> None:
    """1220 and 1282 °C are where large cones 6 and 10 end at 60 °C/h (Orton chart, 1996)."""
    case = case_of('clay "A" matures 1220 C to 1282 C', 'ware "w" 2 of "A" unglazed, bisque')
    assert fact(case, "ware", "shared-coolest") == [cone("6")]
    assert fact(case, "ware", "shared-hottest") == [cone("10")]


def test_cones_of_two_makers_are_not_compared() -> None:
    """Nothing is known of a load in Seger cones against a target in Orton cones but that."""
    case = case_of('clay "A" matures Seger cone 7 to 9', 'ware "w" 2 of "A" unglazed, bisque')
    assert fact(case, "clay", "range-of-other-maker") == [True]
    assert fact(case, "clay", "target-past") == [None]
    assert fact(case, "load", "slipped-target") == [None]


FUMES = [
    ("vent on throughout", True),
    ("vent on", True),
    ("vent on during firing, during cooling", True),
    ("vent on until 600 C", False),
    ("vent on during firing", False),
    ("vent off", False),
    ("clearance 1 m", False),
]


@pytest.mark.parametrize(("line", "led_off"), FUMES)
def test_fumes_are_led_off_by_a_vent_that_runs_to_the_end(line: str, led_off: bool) -> None:
    """A vent that is off for a part of the firing, or not there, leads nothing off."""
    text = f'plan "Test"\nload\n  ware "w"\nsafety\n  {line}\n'
    case = PlanCase(read_plan(SourceText("test", split_lines(text))))
    assert fact(case, "load", "fumes-led-off") == [led_off]


SHARING = [
    # One range of cones for all.
    ((STONEWARE, REED_ASH, 'ware "mugs" of "Marsh buff" with "Reed ash", bisque'),
     "cone 8 to cone 10", None),
    # Two that fit in themselves and not together.
    ((STONEWARE, REED_ASH, EARTHENWARE, CLEAR_DROP,
      'ware "mugs" of "Marsh buff" with "Reed ash", bisque',
      'ware "tiles" of "Brick lane red" with "Clear drop", bisque'),
     None, "mugs at cone 8 to cone 10; tiles at cone 05 to cone 03"),
    # One that fits nowhere, beside one load and beside two.
    ((STONEWARE, REED_ASH, CLEAR_DROP,
      'ware "mugs" of "Marsh buff" with "Reed ash", bisque',
      'ware "bowls" of "Marsh buff" with "Clear drop", bisque'),
     None, "mugs at cone 8 to cone 10; bowls at no cone"),
    ((STONEWARE, REED_ASH, EARTHENWARE, CLEAR_DROP,
      'ware "mugs" of "Marsh buff" with "Reed ash", bisque',
      'ware "tiles" of "Brick lane red" with "Clear drop", bisque',
      'ware "bowls" of "Marsh buff" with "Clear drop", bisque'),
     None, "mugs at cone 8 to cone 10; tiles at cone 05 to cone 03; bowls at no cone"),
    # Nothing fits anywhere, so no split is offered.
    ((STONEWARE, CLEAR_DROP,
      'ware "bowls" of "Marsh buff" with "Clear drop", bisque',
      'ware "jars" of "Marsh buff" with "Clear drop", bisque'),
     None, None),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "common", "apart"), SHARING)
def test_which_ware_can_go_together(
    lines: tuple[str, ...], common: str | None, apart: str | None
) -> None:
    """A load has what suits all, or the loads to split it into."""
    case = case_of(*lines)
    assert fact(case, "load", "common-range") == [common]
    assert fact(case, "load", "loads-apart") == [apart]


def test_a_material_is_each_clay_and_each_glaze() -> None:
    """A rule of a material is asked of all clays and glazes, and each answers as itself."""
    ware = 'ware "w" 2 of "Marsh buff" with "Reed ash", bisque'

    case = case_of(STONEWARE, REED_ASH, ware)

    assert fact(case, "material", "what") == ["clay", "glaze"]
    material = VOCABULARY.subject("material")
    assert material is not None
    # These two lead on to other things, and only a clay has glazes on it.
    asked = [one.name for one in material.facts if one.name not in {"wares", "glazes"}]
    assert "coolest" in asked
    assert [
        name
        for name in asked
        if fact(case, "material", name) != fact(case, "clay", name) + fact(case, "glaze", name)
    ] == []
