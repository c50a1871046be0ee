"""How a rule of the built-in book must be written, whoever writes it."""

import re
from collections.abc import Iterator
from itertools import chain

import pytest
from the_book import BOOK, SOUND, check_text

from guardcone.documents import document_path, document_text
from guardcone.engine.example_runs import run_example
from guardcone.language import split_lines
from guardcone.language.filling_in import is_to_fill_in, still_to_fill_in
from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.rulebook.kinds import Kind
from guardcone.rulebook.library import RULE_FILES
from guardcone.rulebook.limit import Limit
from guardcone.rulebook.limit_file import CONFIDENCES
from guardcone.rulebook.rule import Example, Rule
from guardcone.rulebook.text_faults import TextFaultPage, text_fault_pages
from guardcone.rulebook.wording import Wording

# What a person reads in one go at the kiln, and on the page of a rule.
MOST_WORDS = {"finding": 50, "repair": 60, "why": 150, "accept when": 60}
LEAST_WORDS_OF_A_REASON = 12

# No plan is called safe and no ware fit for food; such a word stands only where that is denied.
CLAIM = re.compile(r"\b(safe|safely|food[- ]safe|risk-free)\b", re.IGNORECASE)
DENIAL = re.compile(
    r"\b(not?|never|nothing|nobody|none|neither|cannot|can't|isn't|only|unless|until|before)\b",
    re.IGNORECASE,
)
# What a slot leaves behind that came out empty or wrong; `...` in a line to fill in is meant.
GAP = re.compile(r"[{}]|(?<!\.)\.\.(?!\.)|\s[.,](?!\.\.)|\bNone\b|not stated")
SCARE = re.compile(r"\bwill (surely |certainly )?(explode|blow up|burst)\b", re.IGNORECASE)


def spoken(wording: Wording) -> str:
    """A sentence with something in its slots: `Heron` stands for whatever may be printed there.

    A text that stands where a sentence would is one: "Take it out. {advice on the load}".
    """
    told = ""
    for at, piece in enumerate(wording.pieces):
        if isinstance(piece, str):
            told += piece
            continue
        after = wording.pieces[at + 1] if at + 1 < len(wording.pieces) else ""
        begins = not told.strip() or told.rstrip().endswith(".")
        ends = isinstance(after, str) and re.match(r"\s*($|[A-Z])", after)
        is_sentence = piece.value.type.kind is Kind.TEXT and begins and ends
        told += "Heron." if is_sentence else "Heron"
    return told


def sentences(text: str) -> list[str]:
    """The sentences of a text; abbreviations are not used in the book."""
    return [part for part in re.split(r"(?<=[.?!])\s+", " ".join(text.split())) if part]


def texts(rule: Rule) -> Iterator[tuple[str, str]]:
    """Every text of a rule that is made of sentences, by its key."""
    yield "finding", spoken(rule.finding)
    yield "repair", spoken(rule.repair.say)
    yield "why", rule.why
    if rule.accept_when:
        yield "accept when", rule.accept_when


def failing() -> list[Example]:
    """The examples in which a rule is found."""
    return [example for rule in BOOK.rules for example in rule.fails]


every_rule = pytest.mark.parametrize("rule", BOOK.rules, ids=lambda rule: rule.name)
every_limit = pytest.mark.parametrize("limit", BOOK.limits, ids=lambda limit: limit.name)


@every_rule
def test_a_rule_has_all_its_parts(rule: Rule) -> None:
    """A kebab-case name of its own, both kinds of examples, a reason and a source."""
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", rule.name)
    assert rule.name not in text_fault_pages()
    assert rule.passes
    assert rule.fails
    assert len(rule.why.split()) >= LEAST_WORDS_OF_A_REASON
    assert rule.sources
    assert all(len(source) > 3 for source in rule.sources)


