"""One mistake gives one finding, also where a line of the plan can't be read or names nothing."""

import pytest
from attrs import evolve
from the_book import BOOK, SOUND, all_examples, check_text, run

from guardcone.checking.plans import check_plan
from guardcone.condition.sentences import Choice
from guardcone.language import SourceText, split_lines
from guardcone.plan import read_plan
from guardcone.rulebook.library import built_in_book
from guardcone.rulebook.rule import Consequence

READ_ALL = """\
reading "bottom shelf"
  guide  down
  target down
  guard  standing
"""


def _found(base: str, *changes: tuple[str, str]) -> list[str]:
    return [finding.rule for finding in check_text(_changed(base, *changes)).findings]


def _changed(base: str, *changes: tuple[str, str]) -> str:
    text = SOUND[base]
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize("text", ["", "\n\n", "# put off until the kiln is mended\n"])
def test_an_empty_plan_is_one_finding(text: str) -> None:
    """A file that says nothing is told as that, and not as six missing sections."""
    assert [finding.rule for finding in check_text(text).findings] == ["plan-empty"]


def test_a_load_whose_ware_can_not_be_read_is_not_missing() -> None:
    """The fault of the ware line is told; that there is no load would be false."""
    text = SOUND["stoneware"].replace('  ware  "', '  waer of "')

    rules = [finding.rule for finding in check_text(text).findings]

    assert "load-section-missing" not in rules


def test_a_reading_of_an_unknown_set_is_no_reading_left_out() -> None:
    """Which set a misnamed reading belongs to nobody knows, so no set is called unread."""
    text = READ_ALL.replace("bottom shelf", "cellar").replace("guard  standing", "guard  down")
    rules = _found("mid_range", ("safety\n", f"{text}safety\n"))

    assert rules.count("name-unknown") == 1
    assert not {"set-unread", "guard-moved", "target-not-down"} & set(rules)


def test_a_second_set_under_the_same_name_is_no_single_set() -> None:
    """Two sets of one name are a slip of the name, not one set in a tall kiln."""
    rules = _found(
        "stoneware",
        ('witness "middle shelf"', 'witness "top shelf"'),
        ('witness "bottom shelf"', 'witness "top shelf"'),
    )

    assert "one-set-in-a-tall-kiln" not in rules


def test_a_set_without_a_readable_name_is_one_set() -> None:
    """A sentence never calls the whole kiln by what was found in one set of it."""
    text = _changed(
        "stoneware",
        ('witness "middle shelf"\n  large cones\n', 'witnes "middle shelf"\n  large cones\n'),
        ("guide  8\n", "guide  9\n"),
    )

    told = [one.text for one in check_text(text).findings if one.rule == "cone-doubled"]

    assert told == [
        'In the witness set "bottom shelf", cone 9 stands twice.',
        "In one witness set, cone 9 stands twice.",
        'In the witness set "top shelf", cone 9 stands twice.',
    ]


def test_a_vent_that_is_off_is_called_off() -> None:
    """With lead in the load the sentence says what the plan says of its vent."""
    lead = ("cone 8 to cone 10, stiff", "cone 8 to cone 10, contains lead")
    vent = "vent         downdraft, on throughout"
    told = {}
    for new in ("vent off", "vent on until 600 C", ""):
        found = check_text(_changed("stoneware", lead, (vent, new))).findings
        told[new] = [one.text for one in found if one.rule == "toxic-fumes-unvented"]

    assert told == {
        "vent off": ["There is lead in Reed ash, and the vent is off."],
        "vent on until 600 C": [
            "There is lead in Reed ash, and the vent is not said to be on through firing and "
            "cooling."
        ],
        "": ["There is lead in Reed ash, and the plan names no vent."],
    }


@pytest.mark.parametrize(
    ("by", "rules", "stops"),
    [
        ("", ["vent-missing", "accept-not-allowed"], True),
        (' by "?"', ["vent-missing", "accept-not-allowed"], True),
        (' by "duty potter"', ["vent-missing", "accept-not-allowed"], True),
        (' by "studio manager"', ["vent-missing"], False),
    ],
)
def test_a_danger_is_accepted_by_whom_the_studio_names(
    by: str, rules: list[str], stops: bool
) -> None:
    """Otherwise the line does nothing; with such a name the danger is shown and goes through."""
    text = _changed(
        "stoneware",
        ("vent         downdraft, on throughout", "vent off"),
        (
            "safety\n",
            f'accept vent-missing because "a hood over the kiln always draws"{by}\nsafety\n',
        ),
    )
    book = evolve(built_in_book(), may_accept=("studio manager", "duty potter"))

    checked = check_plan(read_plan(SourceText("plan", split_lines(text))), book)

    assert sorted(finding.rule for finding in checked.findings) == sorted(rules)
    assert checked.stops(Consequence.DOUBT) is stops


@pytest.mark.parametrize(
    ("until", "told"),
    [("12:00", True), ("16:00", False), ("02:00", False)],
    ids=["while the readable lines still climb", "perhaps later", "perhaps at night"],
)
def test_a_faulty_line_does_not_hide_that_nobody_is_there(until: str, told: bool) -> None:
    """What the lines above the faulty one settle is told; what they leave open is not."""
    rules = _found(
        "stoneware",
        ("climb 150 C/h to 1140 C", "climb 150 to 1140 C"),
        ('"duty potter" from 16:00 to end', f'"duty potter" from 08:00 to {until}'),
    )

    assert ("watch-ends-early" in rules) is told


