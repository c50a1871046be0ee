"""Properties of the condition language, over conditions and plans made at random."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from toy_kiln import STATES, VOCABULARY, Part, ToyCase

from guardcone.condition.grammar import Mistake
from guardcone.condition.kinds import QUANTITY_CLASS, Kind
from guardcone.condition.scope import Scope
from guardcone.condition.sentences import Wording
from guardcone.condition.typed import Compiler
from guardcone.condition.typing import read_condition, read_slot, read_wording
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.span import Span, Written
from guardcone.values import Cone, ConeNumber, ConeSeries, Numbering

FEW = settings(max_examples=150)
COMPILER = Compiler(VOCABULARY, {})
SUBJECTS = {subject.name: subject for subject in VOCABULARY.subjects}
PLURAL = [name for name, subject in SUBJECTS.items() if not subject.single]

_UNIT = {
    Kind.TEMPERATURE: "C",
    Kind.TEMPERATURE_DIFFERENCE: "F",
    Kind.RATE: "C/h",
    Kind.DURATION: "min",
    Kind.LENGTH: "mm",
    Kind.ANGLE: "degrees",
}
_COMPARATIVES = {
    Kind.TEMPERATURE: ["hotter than", "cooler than"],
    Kind.CONE: ["hotter than", "cooler than"],
    Kind.RATE: ["faster than", "slower than"],
    Kind.DURATION: ["longer than", "shorter than"],
    Kind.LENGTH: ["thicker than", "thinner than", "closer than"],
    Kind.MOMENT: ["earlier than", "later than"],
}
_ANY_ORDER = ["above", "below", "at least", "at most", "more than", "less than"]


def scope_of(name: str) -> Scope:
    return Scope(VOCABULARY, {}, SUBJECTS[name])


def or_mistake(read: Callable[[str, Scope], Any], text: str, subject: str) -> Any:
    """What is read of a text about this subject, or the mistake in it."""
    try:
        return read(text, scope_of(subject))
    except Mistake as mistake:
        return mistake


@st.composite
def values(draw: Any, subject: str, kind: Kind, depth: int) -> str:
    """The text of a value of this kind, asked of this subject."""
    named = [fact.name for fact in SUBJECTS[subject].facts if fact.type.kind is kind]
    choices = ["literal", *["fact"] * (3 if named else 0)]
    if depth and kind in (*_UNIT, Kind.NUMBER) and kind is not Kind.TEMPERATURE:
        choices += ["sum", "product"]
    if depth and kind is Kind.CONE:
        choices.append("step")
    if depth and kind is Kind.NUMBER:
        choices += ["count", "ratio"]
    choice = draw(st.sampled_from(choices))
    if choice == "fact":
        return draw(st.sampled_from(named))
    if choice == "sum":
        one, other = (draw(values(subject, kind, depth - 1)) for _ in "ab")
        return f"({one} {draw(st.sampled_from('+-'))} {other})"
    if choice == "product":
        one = draw(values(subject, kind, depth - 1))
        return f"({one} {draw(st.just('*'))} {draw(values(subject, Kind.NUMBER, 0))})"
    if choice == "ratio":
        return f"({draw(values(subject, kind, 0))} / {draw(values(subject, kind, 0))})"
    if choice == "step":
        way = draw(st.sampled_from(["hotter", "cooler"]))
        return f"one step {way} than {draw(values(subject, kind, 0))}"
    if choice == "count":
        other = draw(st.sampled_from(PLURAL))
        return f"count of {other}"
    amount = draw(st.integers(0, 1500))
    if kind is Kind.CONE:
        return f"cone {draw(st.sampled_from(['022', '06', '01', '1', '5½', '9', '42']))}"
    if kind is Kind.NUMBER:
        return str(amount)
    return '"mugs"' if kind is Kind.TEXT else f"{amount} {_UNIT[kind]}"


@st.composite
def conditions(draw: Any, subject: str, depth: int = 2) -> str:
    """The text of a well-typed condition about this subject."""
    facts = [fact for fact in SUBJECTS[subject].facts if not fact.type.is_many]
    choices = ["presence", "comparison", *(["join", "not", "some"] if depth else [])]
    choice = draw(st.sampled_from(choices))
    if choice == "join":
        word = draw(st.sampled_from(["and", "or"]))
        parts = [draw(conditions(subject, depth - 1)) for _ in range(draw(st.integers(2, 3)))]
        return f" {word} ".join(f"({part})" for part in parts)
    if choice == "not":
        return f"not ({draw(conditions(subject, depth - 1))})"
    if choice == "some":
        other = draw(st.sampled_from(PLURAL))
        word = draw(st.sampled_from(["some", "every"]))
        return f"{word} {other} has ({draw(conditions(other, depth - 1))})"
    fact = draw(st.sampled_from(facts))
    no = draw(st.sampled_from(["", "not "]))
    if choice == "presence":
        return f"{fact.name} is {no}{draw(st.sampled_from(['missing', 'present']))}"
    return draw(_comparisons(subject, fact, no, depth))


@st.composite
def _comparisons(draw: Any, subject: str, fact: Any, no: str, depth: int) -> str:
    kind = fact.type.kind
    if kind is Kind.FLAG:
        return f"{no}{fact.name}"
    if kind is Kind.WORD:
        return f"{fact.name} is {no}{draw(st.sampled_from(fact.type.words))}"
    if kind is Kind.SUBJECT:
        return f"{fact.name} is {no}missing"
    if kind is Kind.MOMENT:
        return f"{fact.name} is {no}{fact.name}"
    other = draw(values(subject, kind, depth))
    if kind is Kind.TEXT:
        return f"{fact.name} is {no}{other}"
    words = [*_COMPARATIVES.get(kind, []), *_ANY_ORDER, ""]
    return f"{fact.name} is {no}{draw(st.sampled_from(words))} {other}"


SPOT = Span(1, 1, 2)


@st.composite
def cases(draw: Any) -> ToyCase:
    """A toy plan with any facts missing, unreadable, bare or with a place."""
    case = ToyCase()
    for name, subject in SUBJECTS.items():
        count = draw(st.integers(0, 1 if subject.single else 2))
        case.parts[name] = [Part(span=SPOT) for _ in range(count)]
    for name, subject in SUBJECTS.items():
        for part in case.parts[name]:
            for fact in subject.facts:
                part.facts[fact.name] = draw(_facts(fact, case))
    return case


def _facts(fact: Any, case: ToyCase) -> st.SearchStrategy[Any]:
    kind = fact.type.kind
    if kind is Kind.SUBJECT:
        known = case.parts[fact.type.subject]
        if fact.type.is_many:
            return st.sampled_from([UNREADABLE, [], known, [*known, UNREADABLE]])
        return st.sampled_from([None, UNREADABLE, *known])
    if kind in QUANTITY_CLASS:
        unit = QUANTITY_CLASS[kind].units
        amounts = st.sampled_from([0.0, 1.0, 60.0, 600.0, 1e9])
        found: Any = st.builds(QUANTITY_CLASS[kind], amounts, st.sampled_from(unit))
    else:
        numbers = [ConeNumber.read(text) for text in ("022", "06", "01", "1", "42")]
        series = [ConeSeries(), ConeSeries(numbering=Numbering.SEGER)]
        found = {
            Kind.CONE: st.builds(Cone, st.sampled_from(numbers), st.sampled_from(series)),
            Kind.NUMBER: st.sampled_from([0.0, 1.0, 24.0]),
            Kind.TEXT: st.sampled_from(["mugs", ""]),
            Kind.FLAG: st.booleans(),
            Kind.WORD: st.sampled_from(STATES),
            Kind.MOMENT: st.sampled_from([datetime(1, 1, 1), datetime(9999, 12, 31)]),
        }[kind]
    return found | st.builds(Written, found, st.just(SPOT)) | st.sampled_from([None, UNREADABLE])


@st.composite
def asked(draw: Any) -> tuple[str, str, ToyCase]:
    """A subject, a condition about it, and a plan to ask it of."""
    subject = draw(st.sampled_from(sorted(SUBJECTS)))
    return subject, draw(conditions(subject)), draw(cases())


def _test(subject: str, text: str) -> Any:
    return COMPILER.value(read_condition(text, scope_of(subject)))


@FEW
@given(asked())
def test_a_well_typed_condition_never_raises(question: tuple[str, str, ToyCase]) -> None:
    """Any condition that types gives True, False or unknown of any plan."""
    subject, text, case = question
    test = _test(subject, text)
    for part in case.parts[subject]:
        assert test(case, part) in (True, False, None)


@FEW
@given(asked(), st.data())
def test_an_unreadable_line_never_makes_a_claim(
    question: tuple[str, str, ToyCase], data: st.DataObject
) -> None:
    """Making one more fact unreadable leaves a verdict as it was or makes it unknown."""
    subject, text, case = question
    test = _test(subject, text)
    before = [test(case, part) for part in case.parts[subject]]
    everything = [
        (part, fact) for parts in case.parts.values() for part in parts for fact in part.facts
    ]
    if everything:
        part, fact = data.draw(st.sampled_from(everything))
        part.facts[fact] = UNREADABLE
    after = [test(case, part) for part in case.parts[subject]]

    assert all(new is old or new is None for old, new in zip(before, after, strict=True))


WORDS = "guide guard target wall state damp is not missing and or ( ) than hotter one of some ware"
SCRAPS = [*WORDS.split(), "has", "cone 06", "12 mm", "60 C/h", '"a"', "5", "+", "-", "*", "/", ","]
SCRAPS += ["witness set", "kiln", "{", "}", "every", "count", "steps", "from"]


@settings(max_examples=400)
@given(
    st.text() | st.lists(st.sampled_from(SCRAPS)).map(" ".join), st.sampled_from(["ware", "kiln"])
)
def test_any_text_gives_a_condition_or_a_mistake_with_a_place(text: str, subject: str) -> None:
    """Whatever stands in a rule file is typed or answered at a place within it, never a crash."""
    for read, holds in ((read_condition, True), (read_slot, False)):
        result = or_mistake(read, text, subject)
        if isinstance(result, Mistake):
            assert 0 <= result.start < result.end <= max(len(text), 1)
            assert result.message
        else:
            assert (result.type.kind is Kind.FLAG) is holds


@settings(max_examples=200)
@given(st.text(alphabet="{} ab.wal") | st.lists(st.sampled_from(SCRAPS)).map(" ".join))
def test_any_sentence_is_read_or_answered(text: str) -> None:
    """A sentence with any braces in it gives a wording or a mistake with a place."""
    result = or_mistake(read_wording, text, "ware")
    if isinstance(result, Mistake):
        assert 0 <= result.start < result.end <= max(len(text), 1)
    else:
        assert isinstance(result, Wording)
