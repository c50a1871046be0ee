"""Words that name no protection are told from those that do."""

import pytest

from guardcone.language.claims import (
    is_controller,
    is_no_air,
    is_no_cut_off,
    is_no_extinguisher,
    is_no_glove,
    is_no_lens,
    is_no_vent,
    is_not_working,
    is_refused,
    is_unproven_lens,
    is_water,
    lets_in,
    vent_kind,
)

NOT_WORKING = (
    "none|-|nothing|off|broken|out of order|not working|to be fitted|fan off|door shut|"
    "motor burnt out|hose torn|hose has a hole|battery flat|bypassed|in the drawer"
)
WORKING = (
    "hood over the chimney|leads the fumes off to the yard|extractor fan|fumes are removed|"
    "draws through holes in the lid|never blocked|on the wall|tested"
)
AIR = (
    "openings that cannot be shut|two louvres, 400 cm2 each, that can't be shut|never closed|"
    "open field|open on three sides under the roof|openings that can't be closed"
)
NO_AIR = (
    "closed in winter|shut|blocked|windows shut|no opening|louvres blocked with cardboard|none|"
    "louvres that can't be shut, blocked with cardboard|open by day, shut at night"
)
UNPROVEN = "didymium|blue cobalt glass|safety goggles"
NO_CUT_OFF = "hope|the fuse|I switch it off|switched off by hand"
CUT_OFF = "over-temperature device with its own sensor|kiln sitter|controller with its own timer"
NO_EXTINGUISHER = "none|to be bought|CO2, to be refilled|empty|CO2, expired 2019|baking soda"
EXTINGUISHER = "CO2, outside the kiln room|powder, never empty|by the door"
LET_IN = (
    "school class round the kiln|pupils load and unload on their own|visitors allowed|welcome|"
    "the class sits round it|not kept away|nobody cares|no rope"
)
KEPT_OFF = (
    "rope round the kiln|nobody round the kiln|children never on their own|adults only|"
    "welcome behind the rope|not allowed in|kept out, class works next door"
)
REFUSED = "fire office refused a permit|permit denied|not allowed by the landlord|they say no"
NOT_REFUSED = "permit granted|allowed in the yard|never refused|no permit needed|not approved yet"
NO_LENS = (
    "none|not needed|just a quick look|-|sunglasses|dark sunglasses|clear safety glasses|"
    "reading glasses|squinting|welding sunglasses|my sunglasses shade 3"
)
LENS = "infrared goggles|shade 5 welding glass|shade 3, never sunglasses|IR lens, clear"
NO_GLOVE = (
    "none|not needed|no gloves|rubber gloves|oven mitts|a wet towel|bare hands|wet leather gloves|"
    "nylon gloves|polyester gloves|nylon-lined leather gloves"
)
GLOVE = (
    "heat gloves|leather welding gloves|kevlar mitts|leather gloves, never rubber ones|EN 407|"
    "leather gloves, nothing synthetic"
)
WATER = "water|H2O|a bucket by the door|garden hose|foam|water and CO2|CO2, and a bucket of water"
NO_WATER = "CO2|CO2; never water|powder, no water|CO2 and a bucket of sand|CO2 instead of water"


def _each(words: str) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("words", words.split("|"))


@_each(NOT_WORKING)
def test_a_vent_that_does_not_work(words: str) -> None:
    """There is none, it is off or broken, or still to come."""
    assert is_not_working(words)


@_each(WORKING)
def test_a_vent_that_works(words: str) -> None:
    """`off` and `removed` are said of fumes as well."""
    assert not is_not_working(words)


@_each(NO_LENS)
def test_what_stops_no_infrared(words: str) -> None:
    """Nothing, and what is made for daylight or for reading."""
    assert is_no_lens(words)


@_each(LENS)
def test_what_may_stop_infrared(words: str) -> None:
    """A shade, or a lens that is made for it."""
    assert not is_no_lens(words)


@_each(NO_GLOVE)
def test_what_keeps_no_heat_off(words: str) -> None:
    """Nothing, and what melts, chars or is wet."""
    assert is_no_glove(words)


@_each(GLOVE)
def test_what_may_keep_heat_off(words: str) -> None:
    """Gloves made for it, also where others are named to be left away."""
    assert not is_no_glove(words)


@_each(WATER)
def test_what_is_water(words: str) -> None:
    """Alone or beside another."""
    assert is_water(words)


@_each(NO_WATER)
def test_what_is_no_water(words: str) -> None:
    """Sand, powder, and water that is to be kept away."""
    assert not is_water(words)


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("extractor hood", "hood"),
        ("up the chimney", "flue"),
        ("door open", "window"),
        ("the garage door, ajar", "window"),
        ("fan in the wall", None),
    ],
)
def test_a_vent_in_words_is_of_a_kind(words: str, kind: str | None) -> None:
    """As if the plan had said it by the word of the language."""
    assert vent_kind(words) == kind


@pytest.mark.parametrize(
    ("words", "is_none"),
    [("no need", True), ("as usual", True), ("extractor fan", False), ("pipe to the roof", False)],
)
def test_words_in_which_nothing_carries_fumes_out(words: str, is_none: bool) -> None:
    """Whatever stands in the line of the vent must be one."""
    assert is_no_vent(words) is is_none


@_each(AIR)
def test_air_that_comes_in(words: str) -> None:
    """Open, also where shutting is named to say that it can't be."""
    assert not is_no_air(words)


@_each(NO_AIR)
def test_air_that_does_not(words: str) -> None:
    """Shut or blocked, also at times only."""
    assert is_no_air(words)


@_each(UNPROVEN)
def test_a_lens_of_which_nobody_can_tell(words: str) -> None:
    """It is no danger by its word, and no infrared shade either."""
    assert is_unproven_lens(words)
    assert not is_no_lens(words)


@_each(NO_CUT_OFF)
def test_what_stops_no_kiln(words: str) -> None:
    """Luck, a fuse, and at an electric kiln the hand that the cut-off is to stand in for."""
    assert is_no_cut_off(words, by_hand=False)


@_each(CUT_OFF)
def test_what_may_stop_a_kiln(words: str) -> None:
    """A device of its own, also one that the controller has."""
    assert not is_no_cut_off(words, by_hand=False)
    assert not is_controller(words)


def test_what_only_the_controller_or_a_hand_does() -> None:
    """By any name; at a kiln that burns fuel a hand shuts it off."""
    assert is_controller("the programmer stops it")
    assert not is_no_cut_off("gas shut off by hand at the bottle", by_hand=True)


@_each(NO_EXTINGUISHER)
def test_what_puts_out_no_fire(words: str) -> None:
    """Empty, past its date, or none."""
    assert is_no_extinguisher(words)


@_each(EXTINGUISHER)
def test_what_may_put_out_a_fire(words: str) -> None:
    """What is there, and what is said not to be."""
    assert not is_no_extinguisher(words)


@_each(LET_IN)
def test_bystanders_that_are_near(words: str) -> None:
    """Let in, or kept off by nobody."""
    assert lets_in(words)


@_each(KEPT_OFF)
def test_bystanders_that_are_kept_off(words: str) -> None:
    """Also where the words for being near stand beside."""
    assert not lets_in(words)


@_each(REFUSED)
def test_local_rules_that_refuse(words: str) -> None:
    """Whoever answers for them has said no."""
    assert is_refused(words)


@_each(NOT_REFUSED)
def test_local_rules_that_do_not(words: str) -> None:
    """What is allowed, or was never refused."""
    assert not is_refused(words)
