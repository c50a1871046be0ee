"""Words, units and numbers: what stands at a column of a line, told apart by the tables."""

from collections import defaultdict
from itertools import combinations

import pytest

from guardcone.language.grammar import plan_grammar, words_of
from guardcone.language.scanner import MEASURES, folded, read, skip, trade_words
from guardcone.values import Duration, Length, Quantity
from guardcone.values.units import spellings_of, units_of

GRAMMAR = plan_grammar()


@pytest.mark.parametrize(
    ("code", "wanted", "kind", "text"),
    [
        ("10 m", {"DURATION"}, "DURATION", "10 m"),
        ("10 m", {"LENGTH"}, "LENGTH", "10 m"),
        ("8-9-10", {"CONE_NUMBER", "DASH"}, "CONE_NUMBER", "8"),
        ("6 in oxidation", {"CONE_NUMBER"}, "CONE_NUMBER", "6"),
        ("60 C/h", {"RATE", "TEMPERATURE"}, "RATE", "60 C/h"),
        ("cool down freely", {"COOL", "FREELY"}, "COOL", "cool down"),
        ("spy‑hole 40 mm", {"SPY_HOLE"}, "SPY_HOLE", "spy‑hole"),
        ("cone6", {"CONE"}, "CONE", "cone"),
        ("5 1/2 cones", {"NUMBER", "COUNT"}, "NUMBER", "5 1/2"),
        ("2h30, vented", {"DURATION"}, "DURATION", "2h30"),
    ],
)
def test_the_longest_reading_of_a_wanted_kind(
    code: str, wanted: set[str], kind: str, text: str
) -> None:
    """What a piece of a line is depends on what may stand there, and then on its length."""
    reading = read(code, 0, wanted)
    assert reading is not None
    assert (reading.kind, code[: reading.end]) == (kind, text)


@pytest.mark.parametrize(
    ("code", "wanted"),
    [
        ("60 C/h", {"TEMPERATURE"}),
        ("100 degrees C", {"ANGLE"}),
        ("guides", {"GUIDE"}),
        ("24", {"LENGTH"}),
        ("8 degrs", {"ANGLE"}),
        ("60 C perhour", {"RATE"}),
    ],
)
def test_half_a_word_or_measure_is_none(code: str, wanted: set[str]) -> None:
    """A piece that only begins like a word or a measure is not read as one."""
    assert read(code, 0, wanted) is None


def test_the_next_longest_is_taken_where_the_longest_may_not_stand() -> None:
    """Where no length may stand, the number before a name in quotes is a count."""
    wanted = {"LENGTH", "COUNT"}
    longest = read('24 "m"', 0, wanted)
    next_longest = read('24 "m"', 0, wanted, {"COUNT"}.__contains__)
    assert longest is not None
    assert next_longest is not None
    assert (longest.kind, next_longest.kind) == ("LENGTH", "COUNT")


def test_what_means_nothing_is_skipped() -> None:
    """Blanks, articles, a colon behind a word and a full stop at the end are passed over."""
    assert "guide: the lower one."[skip("guide: the lower one.", 5) :] == "lower one."
    assert skip("guide 8.", 7) == 8


# -- the tables ---------------------------------------------------------------------------------


def test_every_row_of_the_words_is_used() -> None:
    """A word that no rule of the grammar has would only be read in vain."""
    used = {symbol for _, made_of in GRAMMAR.tables.rules for symbol in made_of}
    assert [kind for kind in (*GRAMMAR.words, *GRAMMAR.phrases) if kind not in used] == []


def test_no_word_is_spelled_the_same_way_twice() -> None:
    """Blank and hyphen are one, so either stands in the table, and not both."""
    for kind, spellings in GRAMMAR.words.items():
        assert len({folded(one) for one in spellings}) == len(spellings), kind


# A state of the parser that two ways lead to, each with one of the two words.
SEEMING = {("BISQUE", "FIRED"): ('pad of "Marsh buff"', 'ware "mugs" of "Marsh buff"')}


def kinds_after(code: str, section: str) -> set[str]:
    """What may really stand behind the beginning of a line."""
    reading = GRAMMAR.reading(section)
    assert list(reading.tokens(code, GRAMMAR.values))
    return set(reading.accepts())


def test_no_spelling_is_two_words_at_one_place() -> None:
    """Where a spelling stands for two words, what may stand at the place tells which is meant."""
    kinds: dict[str, list[str]] = defaultdict(list)
    for kind, spellings in trade_words().spellings.items():
        for spelling in spellings:
            kinds[folded(spelling)].append(kind)
    pairs = {pair for alike in kinds.values() for pair in combinations(alike, 2)}
    assert ("AT", "THROUGH") in pairs
    states = GRAMMAR.tables.states
    together = {pair for pair in pairs for keys in states if {*pair} <= keys.keys()}
    assert together == SEEMING.keys()
    for pair, (pad, ware) in SEEMING.items():
        assert kinds_after(pad, "witness") & {*pair} == {"FIRED"}
        assert kinds_after(ware, "load") & {*pair} == {"BISQUE"}


def test_a_pad_of_bisqued_clay_is_read() -> None:
    """`bisqued` is a fired pad here, though the parser's tables know the bisque of ware as well."""
    assert GRAMMAR.parse('pad of "Marsh buff" bisqued', "witness").name == "pad"


# A rate is made of the units of temperature and time.
@pytest.mark.parametrize("kind", [kind for kind in MEASURES if kind != "RATE"])
def test_every_spelling_of_a_unit(kind: str) -> None:
    """Each spelling in the table of units is that unit, in small letters and in capitals."""
    measure: type[Quantity] = MEASURES[kind]
    for unit in units_of(measure.kind):
        for spelling in spellings_of(measure.kind, unit.plain):
            for written in {spelling, spelling.upper(), spelling.replace(".", "")}:
                reading = read(f"3 {written}", 0, {kind})
                assert reading is not None, written
                assert isinstance(reading.value, measure)
                assert (reading.end, reading.value.unit) == (2 + len(written), unit), written


def test_one_spelling_of_two_measures_is_told_apart_by_its_place() -> None:
    """`m` is metres behind `altitude` and minutes behind `hold`."""
    length = GRAMMAR.parse("altitude 10 m", "kiln").value(Length)
    time = GRAMMAR.parse("hold 10 m", "schedule").value(Duration)
    assert length is not None
    assert time is not None
    assert (str(length.value), str(time.value)) == ("10 m", "10 min")


def test_words_of_a_rule() -> None:
    """Facts take their closed lists from the grammar: a hat that lifts off is a way of loading."""
    assert words_of("loading") == ("front-door", "top-lid", "top-hat")
    with pytest.raises(KeyError):
        words_of("nothing")
