"""Conditions are typed: syntax becomes a tree of names and kinds."""

from guardcone.condition import syntax, typed
from guardcone.condition.grammar import parse_condition
from guardcone.condition.kinds import Kind, Type, comparative_fits, comparatives_of, ordered
from guardcone.condition.rule_faults import Mistake, did_you_mean
from guardcone.condition.scope import Scope, resolve_domain, said
from guardcone.condition.typing_values import Valuer

__all__ = ["read_condition", "read_place", "read_slot"]


def read_condition(text: str, scope: Scope) -> "typed.Condition | Mistake":
    """The typed condition that `text` spells, or what is wrong with it."""
    try:
        return _Checker(text).condition(parse_condition(text), scope)
    except Mistake as mistake:
        return mistake


def read_slot(text: str, scope: Scope) -> "typed.Value | Mistake":
    """The typed value of a slot, without its braces, if a sentence can print it."""
    try:
        node = parse_condition(text)
        value = _Checker(text).value(node, scope)
        if value.type.kind is Kind.FLAG or value.type.is_many:
            message = f"a sentence cannot print {said(value.type)}"
            raise Mistake(node.start, node.end, message, "name a value")
        if value.type.kind is Kind.SUBJECT and scope.subject_of(value).title is None:
            message = f"a sentence cannot print a {value.type}"
            raise Mistake(node.start, node.end, message, "name one of its facts")
        return value
    except Mistake as mistake:
        return mistake


def read_place(text: str, scope: Scope) -> "typed.Value | Mistake":
    """The fact or subject that a finding points at."""
    try:
        node = parse_condition(text)
        value = _Checker(text).value(node, scope)
        if not isinstance(value, typed.FactOf | typed.Single | typed.It):
            message = "a finding points at a fact or at a subject"
            raise Mistake(node.start, node.end, message, "name one fact")
        if value.type.is_many:
            raise Mistake(node.start, node.end, "there may be several of these: at which one?")
        return value
    except Mistake as mistake:
        return mistake


