"""What potters write, and the value the plan holds: every spelling beside what it means."""
# ruff: noqa: E501 - the tables of spellings read best with a meaning and its spellings side by side

import re
from datetime import date, time

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.language.tokens import CalendarMonth
from guardcone.plan import Plan, read_plan
from guardcone.rulebook.facts.reading import clock_hour
from guardcone.span import Written
from guardcone.values import (
    Cone,
    ConeForm,
    ConeNumber,
    ConeSeries,
    Duration,
    Numbering,
    Quantity,
)

HEADING = {"kiln": 'kiln "Heron"', "witness": 'witness "top shelf"', "reading": 'reading "top"'}


def read(section: str, *lines: str) -> Plan:
    """The plan of one section, which must have no fault but names that nothing describes."""
    text = "\n".join([HEADING.get(section, section), *lines])
    if section == "plan":
        text = "\n".join(['plan "Thursday stoneware"', *lines])
    plan = read_plan(SourceText("plan", split_lines(text)))
    assert [fault for fault in plan.faults if not fault.rule.startswith("name-")] == []
    return plan


def spelled(table: dict[str, str]) -> list[tuple[str, str]]:
    """(line, meaning) for a table of meaning → spellings between bars."""
    return [
        (line.strip(), meaning)
        for meaning, lines in table.items()
        for line in lines.split("|")
        if line.strip()
    ]


# -- plan and target ----------------------------------------------------------------------------

STARTS = {
    "2026-10-03 07:30": "starts 2026-10-03 07:30 | start 2026-10-03 at 7:30 | starts 2026-10-03T07:30 |"
    "starts 3 October 2026 at 07:30 | starts 3 Oct 2026, 7.30 | starts 3rd October 2026, 07:30 |"
    "starts October 3, 2026 at 7:30 am | starts Oct. 3rd, 2026 at 7:30am | starts: 2026/10/03 7:30 |"
    "starts on Saturday, 3 October 2026 at 7.30 a.m. | starts Sat 2026-10-03 at 7:30 AM |"
    "starts at 07:30 on 2026-10-03 | starts 7:30 am, 3. October 2026 | STARTS 3rd of October 2026 7:30",
    "2026-10-03 None": "starts 2026-10-03 | starts on 2026-10-3 | starts Saturday 2026-10-03",
    "None 07:30": "starts 7:30 am | starts at 07:30 | starts 7.30 | starts: 7:30",
    "None 19:30": "starts 7:30 pm | starts 19:30 | starts 7.30 p.m. | starts at 7:30PM",
    "None 12:00": "starts noon | starts at 12 pm | starts 12:00",
    "None 00:00": "starts midnight | starts at 12 am | starts 0:00",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(STARTS))
def test_the_start(line: str, meaning: str) -> None:
    """Date and time in the orders and forms people write them."""
    plan = read("plan", line)
    day, clock = meaning.split()
    assert (plan.starts_on.value if plan.starts_on else None) == (
        None if day == "None" else date.fromisoformat(day)
    )
    assert (plan.starts_at.value if plan.starts_at else None) == (
        None if clock == "None" else time.fromisoformat(clock)
    )


TARGETS = {
    "cone 6": "target cone 6 | target: cone 6 | target 6 | target ^6 | target Δ6 | target △ 6 |"
    "target ∆6 | target cone6 | TARGET CONE 6 | firing cone 6",
    "cone 06": "target cone 06 | target ^06 | target 06 | target cone06",
    "cone 5½": "target cone 5.5 | target cone 5½ | target cone 5 1/2 | target cone 5-1/2 |"
    "target ^5½ | target 5 ½",
    "cone 05½": "target cone 05.5 | target cone 05½ | target cone 05 1/2 | target ^05½",
    "Seger cone 6a": "target Seger cone 6a | target cone 6a Seger | target Seger 6a",
    "SK cone 8": "target SK 8 | target cone 8 SK",
    "Staffordshire cone 8B": "target Staffordshire 8B | target cone 8B Staffordshire cone",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(TARGETS))
def test_the_target_cone(line: str, meaning: str) -> None:
    """A cone with or without its word, in each way to write a half, a leading zero, a maker."""
    target = read("plan", line).target
    assert target is not None
    assert target.cone is not None
    assert str(target.cone.value) == meaning


