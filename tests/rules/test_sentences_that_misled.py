"""Sentences that led a kiln technician astray: each plan with what it is told now."""

import pytest
from syrupy.assertion import SnapshotAssertion
from the_book import SOUND, check_text

# The sound plan, what it says instead, and the plan of each sentence by what was wrong with it.
MISLED = {
    "a cone that is not made was offered as a repair": (
        "stoneware",
        ("target cone 9, oxidation", "target cone 18, oxidation"),
    ),
    "and so in a set": ("mid_range", ("  target 6", "  target 18")),
    "the repair of a thick wall was found again": (
        "bisque",
        ("bone-dry, wall 8 mm", "bone-dry, wall 14 mm"),
        ("climb 80 C/h", "climb 112 C/h"),
    ),
    "of a damp one too": ("damp", ("wall 6 mm", "wall 30 mm"), ("climb 80 C/h", "climb 60 C/h")),
    "two days of the watch stood there without their dates": (
        "stoneware",
        ("from 16:00 to end", "from 2026-10-04 10:00 to end"),
    ),
    "a hold of hours was mended at the peak": ("stoneware", ("hold  10 min", "hold 15 h")),
    "a hold nobody would set was offered": ("stoneware", ("1246 C", "1195 C")),
    "a rate out of reason was answered as if it were one": (
        "stoneware",
        ("climb 60 C/h to 1246 C", "climb 60 C/min to 1246 C"),
    ),
    "two scales stood in one sentence": (
        "mid_range",
        ("bisque, wall 1/4 in", "bisque, wall 6 in"),
    ),
    "years were counted in days": ("stoneware", ("2026-03 by", "2009-05 by")),
    "of a gas line too": ("porcelain", ("2026-05 by", "2009-05 by")),
    "a longer hold asked for a longer timer": (
        "stoneware",
        ("hold  10 min", "hold 100 min"),
        ('backup "over-temperature device with its own sensor"', "timer 13 h 30 min"),
    ),
    "a climb in minutes brought doubts of the watch": (
        "stoneware",
        ("climb 150 C/h to 1140 C", "climb in 4 min to 1140 C"),
    ),
    "the slip of a peak asked for another shade": ("low_fire", ("to 1060 C", "to 1300 C")),
    "a timer was to shut gas": (
        "porcelain",
        ('  cut-off      "gas shut off by hand at the bottle"\n', ""),
    ),
    "a window was two findings": (
        "stoneware",
        ("vent         downdraft, on throughout", "vent window"),
    ),
    "a hose gave no water": (
        "raku",
        ('"water and CO2 beside the kiln"', '"powder, garden hose and two buckets of sand"'),
    ),
    "opening forgot how far the kiln cools": ("stoneware", ("open  at 90 C", "open at 150 C")),
    "a clay was overfired by no number": (
        "stoneware",
        ("10, stoneware", "9, stoneware"),
        ("hold  10 min", "hold 2 h"),
        ("  guard  10\n", ""),
    ),
    "nested ware fused unseen": ("stoneware", ("bisque, wall 6 mm", "bisque, nested, wall 6 mm")),
}


@pytest.mark.parametrize("misled", MISLED)
def test_a_sentence_misleads_no_more(misled: str, snapshot: SnapshotAssertion) -> None:
    """What is told now names the odd number, and whoever does it is not told again."""
    base, *changes = MISLED[misled]
    text = SOUND[base]
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    lines, told = text.splitlines(), []
    for one in check_text(text).findings:
        told += [
            f"{one.consequence.value}, {one.rule}: {lines[one.span.line - 1].strip()}",
            one.text,
        ]
        told += [
            f"Do {one.repair}",
            *([f"Write {one.line_repair.text}"] if one.line_repair else []),
        ]

    assert "\n".join(told) == snapshot
