"""Words that name no protection are told from those that do."""

import pytest

from guardcone.facts.claims import (
    is_no_glove,
    is_no_lens,
    is_no_vent,
    is_not_working,
    is_water,
    vent_kind,
)

NOT_WORKING = "none|-|nothing|off|broken|out of order|not working|to be fitted|fan off|door shut"
WORKING = "hood over the chimney|leads the fumes off to the yard|extractor fan|fumes are removed"
NO_LENS = (
    "none|not needed|just a quick look|-|sunglasses|dark sunglasses|clear safety glasses|"
    "reading glasses|squinting"
)
LENS = "infrared goggles|shade 5 welding glass|shade 3, never sunglasses|IR lens, clear"
NO_GLOVE = (
    "none|not needed|no gloves|rubber gloves|oven mitts|a wet towel|bare hands|wet leather gloves"
)
GLOVE = "heat gloves|leather welding gloves|kevlar mitts|leather gloves, never rubber ones|EN 407"
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
