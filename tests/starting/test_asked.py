"""What people type behind `guardcone start`, read or answered with the line to type."""

import pytest

from guardcone.rulebook.library import built_in_book
from guardcone.starting.asked import NotUnderstood, asked, begin_line

BOOK = built_in_book()

READ = {
    "": "guardcone start",
    "monday.firing": "guardcone start monday.firing",
    "glaze cone 6 monday.firing": "guardcone start glaze cone 6 monday.firing",
    "monday.firing cone 6 glaze": "guardcone start glaze cone 6 monday.firing",
    "glaze 6": "guardcone start glaze cone 6",
    "Glaze Firing to Cone 6": "guardcone start glaze cone 6",
    "glost cone06": "guardcone start glost cone 06",
    "glaze cone 5 1/2": "guardcone start glaze cone 5½",
    "glaze ^10": "guardcone start glaze cone 10",
    "glaze cone six": "guardcone start glaze cone 6",
    "bisque cone oh six": "guardcone start bisque cone 06",
    "biscuit o4": "guardcone start biscuit cone 04",
    "raw glaze 04": "guardcone start raw glaze cone 04",
    "single fired 04": "guardcone start single-fired cone 04",
    "lustre 018": "guardcone start lustre cone 018",
    "decals cone 017": "guardcone start decals cone 017",
    "raku 980 C": "guardcone start raku 980 C",
    "raku to 1800°F": "guardcone start raku 1800 F",
    "candling": "guardcone start candling",
}


@pytest.mark.parametrize("words", READ)
def test_what_is_read(words: str) -> None:
    """In any order, with the little words people say, and as people say a cone."""
    assert begin_line(asked(words.split(), BOOK)) == READ[words]


ANSWERED = {
    "glase cone 6": "'glase' is no kind of firing: guardcone start glaze cone 6",
    "bisqe 06 a.firing": "'bisqe' is no kind of firing: guardcone start bisque cone 06 a.firing",
    "glaze": (
        "a glaze firing ends between cone 06 and cone 13; say where: guardcone start glaze cone 6"
    ),
    "bisque 6": (
        "a bisque firing ends between cone 010 and cone 04, which cone 6 does not: "
        "guardcone start bisque cone 06"
    ),
    "lustre cone 18": (
        "a lustre firing ends between cone 021 and cone 014, which cone 18 does not: "
        "guardcone start lustre cone 018"
    ),
    "glaze cone 14 a.firing": (
        "a glaze firing ends between cone 06 and cone 13, which cone 14 does not: "
        "guardcone start glaze cone 6 a.firing"
    ),
    "glaze 1222 C": (
        "a glaze firing ends between cone 06 and cone 13, which 1222 °C does not: "
        "guardcone start glaze cone 6"
    ),
    "raku cone 06": (
        "a raku firing ends between 850 °C and 1080 °C, which cone 06 does not: "
        "guardcone start raku 980 C"
    ),
    "candling cone 6": "candling goes to no cone: guardcone start candling",
    "cone 6": (
        "say what kind of firing goes to cone 6, such as glaze, once or test: "
        "guardcone start glaze cone 6"
    ),
    "cone 35": "say what kind of firing goes to cone 35: guardcone start glaze cone 6",
    "glaze 99": (
        "'99' is no cone, and a temperature needs its unit, C or F: guardcone start glaze cone 6"
    ),
    "bisque 995": (
        "'995' is no cone, and a temperature needs its unit, C or F: guardcone start bisque cone 06"
    ),
    "glaze bisque 06": "two kinds of firing are named, glaze and bisque: choose one",
    "glaze 6 7": "two goals are named, cone 6 and cone 7: choose one",
    "a.firing b.firing": "two files are named, a.firing and b.firing: begin one at a time",
    "my plan.firing": (
        "'my' says nothing here, and a name with blanks stands in quotes: "
        "guardcone start 'my plan.firing'"
    ),
    "monday": (
        "'monday' is no kind of firing, which are bisque, glaze, once, overglaze, raku, candling "
        "or test, no cone, and no file that ends in .firing: "
        "guardcone start glaze cone 6 monday.firing"
    ),
}


@pytest.mark.parametrize("words", ANSWERED)
def test_what_is_answered(words: str) -> None:
    """What can't be begun is one line, and its end can be typed as it is."""
    with pytest.raises(NotUnderstood) as told:
        asked(words.split(), BOOK)

    assert str(told.value) == ANSWERED[words]


def test_the_line_that_is_offered_can_be_typed() -> None:
    """Each answer with a line to type is read, once that is typed."""
    lines = [told.split("guardcone start ")[1] for told in ANSWERED.values() if "start" in told]

    assert len(lines) > 10
    for line in lines:
        words = [line.strip("'")] if line.startswith("'") else line.split()
        assert asked(words, BOOK)