@pytest.mark.parametrize(
    ("line", "form", "iron_free"),
    [
        ("target cone 6 large cones", ConeForm.LARGE, False),
        ("target small cone 6", ConeForm.SMALL, False),
        ("target cone 6 self-supporting", ConeForm.SELF_SUPPORTING, False),
        ("target self supporting cone 6", ConeForm.SELF_SUPPORTING, False),
        ("target iron-free small cone 06", ConeForm.SMALL, True),
        ("target cone 06 large iron free Orton cone", ConeForm.LARGE, True),
    ],
)
def test_the_series_of_the_target(line: str, form: ConeForm, iron_free: bool) -> None:
    """Form and make of the cone may stand before the number or after it."""
    target = read("plan", line).target
    assert target is not None
    assert target.cone is not None
    assert target.cone.value.series == ConeSeries(form, iron_free, Numbering.ORTON)


ATMOSPHERES = {
    "oxidation": "target cone 6, oxidation | target cone 6 in oxidation | target cone 6 oxidation |"
    "target ^6 ox | target: cone 6; oxidizing | target cone 6 and oxidation",
    "reduction": "target cone 10, reduction | target cone 10 in reduction | target 10 reducing",
    "neutral": "target cone 6, neutral",
}


@pytest.mark.parametrize(("line", "meaning"), spelled(ATMOSPHERES))
def test_the_atmosphere(line: str, meaning: str) -> None:
    """With or without a comma, or after `in`."""
    target = read("plan", line).target
    assert target is not None
    assert target.atmosphere is not None
    assert target.atmosphere.value == meaning


# -- kiln ---------------------------------------------------------------------------------------

KILNS = {
    "fuel=electric": "electric | ELECTRICAL",
    "fuel=natural-gas": "natural gas | mains gas",
    "fuel=propane": "propane | LPG | bottled gas",
    "fuel=electric loading=front-door volume=230 power=11":
        "electric, front door, 230 L, 11 kW | 230 litres, 11 kW, electric, front loading |"
        "electric; front-loader; 230 l; 11000 W | electric & front-loading & 230 liters & 11 kilowatts",
    "loading=top-lid": "top lid | top-loading | top loader | lid",
    "volume=226.53": "8 cu ft | 8 cubic feet | 8 cu. ft. | 8 ft3 | 8 ft³ | 8cf",
    "power=11.52": "240 V, 48 A | 240 volts, 48 amps | 48A 240V",
    "power=29.31": "100,000 BTU/h | 100000 BTU per hour | 100,000 BTUs/hr",
    "rated_cone=cone 10": "rated to cone 10 | rated cone 10 | rated: cone 10 | maximum ^10 | max 10",
    "rated_temperature=1300": "rated to 1300 C | max temp 1300 °C | maximum temperature 1,300 C |"
    "rated 2372 F",
    "shelves=4": "shelves 4 | shelves: 4 | 4 shelves",
    "cools_from=1000 cools_to=100 cools_in=15 h":
        "cools from 1000 C to 100 C in 15 h | cools 1000 C to 100 C in 15 hours |"
        "cools down from 1832 F to 212 F over 15 hrs | cools 1000°C – 100°C in 15 h",
    "thermocouple=K": "thermocouple type K | thermocouple K | type K thermocouple | thermocouple: k",
    "thermocouple=S thermocouple_limits=special-limits":
        "thermocouple type S, special | thermocouple S class 1",
    "altitude=1524000": "altitude 5000 ft | altitude 5,000 feet | elevation 5000'",
    "altitude=1500000": "altitude 1500 m | altitude 1,500 metres",
    "spread_cones=0.5": "spread half a cone | spread 1/2 cone | spread ½ cone | spread 0.5 cones",
    "spread_cones=1": "spread 1 cone | spread: 1 cone",
    "spread_temperature=10": "spread 10 C | spread 18 F",
    "spy_hole=40": "spy hole 40 mm | spyhole 4 cm | peephole 40mm | spy-hole: 40 mm",
    "room=20": "room 20 C | room temperature 20 °C | room 68 F",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(KILNS))
def test_the_kiln(line: str, meaning: str) -> None:
    """Size, power, limits and cooling in metric and US units."""
    assert_fields(read("kiln", line).kiln, meaning)


def assert_fields(record: object, meaning: str) -> None:
    """Compare the fields of a record that are set with `name=value name=value`."""
    for name, value in re.findall(r"(\w+)=(.*?)(?= \w+=|$)", meaning):
        written = getattr(record, name)
        assert plain(written) == value, name


def plain(written: object) -> str:
    """A value in short: the base amount of a measure, the words of a list joined by +."""
    if isinstance(written, tuple):
        return "+".join(plain(one) for one in written)
    value = written.value if isinstance(written, Written) else written
    if isinstance(value, Duration):
        return str(value)
    if isinstance(value, Quantity):
        return f"{round(value.base, 2):g}" if value.base < 1e5 else f"{value.base:.0f}"
    return f"{value:g}" if isinstance(value, float) else str(value)


