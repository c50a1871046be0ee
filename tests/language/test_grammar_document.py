"""grammar/plan.lark as a document: what its comments and word lists promise, it keeps."""

import logging
import re
from functools import cache

import pytest
from lark import logger

from guardcone.language.grammar import SECTIONS, lark_parser, plan_grammar

GRAMMAR = plan_grammar()
SIGNS = {"COMMA": ",", "SEMICOLON": ";", "AMPERSAND": "&"}
# One value of each sort, for lines made from the grammar.
VALUES = {
    "NAME": '"Reed ash"', "RULE_NAME": "pad-damp", "CONE_NUMBER": "6", "COUNT": "24",
    "NUMBER": "4", "TEMPERATURE": "95 C", "RATE": "60 C/h", "DURATION": "2 h", "LENGTH": "6 mm",
    "VOLUME": "230 L", "POWER": "11 kW", "VOLTAGE": "240 V", "CURRENT": "48 A",
    "MASS_AMOUNT": "30 kg", "ANGLE": "8 degrees", "TIME": "15:00", "DATE": "2026-10-03",
    "MONTH": "2026-03", "THERMOCOUPLE_TYPE": "K", "O_CLOCK": "5 o'clock", "PHASES": "3 phase",
    "DASH": "-", **SIGNS,
}  # fmt: skip


def parsed(section: str, line: str) -> tuple[str, list[tuple[str, str]]]:
    """The statement rule that a line meets in a section, and its tokens as (terminal, text)."""
    reading = GRAMMAR.reading(section)
    tokens = [(token.kind, str(token)) for token in reading.tokens(line, GRAMMAR.values)]
    return reading.statement(len(line)).name, tokens


RIGHT_LINES = [
    pytest.param(section, rule, line.right, id=f"{section}: {line.right}")
    for rule, lines in GRAMMAR.right_lines.items()
    for line in lines
    for section in SECTIONS
    if rule in GRAMMAR.openings[section]
]


@pytest.mark.parametrize(("section", "rule", "line"), RIGHT_LINES)
def test_a_right_line_meets_the_rule_it_stands_above(section: str, rule: str, line: str) -> None:
    """In every section that has the rule, the right line above it is read by exactly that rule."""
    assert parsed(section, line)[0] == rule


def test_every_statement_has_a_right_line() -> None:
    """Whoever writes a faulty line can be shown a right one."""
    statements = {rule for section in SECTIONS for rule in GRAMMAR.openings[section]}
    assert statements == set(GRAMMAR.right_lines)


def test_every_opening_word_has_a_right_line() -> None:
    """A line that begins with a word of its section is answered with a line of that word."""
    missing = [
        (section, terminal)
        for section in SECTIONS
        for terminal in GRAMMAR.opening[section]
        if not GRAMMAR.right_line(section, terminal).right
    ]
    assert missing == []


def test_every_terminal_can_be_said_in_words() -> None:
    """No terminal lacks its spellings or its phrase, so no sentence shows a lark name."""
    used = {symbol for _, made_of in GRAMMAR.tables.rules for symbol in made_of if symbol.isupper()}
    assert used - GRAMMAR.words.keys() - GRAMMAR.phrases.keys() == SIGNS.keys()
    assert not GRAMMAR.words.keys() & GRAMMAR.phrases.keys()


# -- the words ----------------------------------------------------------------------------------


def shortest(name: str, wanted: str | None = None) -> list[str] | None:
    """The shortest run of terminals that the rule `name` takes, with `wanted` among them."""
    found: dict[tuple[str, bool], list[str]] = {}
    changed = True
    while changed:
        changed = False
        for origin, expansion in GRAMMAR.tables.rules:
            for at in (None, *range(len(expansion))) if wanted else (None,):
                run: list[str] | None = []
                for place, symbol in enumerate(expansion):
                    holds = place == at
                    if symbol.isupper():
                        piece = [symbol] if not holds or symbol == wanted else None
                    else:
                        piece = found.get((symbol, holds))
                    run = None if run is None or piece is None else run + piece
                old = found.get((origin, at is not None))
                if run is not None and (old is None or len(run) < len(old)):
                    found[origin, at is not None] = run
                    changed = True
    return found.get((name, wanted is not None))


