"""What a person says of a firing that is to be begun: its kind, and the cone it is to reach."""

import re
from collections.abc import Iterator, Sequence
from functools import cache
from shlex import quote

from attrs import evolve, frozen

from guardcone.firing.tables import table
from guardcone.language import ENDING
from guardcone.language.grammar import plan_grammar
from guardcone.language.nearest import either, nearest
from guardcone.rulebook.book import RuleBook
from guardcone.values import Cone, ConeNumber, Temperature, read_quantity

__all__ = ["Asked", "Goal", "NotUnderstood", "asked", "begin_line"]

Goal = Cone | Temperature

# Words that say nothing here: `glaze firing to cone 6`.
_LITTLE = frozenset("a an at for firing fire fired in the to".split())
_SPOKEN = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen".split()
_FILE = re.compile(r".*(\.[a-z]\w*|[/\\].*)", re.IGNORECASE | re.DOTALL)
_LONGEST_PHRASE = 3


class NotUnderstood(Exception):
    """What is said can't be begun; the message is one line with what to type."""


@frozen(repr=False)
class Kind:
    """A kind of firing as rules/tables/firing_kinds.csv has it.

    `name` is the word of the grammar. The ends are cones, temperatures, limits of the rule book
    by their name, or empty where such a firing goes to neither.
    """

    name: str
    usual: str
    coolest: str
    hottest: str

    def ends(self, book: RuleBook) -> tuple[Goal, Goal]:
        """The coolest and the hottest that such a firing goes to."""
        coolest, hottest = (_end(one, book) for one in (self.coolest, self.hottest))
        return coolest, hottest


@frozen(repr=False)
class Asked:
    """What is to be begun, as far as it is said.

    `word` is how the person calls the kind: lustre for overglaze.
    """

    kind: Kind | None = None
    word: str = ""
    goal: Goal | None = None
    file: str = ""


def _end(text: str, book: RuleBook) -> Goal:
    limit = book.limit(text)
    found = limit.value if limit else _goal(text)
    assert isinstance(found, Cone | Temperature)
    return found


@cache
def kinds() -> dict[str, Kind]:
    """The kinds of firing by the word of the grammar, in the order of the table."""
    columns = ("kind", "usual", "coolest", "hottest")
    found = (Kind(*(row[name] for name in columns)) for row in table("firing_kinds"))
    return {kind.name: kind for kind in found}


@cache
def _words() -> dict[str, tuple[str, Kind]]:
    """What a kind may be called, each with the word that a plan says and the kind."""
    grammar, found = plan_grammar(), dict[str, tuple[str, Kind]]()
    for terminal in grammar.terminals_of("firing_kind"):
        kind = kinds()[terminal.lower()]
        spellings = grammar.words[terminal]
        found |= {_letters(one): (one, kind) for one in spellings}
    return found


def _letters(text: str) -> str:
    return re.sub(r"[\W_]", "", text.casefold())


def begin_line(said: Asked) -> str:
    """The command that begins such a plan."""
    goal = said.goal.plain() if isinstance(said.goal, Temperature) else str(said.goal or "")
    file = quote(said.file) if said.file else ""
    return " ".join(filter(None, ("guardcone start", said.word, goal, file)))


def asked(words: Sequence[str], book: RuleBook) -> Asked:
    """What these words of a command line say; NotUnderstood where it is too little or wrong."""
    said, rest = Asked(), list[str]()
    for word in words:
        is_file = _FILE.fullmatch(word) and _goal(word) is None and not word[:1].isdigit()
        if not (is_file or word.casefold().endswith(ENDING)):
            rest += word.split()
        elif said.file:
            raise NotUnderstood(f"two files are named, {said.file} and {word}: begin one at a time")
        else:
            said = evolve(said, file=word)
    unknown: list[str] = []
    for phrase, found in _phrases(rest):
        match found:
            case (str(word), Kind() as kind):
                _once(said.word, word, "kinds of firing")
                said = evolve(said, word=word, kind=kind)
            case Cone() | Temperature():
                _once(said.goal, found, "goals")
                said = evolve(said, goal=found)
            case _:
                unknown.append(phrase)
    if unknown:
        raise NotUnderstood(_unknown(unknown[0], said))
    _complete(said, book)
    return said


def _once(before: object, now: object, what: str) -> None:
    if before and before != now:
        raise NotUnderstood(f"two {what} are named, {before} and {now}: choose one")