# -- witness ------------------------------------------------------------------------------------

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
    "visible at lower spyhole",
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


# -- load ---------------------------------------------------------------------------------------

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
    "shelf_wash=washed": "shelves washed | shelves kiln-washed | shelves: washed",
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


# -- schedule -----------------------------------------------------------------------------------

SEGMENTS = {
    "kind=climb pace=rate rate=60 to=95":
        "climb 60 C/h to 95 C | climb 60 °C/h to 95 °C | climb at 60 C per hour to 95 C |"
        "climb 60°C/hr to 95°C | climb 60 C/h up to 95 C | climb to 95 C at 60 C/h |"
        "climb 60 degrees C an hour to 95 degrees Celsius | climb 60 C / h to 95 C |"
        "climb: 60 C/h to 95 C | ramp 60 C/h to 95 C | heat at 60 C/h until 95 C | raise 60 C/h to 95 C |"
        "climb 60 C/h -> 95 C | climb 60 C/h → 95 C | climb 1 C/min to 95 C | CLIMB 60 c/H TO 95 c |"
        "climb 108 F/h to 203 F | climb 108 °F per hour to 203 °F | climb 60 ℃/h to 95 ℃ |"
        "climb 1 degree C a minute to 95 C | climb\t60\u00a0°C/h to\u200995\u202f°C | climb 60 C/h to 95 C.",
    "kind=climb pace=rate rate=150 to=1240": "climb 150 C/h to 1,240 C | climb 150C/h to 1240C |"
        "climb 2.5 C/min to 1240 C | climb 2½ C per minute to 1240.0 C | climb 270 F/h to 2264 F",
    "kind=climb pace=duration duration=5 h to=600":
        "ramp to 600 C in 5 h | ramp to 600 C over 5 hours | ramp in 5 h to 600 C | climb to 600 C in 300 min |"
        "climb over 5:00 to 600 C",
    "kind=climb pace=full-power to=1000": "climb full power to 1000 C | climb at full power to 1000 C |"
        "climb to 1000 C at full power | climb flat out to 1000 C | climb as fast as possible to 1000 C",
    "kind=hold duration=2 h": "hold 2 h | hold for 2 hours | hold 2h | hold: 2 hrs | soak 2 h | dwell 120 min |"
        "candle 2 h | hold 2:00 | hold for 2 Hours.",
    "kind=hold duration=2 h 30 min": "hold 2h30 | hold 2 h 30 min | hold 2 hours 30 minutes | hold 2.5 h |"
        "hold 2½ h | hold 2 1/2 hours | hold 150 min | hold 2:30 | hold 2 hours and 30 minutes | hold 2 hr, 30 min",
    "kind=hold duration=10 min": "hold 10 min | soak 10 mins | dwell 10m | hold 0:10 | hold 10 minutes",
    "kind=hold duration=30 min": "hold half an hour | hold ½ h | hold 1/2 hour | hold .5 h | hold 30 min",
    "kind=hold duration=10 min to=1252": "hold 10 min at 1252 C | hold at 1252 C for 10 min |"
        "hold 1252 C for 10 min | hold 1252 C 10 min | soak at 1,252 °C for 10 minutes",
    "kind=cool pace=rate rate=150 to=1000": "cool 150 C/h to 1000 C | cool at 150 C/h to 1000 C |"
        "cool down at 150 C/h to 1000 C | cool to 1000 C at 150 C/h | cool 150 C/h down to 1000 C",
    "kind=cool pace=freely to=90": "cool freely to 90 C | cool naturally to 90 C | cool to 90 C freely |"
        "cool free to 90 C | cool down naturally to 90 C | cool by itself to 90 C | cool freely until 90 C",
    "kind=cool pace=freely": "cool freely | cool naturally",
    "kind=cool pace=crash to=1000": "cool crash to 1000 C | crash cool to 1000 C | crash-cool to 1000 C |"
        "crash to 1000 C | cool to 1000 C crash",
    "kind=cool pace=duration duration=12 h to=90": "cool to 90 C in 12 h | cool in 12 h to 90 C",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(SEGMENTS))
def test_a_segment(line: str, meaning: str) -> None:
    """Climbs, holds and cooling in every order and unit; °F rates convert without the 32."""
    schedule = read("schedule", line).schedule
    assert schedule is not None
    (segment,) = schedule.segments
    assert_fields(segment, meaning)


