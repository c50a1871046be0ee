"""What a person may have meant: the nearest word, what may stand here, a name without quotes."""

import re
from collections.abc import Iterable, Sequence
from itertools import takewhile

from guardcone.language.grammar import PlanGrammar
from guardcone.language.scanner import trade_words
from guardcone.language.source import OutOfSense
from guardcone.values.units import shortened

__all__ = [
    "did_you_mean",
    "either",
    "in_order",
    "listed",
    "may_stand",
    "nearest",
    "quoted",
    "quoted_instead",
    "shown",
    "to_write",
]


# A longer text is no slip of one word, and comparing it with every word would take its time.
_LONGEST = 40

# Words that are near each other and say the opposite.
_SMALL_WORDS = frozenset({"on", "off", "no", "not", "in", "out", "up", "down"})


def nearest(word: str, candidates: Iterable[str]) -> str | None:
    """The candidate most like `word`, ignoring case, or None if none is like it.

    Candidates are what is legal at the place, the likeliest first. One slip is forgiven in a word
    of up to five letters, two in up to eight, three in a longer one; neighbours swapped are one.
    """
    written = word.lower()
    if not written or len(written) > _LONGEST:
        return None
    letters = set(written)
    best, fewest, alike = None, 1 + (len(written) > 5) + (len(written) > 8), -1
    for candidate in candidates:
        right = candidate.lower()
        # Cheaper than counting slips: a letter that the candidate lacks is one slip at least.
        if abs(len(right) - len(written)) > fewest or len(letters.difference(right)) > fewest:
            continue
        if _another_word(written, right) or _turns_round(written, right):
            continue
        slips = _slips(written, right)
        if sorted(written) == sorted(right):
            slips = min(slips, 1)  # all letters there, out of order: `wear` for `ware`
        elif len(written) < 3 and len(right) < 3:
            continue  # of two letters one is half the word
        # Of two equally near words the one that begins more alike is likelier, then the first.
        pairs = zip(written, right, strict=False)
        begins = len([*takewhile(lambda pair: pair[0] == pair[1], pairs)])
        if slips < len(right) and (slips < fewest or (slips == fewest and begins > alike)):
            best, fewest, alike = candidate, slips, begins
    return best


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """The hint with the known name nearest to `word`, empty if none is near."""
    near = nearest(word, sorted(known))
    return f"did you mean {near}?" if near else ""


def _turns_round(written: str, right: str) -> bool:
    """True where the change would turn round what is said, which is no slip of the hand.

    `unseen` is never a slip for `seen`, `power on` none for `power off`, `half the time` none for
    `all the time`.
    """
    for prefix in ("un", "non", "no ", "not "):
        if written.removeprefix(prefix) == right or right.removeprefix(prefix) == written:
            return written != right
    if " " not in written:
        return False
    pairs = [p for p in zip(written.split(), right.split(), strict=False) if p[0] != p[1]]
    return any(one[0] != other[0] or {one, other} <= _SMALL_WORDS for one, other in pairs)


def _another_word(written: str, right: str) -> bool:
    """True where the first letters tell that no slip of the hand makes one of the other.

    `set` is no slip for `wet`, nor `nested` for `vented`; `kuard` and `gguard` are for `guard`.
    """
    if written[0] == right[0] or written[:2] == right[1::-1]:
        return False
    return len(written) < 5 or written[1:] not in (right, right[1:])


def _slips(written: str, right: str) -> int:
    """Letters left out, put in, changed or swapped with their neighbour, at the fewest."""
    before: list[int] = []
    row = list(range(len(right) + 1))
    for i, letter in enumerate(written, 1):
        above, row = row, [i]
        for j, other in enumerate(right, 1):
            slips = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == right[j - 2] and written[i - 2] == other:
                slips = min(slips, before[j - 2] + 1)
            row.append(slips)
        before = above
    return row[-1]


# So many letters of a line to write; a line that is cut is none.
_MOST_OF_A_LINE = 160
_MOST_WITH_REMARK = 300
# Past this a list of words helps nobody.
_MOST = 5
# Words that only link: they are named after all others. `and` is never worth naming.
_LINKS = frozenset("AT FOR TO IN ON OF BY OVER WITH CONE TYPE DURING PIECES DASH".split())
# The series of a cone may be said wherever a cone may, and seldom is.
_SERIES = frozenset(
    "LARGE SELF_SUPPORTING SMALL IRON_FREE ORTON ORTON_OLDER SEGER SK STAFFORDSHIRE".split()
)
_UNNAMED = frozenset({"AND", "NO", "NOT", "ARROW"})