WATCH, CLIMB, UNREAD = '"duty potter" throughout', "80 C/h to 1160 C", "80 C/h to 1160 Q"
YESTERDAY = '"duty potter" from 2026-10-16 10:00 to 2026-10-16 12:00'
TILES = """\
  clay "Brick lane red" matures cone 06 to cone 02
  ware "tiles" 24 of "Brick lane red" unglazed, bisque, wall 6 mm
  spacing 10 mm
"""
# What heats the kiln is not said.
UNHEATED = _changed("stoneware", ("electric, front", "front"))
RARELY_SAID = [
    ("co-alarm-missing", UNHEATED, "what heats the kiln is not said, and it may burn fuel"),
    ("flame-safety-missing", UNHEATED, "The kiln may burn gas or oil, for the plan does not say"),
    ("combustion-air-unsaid", UNHEATED, "it may burn fuel: what heats it is not said"),
    ("gas-line-uninspected", UNHEATED, "the kiln may burn gas: what heats it is not said"),
    ("hood-missing", UNHEATED, "this kiln may burn fuel, for the plan does not say what heats it"),
    (
        "electrics-inspection-unsaid",
        UNHEATED.replace("  electrics    inspected 2026-03 by a licensed electrician\n", ""),
        "The kiln is perhaps electric, for the plan does not say what heats it",
    ),
    (
        "water-at-electric-kiln",
        UNHEATED.replace("CO2, outside", "water, outside"),
        "it is perhaps electric, for the plan does not say what heats it",
    ),
    (
        "hood-missing",
        UNHEATED.replace("downdraft, on", "on"),
        "This kiln may burn fuel, for the plan does not say what heats it",
    ),
    (
        "watch-ends-early",
        _changed("porcelain", (CLIMB, UNREAD), (WATCH, '"duty potter" from 06:00 to 08:00')),
        "The last watch ends at 08:00; it still fires at 15:48.",
    ),
    (
        "watch-ends-early",
        _changed("stoneware", ('"duty potter" from 16:00', '"duty potter" from 23:00')),
        "The last watch begins at 23:00; the firing ends at about 19:50.",
    ),
    (
        "fuel-kiln-alone",
        _changed("porcelain", (CLIMB, UNREAD), (WATCH, YESTERDAY)),
        "Nobody is named to be at the kiln at 06:00, when it is lit.",
    ),
    (
        "fuel-kiln-alone",
        _changed("porcelain", ("guide  9\n", ""), (WATCH, '"duty potter" from guide to end')),
        "Nobody is named to be at the kiln for part of the firing, or its times do not tell.",
    ),
    (
        "target-not-reached",
        _changed("stoneware", ("rated to cone 11", "rated to 1200 C"), ("1246 C", "1160 C")),
        "no peak or hold of this schedule, within what the kiln is made for, does it.",
    ),
    (
        "clay-overfired",
        _changed(
            "stoneware",
            ("10, stoneware", "9, stoneware"),
            ("  guard  10\n", ""),
            ("climb 60 C/h to 95 C", "from 1250 C"),
            ("  climb 100 C/h to 600 C\n  climb 150 C/h to 1140 C\n  climb 60 C/h to 1246 C\n", ""),
            ("hold  10 min", "hold 3 h"),
        ),
        "To stay within cone 8 to cone 9, lower the peak of 1250 °C or shorten the hold.",
    ),
    (
        "target-above-clay",
        _changed("stoneware", ("  spacing 10 mm\n", TILES)),
        "The load can be split: mugs and bowls at cone 8 to cone 10; tiles at cone 06 to cone 02.",
    ),
]


def test_a_faulty_line_hides_nothing_of_the_drying_above_it() -> None:
    """Damp ware climbs through boiling whatever the hold at the peak was to be."""
    faulty = ("hold  5 min", "hold  5")
    found = _found("damp", ("  hold  5 h\n", ""), ("60 C/h to 90 C", "60 C/h to 125 C"), faulty)

    assert found == ["damp-without-hold", "unit-missing"]


@pytest.mark.parametrize(("rule", "plan", "said"), RARELY_SAID)
def test_what_a_sentence_says_rarely(rule: str, plan: str, said: str) -> None:
    """The part of a sentence that few plans lead to is a sentence all the same."""
    told = [f"{one.text} {one.repair}" for one in check_text(plan).findings if one.rule == rule]

    assert len(told) == 1
    assert said in told[0]


def test_every_choice_of_a_sentence_is_told() -> None:
    """What a sentence says only where a slot has a value is printed by an example, or above."""
    plain = " ".join
    found = [one for example in all_examples() for one in run(example).found]
    found += [one for _, plan, _ in RARELY_SAID for one in check_text(plan).findings]
    told = plain(f"{one.text} {one.repair}" for one in found)
    bad = [
        f"{rule.name}: {''.join(map(str, option))}"
        for rule in BOOK.rules
        for level in rule.levels
        for piece in (*level.finding.pieces, *level.repair.say.pieces)
        for option in (piece.options if isinstance(piece, Choice) else ())
        if not all(plain(one.split()) in told for one in option if isinstance(one, str))
    ]

    assert not bad, "\n".join(bad)