def _phrases(words: list[str]) -> Iterator[tuple[str, object]]:
    """Each phrase of the words with what it says, the longest first; None for an unknown one."""
    at = 0
    while at < len(words):
        for length in range(min(_LONGEST_PHRASE, len(words) - at), 0, -1):
            phrase = " ".join(words[at : at + length])
            found = _words().get(_letters(phrase)) or _goal(phrase)
            if found is not None:
                break
        if found is not None or phrase.casefold() not in _LITTLE | {"cone"}:
            yield phrase, found
        at += length


def _goal(text: str) -> Goal | None:
    """A cone, as `cone 06`, `6`, `o6` and `oh six` are meant, or a temperature with its unit."""
    number = re.sub(r"^(cone|c|∆|△|\^)[\s-]*(?=.)", "", text.strip().casefold())
    number = re.sub(r"^(oh|o|zero)[\s-]*(?=.)", "0", number)
    zero, word = number[:1] == "0", number.removeprefix("0")
    if word in _SPOKEN:
        number = f"{'0' * zero}{_SPOKEN.index(word) + 1}"
    try:
        return Cone(ConeNumber.read(number))
    except ValueError:
        pass
    try:
        return read_quantity(Temperature, text)
    except ValueError:
        return None


def _unknown(phrase: str, said: Asked) -> str:
    """What to type in place of a word that says nothing here."""
    near = nearest(phrase, (word for word, _ in _words().values()))
    if near:
        return f"{phrase!r} is no kind of firing: {begin_line(evolve(said, word=near))}"
    usual = evolve(said, word=said.word or "glaze", goal=_usual(said.kind or kinds()["glaze"]))
    if any(letter.isdigit() for letter in phrase):
        line = begin_line(usual)
        return f"{phrase!r} is no cone, and a temperature needs its unit, C or F: {line}"
    if said.file:
        line = begin_line(evolve(said, file=f"{phrase} {said.file}"))
        return f"{phrase!r} says nothing here, and a name with blanks stands in quotes: {line}"
    line = begin_line(evolve(usual, file=f"{phrase}{ENDING}"))
    return (
        f"{phrase!r} is no kind of firing, which are {either([*kinds()])}, no cone, and no file "
        f"that ends in {ENDING}: {line}"
    )


def _usual(kind: Kind) -> Goal | None:
    return _goal(kind.usual)


def _complete(said: Asked, book: RuleBook) -> None:
    """Refuse what is half said, and a goal that makes no sense for its kind."""
    kind, goal = said.kind, said.goal
    if kind is None and goal is None:
        return
    if kind is None:
        fit = [one.name for one in kinds().values() if _fits(goal, one, book)]
        told = f", such as {either(fit)}" if fit else ""
        line = begin_line(evolve(said, word=(*fit, "glaze")[0], goal=goal if fit else _goal("6")))
        raise NotUnderstood(f"say what kind of firing goes to {goal}{told}: {line}")
    if _fits(goal, kind, book):
        return
    if not kind.usual:
        raise NotUnderstood(f"{said.word} goes to no cone: {begin_line(evolve(said, goal=None))}")
    twin = goal.number.zero_twin if isinstance(goal, Cone) else None
    meant = Cone(twin) if twin and _fits(Cone(twin), kind, book) else _usual(kind)
    line = begin_line(evolve(said, goal=meant))
    coolest, hottest = kind.ends(book)
    told = f"a {said.word} firing ends between {coolest} and {hottest}"
    if goal is None:
        raise NotUnderstood(f"{told}; say where: {line}")
    raise NotUnderstood(f"{told}, which {goal} does not: {line}")


def _fits(goal: Goal | None, kind: Kind, book: RuleBook) -> bool:
    """True for a goal that makes sense for a kind of firing, and for none where it needs none."""
    if not kind.usual or goal is None:
        return goal is None and not kind.usual
    coolest, hottest = kind.ends(book)
    if isinstance(goal, Cone) and isinstance(coolest, Cone) and isinstance(hottest, Cone):
        return coolest.number <= goal.number <= hottest.number
    if isinstance(goal, Temperature) and isinstance(coolest, Temperature):
        assert isinstance(hottest, Temperature)
        return coolest.celsius <= goal.celsius <= hottest.celsius
    return False
