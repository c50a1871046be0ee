"""What tidying does to each line is known by its kind: the line first, then what is told of it."""

import pytest

from guardcone.tidy import changes_of, laid_out


def told(text: str) -> list[str]:
    """The changes of a text, one a line."""
    return [
        f"{one.line} {one.kind.name}" + (f": {one.before} > {one.after}" if one.before else "")
        for one in changes_of(laid_out(text))
    ]


@pytest.mark.parametrize(
    ("line", "changes"),
    [
        ("  climb 60 C/h to 95 C", []),
        ("  ramp 60 C/h to 95 C", ["WORD: ramp > climb"]),
        ("  climb 60 °C per hour to 95C", ["VALUE: 60 °C per hour > 60 C/h", "VALUE: 95C > 95 C"]),
        ("  CLIMB 60 C/h TO 95 C", ["LETTERS: CLIMB > climb", "LETTERS: TO > to"]),
        (
            "  cool down down to 600 C at 60 C/h",
            ["WORD: cool down > cool", "WORD: down to > to"],
        ),
        ("climb 60 C/h to 95 C", ["BELOW_HEADING: {} >   climb 60 C/h to 95 C"]),
        ("  climb   60 C/h to 95 C", ["COLUMN: {} >   climb 60 C/h to 95 C"]),
        ("  climb 60 C/h  to\t95 C", ["BLANKS: {} >   climb 60 C/h to 95 C"]),
        ("  climb 60 C/h to: 95 C.", ["SIGNS: {} >   climb 60 C/h to 95 C"]),
        ("  climb 60 C/h to 95 C # slow", ["REMARK: {} >   climb 60 C/h to 95 C  # slow"]),
        ("  climb 60 C/h to 95 C ", ["TRAILING:   climb 60 C/h to 95 C >   climb 60 C/h to 95 C"]),
        ("  climb 60 to 95", ["LEFT: {} >   climb 60 to 95"]),
        ('  climb "fill in how fast" to 95 C', []),
        (
            'climb  "fill in how fast" to 95 C',
            [
                'BELOW_HEADING: {} >   climb "fill in how fast" to 95 C',
                'COLUMN: {} >   climb "fill in how fast" to 95 C',
            ],
        ),
    ],
)
def test_a_line_by_the_kind_of_its_change(line: str, changes: list[str]) -> None:
    """Each word is known by what the grammar reads it as, each stretch of blanks by its column."""
    assert told(f"schedule\n{line}\n") == [f"2 {change.format(line)}" for change in changes]


def test_names_and_lists() -> None:
    """Quotes, the comma of a list, and the columns of names are each told as what they are."""
    text = "load\n  ware  “mugs” 24; bisque\n  ware  “lids” 4 , bisque\n"

    assert [change.partition(":")[0] for change in told(text)] == [
        *("2 QUOTES", "2 SIGNS", "2 COLUMN"),
        *("3 QUOTES", "3 BLANKS", "3 COLUMN"),
    ]


def test_one_thing_after_another() -> None:
    """Each part of a line gets a line of its own, and a remark stays with the last of them."""
    text = 'plan "x" by "y", firing glaze  # late\n'

    assert laid_out(text).text == 'plan "x"\n  by     "y"\n  firing glaze  # late\n'
    assert {change.partition(":")[0] for change in told(text)} == {"1 OWN_LINE", "1 COLUMN"}


def test_a_comma_behind_the_last_thing_parts_nothing() -> None:
    """A line that says one thing is not told to get a line of its own."""
    assert told('plan "x"\n\ntarget cone 9, oxidation,\n') == []


def test_blank_lines() -> None:
    """One that goes is told by its own line, one that is put in by the line below it."""
    text = 'plan "x"\n\n  by "y"\ntarget cone 9\n\n\nload\n'

    assert told(text) == ["2 BLANK_LINE_GOES", "4 BLANK_LINE_BEFORE", "6 BLANK_LINE_GOES"]


def test_a_blank_line_that_only_changes_its_reason_is_no_change() -> None:
    """Below an empty heading one goes, and above the next heading one comes: it is the same."""
    assert told("load\n\nschedule\n") == []
    assert told("load\n  \nschedule\n") == ["2 TRAILING"]


def test_the_file_as_a_whole() -> None:
    """Marks and line ends that no eye sees are changes of the file."""
    assert told('\ufeffplan "x"\r\n  by "y"') == ["0 FIRST_MARK", "0 LINE_ENDS", "0 LAST_LINE_END"]


def test_a_tidy_plan_has_no_change() -> None:
    """What is laid out already is told nothing of."""
    assert told('plan "mugs"\n  by     "duty potter"\n  firing glaze\n') == []
