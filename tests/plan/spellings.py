"""Tables of spellings, each beside what it means, and what a plan of one section then holds."""

import re

from guardcone.language import SourceText, split_lines
from guardcone.plan import Plan, read_plan
from guardcone.span import Written
from guardcone.values import Duration, Quantity

HEADING = {"kiln": 'kiln "Heron"', "witness": 'witness "top shelf"', "reading": 'reading "top"'}


def read(section: str, *lines: str) -> Plan:
    """The plan of one section, which must have no fault but names that nothing describes."""
    text = "\n".join([HEADING.get(section, section), *lines])
    if section == "plan":
        text = "\n".join(['plan "Thursday stoneware"', *lines])
    plan = read_plan(SourceText("plan", split_lines(text)))
    assert [fault for fault in plan.faults if not fault.rule.startswith("name-")] == []
    return plan


def spelled(table: dict[str, str]) -> list[tuple[str, str]]:
    """(line, meaning) for a table of meaning → spellings between bars."""
    return [
        (line.strip(), meaning)
        for meaning, lines in table.items()
        for line in lines.split("|")
        if line.strip()
    ]


def assert_fields(record: object, meaning: str) -> None:
    """Compare the fields of a record that are set with `name=value name=value`."""
    for name, value in re.findall(r"(\w+)=(.*?)(?= \w+=|$)", meaning):
        written = getattr(record, name)
        assert plain(written) == value, name


def plain(written: object) -> str:
    """A value in short: the base amount of a measure, the words of a list joined by +."""
    if isinstance(written, tuple):
        return "+".join(plain(one) for one in written)
    value = written.value if isinstance(written, Written) else written
    if isinstance(value, Duration):
        return str(value)
    if isinstance(value, Quantity):
        return f"{round(value.base, 2):g}" if value.base < 1e5 else f"{value.base:.0f}"
    return f"{value:g}" if isinstance(value, float) else str(value)
