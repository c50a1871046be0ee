"""All the ways potters write a measure, and that no other text reads as one."""

import unicodedata

import pytest
from every_kind import KINDS
from hypothesis import example, given
from hypothesis import strategies as st

from guardcone.values import (
    Angle,
    Duration,
    Length,
    Mass,
    Misspelled,
    Percentage,
    Power,
    Quantity,
    Rate,
    Temperature,
    TemperatureDifference,
    Volume,
    number_at,
    read_quantity,
)

# Spellings in common use among potters; common practice, no source.
SPELLINGS: dict[type[Quantity], dict[str, str]] = {
    Temperature: {
        "1000 C": "1000 C | 1000C | 1000 °C | 1000°C | 1000 ° C | 1000º C | 1000˚C | 1000 ℃ |"
        "1,000 C | 1000.0 C | 1000 c | 1000 degrees C | 1000 degree C | 1000 deg C | 1000 deg. C |"
        "1000 degC | 1000 Celsius | 1000 degrees celsius | 1000 centigrade | 1000\u00a0°C |"
        "1000\u2009°C | +1000 C",
        "2300 F": "2300 F | 2300F | 2,300 F | 2300 °F | 2300°F | 2300 degrees F | 2300 deg F |"
        "2300 Fahrenheit | 2300 degrees Fahrenheit | 2,300.0 °F | 2300 ℉",
        "-5 C": "-5 C | - 5 C | −5 °C",
        "98.5 F": "98.5 F | 98½ F | 98 ½ F | 98 1/2 F",
    },
    TemperatureDifference: {"10 C": "10 C | 10°C | 10 degrees C", "20 F": "20 °F | 20 deg F"},
    Rate: {
        "60 C/h": "60 C/h | 60C/h | 60 °C/h | 60 °C / h | 60 C/hr | 60 C/hr. | 60 C/hour |"
        "60 C per hour | 60 °C per hour | 60 C an hour | 60 degrees C an hour | 60 C per hr |"
        "60 deg C/h | 60 degrees Celsius per hour | 60 C each hour | 60 ℃/h",
        "108 F/h": "108 F/h | 108°F/hr | 108 °F per hour | 108 F an hour | 108 degrees F per hour",
        "1 C/min": "1 C/min | 1 °C/min. | 1 C/minute | 1 C per minute | 1 C a minute",
        "2.5 F/min": "2.5 F/min | 2½ °F per minute | 2 1/2 F per min",
    },
    Duration: {
        "2 h": "2 h | 2h | 2 hr | 2 hrs | 2 hours | 2 Hours | 2:00 | 2 h 0 min | 02:00 | 2h00 |"
        "two hours | Two h",
        "1 h": "1 h | 1 hour | 1:00",
        "2 h 30 min": "2h30 | 2 h 30 | 2 h 30 min | 2h 30m | 2 hours 30 minutes | 2½ h | 2.5 h |"
        "2 1/2 hours | 2-1/2 hours | 2 hrs and 30 mins | 2 hours, 30 minutes | 2:30 | 2:30 h |"
        "2:30 hours | 2 h & 30 min | 02:30 | 2 h. 30 min. | two and a half hours |"
        "two hours and thirty minutes",
        "90 min": "90 min | 90min | 90 minutes | 90 mins | 90 m",
        "1 h 30 min": "1:30 | 1h30 | 1.5 h | 1½ hr",
        "30 min": "30 min | ½ h | 0:30 | .5 h | 1/2 hour | half an hour | half hour |"
        "thirty minutes",
        "45 min": "three quarters of an hour | forty-five minutes",
        "1 h 5 min": "1:05 | 1h05 | 1h5 | 1 h 5",
        "45 s": "45 s | 45 sec | 45 seconds",
        "1.5 min": "1 min 30 s | 1½ min",
        "1 day": "1 day | 1 d | 1 days",
        "1.5 days": "1½ days | 1 day 12 h | 1 day and 12 hours",
        "-2 h 30 min": "-2 h 30 min | -2:30 | −2h30 | -2.5 h",
    },
    Length: {
        "6 mm": "6mm | 6 mm | 6 millimetres | 6 millimeters | 6 MM",
        "50 cm": "50 cm | 50cm | 50 centimetres",
        "0.5 m": "half a metre | half a meter",
        "1.2 m": "1.2 m | 1.2 metres | 1.2 meters",
        "0.25 in": '1/4 in | 1/4in | 1/4 in. | ¼ in | 1/4 inch | 1/4" | ¼″ | 0.25 inches | .25 in |'
        "1⁄4 in | quarter inch | quarter of an inch",
        "18 in": "18\" | 18 in | 18 inches | 18” | 18 in. | 18''",
        "2.5 in": '2 1/2 in | 2½ in | 2½" | 2-1/2" | 2 ½ in',
        "0.625 in": '5/8 in | ⅝"',
        "2 ft": "2 ft | 2' | 2′ | 2 feet | 2 foot | 2 ft.",
    },
    Volume: {
        "230 L": "230 L | 230 l | 230L | 230 litres | 230 liters",
        "0.2 m3": "0.2 m3 | 0.2 m³ | 0.2 cubic metres | 0.2 m^3",
        "8 cu ft": "8 cu ft | 8 cu. ft. | 8 cubic feet | 8 ft3 | 8 ft³ | 8 cu.ft | 8 cubic foot",
    },
    Power: {
        "11 kW": "11 kW | 11kW | 11 kw | 11 KW | 11 kilowatts",
        "9600 W": "9600 W | 9,600 watts",
        "60000 BTU/h": "60,000 BTU/h | 60000 BTU/hr | 60000 btu per hour | 60000 Btu/hour",
    },
    Mass: {"40 kg": "40 kg | 40kg | 40 kilos", "88 lb": "88 lb | 88 lbs | 88 pounds | 88 lb."},
    Angle: {"8 degrees": "8 degrees | 8° | 8 ° | 8 deg | 8 deg. | 8 degree"},
    Percentage: {"15 %": "15 % | 15% | 15 percent | 15 per cent"},
}