def either(choices: Sequence[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    if len(choices) < 2:
        return "".join(choices)
    return ", ".join(choices[:-1]) + " or " + choices[-1]


def listed(told: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`; each once."""
    told = list(dict.fromkeys(told))
    return " and ".join(filter(None, (", ".join(told[:-1]), told[-1])))


def shown(text: str) -> str:
    """A piece of the plan between backquotes, cut where it is long."""
    return f"`{shortened(text)}`"


def to_write(lines: Iterable[str | None]) -> list[str]:
    """Whole lines between backquotes: those that are short enough to be told to the end."""
    return [
        f"`{line}`"
        for line in lines
        if line and "`" not in line and len(line) <= _MOST_WITH_REMARK
        if len(line.partition("  # ")[0]) <= _MOST_OF_A_LINE
    ]


def quoted(name: str) -> str:
    """A name in quotes, cut where it is long."""
    return f'"{shortened(name)}"'


def in_order(
    grammar: PlanGrammar, accepts: Iterable[str], rules: Iterable[str], expected: Sequence[str]
) -> list[str]:
    """Terminals that may stand at a place: the expected one, values, words, and then links.

    Within each they come in the order of the grammar. `rules` are the statements the line may be;
    `expected` is what a right line has here and further on.
    """
    order: dict[str, int] = {}
    for rule in rules:
        for terminal in grammar.terminals_of(rule):
            order.setdefault(terminal, len(order))
    first = expected[0] if expected else None
    if first in _LINKS and expected[1:2] and expected[1] in set(accepts) & grammar.phrases.keys():
        first = expected[1]

    def rank(terminal: str) -> tuple[bool, bool, bool, bool, int, str]:
        return (
            terminal != first,
            terminal in _SERIES,
            terminal in _LINKS,
            terminal not in grammar.phrases,
            order.get(terminal, len(order)),
            terminal,
        )

    return sorted(accepts, key=rank)


def may_stand(grammar: PlanGrammar, terminals: Sequence[str], expected: Sequence[str] = ()) -> str:
    """These terminals in words; empty where only a comma or nothing may stand."""
    choices: list[str] = []
    for terminal in terminals:
        if (
            terminal in _UNNAMED
            or (terminal == "CONE" and "CONE_NUMBER" in terminals)
            or (terminal in ("UNTIL", "DASH") and "TO" in terminals)
            or (terminal in _SERIES and choices)
        ):
            continue
        if terminal in grammar.phrases:
            choices.append(grammar.phrases[terminal])
        elif terminal in grammar.words:
            choice = f"`{grammar.words[terminal][0]}`"
            if list(expected[:1]) == [terminal] and not choices:
                # `to` says little alone, `to` and a temperature says how to go on.
                after = next((one for one in expected[1:2] if one not in terminals), "")
                choice += f" and {grammar.phrases[after]}" if after in grammar.phrases else ""
            choices.append(choice)
    if len(choices) > _MOST:
        return ", ".join(choices[:_MOST]) + " and others"
    return either(choices)


_UNQUOTED = re.compile(r"\w[^\s,;\"“”„#]*(?:\s+\w[^\s,;\"“”„#]*)*")
_MOST_WORDS = 8


def quoted_instead(
    grammar: PlanGrammar, code: str, at: int, section: str, sure: bool, below: str = ""
) -> tuple[str, str] | None:
    """The words from column `at` (from 0) that make a name, and the line with quotes about them.

    The line is empty where quotes alone do not make it right; None if no word stands there, or only
    a number, unless it is `sure` that a name is wanted. Behind the name of a heading may stand what
    is said `below` it: `kiln Heron electric`.
    """
    found = _UNQUOTED.match(code, at)
    if not found or not (sure or any(letter.isalpha() for letter in found[0])):
        return None
    words = list(re.finditer(r"\S+", found[0]))[:_MOST_WORDS]
    # The shortest name that leaves the rest of the line right: `watch duty potter from 15:00 ...`.
    for word in words:
        name = found[0][: word.end()]
        line = f'{code[:at]}"{name}"{code[at + len(name) :]}'
        if grammar.is_right(line, section):
            return name, " ".join(line.split())
        rest = code[at + len(name) :].strip(" ,;:")
        if below and rest and grammar.is_right(rest, below):
            return name, " ".join(line.split())
        if _names_another(grammar, line, at + len(name) + 2, section):
            return name, ""
    return None if found[0][0].isdigit() else (_up_to_a_keyword(found[0]), "")


def _names_another(grammar: PlanGrammar, line: str, end: int, section: str) -> bool:
    """True if a name that ends there lacks only the quotes of another: `ware "mugs" 6 of clay`."""
    try:
        at = grammar.how_far(line, section).at
    except OutOfSense:
        return False
    if not line[end:at].strip():
        return False
    found = _UNQUOTED.match(line, at)
    word = found[0].split()[0] if found else ""
    return bool(word) and grammar.is_right(f'{line[:at]}"{word}"{line[at + len(word) :]}', section)


def _up_to_a_keyword(text: str) -> str:
    """The words before the first that the grammar knows, or all of them."""
    words = list(re.finditer(r"\S+", text))
    for word in words[1:]:
        if trade_words().is_spelling(word[0]):
            return text[: word.start()].rstrip()
    return text
