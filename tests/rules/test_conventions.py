"""How a rule of the built-in book must be written, whoever writes it."""

import re
from collections.abc import Iterator
from itertools import chain

import pytest
from the_book import BOOK, run

from guardcone.condition.sentences import Wording
from guardcone.documents import document_path
from guardcone.language import split_lines
from guardcone.language.grammar import SECTIONS, plan_grammar
from guardcone.language.meanings import is_to_fill_in, still_to_fill_in
from guardcone.rulebook.book import Studio
from guardcone.rulebook.kept_book import text_fault_pages
from guardcone.rulebook.library import RULE_FILES, rule_files
from guardcone.rulebook.rule import Consequence, Rule, bibliography
from guardcone.starting.asked import asked
from guardcone.starting.new_plan import new_plan

# What a person reads in one go at the kiln, and on the page of a rule.
MOST_WORDS = {"finding": 50, "do": 60, "why": 150, "accept when": 60}
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
    """A sentence with something in its slots: `Heron` stands for whatever may be printed there."""
    return "".join(piece if isinstance(piece, str) else "Heron" for piece in wording.fullest)


def sentences(text: str) -> list[str]:
    """The sentences of a text; abbreviations are not used in the book."""
    return [part for part in re.split(r"(?<=[.?!])\s+", " ".join(text.split())) if part]


def texts(rule: Rule) -> Iterator[tuple[str, str]]:
    """Every text of a rule that is made of sentences, by its key."""
    yield "why", rule.why
    for level in rule.levels:
        yield "finding", spoken(level.finding)
        yield "do", spoken(level.repair.say)
        if level.accept_when:
            yield "accept when", level.accept_when


def is_sentence(text: str) -> bool:
    """True for a text that begins with a capital, a number or a sign of one."""
    return bool(re.match(r"[\"“(]?[A-Z0-9°]", text))


def promises(text: str) -> Iterator[str]:
    """What of a text calls something safe, or scares."""
    yield from (found[0] for found in SCARE.finditer(text))
    for sentence in sentences(text):
        if CLAIM.search(sentence) and not DENIAL.search(sentence):
            yield sentence


def test_a_rule_has_all_its_parts() -> None:
    """A kebab-case name, a reason of some words and a source that can be looked up."""
    name = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
    bad = [
        rule.name
        for rule in BOOK.rules
        if not name.fullmatch(rule.name)
        or len(rule.why.split()) < LEAST_WORDS_OF_A_REASON
        or not rule.sources
        or any(not source.key for source in rule.sources)
    ]

    assert not bad, "\n".join(bad)


def test_a_loss_stands_on_more_than_custom() -> None:
    """What rests on memory, custom or choice alone is a doubt at most."""
    unread = {"remembered", "practice", "choice"}
    bad = [
        rule.name
        for rule in BOOK.rules
        if any(level.consequence.at_least(Consequence.LOSS) for level in rule.levels)
        and {source.read for source in rule.sources} <= unread
    ]

    assert not bad, "\n".join(bad)


def manners(key: str, text: str) -> Iterator[str]:
    """What is wrong with a text made of sentences, which stands under this key of a rule."""
    if not text.rstrip().endswith("."):
        yield "no full stop at the end"
    if len(text.split()) > MOST_WORDS[key]:
        yield f"{len(text.split())} words"
    if "!" in text:
        yield "an exclamation mark"
    yield from (f"begins small: {one}" for one in sentences(text) if not is_sentence(one))


def test_a_rule_speaks_in_sentences() -> None:
    """Sentences begin with a capital or a number and end with a full stop; no text is endless."""
    bad = [
        f"{rule.name}, {key}: {wrong}"
        for rule in BOOK.rules
        for key, text in texts(rule)
        for wrong in manners(key, text)
    ]

    assert not bad, "\n".join(bad)


def test_a_rule_promises_nothing_and_scares_nobody() -> None:
    """No text calls a plan safe or ware food-safe, and none says that ware will explode."""
    bad = [
        f"{rule.name}, {key}: {wrong}"
        for rule in BOOK.rules
        for key, text in (*texts(rule), *(("source", source.what) for source in rule.sources))
        for wrong in promises(text)
    ]

    assert not bad, "\n".join(bad)


def test_what_is_printed_is_sentences() -> None:
    """With the values of its example in them, finding and repair are still whole sentences."""
    bad = [
        f"{example.id}: {text}"
        for rule in BOOK.rules
        for example in rule.examples
        for finding in run(example).found
        for text in (finding.text, finding.repair)
        if not is_sentence(text) or not text.endswith(".") or GAP.search(text)
    ]

    assert not bad, "\n".join(bad)


def test_a_limit_says_where_it_comes_from() -> None:
    """Each limit has sources, all of them in the bibliography."""
    bad = [
        limit.name
        for limit in BOOK.limits
        if not limit.sources or any(not source.key for source in limit.sources)
    ]

    assert not bad, "\n".join(bad)


def test_a_limit_leaves_a_studio_room() -> None:
    """The least and the most of a limit are not the same, or nobody could set it."""
    bad = [limit.name for limit in BOOK.limits if not limit.least < limit.most]

    assert not bad, "\n".join(bad)


