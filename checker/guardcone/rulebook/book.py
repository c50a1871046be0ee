"""Rules and limits become one book in force, compiled; a studio is what applies to its plans.

What a plan names and does not describe is filled in where the name is looked up.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import cached_property
from itertools import combinations, product
from typing import Any

from attrs import evolve, field, frozen

from guardcone.condition import typed
from guardcone.condition.typed import Closure, Compiler
from guardcone.condition.vocabulary import Subject, Vocabulary
from guardcone.language import SourceText
from guardcone.plan import Described, Plan, read_plan
from guardcone.plan.room import Room, with_rooms
from guardcone.rulebook.rule import Consequence, Level, Limit, Rule, RuleFault

__all__ = [
    "CompiledLevel",
    "Crossing",
    "LimitChange",
    "RuleBook",
    "RuleChange",
    "Studio",
    "StudioFaults",
    "Trial",
]


class Crossing(ValueError):
    """Limits or weights of a studio by which a level that is worse would be told as less.

    `limits` are the names of the limits that cross.
    """

    def __init__(self, message: str, *limits: str) -> None:
        super().__init__(message)
        self.limits = limits


@frozen(repr=False)
class CompiledLevel:
    """A level in force: its weight, and the closure that tests a case and an instance.

    `built_in` is there for a danger of which a studio moved a limit: the same level with the limits
    of the book. What is told is compiled where it is told, by `compiler`.
    """

    level: Level
    consequence: Consequence
    test: Closure
    compiler: Compiler
    built_in: "CompiledLevel | None" = None


@frozen(repr=False)
class RuleChange:
    """What a studio makes of a rule: another weight for some of its levels, None to turn one off.

    `weights` names the levels that change by the weight they have in the book. `place` says where,
    as ``studio.yaml:12``; empty where no file says it.
    """

    weights: Mapping[Consequence, Consequence | None]
    reason: str
    place: str = ""

    def __str__(self) -> str:
        """As people read it: `off in place of doubt`."""
        told = (
            f"{new.value if new else 'off'} in place of {old.value}"
            for old, new in self.weights.items()
        )
        return ", ".join(told)


@frozen(repr=False)
class LimitChange:
    """The value a studio gives a limit, of the limit's own kind, and where it says so."""

    value: Any
    place: str = ""


# The rules of each subject, and of each rule its levels in force, the worst first.
BySubject = tuple[tuple[Subject, tuple[tuple[Rule, tuple[CompiledLevel, ...]], ...]], ...]


# Not slotted: older attrs know no cached property on a slotted class.
@frozen(slots=False, repr=False)
class RuleBook:
    """Rules and limits in force; compiled when the first plan is checked.

    `own` are the names of the rules that a studio wrote, `studio` is the name of the file by which
    a studio changed the book, and `may_accept` the people who may accept a danger there.
    """

    vocabulary: Vocabulary
    limits: tuple[Limit, ...]
    rules: tuple[Rule, ...]
    changes: Mapping[str, RuleChange] = field(factory=dict)
    own: frozenset[str] = frozenset()
    studio: str = ""
    may_accept: tuple[str, ...] = ()

    @cached_property
    def by_subject(self) -> BySubject:
        """The rules to ask of each subject."""
        return _compile(self)

    @property
    def own_files(self) -> tuple[str, ...]:
        """The files of the rules that a studio wrote, each once."""
        files = (rule.file for rule in self.rules if rule.name in self.own)
        return tuple(dict.fromkeys(files))

    def rule(self, name: str) -> Rule | None:
        """The rule of this name, None if the book has none such."""
        return next((rule for rule in self.rules if rule.name == name), None)

    def limit(self, name: str) -> Limit | None:
        """The limit of this name as it is in force, None if the book has none such."""
        return next((limit for limit in self.limits if limit.name == name), None)

    def consequence(self, rule: Rule, level: Level) -> Consequence | None:
        """The weight of a level in force, None if it is turned off."""
        change = self.changes.get(rule.name)
        own = level.consequence
        return change.weights.get(own, own) if change else own

    def weights(self, rule: Rule) -> tuple[Consequence, ...]:
        """The weights in force of a rule, the worst first, each once; none if it is off."""
        found = (self.consequence(rule, level) for level in rule.levels)
        return tuple(dict.fromkeys(weight for weight in found if weight is not None))

    def with_overrides(
        self, limits: Mapping[str, LimitChange], changes: Mapping[str, RuleChange]
    ) -> "RuleBook":
        """The book with other values of limits and other weights of rules.

        Raises ValueError for a name the book does not have, a value outside a limit's range or of
        another kind, a change without a reason, and for a danger made less; Crossing for limits or
        weights by which a lighter level could never be told.
        """
        for name, change in changes.items():
            rule = self.rule(name)
            if rule is None:
                raise ValueError(f"there is no rule {name!r}")
            if not change.reason.strip():
                raise ValueError(f"the change of {name!r} gives no reason")
            danger = Consequence.DANGER
            if danger in rule.weights and change.weights.get(danger, danger) is not danger:
                raise ValueError(f"{name!r} is a danger, which may be explained but not hidden")
        for name, setting in limits.items():
            limit = self.limit(name)
            if limit is None:
                raise ValueError(f"there is no limit {name!r}")
            if not limit.takes(setting.value):
                raise ValueError(f"{name!r} must lie between {limit.least} and {limit.most}")
        changed = tuple(
            evolve(limit, value=new.value, changed_at=new.place, built_in=limit.value)
            if (new := limits.get(limit.name))
            else limit
            for limit in self.limits
        )
        book = evolve(self, limits=changed, changes={**self.changes, **changes})
        for rule in book.rules:
            if rule.name in changes:
                _refuse_crossed_weights(book, rule)
        if limits:
            _refuse_crossed_limits(book, limits)
        return book


