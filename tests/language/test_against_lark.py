"""A line is read by the tables as lark itself reads it, right lines and wrong ones."""

import random
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lark import Token, UnexpectedToken

from guardcone.language import Part, split_lines
from guardcone.language.grammar import SECTIONS, lark_parser, plan_grammar
from guardcone.language.line_parser import Misread
from guardcone.language.source import OutOfSense
from guardcone.span import Written

ROOT = Path(__file__).resolve().parents[2]
GRAMMAR = plan_grammar()
PLANS = [*sorted((ROOT / "sample_plans").glob("*.firing")),
         *sorted((ROOT / "rules" / "sound_plans").glob("*.firing"))]  # fmt: skip


@cache
def parser() -> Any:
    """The parser of lark, made once."""
    return lark_parser()


def lines() -> list[str]:
    """Every line of the plans that come with the project, and every right line of the grammar."""
    texts = [path.read_text(encoding="utf-8") for path in PLANS]
    found = [line.code for text in texts for line in split_lines(text) if not line.blank]
    found += [line.right for lines in GRAMMAR.right_lines.values() for line in lines]
    return list(dict.fromkeys(found))


def slips(code: str, hand: random.Random) -> Iterator[str]:
    """The line as it is, and with slips of the hand: a word gone, doubled, moved or strange."""
    yield code
    words = code.split()
    for _ in range(6):
        at, other = hand.randrange(len(words)), hand.randrange(len(words))
        slipped = list(words)
        match hand.randrange(5):
            case 0:
                del slipped[at]
            case 1:
                slipped.insert(at, words[other])
            case 2:
                slipped[at], slipped[other] = slipped[other], slipped[at]
            case 3:
                slipped[at] = slipped[at][:-1] + hand.choice('x8,"')
            case 4:
                slipped = slipped[:at]
        if slipped:
            yield " ".join(slipped)


def of_lark(tree: Any) -> object:
    """A tree of lark as names and texts, parts named with an underscore dissolved."""
    if isinstance(tree, Token):
        return str(tree)
    return tree.data, [of_lark(child) for child in tree.children]


def of_ours(part: Part | Written[object], texts: Iterator[str]) -> object:
    """The same of a part, with the texts of the tokens in place of their values."""
    if isinstance(part, Written):
        return next(texts)
    return part.name, [of_ours(child, texts) for child in part.children]


@pytest.mark.parametrize("section", SECTIONS)
def test_every_step_is_the_one_of_lark(section: str) -> None:
    """After each token the same kinds may stand, and a right line is made of the same parts."""
    hand = random.Random(section)
    read, misread = 0, 0
    for code in (slipped for line in lines() for slipped in slips(line, hand)):
        ours = GRAMMAR.reading(section)
        theirs = parser().parse_interactive(None, start=f"{section}_line")
        texts = []
        try:
            for token in ours.tokens(code, GRAMMAR.values):
                assert ours.accepts() == theirs.accepts(), code
                if token.kind not in ("COMMA", "SEMICOLON", "AMPERSAND"):
                    texts.append(str(token))
                with suppress(UnexpectedToken):  # then ours stops at it too, and is compared below
                    theirs.feed_token(Token(token.kind, str(token)))
            statement = ours.statement(len(code))
        except OutOfSense:
            continue
        except Misread:
            assert ours.accepts() == theirs.accepts(), code
            misread += 1
            continue
        _, (expected,) = of_lark(theirs.feed_eof())
        assert of_ours(statement, iter(texts)) == expected, code
        read += 1
    assert read > 50
    assert misread > 500
