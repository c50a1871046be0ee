"""What may stand at a place of a line, said in few words, the likeliest first."""

from collections.abc import Iterable, Sequence

from guardcone.language.grammar import PlanGrammar

__all__ = ["either", "in_order", "may_stand", "quoted", "shown"]

# Past this a list of words helps nobody.
_MOST = 5
# Words that only link: they are named after all others. `and` is never worth naming.
_LINKS = frozenset("AT FOR TO IN ON OF BY OVER WITH CONE TYPE DURING PIECES DASH".split())
# The series of a cone may be said wherever a cone may, and seldom is.
_SERIES = frozenset(
    "LARGE SELF_SUPPORTING SMALL IRON_FREE ORTON ORTON_OLDER SEGER SK STAFFORDSHIRE".split()
)
_UNNAMED = frozenset({"AND", "NO", "NOT", "ARROW"})
_LONGEST_QUOTED = 40


def either(choices: Sequence[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    if len(choices) < 2:
        return "".join(choices)
    return ", ".join(choices[:-1]) + " or " + choices[-1]


def shown(text: str) -> str:
    """A piece of the plan between backquotes, cut where it is long."""
    return f"`{_cut(text)}`"


def quoted(name: str) -> str:
    """A name in quotes, cut where it is long."""
    return f'"{_cut(name)}"'


def _cut(text: str) -> str:
    return text if len(text) <= _LONGEST_QUOTED else text[: _LONGEST_QUOTED - 1] + "…"


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