@every_rule
def test_a_rule_speaks_in_sentences(rule: Rule) -> None:
    """Sentences begin with a capital or a number and end with a full stop; no text is endless."""
    for key, text in texts(rule):
        assert text.rstrip().endswith("."), (key, text)
        for sentence in sentences(text):
            assert re.match(r"[\"“(]?[A-Z0-9°]", sentence), (key, sentence)
        assert len(text.split()) <= MOST_WORDS[key], (key, len(text.split()))
        assert "!" not in text, (key, text)


@every_rule
def test_a_rule_promises_nothing_and_scares_nobody(rule: Rule) -> None:
    """No text calls a plan safe or ware food-safe, and none says that ware will explode."""
    for key, text in (*texts(rule), *(("source", source) for source in rule.sources)):
        assert not SCARE.search(text), (key, text)
        for sentence in sentences(text):
            claim = CLAIM.search(sentence)
            assert claim is None or DENIAL.search(sentence), (key, sentence)


@pytest.mark.parametrize("example", failing(), ids=lambda example: example.id)
def test_what_is_printed_is_sentences(example: Example) -> None:
    """With the values of its example in them, finding and repair are still whole sentences."""
    for finding in run_example(example, BOOK, SOUND, check_text).found:
        for text in (finding.text, finding.repair):
            assert re.match(r"[\"“(]?[A-Z0-9°]", text), text
            assert text.endswith("."), text
            assert not GAP.search(text), text


@every_limit
def test_a_limit_says_where_it_comes_from(limit: Limit) -> None:
    """Each limit has a source and how well that source bears it."""
    assert len(limit.source) > 3
    assert limit.confidence in CONFIDENCES
    if limit.confidence == "common practice, no source":
        assert "read in" not in limit.source


@every_limit
def test_a_limit_leaves_a_studio_room(limit: Limit) -> None:
    """The least and the most of a limit are not the same, or nobody could set it."""
    assert limit.least < limit.most


def test_every_file_of_rules_is_listed() -> None:
    """No file of the folder is left out of the book by having an unlisted name."""
    files = {path.stem for path in document_path("rules").glob("*.yaml")}

    assert files == {*RULE_FILES, "limits", "text"}


def test_faults_of_the_text_promise_nothing() -> None:
    """The pages of the faults of the text keep the same manners."""
    for page in text_fault_pages().values():
        for text in (page.finding, page.why):
            assert text.rstrip().endswith(".")
            assert not SCARE.search(text)
            for sentence in sentences(text):
                assert not CLAIM.search(sentence) or DENIAL.search(sentence), (page.name, sentence)


# -- nobody's answers: what only a person at the kiln can know is left to be filled in ------------

# Answers as they were once offered to be copied; in the text around the places to fill in.
ANSWER = re.compile(
    r"""\b(on\ throughout|bystanders\ kept\ out|shade\ \d|CO\ alarm\ fitted
    |flame\ safety\ fitted|(electrics|line)\ inspected\ (\d|by\ a\b)|(power|gas)\ off\ before
    |checked\ with|clearance\ \d|timer\ \d+\ h|(from|starts?)\ (\d{4}-|\d\d:)|\d{4}-\d\d
    |rated\ to\ (cone\ )?\d|thermocouple\ type\ [A-Z]\b|\d\ (L|kW)\b|altitude\ \d|in\ \d+\ h\b
    |matures\ (from\ )?cone\ \d|wall\ \d|pad\ (pricked|dry)|(shelves|be)\ washed\b(?!\ or)
    |spacing\ \d|elements\ \d|shelves\ \d|spread\ \d|duty\ potter|studio\ manager)""",
    re.VERBOSE,
)
QUOTED = re.compile(r'"([^"]*)"')
# A line of a plan within a sentence.
OFFERED = re.compile(r"`([^`]*)`|(?:write(?: it)?:|such as|for instance) ([a-z][^.;]*)")

# Places, clays and ware have to be called something.
NAMED = re.compile(r'^witness "bottom shelf"|^ware "mugs" 24|(of|with) "(Marsh buff|Reed ash)"')


