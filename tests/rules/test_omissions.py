"""Every statement of the grammar left out, absurd, or against another line: what is told of it.

`omissions.csv` has a row for each cell: what of the grammar it is about, whether that is left out,
small, large, nonsense or against something else, the sound plan of `omissions/` that is changed,
the change, and the rule that tells with its weight. Where nothing is told, or the omission weighs
less than the worst wrong value, the row says why, and by which source. Bars part the columns; in a
change `->` parts what is written anew, `;;` several places, `\n` lines; blanks count as one.
"""

import csv
import re
from functools import cache
from pathlib import Path

import pytest
from attrs import frozen
from the_book import check_text

from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.language.scanner import MEASURES
from guardcone.rulebook.rule import Consequence, bibliography

HERE = Path(__file__).parent
# What has a size: a statement that holds one has it small and large once.
SIZES = {*MEASURES, "NUMBER", "COUNT", "VOLTAGE", "CURRENT", "PHASES", "CONE_NUMBER", "cone"}
ABSURD = ("small", "large", "nonsense")
CELLS = re.compile("|".join(("left out", *ABSURD, "against .+")))
NO_SOURCE = {"plain sense", "common practice, no source"}
# Its cells are those of the statements that hold it.
HELD = {"cone", "date"}


@frozen
class Cell:
    """One row of the table."""

    about: str
    cell: str
    plan: str
    change: str
    tells: str
    because: str
    source: str

    @property
    def rule(self) -> str:
        """The rule of the grammar."""
        return self.about.split(".")[0]

    @property
    def text(self) -> str:
        """The plan with the change in it; raises ValueError where it does not meet."""
        text = plan(self.plan)
        if self.change.startswith("without "):
            parts = re.split(r"\n(?=\n)", text)
            kept = [one for one in parts if not one.lstrip().startswith(self.change[8:])]
            if len(kept) == len(parts):
                raise ValueError(self.change)
            return "\n".join(kept)
        for one in self.change.split(" ;; "):
            old, new = (side.replace("\\n", "\n") for side in one.split("->", 1))
            old, new = old.removesuffix(" "), new.strip(" ")
            if old not in text:
                raise ValueError(old)
            text = text.replace(old, new)
        return text


@cache
def plan(name: str) -> str:
    """A sound plan in which everything is said, blanks put together."""
    lines = (HERE / "omissions" / f"{name}.firing").read_text(encoding="utf-8").splitlines()
    return "".join(re.sub(" +", " ", line).strip() + "\n" for line in lines)