# Runs the examples of the rules with these names in a book, and tells what came out wrong.
Trial = Callable[[RuleBook, Collection[str]], "tuple[RuleFault, ...]"]


@frozen(repr=False)
class StudioFaults:
    """Everything that is wrong with a studio's file and the files it names."""

    faults: tuple[RuleFault, ...]


@frozen(repr=False)
class Studio:
    """What applies to the plans of one folder: the book in force, and what plans may lean on.

    `file` is what messages call the studio's file, empty where no such file applies.
    """

    book: RuleBook
    file: str = ""
    described: Described = field(factory=Described)
    rooms: tuple[Room, ...] = ()

    def read_plan(self, source: SourceText) -> Plan:
        """The plan in `source` with what it leans on filled in; nothing is raised."""
        return self.completed(read_plan(source, self.described))

    def completed(self, plan: Plan) -> Plan:
        """The plan, read with `described`, and what is fitted by the studio's file filled in."""
        others = tuple(self.completed(other) for other in plan.otherwise)
        return with_rooms(evolve(plan, otherwise=others), self.rooms)


def _refuse_crossed_weights(book: RuleBook, rule: Rule) -> None:
    """Levels are asked in the book's order, so none may weigh less than one asked after it."""
    last: Consequence | None = None
    for level in rule.levels:
        weight = book.consequence(rule, level)
        if weight is not None and last is not None and not last.at_least(weight):
            told = f"{last.value} where it is worse than at {weight.value}"
            raise Crossing(f"{rule.name!r} would weigh {told}")
        last = weight or last


def _refuse_crossed_limits(book: RuleBook, moved: Iterable[str]) -> None:
    """Of two levels that differ only in a limit, the worse must begin further out."""
    values = {limit.name: limit.value for limit in book.limits}
    for rule in book.rules:
        if rule.limits.isdisjoint(moved):
            continue
        for worse, lighter in combinations(rule.levels, 2):
            if worse.consequence is lighter.consequence:
                continue
            for sign, far, near in _only_apart(worse.condition, lighter.condition):
                one, other = values[far], values[near]
                if one < other if sign.startswith(">") else one > other:
                    names = (near, far)
                    told = " and ".join(map(repr, names))
                    raise Crossing(f"the limits {told} of {rule.name!r} would cross", *names)


def _only_apart(worse: typed.Value, lighter: typed.Value) -> Iterator[tuple[str, str, str]]:
    """The sign and the two limits of comparisons by which alone the worse condition is narrower."""
    parts, others = (
        one.parts if isinstance(one, typed.AllOf) else (one,) for one in (worse, lighter)
    )
    for pair in product(parts, others):
        match pair:
            case (
                typed.Operation(sign=sign, operands=(left, typed.LimitOf(name=far))),
                typed.Operation(sign=other_sign, operands=(other, typed.LimitOf(name=near))),
            ) if (sign, left) == (other_sign, other) and far != near:
                if all(part in others for part in parts if part is not pair[0]):
                    yield sign, far, near


def _compile(book: RuleBook) -> BySubject:
    values = {limit.name: limit.value for limit in book.limits}
    moved = {limit.name: limit.built_in for limit in book.limits if limit.built_in is not None}
    compiler = Compiler(book.vocabulary, values)
    built_in = Compiler(book.vocabulary, values | moved)
    groups: dict[str, list[tuple[Rule, tuple[CompiledLevel, ...]]]] = {}
    for rule in book.rules:
        levels = []
        for level in rule.levels:
            weight = book.consequence(rule, level)
            if weight is None:
                continue
            as_in_book = None
            if weight is Consequence.DANGER and not level.limits.isdisjoint(moved):
                test = built_in.value(level.condition)
                as_in_book = CompiledLevel(level, weight, test, built_in)
            test = compiler.value(level.condition)
            levels.append(CompiledLevel(level, weight, test, compiler, as_in_book))
        if levels:
            groups.setdefault(rule.concerns, []).append((rule, tuple(levels)))
    return tuple(
        (subject, tuple(groups[subject.name]))
        for subject in book.vocabulary.subjects
        if subject.name in groups
    )
