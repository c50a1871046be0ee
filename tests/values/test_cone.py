"""Cone numbers are an order of their own, and a cone is a number in its series."""

import copy
import csv
import operator
import pickle
from itertools import combinations, pairwise
from typing import Any

import pytest
from attrs.exceptions import FrozenInstanceError
from hypothesis import given
from hypothesis import strategies as st

from guardcone.documents import document_path
from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries, Numbering, UnknownCone

ROWS = list(csv.DictReader(document_path("rules", "tables", "cones.csv").open(encoding="utf-8")))
PUBLISHED = sorted({row["cone"] for row in ROWS})
NUMBERS = st.sampled_from([ConeNumber.read(text) for text in PUBLISHED])

# The current chart, self-supporting at 60 °C/h, in the order printed.
CHART = [
    *("022", "021", "020", "019", "018", "017", "016", "015", "014", "013", "012", "011", "010"),
    *("09", "08", "07", "06", "05½", "05", "04", "03", "02", "01"),
    *("1", "2", "3", "4", "5", "5½", "6", "7", "8", "9", "10", "11", "12", "13", "14"),
]


def cone(number: str, *series: Any) -> Cone:
    """The cone of this number, large and of the current chart unless said otherwise."""
    return Cone(ConeNumber.read(number), ConeSeries(*series))


def test_order_of_the_chart() -> None:
    """Cones run from 022 up to 01, on to 1 and up, with 05½ and 5½ in their places."""
    numbers = [ConeNumber.read(text) for text in CHART]

    assert sorted(set(numbers)) == numbers
    for cooler, hotter in combinations(numbers, 2):
        assert cooler < hotter
        assert cooler <= hotter
        assert hotter > cooler
        assert hotter >= cooler
        assert cooler != hotter


def test_every_published_number_reads() -> None:
    """Every cone number of every series in the table reads, and is written as it was read."""
    assert [str(ConeNumber.read(text)) for text in PUBLISHED] == PUBLISHED


def test_no_number_but_the_published() -> None:
    """Every number that can be read is in the table: no cone is made up."""
    zeros, halves, letters = ("", "0"), ("", "½"), ("", "a", "A", "b", "B")
    spelled = [
        f"{zero}{whole}{half}{letter}"
        for zero in zeros
        for whole in range(1, 100)
        for half in halves
        for letter in letters
    ]
    published = {ConeNumber.read(text) for text in PUBLISHED}
    accepted = set()
    for text in spelled:
        try:
            accepted.add(ConeNumber.read(text))
        except UnknownCone:
            continue

    assert accepted == published


# Figures of the tables that do not rise with the number, each from memory and so marked there.
OUT_OF_ORDER = {
    # 869 °C before 866 °C.
    ("orton_old_beerman1956", "60", "013", "012"),
    # Both 895 °C.
    ("fairchild_peters_1926", "150", "011", "010"),
}


def series_and_rates() -> list[tuple[str, str]]:
    """Every column of the table: a series at a rate."""
    return sorted({(row["series"], row["rate_c_per_h"]) for row in ROWS})


@pytest.mark.parametrize(("series", "rate"), series_and_rates())
def test_order_of_numbers_is_order_of_temperatures(series: str, rate: str) -> None:
    """In every published series a hotter number ends hotter, but for two pairs from memory."""
    column = sorted(
        (ConeNumber.read(row["cone"]), float(row["celsius"]), row["cone"])
        for row in ROWS
        if (row["series"], row["rate_c_per_h"]) == (series, rate)
    )
    reversed_pairs = {
        (series, rate, cooler[2], hotter[2])
        for cooler, hotter in pairwise(column)
        if cooler[1] >= hotter[1]
    }

    assert reversed_pairs == {pair for pair in OUT_OF_ORDER if pair[:2] == (series, rate)}


@pytest.mark.parametrize("number", [6, 6.0, -6, "06", None, True])
def test_never_a_number(number: Any) -> None:
    """A cone number is never equal to a number or a text, and never above or below one."""
    six: Any = ConeNumber.read("6")

    assert six != number
    for compare in (operator.lt, operator.le, operator.gt, operator.ge):
        with pytest.raises(TypeError):
            compare(six, number)
        with pytest.raises(TypeError):
            compare(number, six)