@cache
def table() -> tuple[Cell, ...]:
    """The rows of omissions.csv."""
    with (HERE / "omissions.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file, delimiter="|", quoting=csv.QUOTE_NONE))
    return tuple(Cell(*(cell.strip() for cell in row)) for row in rows[1:])


@cache
def told(text: str) -> dict[str, Consequence]:
    """The rules that tell of a plan, each with its worst weight."""
    outcome = check_text(text)
    assert not outcome.broken
    found: dict[str, Consequence] = {}
    for one in outcome.findings:
        found[one.rule] = max(found.get(one.rule, one.consequence), one.consequence, key=weight)
    return found


def weight(consequence: Consequence | None) -> int:
    """How heavy a finding is: 0 for nothing, 4 for a danger."""
    return 0 if consequence is None else sum(consequence.at_least(one) for one in Consequence)


def heaviest(cells: list[Cell]) -> int:
    """The heaviest weight that the table says of some cells."""
    said = [cell.tells.split()[1] for cell in cells if cell.tells]
    return max((weight(Consequence(one)) for one in said), default=0)


@pytest.mark.parametrize("name", sorted(path.stem for path in (HERE / "omissions").iterdir()))
def test_nothing_is_told_of_the_plans(name: str) -> None:
    """The plans that are changed are sound, and leave nothing unsaid that is asked for."""
    assert told(plan(name)) == {}


@pytest.mark.parametrize("cell", table(), ids=lambda cell: f"{cell.about}-{cell.cell}")
def test_cell(cell: Cell) -> None:
    """What the table says is told, at that weight; where it says nothing, nothing is."""
    found = told(cell.text)

    if cell.tells:
        rule, consequence = cell.tells.split()
        assert found.get(rule) is Consequence(consequence), found
    else:
        assert found == {}


@pytest.mark.parametrize("cell", table(), ids=lambda cell: f"{cell.about}-{cell.cell}")
def test_a_silence_has_its_reason(cell: Cell) -> None:
    """Where nothing is told the row says why, and where that is from."""
    assert CELLS.fullmatch(cell.cell)
    assert bool(cell.because) == bool(cell.source)
    assert cell.because or cell.tells
    if cell.source:
        assert cell.source in NO_SOURCE or set(cell.source.split(", ")) <= set(bibliography())


def test_nothing_is_quieter_for_being_forgotten() -> None:
    """What is left out is told as heavily as the worst absurd value there, or the row says why."""
    quieter = []
    for cell in table():
        if cell.cell == "left out" and not cell.because:
            beside = [one for one in table() if one.about == cell.about and one.cell in ABSURD]
            if heaviest([cell]) < heaviest(beside):
                quieter.append(f"{cell.about}, {cell.change}: {heaviest(beside)}")

    assert not quieter, "\n".join(quieter)


# -- every statement of the grammar has its rows ---------------------------------------------------


def needed(symbol: str, within: tuple[str, ...] = ()) -> set[str] | None:
    """The rules that whatever a symbol stands for must hold; None for a rule inside itself."""
    grammar = plan_grammar()
    if symbol in within:
        return None
    if not symbol.startswith("_") or symbol not in grammar.made_of:
        return {symbol}
    ways = []
    for way in grammar.made_of[symbol]:
        parts = [needed(one, (*within, symbol)) for one in way]
        if None not in parts:
            ways.append({name for part in parts if part for name in part})
    return set.intersection(*ways) if ways else set()


def held(symbol: str, within: tuple[str, ...] = ()) -> set[str]:
    """The rules that it may hold."""
    grammar = plan_grammar()
    if not symbol.startswith("_") or symbol not in grammar.made_of or symbol in within:
        return {symbol}
    ways = grammar.made_of[symbol]
    return {name for way in ways for one in way for name in held(one, (*within, symbol))}


def rules() -> set[str]:
    """The rules of the grammar that say something."""
    return {one for one in plan_grammar().made_of if one[0] != "_" and not one.endswith("_line")}


def may_be_left_out() -> set[str]:
    """The statements, and the parts without which what they stand in can be right."""
    made_of = plan_grammar().made_of
    found = {one for section in SECTIONS for one in plan_grammar().facts_of(section)}
    for rule in rules():
        for way in made_of[rule]:
            found |= {name for symbol in way for name in held(symbol)} - {
                name
                for name in rules()
                if all(
                    any(name in (needed(symbol) or ()) for symbol in other)
                    for other in made_of[rule]
                )
            }
    return found & rules()


def test_every_rule_of_the_grammar_has_its_rows() -> None:
    """A new statement, or a new part of one, wants a row of its own: what if it is left out?"""
    rows = {cell.rule for cell in table()}
    left_out = {cell.rule for cell in table() if cell.cell == "left out"}

    assert rules() - HELD <= rows, sorted(rules() - HELD - rows)
    assert may_be_left_out() - HELD <= left_out, sorted(may_be_left_out() - HELD - left_out)


def test_every_size_is_once_too_small_and_once_too_large() -> None:
    """Each rule that holds a measure, a number or a cone; of a kiln each of its features."""
    cells = {(cell.about, cell.cell) for cell in table()}
    sized = {
        rule
        for rule in rules() - HELD
        if any(SIZES.intersection(way) for way in plan_grammar().made_of[rule])
    }
    features = plan_grammar().made_of["_kiln_feature"]
    sized |= {f"kiln_build.{way[0]}" for way in features if way[0].isupper()}
    wanted = {(rule, size) for rule in sized for size in ("small", "large")}

    assert wanted <= cells, sorted(wanted - cells)


def plain(text: str) -> str:
    """Words in small letters; a hyphen is as good as a blank."""
    return re.sub("[- ]", " ", text.casefold())


def test_every_word_of_the_grammar_is_tried() -> None:
    """Each word that a plan may choose stands in a plan of the table or in a change of it."""
    grammar = plan_grammar()
    lines = {line for cell in table() for line in cell.text.splitlines()}
    text = plain("\n".join(sorted(lines)))
    chosen = {
        way[0]
        for rule in rules()
        for way in grammar.made_of[rule]
        if len(grammar.made_of[rule]) > 1 and len(way) == 1 and way[0] in grammar.words
    }
    untried = [
        word
        for word in chosen
        if not any(re.search(rf"(?<!\w){plain(one)}(?!\w)", text) for one in grammar.words[word])
    ]

    assert not untried, sorted(untried)
