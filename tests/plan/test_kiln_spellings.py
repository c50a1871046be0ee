"""What potters write of plan, target and kiln: every spelling beside the value it means."""
# ruff: noqa: E501 - the tables of spellings read best with a meaning and its spellings side by side

from datetime import date, time

import pytest
from spellings import assert_fields, read, spelled

from guardcone.values import ConeForm, ConeSeries, Numbering

# -- plan and target ---------------------------------------------------------------------------

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


# -- kiln --------------------------------------------------------------------------------------

KILNS = {
    "fuel=electric": "electric | ELECTRICAL",
    "fuel=natural-gas": "natural gas | mains gas",
    "fuel=propane": "propane | LPG | bottled gas",
    "fuel=electric loading=front-door volume=230 power=11":
        "electric, front door, 230 L, 11 kW | 230 litres, 11 kW, electric, front loading |"
        "electric; front-loader; 230 l; 11000 W | electric & front-loading & 230 liters & 11 kilowatts",
    "loading=top-lid": "top lid | top-loading | top loader | lid",
    "volume=226.53": "8 cu ft | 8 cubic feet | 8 cu. ft. | 8 ft3 | 8 ft³ | 8cf",
    "power=11.52": "240 V, 48 A | 240 volts, 48 amps | 48A 240V | 240 V 48 A single phase",
    "volume=80 power=18": "80 L, 3 phase, 18 kW | three-phase, 80 litres, 18 kW",
    "power=29.31": "100,000 BTU/h | 100000 BTU per hour | 100,000 BTUs/hr",
    "rated_cone=cone 10": "rated to cone 10 | rated cone 10 | rated: cone 10 | maximum ^10 | max 10",
    "rated_temperature=1300": "rated to 1300 C | max temp 1300 °C | maximum temperature 1,300 C |"
    "rated 2372 F",
    "shelves=4": "shelves 4 | shelves: 4 | 4 shelves | 4 batts | 4 kiln shelves",
    "cools_from=1000 cools_to=100 cools_in=15 h":
        "cools from 1000 C to 100 C in 15 h | cools 1000 C to 100 C in 15 hours |"
        "cools down from 1832 F to 212 F over 15 hrs | cools 1000°C – 100°C in 15 h",
    "thermocouple=K": "thermocouple type K | thermocouple K | type K thermocouple | thermocouple: k",
    "thermocouple=S thermocouple_limits=special-limits": "thermocouple type S, special",
    "thermocouple=S thermocouple_limits=class-1":
        "thermocouple type S, class 1 | thermocouple S class 1",
    "altitude=1524000": "altitude 5000 ft | altitude 5,000 feet | elevation 5000'",
    "altitude=1500000": "altitude 1500 m | altitude 1,500 metres",
    "spread_cones=0.5": "spread half a cone | spread 1/2 cone | spread ½ cone | spread 0.5 cones",
    "spread_cones=1": "spread 1 cone | spread: 1 cone",
    "spread_temperature=10": "spread 10 C | spread 18 F",
    "spy_hole=40": "spy hole 40 mm | spyhole 4 cm | peephole 40mm | spy-hole: 40 mm | peep 40 mm",
    "room=20": "room 20 C | room temperature 20 °C | room 68 F",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(KILNS))
def test_the_kiln(line: str, meaning: str) -> None:
    """Size, power, limits and cooling in metric and US units."""
    assert_fields(read("kiln", line).kiln, meaning)


def test_volts_and_amperes_of_three_phases_tell_no_power() -> None:
    """It depends on how the elements are joined, so the power is asked."""
    kiln = read("kiln", "electric, 400 V, 32 A, 3 phase").kiln

    assert kiln is not None
    assert kiln.power is None