SCHEDULES = {
    "opens=90": "open at 90 C | open below 90 C | open 90 C | open when below 90 C | unload at 90 C |"
    "open at or below 90 C | open at 194 F",
    "begins=20": "from 20 C | start at 20 C | starts at 20 C | start 68 F",
}


@pytest.mark.parametrize(("line", "meaning"), spelled(SCHEDULES))
def test_where_the_schedule_begins_and_ends(line: str, meaning: str) -> None:
    """The temperature of the start, and that of the opening."""
    assert_fields(read("schedule", line).schedule, meaning)


REDUCTIONS = {
    "start=900": "reduce from 900 C | reduction from 900 C | body reduction at 900 C | reduce at 900 C",
    "start=900 end=1200": "reduce from 900 C to 1200 C | reduce 900 C to 1200 C",
}


@pytest.mark.parametrize(("line", "meaning"), spelled(REDUCTIONS))
def test_reduction(line: str, meaning: str) -> None:
    """From where, and to where."""
    schedule = read("schedule", line).schedule
    assert schedule is not None
    assert_fields(schedule.reductions[0], meaning)


# -- safety -------------------------------------------------------------------------------------

VENTS = {
    "switched=on throughout=throughout": "vent on throughout | vent on, throughout | vent: on all the time |"
    "vent on the whole firing | vent on from start to end | extraction on throughout | vent on always",
    "throughout=throughout kind=downdraft": "vent downdraft throughout | vent down-draught, throughout",
    "switched=on until=600": "vent on until 600 C | vent on till 600 °C | vent on until 1112 F",
    "switched=on during=firing+cooling": "vent on during firing and cooling | vent on, firing, cooling |"
    "vent on during firing, during cooling",
    "switched=on starts=20 to_end=end": "vent on from 20 C to end" ,
    "switched=off": "vent off",
    "switched=no": "vent none",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(VENTS))
def test_the_vent(line: str, meaning: str) -> None:
    """On or off, when, and of what kind."""
    safety = read("safety", line).safety
    assert safety is not None
    assert_fields(safety.vent, meaning)


WATCHES = {
    "A 15:00 end": 'watch "A" from 15:00 to end | watch: "A" from 3 pm until end | watch "A" 15:00-end |'
    'watch by "A" from 15.00 to the end | watched by "A" 15:00 to end | watch from 15:00 to end by "A"',
    "A 15:00 18:00": 'watch "A" 15:00-18:00 | watch "A" 15:00 – 18:00 | watch “A” from 3pm to 6pm |'
    'watch "A" from 15:00 – 18:00',
    "A 22:00 02:00": 'watch "A" from 22:00 to 02:00',
    "A 15:00 18:00, B 18:00 end": 'watch "A" from 15:00 to 18:00, "B" from 18:00 to end |'
    'watch "A" 15:00-18:00 and "B" 18:00-end | watch 15:00 to 18:00 by "A", 18:00 to end by "B" |'
    'watch by "A" from 15:00 to 18:00, by "B" from 18:00 to end',
    "A 06:00 08:00, A 15:00 18:00": 'watch "A" from 06:00 to 08:00 and from 15:00 to 18:00',
    "A start end": 'watch "A" from start to end',
    "A guide end": 'watch "A" from guide to end',
    "A throughout": 'watch "A" throughout',
    "nobody": "watch nobody | watch none",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(WATCHES))
def test_the_watches(line: str, meaning: str) -> None:
    """Who watches, from when to when; a name holds until the next one."""
    safety = read("safety", line).safety
    assert safety is not None

    def short(watch: object) -> str:
        fields = ["who", "nobody", "throughout", "from_time", "from_word", "to_time", "to_end"]
        found = [getattr(watch, name) for name in fields]
        return " ".join(
            f"{one.value:%H:%M}" if isinstance(one.value, time) else str(one.value)
            for one in found
            if one
        )

    assert ", ".join(map(short, safety.watches)) == meaning


CUT_OFFS = {
    "backup=backup timer=15 h": "cut-off backup timer 15 h | cut off: backup timer at 15 h |"
    "shut-off back-up timer 15 hours",
    "timer=15 h": "cut off timer 15 h | cutoff timer 15:00" ,
    "timer=15 h temperature=1270": "cut-off timer 15 h and limit 1270 C | cut-off timer 15 h, 1270 C",
    "temperature=1270": "cut-off at 1270 C | cut-off limit 1270 °C | cutoff 1270 C | cut-off 2318 F",
    "cone=cone 10": "cut-off small cone 10 | cut-off cone 10",
    "controller=controller": "cut-off controller",
    "words=by hand": 'cut-off "by hand"',
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(CUT_OFFS))
def test_the_cut_off(line: str, meaning: str) -> None:
    """Timer, limit, cone or controller, and more than one of them."""
    safety = read("safety", line).safety
    assert safety is not None
    assert_fields(safety.cut_off, meaning)