def test_spelling() -> None:
    """Whatever a potter would write is the one quantity meant, with blanks around it or without."""
    wrong = [
        f"{kind.kind}: {text.strip()!r} is not {plain}"
        for kind, table in SPELLINGS.items()
        for plain, texts in table.items()
        for text in texts.split("|")
        for written in (text.strip(), f"  {text.strip()}\t")
        if understood(kind, written) != (kind, plain)
    ]

    assert not wrong, "\n".join(wrong)


def understood(kind: type[Quantity], text: str) -> tuple[type[Quantity], str] | None:
    """The kind and plain spelling of what a text is read as."""
    try:
        read = read_quantity(kind, text)
    except Misspelled:
        return None
    return type(read), read.plain()


@pytest.mark.parametrize("kind", KINDS)
def test_every_unit_of_its_own_spelling(kind: type[Quantity]) -> None:
    """The plain spelling and the printed symbol of every unit are themselves read."""
    for unit in kind.units:
        for text in (f"3 {unit.plain}", f"3 {unit.symbol}", f"3{unit.symbol}"):
            assert read_quantity(kind, text).unit == unit
            assert read_quantity(kind, text) == kind.of(3, unit.plain)


def test_every_kind_is_in_the_table() -> None:
    """The table of spellings above forgets no kind and no unit."""
    for kind in KINDS:
        read = {read_quantity(kind, plain).unit.plain for plain in SPELLINGS[kind]}
        assert read == {unit.plain for unit in kind.units}


def test_bare_number() -> None:
    """A bare number is refused for every kind, never guessed."""
    bare = ["60", "2.5", "1/4", "2½", "2,300", "-5", "0", " 7 "]

    assert not [f"{kind.kind}: {text}" for kind in KINDS for text in bare if understood(kind, text)]


REFUSED = [
    (Temperature, "1000 K"),
    (Temperature, "1000 CF"),
    (Temperature, "1000 C/h"),
    (Temperature, "1e3 C"),
    (Temperature, "1000-1200 C"),
    (Temperature, "1,00 C"),
    (Temperature, "2,3000 F"),
    (Temperature, "1.2.3 C"),
    (Temperature, "٣٠٠ C"),
    (Temperature, "३ C"),
    (Temperature, "２００ C"),
    (Temperature, "10² C"),
    (Temperature, "² C"),
    (Temperature, "1½0 C"),
    (Temperature, "½5 C"),
    (Temperature, "½½ C"),
    (Temperature, "1 3/2 C"),
    (Temperature, "1/0 C"),
    (Temperature, "1/00 C"),
    (Temperature, "0/0 C"),
    (Temperature, "10 - 1/2 C"),
    (Temperature, "inf C"),
    (Temperature, "nan C"),
    (Temperature, "9" * 400 + " C"),
    (Temperature, "1" + ",000" * 200 + " C"),
    (Temperature, "9" * 400 + "/" + "9" * 400 + " C"),
    (Temperature, "1/" + "9" * 400 + " C"),
    (Temperature, "1000000000 C"),
    (Rate, "60 C"),
    (Rate, "60 C/s"),
    (Rate, "60 per hour"),
    (Rate, "60 C per hourſ"),
    (Rate, "60 °/h"),
    (Duration, "2 h 2 h"),
    (Duration, "2 h 75"),
    (Duration, "2 h -30 min"),
    (Duration, "2 h and"),
    (Duration, "2 h,"),
    (Duration, "1:75"),
    (Duration, "1:3"),
    (Duration, "1:30 min"),
    (Duration, "1:30 pm"),
    (Duration, ":30"),
    (Duration, "30 min 5"),
    (Duration, "5 ſ"),
    (Duration, "2 hm"),
    (Duration, "9" * 5000 + ":00"),
    (Duration, "9" * 5000 + " h"),
    (Duration, "h"),
    (Duration, "-"),
    (Length, "6 m m m"),
    (Length, "6 mm²"),
    (Power, "11 kWh"),
    (Power, "60000 BTU"),
    (Angle, "8 degrees C"),
    (Volume, "8 ft"),
    (Volume, ""),
]


