"""What only a person at the kiln can know is never answered by the program's own words."""

import re
from collections.abc import Iterator

import pytest
from running import Folder, as_json, changed, run, sound

# That something is on, fitted, inspected, clear or off, or how far and how dark it is.
STATES = re.compile(
    r"\bvent( \w+,)? (on|throughout)\b|\b(alarm|safety|failure device) fitted\b"
    r"|\binspected (in |on )?\d{4}|\binspected[^.\"]* by a licensed|\bclearance \d"
    r"|\bbystanders kept (out|away)\b"
    r"|\b(power|gas|fuel) off before|\bshelves washed|\bpad \w*pricked|\beyes shade \d"
    r"|\bhands heat gloves|\brated to cone \d|\belectric, (front|top)|\bthermocouple type [A-Z]\b"
    r"|\bbackup timer \d|\bthroughout, \w+",
    re.IGNORECASE,
)
PLACE = re.compile(r'"fill in [^"]+"')
NUMBER_TO_CALL = re.compile(r"\b(112|911|999|000|110|118|119|15|17|18)\b")


def lines_of(base: str, section: str) -> list[str]:
    """The lines of a section of a sound plan, one by one."""
    text = re.split(rf"^{section}.*\n", sound(base), flags=re.MULTILINE)[1]
    return [line.strip() for line in re.split(r"^\w", text, flags=re.MULTILINE)[0].splitlines()]


LEFT_OUT = [
    (base, section, line)
    for base in ("electric", "gas", "raku", "lustre")
    for section in ("kiln", "safety", "plan", "load")
    for line in lines_of(base, section)
    if line
]
# A name, a clay and a ware are shown by an example of each.
SPOILT = [one for one in LEFT_OUT if one[1] in ("kiln", "safety")]


def to_do(folder: Folder, plan: str) -> Iterator[str]:
    """Everything that the report on a plan tells somebody to do or to write."""
    for one in as_json(folder.check(plan, form="json"))["plans"][0]["findings"]:
        write = one["write"]["text"] if one["write"] else ""
        yield from (text for text in (one["repair"], write, one["example"]) if text)


@pytest.mark.parametrize(("base", "section", "line"), LEFT_OUT)
def test_what_a_plan_leaves_out_is_asked_and_not_answered(
    folder: Folder, base: str, section: str, line: str
) -> None:
    """Each line left out in turn: nothing that is to be written says what only a person knows."""
    del section
    for text in to_do(folder, changed(sound(base), {line: ""})):
        assert not STATES.search(text), text


@pytest.mark.parametrize(("base", "section", "line"), SPOILT)
def test_a_line_that_can_not_be_read_is_not_answered(
    folder: Folder, base: str, section: str, line: str
) -> None:
    """Each line spoilt in turn: the right line of its kind shows the form, and not the answer."""
    del section
    for text in to_do(folder, changed(sound(base), {line: f"{line.split()[0]} %%"})):
        assert not STATES.search(text), text


def test_every_place_to_fill_in_stops_the_plan_while_it_stands(folder: Folder) -> None:
    """Whatever the report offers to write is put into the plan as it is: it is caught there."""
    tried = 0
    for base, section, line in LEFT_OUT:
        if section != "safety":
            continue
        for text in to_do(folder, changed(sound(base), {line: ""})):
            for place in PLACE.finditer(text):
                start = re.search(
                    r"(?:write:?|it:|plan:|them:|by) ([\w -]*)$", text[: place.start()]
                )
                words = start[1].split(": ")[-1] if start else ""
                plan = changed(sound(base), {line: f"{words or line.split()[0]} {place[0]}"})
                told = folder.check(plan)
                assert told.status == 1, (line, place[0])
                assert "fill" in told.screen or told.dangers, (line, place[0], told.screen)
                tried += 1
    assert tried > 20


def test_a_new_plan_is_stopped_at_every_line_that_a_person_must_answer(folder: Folder) -> None:
    """It states nothing about a kiln that nobody has looked at, and can't be fired as it is."""
    text = run("start").screen
    code = "\n".join(line.split("#")[0] for line in text.splitlines())

    assert not STATES.search(code), STATES.search(code)
    told = folder.check(text)
    assert told.status == 1
    assert all("fill" in one.text or "wanted" in one.text for one in told.findings), told.screen
    assert len(told.findings) > 20


def test_no_number_to_call_is_given_as_an_example(folder: Folder) -> None:
    """Whom to call differs from country to country, and a wrong number costs minutes."""
    line = 'call "the number on the kiln-room door, then the studio manager"'
    for plan in (
        changed(sound("electric"), {line: ""}),
        changed(sound("electric"), {line: "call %"}),
    ):
        for text in to_do(folder, plan):
            assert not NUMBER_TO_CALL.search(text), text
    for words in (("start",), ("why", "emergency-call-missing")):
        told = run(*words).screen
        assert not re.search(rf"call[^\n]*{NUMBER_TO_CALL.pattern}", told), told
