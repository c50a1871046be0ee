"""The whole rule book as one page of Markdown, made from the rules."""

import re
from collections.abc import Iterable, Iterator

from guardcone.condition.sentences import Wording
from guardcone.condition.vocabulary import Vocabulary
from guardcone.reports.page import one_line, paragraphs
from guardcone.reports.rules import example_base, example_lines, how_many, in_force, weights_of
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.library import sound_plans
from guardcone.rulebook.rule import Consequence, Example, Level, Limit, Rule, TextFaultPage

__all__ = ["reference_page"]

_WEIGHTS = {
    Consequence.DANGER: "people or the building",
    Consequence.LOSS: "ware, shelves or the kiln",
    Consequence.DOUBT: "the reading or the result can't be trusted",
    Consequence.ADVICE: "a better habit",
}


def reference_page(book: RuleBook, pages: Iterable[TextFaultPage]) -> str:
    """Every rule, limit, fault of the text and fact, with headings that can be linked to."""
    parts = [
        "# The rules of guardcone",
        "This page is made from the rule book by `guardcone rules page`; change the rules, not it.",
        "A plan that gives no finding is not thereby free of danger, and ware is not thereby fit "
        "for food. Local fire and electrical codes, the makers' manuals and licensed trades come "
        "first.",
        "What a finding weighs:",
        "\n".join(f"- **{weight.value}**: {meant}" for weight, meant in _WEIGHTS.items()),
        *_contents(book),
    ]
    for rule in book.rules:
        parts += _rule(rule, book)
    limits = _table(("limit", "value", "range", "source"), map(_limit, book.limits))
    parts += ["## Limits", limits, "## Faults of the text"]
    for page in pages:
        parts += _fault(page)
    parts += _vocabulary(book.vocabulary)
    return "\n\n".join(parts) + "\n"


def _contents(book: RuleBook) -> Iterator[str]:
    """The names of the rules under the names of their files, each leading to its place."""
    yield "## Rules"
    files: dict[str, list[str]] = {}
    for rule in book.rules:
        files.setdefault(rule.file, []).append(f"[{rule.name}](#{rule.name})")
    yield "\n".join(f"- {_plain(file)}: {', '.join(links)}" for file, links in files.items())


def _rule(rule: Rule, book: RuleBook) -> Iterator[str]:
    yield f"### {rule.name}"
    yield f"**{weights_of(rule, book)}**, about the {rule.concerns}."
    if change := book.changes.get(rule.name):
        place = f" in {change.place}" if change.place else ""
        yield f"Set{_plain(place)}, {change}: {_plain(change.reason)}"
    if rule.unless:
        yield f"Never where `{rule.unless}`."
    for level in rule.levels:
        yield from _level(level)
    yield _paragraphs(rule.why)
    limits = [limit for limit in book.limits if limit.name in rule.limits]
    if limits:
        yield "\n".join(f"- `{one.name}`: {_plain(in_force(one))}" for one in limits)
    yield "Source: " + "; ".join(_plain(str(source)) for source in rule.sources)
    yield from _example("Without this finding", rule.passes[0], rule.fails[0])
    yield from _example("With this finding", rule.fails[0])


def _level(level: Level) -> Iterator[str]:
    name = f"{level.consequence.value} {level.case}".strip()
    yield f"**{name}** when `{level.condition_text}`. {_sentence(level.finding)}"
    yield f"**What to do.** {_sentence(level.repair.say)}"
    if level.repair.write:
        yield f"A line that mends it: {_code(str(level.repair.write))}"
    if level.accept_when:
        yield f"**When to accept it.** {_paragraphs(level.accept_when)}"


def _example(heading: str, example: Example, beside: Example | None = None) -> Iterator[str]:
    at = f"; found at {_code(example.at)}" if example.at else ""
    lines = example_lines(example, sound_plans(), beside)
    yield f"{heading} ({example_base(example)}{at}){':' if lines else '.'}"
    if lines:
        yield _fenced("\n".join(lines))


def _limit(limit: Limit) -> tuple[str, ...]:
    source = "; ".join(map(str, limit.sources))
    note = f"{source} ({limit.note})" if limit.note else source
    reach = f"{limit.least} to {limit.most}"
    return f"`{limit.name}`", in_force(limit), reach, note


def _fault(page: TextFaultPage) -> Iterator[str]:
    yield f"### {page.name}"
    yield f"**{page.consequence.value}**. {_plain(page.finding)}"
    yield _paragraphs(page.why)
    yield f"Wrong: {_code(page.wrong)}. Right: {_code(page.right)}."


def _vocabulary(vocabulary: Vocabulary) -> Iterator[str]:
    yield "## What a rule may ask"
    for subject in vocabulary.subjects:
        yield f"### Subject: {subject.name}"
        yield f"{_plain(subject.doc)} {_plain(how_many(subject))}"
        facts = ((f"`{fact.name}`", str(fact.type), fact.doc) for fact in subject.facts)
        yield _table(("fact", "kind", "meaning"), facts)


def _table(headings: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    lines = [headings, tuple("---" for _ in headings), *rows]
    return "\n".join(f"| {' | '.join(_cell(cell) for cell in line)} |" for line in lines)


def _cell(text: str) -> str:
    plain = text if text.startswith("`") or text == "---" else _plain(text)
    return " ".join(plain.split()).replace("|", "\\|")


def _sentence(wording: Wording) -> str:
    return "".join(
        _plain(piece) if isinstance(piece, str) else f"`{piece}`" for piece in wording.pieces
    )


def _paragraphs(text: str) -> str:
    return "\n\n".join(map(_plain, paragraphs(text)))


def _plain(text: str) -> str:
    """Text on one line in which no sign is taken for Markdown or HTML."""
    return re.sub(r"([\\`*_<>\[\]#])", r"\\\1", one_line(text))


def _code(text: str) -> str:
    blank = " " if text.startswith("`") or text.endswith("`") else ""
    return _marked(f"{blank}{text}{blank}", 1)


def _fenced(text: str) -> str:
    return _marked(f"\n{text.rstrip()}\n", 3)


def _marked(text: str, least: int) -> str:
    """Text as code, in more backquotes than it has in a row."""
    longest = max(map(len, re.findall("`+", text)), default=0)
    marks = "`" * max(least, longest + 1)
    return f"{marks}{text}{marks}"