def test_refused() -> None:
    """Another kind's unit, a slip, a sum that does not read one way, or a number past all kilns."""
    read = [f"{kind.kind}: {text:.20}" for kind, text in REFUSED if understood(kind, text)]

    assert not read, "\n".join(read)


def test_a_refusal_is_short() -> None:
    """However long the text, the sentence that refuses it is one line of a report."""
    for kind, text in REFUSED:
        with pytest.raises(Misspelled) as caught:
            read_quantity(kind, text)
        assert len(str(caught.value)) < 120, f"{kind.kind}: {text:.20}"


@given(kind=st.sampled_from(KINDS), text=st.text())
@example(kind=Duration, text="5 ſ")
@example(kind=Mass, text="5 \u212ag")
def test_any_text_at_all(kind: type[Quantity], text: str) -> None:
    """Any text whatever is a finite quantity or Misspelled, and never another error."""
    never_fails(kind, text)


# Pieces that get far into the reader before they go wrong.
PIECES = st.lists(
    st.sampled_from(
        [
            *"0123456789.,:/⁄½⅞-−+ '\"°²٣３hmsdCFWLk%\u00a0\u2003ſKℓ℃",
            *("min", "hour", " and ", "per", "deg", "in", "cu ft", "BTU/h", "1/", ",000"),
            "9" * 320,
        ]
    ),
    max_size=9,
).map("".join)


@given(kind=st.sampled_from(KINDS), text=PIECES)
def test_any_scramble(kind: type[Quantity], text: str) -> None:
    """Scrambled pieces of right spellings are a finite quantity or Misspelled as well."""
    never_fails(kind, text)


def never_fails(kind: type[Quantity], text: str) -> None:
    """Read it; if it reads, plain() must read back to the same."""
    try:
        read = read_quantity(kind, text)
    except Misspelled:
        return
    assert abs(read.base) < 1e14
    assert read_quantity(kind, read.plain()) == read


NUMBERS = [
    ("90 min", 90, 2),
    ("2.5 h", 2.5, 3),
    ("5. C", 5, 2),
    (".5 h", 0.5, 2),
    ("1/4 in", 0.25, 3),
    ("1 1/2 in", 1.5, 5),
    ("1-1/2 in", 1.5, 5),
    ("2½ h", 2.5, 2),
    ("2 ½ h", 2.5, 3),
    ("⅞ in", 0.875, 1),
    ("2,300 F", 2300, 5),
    ("-5 C", -5, 2),
    ("−5 C", -5, 2),
    ("+5 C", 5, 2),
    ("60C/h", 60, 2),
    ("2h30", 2, 1),
    ("7", 7, 1),
]


@pytest.mark.parametrize(("text", "amount", "taken"), NUMBERS)
def test_number(text: str, amount: float, taken: int) -> None:
    """The number at the start of a text, and the column where it ends."""
    assert number_at(text, 0) == (taken, amount)


FRACTION_SIGNS = "¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"


@pytest.mark.parametrize("glyph", FRACTION_SIGNS)
def test_fraction_signs(glyph: str) -> None:
    """Every fraction sign has the value that the Unicode Character Database gives it."""
    assert number_at(f"{glyph} in", 0) == (1, pytest.approx(unicodedata.numeric(glyph), rel=1e-12))
    assert number_at(f"3{glyph} in", 0) == (2, pytest.approx(3 + unicodedata.numeric(glyph)))


# What a reader might go back and forth in; `tests/benchmarks/reading_cost.py` times each.
NONSENSE = ["9", " ", "1 ", "1h", "1/", "-", "½", ",000", "°", "1 h and "]


def nonsense(piece: str, length: int) -> str:
    """A number that goes on and on."""
    return "1" + piece * (length // len(piece))


def test_long_nonsense_is_refused() -> None:
    """A hundred thousand characters of nonsense are no measure of any kind."""
    texts = [nonsense(piece, 100_000) for piece in NONSENSE]

    read = [
        f"{kind.kind}: {text:.20}" for kind in KINDS for text in texts if understood(kind, text)
    ]
    assert not read, "\n".join(read)
