"""One rule is told to a student and a teacher: what it is, why, its numbers, two plans, sources."""

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from guardcone.checking.examples import OrdinaryPair, ordinary_pair
from guardcone.condition import typed
from guardcone.condition.kinds import Kind
from guardcone.condition.sentences import Slot, Wording, in_units
from guardcone.language.nearest import either
from guardcone.reports.page import Style, paragraphs
from guardcone.reports.two_plans import DIFFERS, DOTS, two_plans
from guardcone.rulebook.book import RuleBook
from guardcone.rulebook.rule import Consequence, Level, Limit, Rule, TextFaultPage
from guardcone.values import Quantity

__all__ = [
    "condition_told",
    "generally",
    "level_lead",
    "part_of_plan",
    "rule_page",
    "text_fault_page",
]


def rule_page(rule: Rule, book: RuleBook, style: Style) -> str:
    """What the rule finds, why, by which numbers, in what plan and in what not, and who says so."""
    weights = either([weight.value for weight in book.weights(rule)]) or "turned off"
    subject = book.vocabulary.subject(rule.concerns)
    each = "the" if subject and subject.single else "each"
    lines = [f"{style.strong(rule.name)}: {weights}, asked of {each} {part_of_plan(rule)}", ""]
    lines += _levels(rule, book, style)
    lines += _part("Why", rule.why, style)
    lines += _numbers(rule, book, style)
    pair = ordinary_pair(rule, book)
    if pair is None or _repair_differs(rule):
        lines += _said_of_levels(
            rule, book, style, "What to do", lambda one: generally(one.repair.say, book)
        )
    lines += _said_of_levels(rule, book, style, "When to let it stand", lambda one: one.accept_when)
    if pair:
        lines += _pair(pair, rule, book, style)
    lines += [f"Where it comes from{_outweighed(rule)}"]
    lines += sources_told(rule, book, style)
    if change := book.changes.get(rule.name):
        lines += ["", *_part("Changed by the studio", f"{change}: {change.reason}", style)][:-1]
    return style.page(lines)


# What people call the parts of a plan, where that is not the word of the rules.
_PARTS = {
    "safety": "safety section",
    "segment": "line of the schedule",
    "material": "clay and glaze",
    "reading": "reading of a witness set",
}


def part_of_plan(rule: Rule) -> str:
    """What of a plan a rule is asked of, in words."""
    return _PARTS.get(rule.concerns, rule.concerns)


def text_fault_page(page: TextFaultPage, style: Style) -> str:
    """What a fault of the text is, why it matters, a line as it is wrong and as it is right."""
    lines = [f"{style.strong(page.name)}: {page.consequence.value}, a fault of the text", ""]
    lines += _part("What it finds", page.finding, style)
    lines += _part("Why", page.why, style)
    lines += ["A line that has it", f"  {page.wrong}", "", "A right line", f"  {page.right}"]
    return style.page(lines)


def _part(heading: str, text: str, style: Style) -> Iterator[str]:
    """The paragraphs of a text under a heading; nothing where there is no text."""
    if text:
        yield heading
        for paragraph in paragraphs(text):
            yield from style.wrapped(paragraph, "  ")
            yield ""


# -- what it finds ------------------------------------------------------------------------------


