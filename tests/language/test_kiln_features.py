"""What a sentence says of a kiln becomes a line of a plan, and nothing is made up."""

import pytest

from guardcone.language import SourceText, split_lines
from guardcone.language.grammar import plan_grammar
from guardcone.language.kiln_features import features_of
from guardcone.plan import read_plan
from guardcone.plan.plan import Plan


def read(text: str) -> Plan:
    """The plan in a text."""
    return read_plan(SourceText("typed", split_lines(f"{text}\n")))


@pytest.mark.parametrize(
    ("line", "written"),
    [
        ("wood fired, two chambers, about 4 cubic metres, outdoors under a tin roof",
         "wood, 4 cubic metres, outdoors  # wood fired, two chambers, outdoors under a tin roof"),
        ("propane, fibre lined, portable", "propane  # fibre lined, portable"),
        ("downdraft, natural gas, 2 burners", "downdraft, natural gas  # 2 burners"),
        ("electric, front door, 230 L, lid switch bridged",
         "electric, front door, 230 L  # lid switch bridged"),
        ("brick, top-loading, 240 V, 48 A", "top-loading, 240 V, 48 A  # brick"),
        ("13 amp plug", "13 amp  # 13 amp plug"),
        # A fan may be vented outdoors, and a lid has a switch.
        ("electric, vented outdoors", "electric  # vented outdoors"),
        ("electric, lid cracked", "electric  # lid cracked"),
        ("18 cu ft downdraft gas kiln with two burners",
         "18 cu ft, downdraft, gas kiln  # 18 cu ft downdraft gas kiln with two burners"),
        ("electric, 230 L or 8 cu ft", "electric  # electric, 230 L or 8 cu ft"),
    ],
)  # fmt: skip
def test_what_is_plain_is_a_feature(line: str, written: str) -> None:
    """The features stand in the line, and each piece that says more stands behind it."""
    told = features_of(plan_grammar(), line)

    assert told
    assert told.written == written
    assert plan_grammar().is_right(told.line, "kiln")


@pytest.mark.parametrize(
    "line",
    [
        "propane or wood fired",
        "wood fired, gas to dry it",
        "electric, no gas",
        "electric ignition, propane",
        "not electric",
        "used to be electric",
        "vent fan 240 V",
        "gas bottles stand outside",
        "elctric, 230 L",
        "230, 11 kW",
    ],
)
def test_what_is_not_plain_is_none(line: str) -> None:
    """Two fuels, words that deny, things beside the kiln and slips of the hand tell no feature."""
    assert features_of(plan_grammar(), line) is None


@pytest.mark.parametrize(
    ("line", "mended"),
    [
        ("kiln: anagama, wood fired, outdoors under a tin roof",
         'kiln "anagama"\n  wood, outdoors  # wood fired, outdoors under a tin roof'),
        ("kiln Heron, wood fired, outdoors", 'kiln "Heron"\n  wood, outdoors  # wood fired'),
        ("Kiln: 40 cu ft arch updraft, natural gas, indoors, hood with fan",
         'kiln "fill in the name of the kiln"\n  40 cu ft, updraft, natural gas, indoors'
         "  # 40 cu ft arch updraft, hood with fan"),
        ("Kiln 2 (the tall one, 60 A, 240 V)", 'Kiln "Kiln 2"\n  60 A, 240 V  # the tall one'),
        ("kiln - 170 L front loader, single phase, type R",
         'kiln "fill in the name of the kiln"\n  170 L, front loader, single phase\n  type R'),
        ('kiln "Heron", electric, no gas',
         'kiln "Heron"\n  "fill in what heats it, how it is loaded, its inside and its power"'
         "  # electric, no gas"),
    ],
)  # fmt: skip
def test_a_heading_keeps_what_is_said_behind_it(line: str, mended: str) -> None:
    """The name, or what stands for one, is the heading; all else stands below."""
    (fault,) = read(f'plan "Mugs"\n{line}').faults

    assert fault.mended == mended


def test_the_fuel_in_a_sentence_counts() -> None:
    """A kiln that is told to be wood fired has no gas line, nor has an electric one."""
    wood = read('plan "Mugs"\nkiln: anagama, wood fired, outdoors').kiln
    electric = read('kiln "Heron"\n  electric, front door, lid switch bridged').kiln
    either = read('kiln "Heron"\n  propane or wood fired').kiln

    assert wood
    assert wood.fuel
    assert wood.fuel.value == "wood"
    assert electric
    assert electric.fuel
    assert electric.fuel.value == "electric"
    assert either
    assert either.fuel is None
