"""What potters write of witness sets and load: every spelling beside the value it means."""
# ruff: noqa: E501 - the tables of spellings read best with a meaning and its spellings side by side

import pytest
from spellings import assert_fields, read, spelled

from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries

# -- witness -----------------------------------------------------------------------------------

WITNESSES = {
    "guide=cone 8": "guide 8 | guide: 8 | guide cone 8 | guide ^8 | guide:8 | Guide 8.",
    "guide=cone 05½": "guide 05½ | guide cone 05.5",
    "guard=cone 10": "guard 10 | guard cone 10 | guard: cone 10",
    "target=cone 9": "target 9 | target: 9 | target cone 9",
    "series=small": "small cones | small Orton cones | small",
    "series=self-supporting": "self-supporting cones | self supporting cones",
    "series=Seger large": "Seger cones | large Seger cones",
    "extras=cone 7": "extra cone 7 | extra 7",
    "order=cone 8+cone 9+cone 10": "order 8, 9, 10 | order 8 9 10 | order 8-9-10 |"
    "order cone 8, cone 9 and cone 10 | order: 8 – 9 – 10",
    "lean=8": "lean 8 degrees | lean 8° | lean 8 deg | lean: 8 degrees | leaning 8° | lean of 8° |"
    "8 degrees lean",
    "lean=8 facing=one-way setting_out=staggered": "lean 8 degrees, facing one way, staggered |"
    "lean 8° staggered facing the same way | lean 8°, one way and staggered",
    "upright=upright": "upright",
    "pricking=pricked pad=dry": "pad pricked, dry | pad: pricked and dry | pad dry, pierced",
    "pad=bone-dry": "pad bone dry | pad bone-dry",
    "pricking=not-pricked pad=damp": "pad not pricked, damp | pad solid; wet",
    "pad=fired": "pad fired | pad bisqued",
    "no_pad=no": "no pad | pad none",
    "pad_clay=Marsh buff": 'pad of "Marsh buff", pricked',
    "seen=lower": "seen through the lower spy hole | seen from the bottom peephole |"
    "visible at lower spyhole | seen through bottom peep",
    "seen=north": 'seen through "north" spy hole | seen through the "north" spy hole |'
    'seen through "north"',
    "seen=spy hole": "seen through the spy hole | seen",
    "unseen=not": "not seen | not visible",
    "width=60": "width 60 mm | 60 mm wide | width: 6 cm",
    "element_gap=60": "elements 60 mm away | 60 mm from the elements | elements 6 cm",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(WITNESSES))
def test_the_witness_set(line: str, meaning: str) -> None:
    """Which cones, how they stand, the pad, and the spy hole."""
    assert_fields(read("witness", line).witness_sets[0], meaning)


@pytest.mark.parametrize("lines", [("small cones", "guide 8"), ("guide 8", "small cones")])
def test_the_series_holds_for_the_whole_set(lines: tuple[str, str]) -> None:
    """`small cones` is of every cone of its set, wherever the line stands."""
    guide = read("witness", *lines).witness_sets[0].guide
    assert guide is not None
    assert guide.value == Cone(ConeNumber.read("8"), ConeSeries(ConeForm.SMALL))


# -- load --------------------------------------------------------------------------------------

MATURITIES = {
    "cone 8 to cone 10": 'clay "x" matures cone 8 to cone 10 | clay "x" matures cone 8 to 10 |'
    'clay "x" matures 8 to 10 | clay "x" matures cone 8-10 | clay "x" matures cone 8–10 |'
    'clay "x" matures from cone 8 to cone 10 | clay "x" matures between cone 8 and cone 10 |'
    'clay "x" matures cones 8 - 10 | clay "x": cone 8 — cone 10 | clay “x”, range 8/10 |'
    "clay ‘x’ ^8-^10 | clay 'x' cone 8 up to 10 | clay «x» cone 8-10 | clay \"x” cone 8-10",
    "cone 6 to cone 6": 'clay "x" cone 6 | clay "x", cone 6 | clay "x" ^6 | clay "x" matures cone 6 |'
    'clay "x" matures at cone 6 | clay "x" matures to cone 6 | clay "x" fires to cone 6 |'
    'clay "x" fired to cone 6 | clay "x" stoneware, cone 6 | clay body "x" vitrifies at cone 6',
    "cone 5 to cone 6": 'clay "x" cone 5/6 | clay "x" cone 5-6 | clay "x" matures cone 5/6',
    "cone 04 to cone 02": 'clay "x" range 04-02 | clay "x" range 04–02 | clay "x" range: 04 to 02 |'
    'clay "x" cone 04 - 02',
    "cone 5½ to cone 5½": 'clay "x" cone 5 1/2 | clay "x" cone 5.5 | clay "x" cone 5½',
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(MATURITIES))
def test_where_a_clay_matures(line: str, meaning: str) -> None:
    """A range with any dash or word between, or one cone for both ends; glazes are the same."""
    for text in (line, line.replace("clay body", "glaze").replace("clay", "glaze", 1)):
        if "stoneware" in text and text.startswith("glaze"):
            continue
        load = read("load", text).load
        assert load is not None
        maturity = (load.clays or load.glazes)[0].maturity
        assert maturity is not None
        assert maturity.coolest is not None
        assert maturity.hottest is not None
        assert f"{maturity.coolest.value} to {maturity.hottest.value}" == meaning


