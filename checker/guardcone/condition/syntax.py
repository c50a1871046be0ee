"""The parts of a condition as written, before their kinds are known."""

from attrs import frozen

__all__ = [
    "Both",
    "Compare",
    "Cone",
    "Count",
    "Either",
    "Group",
    "Measure",
    "Mentions",
    "Name",
    "Negation",
    "NextCone",
    "Node",
    "Number",
    "OneOf",
    "Operation",
    "Path",
    "Presence",
    "Quantified",
    "Steps",
    "Text",
]


@frozen
class Node:
    """A stretch of the condition, from character `start` up to `end`, counted from 0."""

    start: int
    end: int


@frozen
class Name(Node):
    """One name: a fact, a limit, a word of a list, or the words of a subject's name."""

    text: str


@frozen
class Path(Node):
    """`matures-to of clay of ware`: names as written."""

    names: tuple[Name, ...]

    @property
    def bare(self) -> str | None:
        """The name, if this is one name and no more."""
        return self.names[0].text if len(self.names) == 1 else None


@frozen
class Measure(Node):
    """An amount with a unit, as written."""

    text: str


@frozen
class Cone(Node):
    """`cone 06`, as written."""

    text: str


@frozen
class Number(Node):
    """A bare number."""

    text: str


@frozen
class Text(Node):
    """Words between quotes, without them."""

    text: str


@frozen
class Operation(Node):
    """`left sign right`, the sign one of + - * /."""

    sign: str
    left: Node
    right: Node


@frozen
class Group(Node):
    """Something in parentheses."""

    inner: Node


@frozen
class Steps(Node):
    """`steps from a to b`."""

    first: Node
    last: Node


@frozen
class NextCone(Node):
    """`one step hotter than a`."""

    way: Name
    cone: Node


@frozen
class Count(Node):
    """`count of ware`."""

    domain: Path


@frozen
class Compare(Node):
    """`a is not hotter than b`; `word` is the comparative, None for plain `is`."""

    left: Node
    negated: bool
    word: Name | None
    right: Node


@frozen
class OneOf(Node):
    """`a is one of damp, leather-hard`."""

    left: Node
    negated: bool
    words: tuple[Name, ...]


@frozen
class Presence(Node):
    """`a is missing`, `a is present`."""

    left: Node
    missing: bool


@frozen
class Mentions(Node):
    """`a mentions "lustre"`, capital or small letters alike."""

    left: Node
    text: str


@frozen
class Negation(Node):
    """`not a`."""

    inner: Node


@frozen
class Both(Node):
    """`a and b and c`."""

    parts: tuple[Node, ...]


@frozen
class Either(Node):
    """`a or b or c`."""

    parts: tuple[Node, ...]


@frozen
class Quantified(Node):
    """`some ware has (a)`, `every ware has (a)`."""

    word: str
    domain: Path
    condition: Node