def test_the_cut_off_cone_is_small() -> None:
    """A small cone in a shut-off device is another cone than the large one of that number."""
    safety = read("safety", "cut-off small cone 10").safety
    assert safety is not None
    assert safety.cut_off is not None
    assert safety.cut_off.cone is not None
    assert safety.cut_off.cone.value.series.form is ConeForm.SMALL


SAFETIES = {
    "clearance=500": "clearance 50 cm | clearance: 500 mm | clearance 50 cm all round |"
    "clearance 0.5 m on all sides",
    "clearance=457.2": 'clearance 18 in | clearance 18" | clearance 1.5 ft | clearance 18 inches',
    "hands=gloves": "hands heat gloves | gloves | hands: heat-resistant gloves | kiln gloves",
    "local_code=checked": 'local code "checked" | local code: "checked" | local codes “checked”',
    "co_alarm=fitted": "CO alarm fitted | CO alarm | CO detector fitted | carbon monoxide alarm fitted",
    "co_alarm=no": "no CO alarm | CO alarm none",
    "extinguisher=CO2": 'extinguisher "CO2" | fire extinguisher "CO2" | extinguisher: "CO2"',
    "extinguisher=fitted": "extinguisher fitted | fire extinguisher: yes",
    "bystanders=kept-out": "bystanders kept out | children and animals kept away | children kept out",
    "emergency=the duty phone": 'call "the duty phone" | emergency "the duty phone"',
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(SAFETIES))
def test_the_rest_of_safety(line: str, meaning: str) -> None:
    """Clearance, gloves, alarms and the local code."""
    assert_fields(read("safety", line).safety, meaning)


@pytest.mark.parametrize(
    ("line", "least", "most"),
    [
        ("eyes shade 4", 4, 4),
        ("eyes: shade 3-5 glasses", 3, 5),
        ("eyes shade 3 to 5", 3, 5),
        ("eye protection shade 3–5", 3, 5),
    ],
)
def test_the_shade(line: str, least: float, most: float) -> None:
    """One shade or a range of them."""
    safety = read("safety", line).safety
    assert safety is not None
    assert safety.eyes is not None
    assert safety.eyes.least is not None
    assert safety.eyes.most is not None
    assert (safety.eyes.least.value, safety.eyes.most.value) == (least, most)


@pytest.mark.parametrize(
    ("line", "when"),
    [
        ("electrics inspected 2026-03 by a licensed electrician", CalendarMonth(2026, 3)),
        ("electrics inspected in March 2026 by an electrician", CalendarMonth(2026, 3)),
        ("wiring checked Mar. 2026 by electrician", CalendarMonth(2026, 3)),
        ("electrics: inspected on 12 March 2026 by licensed electrician", date(2026, 3, 12)),
        ("electrics tested 2026-03-12 by the licensed electrician", date(2026, 3, 12)),
    ],
)
def test_the_inspection(line: str, when: object) -> None:
    """The day or the month, and by whom."""
    safety = read("safety", line).safety
    assert safety is not None
    assert safety.electrics is not None
    assert safety.electrics.when is not None
    assert safety.electrics.when.value == when
    assert safety.electrics.by_electrician is not None


# -- reading ------------------------------------------------------------------------------------

POSITIONS = {
    "6.00": "guide down | guide: down | guide flat | guide fully down | guide touching | guide 6 o'clock",
    "0.00": "guide standing | guide upright | guide unmoved | guide not moved | guide 12 o'clock |"
    "guide still standing",
    "5.00": "guide 5 o'clock | guide 5 o’clock | guide 5 oclock | guide at 5 o'clock | guide 75°",
    "5.50": "guide 5:30 o'clock | guide 5½ o'clock | guide 5.5 o'clock",
    "3.00": "guide 3 o'clock | guide 45 degrees | guide 45°",
    "None": "guide moved | guide just moving | guide bent",
    "7.00": "guide melted",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(POSITIONS))
def test_a_position(line: str, meaning: str) -> None:
    """How a cone stands, on the clock face: 12 upright, 3 level, 6 down, past it melted."""
    guide = read("reading", line).readings[0].guide
    assert guide is not None
    hour = clock_hour(guide)
    assert (f"{hour:.2f}" if hour is not None else "None") == meaning
