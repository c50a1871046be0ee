"""Everything that a rule may ask, for people who write rules."""

from guardcone.condition.vocabulary import Subject, Vocabulary
from guardcone.reports.style import Style, count, wrapped

__all__ = ["how_many", "vocabulary_list"]


def vocabulary_list(vocabulary: Vocabulary, style: Style) -> str:
    """Each subject with its meaning, and its facts with the kind of their value and meaning."""
    lines: list[str] = []
    for subject in vocabulary.subjects:
        lines.append(style.strong(subject.name))
        lines += wrapped(f"{subject.doc} {how_many(subject)}", style.width, "  ", "  ")
        for fact in subject.facts:
            lines += wrapped(f"{fact.name}: {fact.type}", style.width, "    ", "        ")
            lines += wrapped(fact.doc, style.width, "        ", "        ")
        lines.append("")
    facts = sum(len(subject.facts) for subject in vocabulary.subjects)
    number = f"{count(facts, 'fact', 'facts')} of {len(vocabulary.subjects)} subjects."
    lines += wrapped(number, style.width, "", "")
    return style.page(lines)


def how_many(subject: Subject) -> str:
    """Whether a rule can name the subject from anywhere."""
    return (
        "A plan has one at most, so a rule may name it from anywhere."
        if subject.single
        else f"A plan may have several: write some {subject.name} has (...), every, or no."
    )