@pytest.mark.parametrize("convert", [int, float, round, abs])
def test_no_arithmetic(convert: Any) -> None:
    """There is no way from a cone number to a number by accident, and no sum of two."""
    six: Any = ConeNumber.read("6")

    with pytest.raises(TypeError):
        convert(six)
    with pytest.raises(TypeError):
        six + 1
    with pytest.raises(TypeError):
        six - six


SAME = [
    ("06", ["06", " 06 ", "06.0"]),
    ("6", ["6", "6.0"]),
    ("05½", ["05½", "05 ½", "05.5", "05.50", "05 1/2", "05-1/2", "05 1⁄2"]),
    ("5½", ["5½", "5.5", "5 1/2", "5-1/2"]),
    ("6a", ["6a", "6A"]),
]


@pytest.mark.parametrize(("number", "spellings"), SAME)
def test_spellings_of_a_number(number: str, spellings: list[str]) -> None:
    """A half, and a letter, may be written in more than one way."""
    for text in spellings:
        assert ConeNumber.read(text) == ConeNumber.read(number)
        assert hash(ConeNumber.read(text)) == hash(ConeNumber.read(number))


REFUSED = [
    *("", " ", "0", "00", "000", "0½", "½", "006", "005½", "0022", "023", "43", "99", "100"),
    *("6½", "06½", "3½", "4.5", "5.25", "5½½", "5½.0", "51/2", "5 1/4", "-6", "+6", "6.", "6.05"),
    *("6c", "016a", "11a", "7b", "5½a", "a", "6 a", "cone 6", "²", "٦", "６", "1e1", "inf", "nan"),
    *("9" * 10_000, "0" * 10_000, "6\n7"),
]


@pytest.mark.parametrize("text", REFUSED, ids=[repr(text)[:20] for text in REFUSED])
def test_no_such_cone(text: str) -> None:
    """Anything else is UnknownCone, with a short sentence that shows what was written."""
    with pytest.raises(UnknownCone) as caught:
        ConeNumber.read(text)

    assert len(str(caught.value)) < 120


@given(text=st.text() | st.text("0123456789½./- 1aAbB⁄²٦６", max_size=6))
def test_any_text_at_all(text: str) -> None:
    """Any text whatever is a published cone number or UnknownCone, and never another error."""
    try:
        number = ConeNumber.read(text)
    except UnknownCone:
        return
    assert ConeNumber.read(str(number)) == number


STEPS = [
    ("06", "05", 1),
    ("05", "06", -1),
    ("06", "05½", 0.5),
    ("05½", "05", 0.5),
    ("01", "1", 1),
    ("02", "2", 3),
    ("5", "5½", 0.5),
    ("5½", "6", 0.5),
    ("06", "6", 11),
    ("022", "14", 35),
    ("6", "6", 0),
    ("5a", "6a", 1),
    ("6a", "7", 1),
    ("06", "06a", 0),
]


@pytest.mark.parametrize(("start", "end", "steps"), STEPS)
def test_steps(start: str, end: str, steps: float) -> None:
    """Steps are whole cones along the chart, halves count half, and there is no cone 0."""
    one, other = ConeNumber.read(start), ConeNumber.read(end)

    assert one.steps_to(other) == steps
    assert other.steps_to(one) == -steps


# number, the next hotter, the next cooler, the slip with the zero
NEIGHBOURS = [
    ("06", "05", "07", "6"),
    ("05½", "05", "06", "5½"),
    ("5½", "6", "5", "05½"),
    ("01", "1", "02", "1"),
    ("1", "2", "01", "01"),
    ("6", "7", "5", "06"),
    ("022", "021", None, "22"),
    ("42", None, "41", None),
    ("23", "24", "22", None),
    ("03½", "03", "04", None),
    ("32½", "33", "32", None),
    ("6a", "7", "5", "06a"),
    ("012a", "011", "013", None),
]


@pytest.mark.parametrize(("number", "hotter", "cooler", "twin"), NEIGHBOURS)
def test_neighbours(number: str, hotter: str, cooler: str, twin: str) -> None:
    """The next whole cone up and down the scale, and the cone that a slip of the zero gives."""
    here = ConeNumber.read(number)

    assert here.hotter() == (ConeNumber.read(hotter) if hotter else None)
    assert here.cooler() == (ConeNumber.read(cooler) if cooler else None)
    assert here.zero_twin == (ConeNumber.read(twin) if twin else None)
    assert here.with_leading_zero == number.startswith("0")