class _Checker(Valuer):
    """Types the claims of one condition text; the values in them are the Valuer's."""

    def condition(self, node: syntax.Node, scope: Scope) -> typed.Condition:
        match node:
            case syntax.Group(inner=inner):
                return self.condition(inner, scope)
            case syntax.Negation(inner=inner):
                return typed.NotOf(self.condition(inner, scope))
            case syntax.Both(parts=parts):
                return typed.AllOf(tuple(self.condition(part, scope) for part in parts))
            case syntax.Either():
                return self._either(node, scope)
            case syntax.Compare():
                return _negate(node.negated, self._compare(node, scope))
            case syntax.OneOf():
                return _negate(node.negated, self._one_of(node, scope))
            case syntax.Presence():
                return self._presence(node, scope)
            case syntax.Mentions():
                return self._mentions(node, scope)
            case syntax.Quantified(word=word, domain=path, condition=inner):
                domain = resolve_domain(path, scope)
                within = scope.inside(scope.subject_of(domain))
                return typed.Quantified(word, domain, self.condition(inner, within))
            case _:
                return self._flag(node, scope)

    def _flag(self, node: syntax.Node, scope: Scope) -> typed.Condition:
        value = self.value(node, scope)
        if value.type.kind is not Kind.FLAG:
            message = f"{self.quoted(node)} is {said(value.type)}, which by itself says nothing"
            raise Mistake(node.start, node.end, message, "compare it with something: ... is ...")
        return typed.Flag(value)

    def _either(self, node: syntax.Either, scope: Scope) -> typed.Condition:
        parts: list[typed.Condition] = []
        word_claim: tuple[syntax.Compare, typed.Value, list[str]] | None = None
        for part in node.parts:
            if isinstance(part, syntax.Both):
                message = "`and` and `or` together can be heard in two ways"
                raise Mistake(part.start, part.end, message, "put one of them in parentheses")
            bare = part.bare if isinstance(part, syntax.Path) else None
            if word_claim and bare and bare in word_claim[1].type.words:
                claim, left, chosen = word_claim
                if scope.inner.find(bare) is not None:
                    message = f"{bare!r} is a fact and a word of {self.quoted(claim.left)}"
                    raise Mistake(part.start, part.end, message, "write is one of ..., ...")
                chosen.append(bare)
                parts[-1] = _negate(claim.negated, typed.WordIn(left, tuple(chosen)))
                continue
            if word_claim and isinstance(part, syntax.Path) and bare not in (None, *scope.names()):
                self._word(part.names[0], word_claim[0].left, word_claim[1])
            parts.append(self.condition(part, scope))
            word_claim = self._word_claim(part, parts[-1])
        return parts[0] if len(parts) == 1 else typed.AnyOf(tuple(parts))

    @staticmethod
    def _word_claim(
        node: syntax.Node, condition: typed.Condition
    ) -> tuple[syntax.Compare, typed.Value, list[str]] | None:
        inner = condition.inner if isinstance(condition, typed.NotOf) else condition
        if isinstance(node, syntax.Compare) and isinstance(inner, typed.WordIn):
            return node, inner.left, list(inner.words)
        return None

    def _compare(self, node: syntax.Compare, scope: Scope) -> typed.Condition:
        if node.word is None:
            return self._same(node, scope)
        left, right = self.pair(node.left, node.right, scope)
        self._must_match(node.left, left, node.right, right)
        sign, fits = comparative_fits(node.word.text, left.type.kind)
        if not ordered(left.type.kind):
            message = f"{self.quoted(node.left)} is {said(left.type)}, which has no order"
            raise Mistake(node.start, node.end, message, "write is or is not")
        if not fits:
            message = f"{said(left.type)} is never {self.quoted(node.word)}"
            hint = f"say {', '.join(comparatives_of(left.type.kind))}"
            raise Mistake(node.word.start, node.word.end, message, hint)
        return typed.Ordered(sign, left, right)

    def _same(self, node: syntax.Compare, scope: Scope) -> typed.Condition:
        right_path = node.right if isinstance(node.right, syntax.Path) else None
        if right_path and right_path.bare:
            left = self.value(node.left, scope)
            fact = scope.inner.find(right_path.bare)
            # A fact that is no word cannot be meant, so `state is dry` is about the word.
            if left.type.kind is Kind.WORD and (fact is None or fact.type.kind is not Kind.WORD):
                name = right_path.names[0]
                return typed.WordIn(left, (self._word(name, node.left, left),))
        left, right = self.pair(node.left, node.right, scope)
        self._must_match(node.left, left, node.right, right)
        if left.type.kind is Kind.FLAG or left.type.is_many:
            message = f"{said(left.type)} cannot be compared with `is`"
            raise Mistake(node.start, node.end, message, "write the fact alone, or with not")
        return typed.Same(left, right)

    def _one_of(self, node: syntax.OneOf, scope: Scope) -> typed.Condition:
        left = self.value(node.left, scope)
        if left.type.kind is not Kind.WORD:
            message = f"{self.quoted(node.left)} is {said(left.type)}, not a word out of a list"
            raise Mistake(node.left.start, node.left.end, message)
        chosen = tuple(self._word(name, node.left, left) for name in node.words)
        return typed.WordIn(left, chosen)

    def _word(self, name: syntax.Name, of: syntax.Node, left: typed.Value) -> str:
        if name.text not in left.type.words:
            known = left.type.words
            hint = did_you_mean(name.text, known) or f"its words are {', '.join(known)}"
            message = f"{self.quoted(of)} is never {name.text!r}"
            raise Mistake(name.start, name.end, message, hint)
        return name.text

    def _presence(self, node: syntax.Presence, scope: Scope) -> typed.Condition:
        left = node.left
        if isinstance(left, syntax.Path) and left.bare and scope.inner.find(left.bare) is None:
            subject = scope.vocabulary.subject(left.bare)
            if subject is not None and not subject.single:
                message = f"there may be more than one {subject.name}"
                raise Mistake(left.start, left.end, message, f"write count of {subject.name} is 0")
        value = self.value(left, scope)
        if not isinstance(value, typed.FactOf | typed.Single):
            message = f"{self.quoted(left)} is no fact of the plan, so it cannot be missing"
            raise Mistake(left.start, left.end, message)
        if value.type.is_many:
            message = f"{self.quoted(left)} may be many or none"
            raise Mistake(left.start, left.end, message, f"write count of {self.source(left)} is 0")
        missing = typed.Missing(value)
        return missing if node.missing else typed.NotOf(missing)

    def _mentions(self, node: syntax.Mentions, scope: Scope) -> typed.Condition:
        left = self.value(node.left, scope)
        if left.type.kind is not Kind.TEXT:
            message = f"{self.quoted(node.left)} is {said(left.type)}, not a text"
            raise Mistake(node.left.start, node.left.end, message)
        if not node.text.strip():
            raise Mistake(node.start, node.end, "every text mentions nothing")
        return typed.Mentions(left, node.text)

    def _must_match(
        self, left_node: syntax.Node, left: typed.Value, right_node: syntax.Node, right: typed.Value
    ) -> None:
        one, other = left.type, right.type
        alike = one.kind is other.kind and one.subject == other.subject
        if alike and (one.kind is not Kind.WORD or set(one.words) & set(other.words)):
            return
        message = (
            f"{self.quoted(left_node)} is {said(one)} and {self.quoted(right_node)} is "
            f"{said(other)}: they cannot be compared"
        )
        hint = _unit_lacking(left_node, right_node, one, other)
        raise Mistake(left_node.start, right_node.end, message, hint)


def _unit_lacking(left: syntax.Node, right: syntax.Node, one: Type, other: Type) -> str:
    """The hint where a bare number meets something that is no number."""
    for node, kind in ((right, one.kind), (left, other.kind)):
        if isinstance(node, syntax.Number):
            return f"write cone {node.text}" if kind is Kind.CONE else f"give {node.text} its unit"
    return ""


def _negate(negated: bool, condition: typed.Condition) -> typed.Condition:
    return typed.NotOf(condition) if negated else condition