@pytest.mark.parametrize(
    "line",
    [
        'clay "x" matures 1220 C to 1260 C',
        'clay "x" matures 1,220 °C - 1,260 °C',
        'clay "x" range 2228 F to 2300 F',
    ],
)
def test_where_a_clay_matures_in_degrees(line: str) -> None:
    """Some makers give temperatures, each with its unit."""
    load = read("load", line).load
    assert load is not None
    maturity = load.clays[0].maturity
    assert maturity is not None
    assert maturity.lowest is not None
    assert maturity.highest is not None
    assert maturity.lowest.value.base == pytest.approx(1220)
    assert maturity.highest.value.base == pytest.approx(1260)


CLAYS = {
    "body=stoneware contains=iron": 'clay "x" stoneware, contains iron | clay "x", contains iron,'
    ' stoneware',
    "body=earthenware": 'clay "x" earthenware | clay "x", terracotta',
}  # fmt: skip
GLAZES = {
    "flow=runny contains=copper": 'glaze "x" cone 6 runny, contains copper | glaze "x" contains'
    ' copper, runny',
    "contains=copper+barium": 'glaze "x" contains copper and barium | glaze "x" contains copper,'
    ' barium',
    "kind=overglaze": 'glaze "x" lustre | glaze "x", overglaze | glaze "x" decals',
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(CLAYS) + spelled(GLAZES))
def test_what_a_clay_or_glaze_is(line: str, meaning: str) -> None:
    """The sort of body, the flow, what it contains, in any order."""
    load = read("load", line).load
    assert load is not None
    assert_fields((load.clays or load.glazes)[0], meaning)


WARES = {
    "count=24 clay_name=c glaze_names=g state=bisque wall=6":
        'ware "m" 24 of "c" with "g", bisque, wall 6 mm | ware "m": 24 of "c" with "g", bisque, 6 mm wall |'
        'ware "m", 24 pieces of "c", glazed with "g", bisque ware, 6 mm thick |'
        'ware "m" 24 pcs of "c" glazed "g"; bisque-fired; walls 0.6 cm |'
        'ware "m" 24 of "c" in "g", biscuit, wall 6 mm thick | ware 24 "m" of "c" with "g" bisqued wall 6mm',
    "count=10 unglazed=unglazed state=bone-dry": 'ware "b" 10 of "c" unglazed, bone dry |'
        'ware "b" 10 of "c" without glaze, bone-dry | ware "b" 10 of "c", no glaze, bonedry',
    "state=leather-hard wall=12": 'ware "x", 24 pieces of "c", leather hard, 12 mm thick |'
        'ware "x" 24 of "c" leather-hard wall up to 12 mm | ware "x" leatherhard, wall: 12 mm',
    "glaze_names=g+h": 'ware "m" of "c" with "g", "h" | ware "m" of "c" with "g" and "h" |'
        'ware "m" of "c" with "g" over "h"',
    "wall=6.35": 'ware "m" of "c", wall 1/4 in | ware "m" of "c", wall 1/4" | ware "m" of "c", wall ¼ inch |'
        'ware "m" of "c", wall 1/4” thick | ware "m" of "c", 0.25 inches thick | ware "m" of "c", wall .25"',
    "wall=12.7": 'ware "m" of "c", wall 1/2 in | ware "m" wall ½" | ware "m" 1/2 inch walls',
    "state=damp shelf=top": 'ware "m" damp, on "top" | ware "m" damp on the "top" shelf |'
        'ware "m", wet, shelf "top" | ware "m" damp on shelf "top"',
    "form=closed-form": 'ware "m" closed | ware "m", hollow | ware "m" closed form',
    "form=closed-form+vented": 'ware "m" closed, vented | ware "m" closed form, vent hole',
    "foot=wiped foot_clear=6": 'ware "m" foot wiped 6 mm | ware "m", foot clear 6 mm',
    "foot=bare": 'ware "m" foot bare',
    "support=stilts": 'ware "m" on stilts',
    "refired=refired": 'ware "m" refired | ware "m" re-fired',
    "state=glazed": 'ware "m" of "c", glazed | ware "m" of "c" glaze-fired',
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(WARES))
def test_the_ware(line: str, meaning: str) -> None:
    """Pieces, clay, glaze, dampness, wall, in any order, with commas or without."""
    load = read("load", line).load
    assert load is not None
    assert_fields(load.wares[0], meaning)


LOADS = {
    "spacing=6": "spacing 6 mm | spacing: 6 mm",
    "shelf_wash=washed": "shelves washed | shelves kiln-washed | shelves: washed | batts washed with alumina",
    "shelf_wash=not-washed": "shelves not washed | shelves bare | shelves unwashed",
    "stilts=all-clay": "stilts all-clay | stilts clay",
    "stilts=metal-point": "stilts metal-point | stilts metal",
    "mass=30": "mass 30 kg | weight 30 kilos",
    "mass=29.94": "mass 66 lb | weight 66 lbs | mass 66 pounds",
}


@pytest.mark.parametrize(("line", "meaning"), spelled(LOADS))
def test_the_load(line: str, meaning: str) -> None:
    """Spacing, shelf wash, stilts and mass."""
    assert_fields(read("load", line).load, meaning)