def test_every_file_of_rules_is_listed() -> None:
    """No file of the folder is left out of the book by having an unlisted name."""
    files = {path.stem for path in document_path("rules").glob("*.yaml")}

    assert files == {*RULE_FILES, "text"}


def test_every_source_is_cited_and_says_how_it_is_borne() -> None:
    """The bibliography is sorted, has nothing uncited, and claims no more than was read."""
    sources = bibliography()
    cited = {source.key for one in (*BOOK.rules, *BOOK.limits) for source in one.sources}
    bad = [f"{key}: cited by nobody" for key in sources if key not in cited]
    bad += [f"{key}: {one.what!r} is short" for key, one in sources.items() if len(one.what) < 9]
    bad += [
        f"{key}: well borne, and nobody read it"
        for key, one in sources.items()
        if one.borne == "well borne" and one.read != "read"
    ]

    assert not bad, "\n".join(bad)
    assert list(sources) == sorted(sources)


def test_the_files_of_the_book_can_be_read() -> None:
    """No line is past a hundred letters, and no file so long that nobody finds anything in it."""
    bad = [
        f"{file.file}:{number}"
        for file in rule_files()
        for number, line in enumerate(file.source.splitlines(), 1)
        if len(line) > 100
    ]

    assert not bad, "\n".join(bad)


def test_faults_of_the_text_promise_nothing() -> None:
    """The pages of the faults of the text keep the same manners."""
    bad = [
        f"{page.name}: {text}"
        for page in text_fault_pages().values()
        for text in (page.finding, page.why)
        if not text.rstrip().endswith(".") or any(promises(text))
    ]

    assert not bad, "\n".join(bad)


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
        opening = word.kind if word else None
        rules = set(grammar.rules_opened_by(section, opening)) - {"section"}
        lines = [line for rule in rules for line in grammar.right_lines[rule]]
        if any(one.to_copy != one.right for one in [*lines, grammar.right_line(section, opening)]):
            # `target 9` and `guide 8` are chosen in a witness set, and read in a reading; so is of
            # what cones a new set is made, while of one that stands there only the box tells.
            return not re.match(r"(guide|target|guard|firing|plan|witness)\b|[a-z -]+ cones$", line)
    return False


def answers_in_line(line: str) -> list[str]:
    """What is wrong with a line to copy, or with several."""
    found = []
    for source in split_lines(line):
        found += [quoted for quoted in QUOTED.findall(source.code) if not is_to_fill_in(quoted)]
        if asks_a_person(source.code.strip()) and still_to_fill_in(source) is None:
            found.append(source.code.strip())
        found += [answer[0] for answer in ANSWER.finditer(QUOTED.sub('""', source.code))]
    return found


def answers_in_text(text: str) -> list[str]:
    """What is wrong with a sentence of advice: answers in it, or in a line that it offers."""
    text = " ".join(text.split())
    found = [quoted for quoted in QUOTED.findall(text) if not is_to_fill_in(quoted)]
    found += [answer[0] for answer in ANSWER.finditer(QUOTED.sub('""', text))]
    lines = [marked or plain for marked, plain in OFFERED.findall(text)]
    return found + [wrong for line in lines for wrong in answers_in_line(line)]


def test_advice_answers_nothing_for_a_person() -> None:
    """Whoever copies a Do or a Write has said nothing yet that nobody has looked at."""
    bad = []
    for rule in BOOK.rules:
        for level in rule.levels:
            line = level.repair.write
            found = answers_in_text(spoken(level.repair.say))
            found += answers_in_line(spoken(line)) if line else []
            bad += [f"{rule.name}: {answer}" for answer in found]

    assert not bad, "\n".join(bad)


def test_a_right_line_of_a_fault_answers_nothing_for_a_person() -> None:
    """The right line shown for a fault of the text may be copied, too; what it names may stand."""
    lines = {page.name: NAMED.sub("", page.right) for page in text_fault_pages().values()}
    bad = [f"{name}: {line}" for name, line in lines.items() if line and answers_in_line(line)]

    assert not bad, "\n".join(bad)


def test_a_like_line_answers_nothing_for_a_person() -> None:
    """The line printed behind a line that can't be read leaves open what it can't know."""
    lines = chain(*plan_grammar().right_lines.values())
    bad = [line.to_copy for line in lines if answers_in_line(line.to_copy)]

    assert not bad, "\n".join(bad)


@pytest.mark.parametrize(
    "words", ["", "glaze 6", "bisque 06", "lustre 018", "raku 980 C", "candling"]
)
def test_a_new_plan_answers_nothing_for_a_person(words: str) -> None:
    """A new plan says of itself only what is chosen: the kind, the target, cones and schedule."""
    text = new_plan(asked(words.split(), BOOK), Studio(BOOK), "", "C")
    lines = [one.code.strip() for one in split_lines(text)]
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


def test_a_level_has_a_line_of_its_own_to_the_sentence_of_the_rule() -> None:
    """A bisque without its load is asked for clay and ware; any other firing for the glaze too."""
    rule = BOOK.rule("load-section-missing")
    assert rule
    written = {level.case: str(level.repair.write) for level in rule.levels}

    assert "glaze" in written["any"]
    assert "glaze" not in written["unglazed"]
