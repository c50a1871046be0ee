"""Room: the rule book; here rules and limits become one book in force, compiled."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from attrs import evolve, field, frozen

from guardcone.rulebook.compiling import Compiler, Test
from guardcone.rulebook.limit import Limit
from guardcone.rulebook.rule import Consequence, Rule
from guardcone.rulebook.vocabulary import Subject, Vocabulary
from guardcone.rulebook.wording import Words
from guardcone.span import Span

__all__ = ["CompiledRule", "LimitChange", "Pointer", "RuleBook", "RuleChange"]

Pointer = tuple[Callable[[Any, Any, Any], Span | None], Callable[[Any, Any, Any], Any]]


@frozen
class CompiledRule:
    """A rule as closures. `test` takes (case, instance, instance); a pointer gives place and value.

    `needs` are the subjects of which a plan must have at least one for the rule to be asked.
    `built_in` is there for a danger of which a studio moved a limit: the same rule with the limits
    of the book.
    """

    rule: Rule
    consequence: Consequence
    test: Test
    at: tuple[Pointer, ...]
    finding: Words
    say: Words
    write: Words | None
    repair_at: tuple[Pointer, ...]
    needs: tuple[Subject, ...]
    built_in: "CompiledRule | None" = None


@frozen
class RuleChange:
    """What a studio makes of a rule: another consequence, or None to turn it off; and why.

    `place` says where, as ``studio.yaml:12``; empty where no file says it.
    """

    consequence: Consequence | None
    reason: str
    place: str = ""


@frozen
class LimitChange:
    """The value a studio gives a limit, of the limit's own kind, and where it says so."""

    value: Any
    place: str = ""


@frozen
class RuleBook:
    """Rules and limits in force; compiled when made.

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
    by_subject: tuple[tuple[Subject, tuple[CompiledRule, ...]], ...] = field(
        init=False, repr=False, eq=False
    )

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "by_subject", _compile(self))

    def rule(self, name: str) -> Rule | None:
        """The rule of this name, None if the book has none such."""
        return next((rule for rule in self.rules if rule.name == name), None)

    def limit(self, name: str) -> Limit | None:
        """The limit of this name as it is in force, None if the book has none such."""
        return next((limit for limit in self.limits if limit.name == name), None)

    def consequence(self, rule: Rule) -> Consequence | None:
        """The consequence in force, None if the rule is turned off."""
        change = self.changes.get(rule.name)
        return change.consequence if change else rule.consequence

    def with_overrides(
        self, limits: Mapping[str, LimitChange], changes: Mapping[str, RuleChange]
    ) -> "RuleBook":
        """The book with other values of limits and other consequences of rules.

        Raises ValueError for a name the book does not have, a value outside a limit's range or of
        another kind, a change without a reason, and for a danger made less.
        """
        for name, change in changes.items():
            rule = self.rule(name)
            if rule is None:
                raise ValueError(f"there is no rule {name!r}")
            if not change.reason.strip():
                raise ValueError(f"the change of {name!r} gives no reason")
            danger = rule.consequence is Consequence.DANGER
            if danger and change.consequence is not Consequence.DANGER:
                raise ValueError(f"{name!r} is a danger, which may be explained but not hidden")
        for name, setting in limits.items():
            limit = self.limit(name)
            if limit is None:
                raise ValueError(f"there is no limit {name!r}")
            if not limit.takes(setting.value):
                raise ValueError(f"{name!r} must lie between {limit.least} and {limit.most}")
        changed = tuple(_changed(limit, limits.get(limit.name)) for limit in self.limits)
        return evolve(self, limits=changed, changes={**self.changes, **changes})


def _changed(limit: Limit, change: LimitChange | None) -> Limit:
    if change is None:
        return limit
    return evolve(limit, value=change.value, changed_at=change.place, built_in=limit.value)


def _compile(book: RuleBook) -> tuple[tuple[Subject, tuple[CompiledRule, ...]], ...]:
    compiler = Compiler(book.vocabulary, {limit.name: limit.value for limit in book.limits})
    moved = {limit.name for limit in book.limits if limit.built_in is not None}
    built_in = Compiler(
        book.vocabulary,
        {
            limit.name: limit.value if limit.built_in is None else limit.built_in
            for limit in book.limits
        },
    )
    groups: dict[str, list[CompiledRule]] = {}
    for rule in book.rules:
        consequence = book.consequence(rule)
        if consequence is not None:
            compiled = _compile_rule(rule, consequence, compiler, book.vocabulary)
            if consequence is Consequence.DANGER and not moved.isdisjoint(rule.limits):
                same = _compile_rule(rule, consequence, built_in, book.vocabulary)
                compiled = evolve(compiled, built_in=same)
            groups.setdefault(rule.concerns, []).append(compiled)
    return tuple(
        (subject, tuple(groups[subject.name]))
        for subject in book.vocabulary.subjects
        if subject.name in groups
    )


def _compile_rule(
    rule: Rule, consequence: Consequence, compiler: Compiler, vocabulary: Vocabulary
) -> CompiledRule:
    def pointers(values: Iterable[Any]) -> tuple[Pointer, ...]:
        return tuple((compiler.place(value), compiler.value(value)) for value in values)

    needed = (vocabulary.subject(name) for name in rule.needs)
    return CompiledRule(
        rule=rule,
        consequence=consequence,
        test=compiler.condition(rule.fails_when),
        at=pointers(rule.at),
        finding=rule.finding.compiled(compiler),
        say=rule.repair.say.compiled(compiler),
        write=rule.repair.write.compiled(compiler) if rule.repair.write else None,
        repair_at=pointers(rule.repair.places),
        needs=tuple(subject for subject in needed if subject is not None),
    )