def _levels(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    """What is found at each level, the worst first; and when, where the sentence does not say."""
    yield "What it finds"
    several = len(rule.levels) > 1
    for level in rule.levels:
        lead = f"{level_lead(rule, level, book, style)} " if several else ""
        told = generally(level.finding, book)
        if level.limits:
            told += f" Told where {condition_told(level.condition_text, book)}."
        yield from style.wrapped(told, f"  {lead}", _INDENT - len(lead) if lead else 0)
    if rule.unless:
        told = f"Never told where {condition_told(rule.unless, book)}."
        yield from style.wrapped(told, "  ")
    yield ""


_INDENT = 6


def level_lead(rule: Rule, level: Level, book: RuleBook, style: Style) -> str:
    """The weight of a level as findings show it, with its case."""
    weight = book.consequence(rule, level)
    if weight is None:
        return "turned off:"
    case = f" ({level.case.replace('-', ' ')})" if level.case else ""
    return style.weigh(f"{style.cones(weight)}  {weight.value}", weight) + f"{case}:"


def generally(sentence: Wording, book: RuleBook) -> str:
    """A sentence with the value in force of each limit, and an ellipsis for what a plan says."""
    told = "".join(_piece(piece, book) for piece in sentence.fullest)
    return " ".join(told.split())


# What stands for the part of a plan that a sentence is about.
_THE_PART = {"the-set": "the witness set", "this-set": "The witness set"}


def _piece(slot: Slot | str, book: RuleBook) -> str:
    if isinstance(slot, str):
        return slot
    if isinstance(slot.value, typed.Constant):
        return number_told(slot.value.value)
    limit = book.limit(slot.value.name) if isinstance(slot.value, typed.LimitOf) else None
    if limit:
        return number_told(limit.value)
    if slot.text in _THE_PART:
        return _THE_PART[slot.text]
    return "cone …" if slot.value.type.kind is Kind.CONE else "…"


def number_told(value: object) -> str:
    """A limit or a constant as people read it."""
    return f"{value:g}" if isinstance(value, float) else str(value)


_NAME = re.compile(r"\"[^\"]*\"|[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*")
# A fact such as `is-raku`, asked of the thing in question.
_IS = re.compile(r"\b(not )?is-([a-z-]+)(?! of\b)\b")


def condition_told(text: str, book: RuleBook, units: Sequence[Quantity] = ()) -> str:
    """A condition with the number in force for each limit, and its names without hyphens.

    The numbers are in the units of a plan where there are some.
    """

    def told(found: re.Match[str]) -> str:
        limit = book.limit(found[0])
        return number_told(in_units(limit.value, units)) if limit else found[0].replace("-", " ")

    text = " ".join(text.split())
    text = _IS.sub(lambda found: f"it is {found[1] or ''}{found[2]}", text)
    return _NAME.sub(told, text)


# -- its numbers, and what to do ----------------------------------------------------------------


def _numbers(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    """The limits in force, each with the range in which a studio may move it."""
    limits = _limits(rule, book)
    if limits:
        yield "Its numbers"
        for limit in limits:
            yield from style.wrapped(_number(limit), "  ", 2)
        yield ""


def _limits(rule: Rule, book: RuleBook) -> list[Limit]:
    """The limits of a rule, those of its worst level first."""
    first = {name: at for at, one in [*enumerate(rule.levels)][::-1] for name in one.limits}
    limits = [limit for limit in book.limits if limit.name in first]
    return sorted(limits, key=lambda limit: first[limit.name])


def _number(limit: Limit) -> str:
    units = [limit.value] if isinstance(limit.value, Quantity) else []
    ends = (in_units(end, units) for end in (limit.value, limit.least, limit.most))
    value, least, most = map(number_told, ends)
    told = f"{value}  {limit.name.replace('-', ' ')}; a studio may move it from {least} to {most}"
    if limit.changed_at:
        built_in = number_told(in_units(limit.built_in, units))
        told += f"; set in {limit.changed_at}, the book says {built_in}"
    return f"{told} ({limit.note})" if limit.note else told


def _repair_differs(rule: Rule) -> bool:
    """True where the levels of a rule do not all say to do the same."""
    return len({str(level.repair.say) for level in rule.levels}) > 1


def _said_of_levels(
    rule: Rule, book: RuleBook, style: Style, heading: str, said: Callable[[Level], str]
) -> Iterator[str]:
    """What the levels say of something: once for those that say the same, with their weights."""
    groups = [(text, list(levels)) for text, levels in groupby(rule.levels, key=said)]
    if any(text for text, _ in groups):
        yield heading
    for text, levels in groups:
        if not text:
            continue
        names = [_named(rule, level, book) for level in levels]
        lead = f"As {either(names)}: " if len(groups) > 1 else ""
        for number, paragraph in enumerate(paragraphs(text)):
            yield from style.wrapped(f"{'' if number else lead}{paragraph}", "  ", 2)
    if any(text for text, _ in groups):
        yield ""


def _named(rule: Rule, level: Level, book: RuleBook) -> str:
    weight = book.consequence(rule, level)
    case = f" ({level.case.replace('-', ' ')})" if level.case else ""
    return f"{weight.value if weight else 'what is turned off'}{case}"


# -- two plans ----------------------------------------------------------------------------------


def _pair(pair: OrdinaryPair, rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    without, having = two_plans(pair)
    yield "A plan without it"
    yield from without
    yield ""
    yield "A plan that has it"
    yield from having
    yield from style.wrapped(
        f"{DIFFERS} is before the lines in which the two differ; {DOTS} are lines left out.", "  "
    )
    yield ""
    finding = pair.finding
    yield from style.wrapped(f"It brings {finding.consequence.value}: {finding.text}", "  ", 2)
    if not _repair_differs(rule):
        yield from style.wrapped(finding.repair, "  Do    ")
    if finding.line_repair:
        first, *others = finding.line_repair.text.split("\n")
        yield from (f"  Write {first}", *(f"        {line}" for line in others))
    worse = [one for one in pair.others if one.consequence.at_least(Consequence.DOUBT)]
    if worse:
        told = ", ".join(f"{one.rule} ({one.consequence.value})" for one in worse)
        yield from style.wrapped(f"The same plan brings also {told}.", "  ", 2)
    moved = any(limit.changed_at and limit.name in rule.limits for limit in book.limits)
    if moved or rule.name in book.changes:
        yield from style.wrapped("This is by the numbers and weights of the book.", "  ")
    yield ""


# -- who says so --------------------------------------------------------------------------------


# How a source was read and how well it bears what is taken from it, the best first.
_HOW = {
    ("read", "well borne"): "Read in the source itself, and well supported",
    ("read", "one copy"): "Read in the source itself, which stands alone",
    ("copied", "well borne"): "Read in copies or quotations, and well supported",
    ("copied", "one copy"): "Read in a copy or a quotation, not in the source itself",
    ("derived", "practice"): "Worked out, not read",
    ("sense", "practice"): "Plain sense, without a source",
    ("remembered", "practice"): "From memory, not looked up",
    ("practice", "practice"): "Common practice of potters, without a source",
    ("choice", "practice"): "Chosen by those who wrote the rule, without a source",
    ("", ""): "In the studio's own words",
}
# What was read nowhere.
_UNREAD = ("remembered", "sense", "practice", "choice")


def _outweighed(rule: Rule) -> str:
    """What would change a rule, as the rest of a heading."""
    if all(source.read in _UNREAD for source in rule.sources):
        return ": no text, and any that says otherwise changes it"
    return "; a text or cones read that say otherwise change it"


# What some of them say of themselves.
_SAID_AGAIN = re.compile(
    r"^own choice: |[:;,]? ?\b(common practice|own choice)(, no source)?$|[:;] (own )?estimate$"
)


def sources_told(rule: Rule, book: RuleBook, style: Style) -> Iterator[str]:
    """What each source of a rule and of its limits says and who says it, by how it was read."""
    limits = [limit for limit in book.limits if limit.name in rule.limits]
    found = [*dict.fromkeys([*rule.sources, *(one for limit in limits for one in limit.sources)])]
    for known, how in _HOW.items():
        alike = [source for source in found if (source.read, source.borne) == known]
        whats = {source: _SAID_AGAIN.sub("", source.what).strip() for source in alike}
        for source, what in whats.items():
            numbers = [number_told(limit.value) for limit in limits if source in limit.sources]
            whats[source] = what or (f"the {' and '.join(numbers)}" if numbers else "")
        told = [what for what in whats.values() if what]
        if alike:
            yield from style.wrapped(f"{how}{':' if told else '.'}", "  ")
        for what in told:
            yield from style.wrapped(f"{what[0].upper()}{what[1:]}.", "  - ")
