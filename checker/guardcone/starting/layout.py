"""The layout of a plan that is begun: that of tidy, with open lines in its columns."""

from collections import Counter

from guardcone.language import SourceText, read_statements, split_lines
from guardcone.language.grammar import plan_grammar
from guardcone.tidy import tidy_text

__all__ = ["laid_out"]


def laid_out(text: str) -> str:
    """The plan in the layout of tidy, which leaves lines with places to fill in as they are.

    Their places stand in the column of the values of their section.
    """
    source = SourceText("the plan", split_lines(tidy_text(text)))
    read = read_statements(source)
    texts = [line.text for line in source.lines]
    still_open = {fault.span.line for fault in read.faults}
    headings = [section.heading.line for section in read.sections]
    for section, end in zip(read.sections, [*headings[1:], len(texts) + 1], strict=False):
        known = {statement.span.line for statement in section.statements}
        labels: dict[int, tuple[str, str]] = {}
        for line in source.lines[section.heading.line : end - 1]:
            word = plan_grammar().opening_word(section.kind, line.code, line.code_start)
            if (
                word
                and word.kind not in plan_grammar().headings
                and line.text[word.end : word.end + 1] == " "
            ):
                labels[line.number] = line.text[: word.end], line.text[word.end :].lstrip()
        columns = Counter(texts[n - 1].index(rest) for n, (_, rest) in labels.items() if n in known)
        widest = max((len(label) for label, _ in labels.values()), default=0) + 1
        column = columns.most_common(1)[0][0] if columns else widest
        for number in labels.keys() & still_open - known:
            label, rest = labels[number]
            texts[number - 1] = f"{label.ljust(column - 1)} {rest}"
    return "".join(f"{text}\n" for text in texts)