def asks_a_person(line: str) -> bool:
    """True for a line of a plan that states what only a person can know."""
    grammar = plan_grammar()
    for section in SECTIONS:
        word = grammar.opening_word(section, line, 0)
        rules = grammar.rules_opened_by(section, word.kind) if word else frozenset()
        own = any(
            grammar.lines_to_copy[rule] != grammar.right_lines[rule] for rule in rules - {"section"}
        )
        opening = (section, word.kind if word else "")
        if own or grammar.copy_of.get(opening) != grammar.example_of.get(opening):
            # `target 9` and `guide 8` are chosen in a witness set, and read in a reading.
            return not re.match(r"(guide|target|guard|firing|plan|witness)\b", line)
    return False


def answers_in_line(line: str) -> list[str]:
    """What is wrong with a line to copy."""
    (source,) = split_lines(line)
    found = [quoted for quoted in QUOTED.findall(source.code) if not is_to_fill_in(quoted)]
    if asks_a_person(source.code.strip()) and still_to_fill_in(source) is None:
        found.append(source.code.strip())
    return found + [answer[0] for answer in ANSWER.finditer(QUOTED.sub('""', source.code))]


def answers_in_text(text: str) -> list[str]:
    """What is wrong with a sentence of advice: answers in it, or in a line that it offers."""
    text = " ".join(text.split())
    found = [quoted for quoted in QUOTED.findall(text) if not is_to_fill_in(quoted)]
    found += [answer[0] for answer in ANSWER.finditer(QUOTED.sub('""', text))]
    lines = [marked or plain for marked, plain in OFFERED.findall(text)]
    return found + [wrong for line in lines for wrong in answers_in_line(line)]


@every_rule
def test_advice_answers_nothing_for_a_person(rule: Rule) -> None:
    """Whoever copies a Do or a Write has said nothing yet that nobody has looked at."""
    line = rule.repair.write
    assert answers_in_text(spoken(rule.repair.say)) == []
    assert line is None or answers_in_line(spoken(line)) == []


@pytest.mark.parametrize("page", text_fault_pages().values(), ids=lambda page: page.name)
def test_a_right_line_of_a_fault_answers_nothing_for_a_person(page: TextFaultPage) -> None:
    """The right line shown for a fault of the text may be copied, too; what it names may stand."""
    line = NAMED.sub("", page.right)

    assert not line or answers_in_line(line) == []


@pytest.mark.parametrize("line", [*chain(*plan_grammar().lines_to_copy.values())])
def test_a_like_line_answers_nothing_for_a_person(line: str) -> None:
    """The line printed behind a line that can't be read leaves open what it can't know."""
    assert answers_in_line(line) == []


def test_a_new_plan_answers_nothing_for_a_person() -> None:
    """A new plan says of itself only what is chosen: the kind, the target, cones and schedule."""
    lines = [one.code.strip() for one in split_lines(document_text("rules", "new_plan.firing"))]
    places = [line for line in lines if line in ('witness "bottom shelf"', 'witness "top shelf"')]

    assert [line for line in lines if line and line not in places and answers_in_line(line)] == []


@pytest.mark.parametrize(
    "text",
    [
        'Write who answers for this firing, such as by "duty potter".',
        'Write the day and the time, such as "starts 2026-10-03 07:30".',
        "Copy the rating from the kiln's plate, for instance `rated to cone 10`.",
        "Add for instance `thermocouple type K`.",
        "Measure the thickest place and write it, such as wall 12 mm.",
        "Give the figure, such as `cools from 1000 C to 100 C in 15 h`.",
        "Let it dry, then write shelves washed.",
        "Write `vent on throughout`.",
        "Write `power off before unloading`.",
        "Write `CO alarm fitted`.",
        "Write `electrics inspected`.",
        "Write `clearance 1 m`.",
        "Write `bystanders kept out`.",
        "Keep dry heat gloves at the kiln and write: hands heat gloves.",
    ],
)
def test_an_answer_is_met(text: str) -> None:
    """Advice that was once given with an answer in it would be met."""
    assert answers_in_text(text)