def test_without_letter() -> None:
    """A table that knows no letters is asked for the number alone."""
    assert ConeNumber.read("06a").without_letter == ConeNumber.read("06")
    assert ConeNumber.read("06").without_letter == ConeNumber.read("06")
    assert ConeNumber.read("06a") != ConeNumber.read("06")


def test_letters_come_between_numbers() -> None:
    """8, 8A, 8B and 9 are four cones in this order (Staffordshire; from memory)."""
    assert sorted(map(ConeNumber.read, ["9", "8B", "8", "8A"])) == [
        *map(ConeNumber.read, ["8", "8A", "8B", "9"])
    ]


@given(one=NUMBERS, other=NUMBERS, third=NUMBERS)
def test_one_total_order(one: ConeNumber, other: ConeNumber, third: ConeNumber) -> None:
    """Exactly one of < == > holds, equal numbers share a hash, and the order is transitive."""
    assert [one < other, one == other, one > other].count(True) == 1
    # Unequal numbers may share a hash, as 01 and 02 do: hash(-1.0) is hash(-2.0) in Python.
    assert one != other or hash(one) == hash(other)
    if one <= other <= third:
        assert one <= third
    if one.without_letter < other.without_letter:
        assert one < other
        assert one.steps_to(other) > 0


@given(number=NUMBERS)
def test_up_and_down_again(number: ConeNumber) -> None:
    """One up is at most one step hotter, and one up and one down from a whole number is itself."""
    hotter, cooler = number.hotter(), number.cooler()

    if hotter:
        assert 0 < number.steps_to(hotter) <= 1
    if cooler:
        assert -1 <= number.steps_to(cooler) < 0
    if hotter and number.steps_to(hotter) == 1:
        assert hotter.cooler() == number.without_letter


@pytest.mark.parametrize("held", [ConeNumber.read("06"), ConeSeries(), cone("6")])
def test_unchanging(held: Any) -> None:
    """No field can be set or added, and a copy or a pickle is the same."""
    with pytest.raises(FrozenInstanceError):
        held.number = 7
    assert not hasattr(held, "__dict__")
    for twin in (copy.deepcopy(held), pickle.loads(pickle.dumps(held))):
        assert twin == held
        assert hash(twin) == hash(held)


def test_cones_of_two_forms() -> None:
    """A large and a small cone 6 have one number and no order, and are not the same cone."""
    large, small = cone("6"), cone("6", ConeForm.SMALL)

    assert large != small
    assert large.same_number(small)
    assert not large < small
    assert not small < large
    assert cone("5", ConeForm.SMALL) < large < cone("7", ConeForm.SMALL)


def test_cones_of_two_makers() -> None:
    """Cone 6 and SK 6 are different cones with no order between them: a TypeError."""
    orton, japan = cone("6"), cone("6", ConeForm.LARGE, False, Numbering.SK)

    assert orton != japan
    assert not orton.same_number(japan)
    assert str(orton) == "cone 6"
    assert str(japan) == "SK cone 6"
    for compare in (operator.lt, operator.le, operator.gt, operator.ge):
        with pytest.raises(TypeError):
            compare(orton, japan)


def test_numbered() -> None:
    """The next cone of the same series is of the same series."""
    small = cone("6", ConeForm.SMALL)

    assert small.numbered(ConeNumber.read("7")) == cone("7", ConeForm.SMALL)


@pytest.mark.parametrize("numbering", Numbering)
@pytest.mark.parametrize("form", ConeForm)
@pytest.mark.parametrize("iron_free", [False, True])
def test_tables_of_series(numbering: Numbering, form: ConeForm, iron_free: bool) -> None:
    """Every series names a column that the table has, but for small iron-free cones."""
    table = ConeSeries(form, iron_free, numbering).table
    known = {row["series"] for row in ROWS}

    unpublished = numbering is Numbering.ORTON and form is ConeForm.SMALL and iron_free
    assert (table in known) == (not unpublished)