@cache
def lines_with(terminal: str) -> list[tuple[str, str, tuple[str, ...]]]:
    """For each section and statement that has this keyword, a shortest run of terminals with it."""
    found = []
    for section in SECTIONS:
        for rule in GRAMMAR.openings[section]:
            if terminal in GRAMMAR.terminals_of(rule):
                run = shortest(rule, terminal)
                assert run
                found.append((section, rule, tuple(run)))
    return found


@pytest.mark.parametrize("terminal", sorted(GRAMMAR.words))
def test_every_spelling_reads_where_the_first_does(terminal: str) -> None:
    """A line stays the same line, word for word, in whichever spelling a keyword of it stands."""
    assert lines_with(terminal)
    for section, rule, run in lines_with(terminal):
        for spelling in GRAMMAR.words[terminal]:
            for written in (spelling, spelling.upper(), spelling.replace(" ", "\t\xa0")):
                texts = [
                    written if one == terminal else VALUES.get(one) or GRAMMAR.words[one][0]
                    for one in run
                ]
                met, tokens = parsed(section, " ".join(texts))
                assert (met, [kind for kind, _ in tokens]) == (rule, list(run)), texts


@pytest.mark.parametrize(
    ("spelled", "also"),
    [
        ("front door", "front-door"),
        ("leather-hard", "leather hard"),
        ("leather-hard", "leather‑hard"),
        ("spy hole", "spy-hole"),
        ("cut-off", "cut   off"),
        ("local code", "local\tcode"),
    ],
)
def test_blank_and_hyphen_within_a_word_are_one(spelled: str, also: str) -> None:
    """Whoever writes `front-door` for `front door` is understood."""
    terminal = next(name for name, words in GRAMMAR.words.items() if words[0] == spelled)
    section, rule, run = lines_with(terminal)[0]
    texts = [also if one == terminal else VALUES.get(one) or GRAMMAR.words[one][0] for one in run]
    assert parsed(section, " ".join(texts))[0] == rule


# -- conflicts ----------------------------------------------------------------------------------

SERIES = set(
    "LARGE SELF_SUPPORTING SMALL IRON_FREE ORTON ORTON_OLDER SEGER SK STAFFORDSHIRE".split()
)
# Where lark must choose between reading on and closing a part, it reads on. In each of these
# cases that is what is meant.
KNOWN_CONFLICTS = {
    # `order 8 large 9`: a series after a number belongs to that number.
    "cone": SERIES,
    "series_words": SERIES,
    # `order 8 Orton cone 9`: `cone` after a series belongs to it.
    "_of_series": {"CONE"},
    # `matures cone 8 and cone 10`: `and` goes on with the range.
    "maturity": {"AND"},
    # `foot wiped 6 mm`: the length is how far.
    "foot": {"LENGTH"},
    # `glazed with "Reed ash"`, `glazed "Reed ash"`: the glaze to be fired, not a state.
    "state": {"IN", "NAME", "WITH"},
    # `on "top" shelf`: the word belongs to the name before it.
    "on_shelf": {"SHELVES"},
}


def test_the_conflicts_of_the_grammar_are_the_known_ones(caplog: pytest.LogCaptureFixture) -> None:
    """No change of the grammar may bring in a choice that nobody has thought about."""
    logger.setLevel(logging.DEBUG)
    logger.propagate = True
    with caplog.at_level(logging.DEBUG, logger=logger.name):
        lark_parser(debug=True)
    logger.setLevel(logging.CRITICAL)
    found: dict[str, set[str]] = {}
    terminal = ""
    for record in caplog.records:
        message = record.getMessage()
        if met := re.match(r"Shift/Reduce conflict for terminal (\w+):", message):
            terminal = met[1]
        elif met := re.match(r" \* <(\w+) :", message):
            found.setdefault(met[1], set()).add(terminal)
    assert found == KNOWN_CONFLICTS
