"""What holds for every text: a plan and its faults, spans that point at what they name."""

import string
from collections.abc import Iterator
from pathlib import Path

import attrs
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from guardcone.language import (
    Keyword,
    SourceText,
    TextFault,
    UnreadablePlan,
    load_source,
    scanner,
    split_lines,
)
from guardcone.language.grammar import plan_grammar
from guardcone.language.source import OutOfSense
from guardcone.language.tokens import Token, TokenValues
from guardcone.plan import Plan, read_plan
from guardcone.span import Span, Written
from guardcone.values import Cone, ConeSeries, Power, TemperatureDifference

SOUND = {
    path.stem: path.read_text(encoding="utf-8")
    for path in sorted((Path(__file__).parent / "sound").glob("*.firing"))
}
# Rules whose faults are about more than the one line.
ACROSS_LINES = {"name-unknown", "name-unused", "section-doubled", "fact-doubled"}


def read(text: str) -> Plan:
    return read_plan(SourceText("plan", split_lines(text)))


def written_in(value: object, field: str = "") -> Iterator[tuple[str, Written[object]]]:
    """Every written value of a plan, with the name of its field, and bare spans as written."""
    if isinstance(value, Written):
        yield field, value
    elif isinstance(value, Span):
        yield field, Written(None, value)
    elif isinstance(value, tuple):
        for one in value:
            yield from written_in(one, field)
    elif attrs.has(type(value)) and not isinstance(value, SourceText):
        for attribute in attrs.fields(type(value)):
            yield from written_in(getattr(value, attribute.name), attribute.name)


GRAMMAR = plan_grammar()


def readings_of(text: str) -> list[object]:
    """All values that a piece of text has as one kind or another of the grammar."""
    values = TokenValues()
    found: list[object] = []
    for kind in (*GRAMMAR.words, *GRAMMAR.phrases):
        reading = scanner.read(text, 0, {kind})
        if reading and reading.end == len(text):
            try:
                found.append(values.written(Token(kind, text), reading.value).value)
            except (ValueError, OutOfSense):
                continue
    return found


def check_spans(plan: Plan) -> None:
    """Every span lies within its line; the text of every value, read again, is that value.

    A misspelt word stands for the word that was meant, so on its line only the place is checked.
    """
    # A doubled reading is told as that; a slip in its name is told once, where it stands first.
    slips = ("word-unknown", "line-unclear", "name-unknown", "section-doubled")
    misspelt = {fault.span.line for fault in plan.faults if fault.rule in slips}
    for fault in plan.faults:
        line = plan.source.line(fault.span.line)
        assert 1 <= fault.span.start < fault.span.end <= len(line) + 1, fault
        assert not fault.span.of(line)[0].isspace(), fault
    for field, written in written_in(attrs.evolve(plan, faults=())):
        line = plan.source.line(written.span.line)
        text = written.span.of(line)
        assert 1 <= written.span.start <= written.span.end <= len(line) + 1, (field, written)
        if written.span.line not in misspelt:
            check_value(field, written.value, text)


def check_value(field: str, value: object, text: str) -> None:
    if value is None or (isinstance(value, Keyword) and " " in text):
        return  # a bare span, or a word that several words amount to
    if field in ("series_written", "co_alarm", "flame_safety"):
        return  # a summary of the words it covers
    if field == "seen" and value == "spy hole":
        return  # the line names no hole
    if field in ("shelf_wash", "pace"):
        return  # a word of the model for what the line says
    if field == "spread_cones" and "half" in text.lower():
        return
    again = readings_of(text)
    if isinstance(value, Cone):
        assert value.number in again, (field, value, text)
    elif isinstance(value, TemperatureDifference):
        assert [one for one in again if str(one) == str(value)], (field, value, text)
    elif isinstance(value, Power) and not again:
        assert "V" in text.upper(), (field, value, text)  # volts times amperes
    elif isinstance(value, ConeSeries):
        pytest.fail("a series has no span of its own")
    else:
        assert value in again, (field, value, text)


def check_faults(plan: Plan) -> None:
    """Faults stand in the order of the lines, and each line has at most one of its own."""
    assert list(plan.faults) == sorted(plan.faults, key=lambda fault: fault.span)
    own = [fault.span.line for fault in plan.faults if fault.rule not in ACROSS_LINES]
    assert len(own) == len(set(own))
    doubled = [fault.span.line for fault in plan.faults if fault.rule == "fact-doubled"]
    assert len(doubled) == len(set(doubled))
    assert all(fault.found and fault.repair for fault in plan.faults)


# -- any text -----------------------------------------------------------------------------------

WORDS = sorted({word for words in GRAMMAR.words.values() for word in words})
PIECES = st.one_of(
    st.sampled_from(WORDS),
    st.sampled_from(
        ['"Marsh buff"', "“x”", "'x'", "06", "5½", "24", "60 C/h", "95 °C", "2h30", "6 mm", "1/4\"",
         "230 L", "11 kW", "48 A", "30 kg", "8°", "15:00", "3 pm", "2026-10-03", "March 2026", "K",
         "5 o'clock", "-", "–", "/", ",", ";", "&", ":", "#", '"', "½", "->", "1,252",
         "99999999999", "C", "the", "no", "\t", "\u00a0", "\u0301", "🙂"]
    ),
)  # fmt: skip
LINES = st.lists(PIECES, max_size=9).map(" ".join)


@settings(max_examples=250)
@given(st.lists(LINES, max_size=12).map("\n".join))
def test_any_words_give_a_plan(text: str) -> None:
    """Words of the trade in any order give a plan and faults, at their places."""
    plan = read(text)
    check_faults(plan)
    check_spans(plan)


@settings(max_examples=150)
@given(st.text(max_size=300))
@example('"')
@example("#")
@example("\u200b")
@example("plan \u0130 ſ K")
@example('kiln "k"\n²³¼ V, ٣ C')
def test_any_text_gives_a_plan(text: str) -> None:
    """Any characters at all give a plan and faults, never a traceback."""
    plan = read(text)
    check_faults(plan)
    check_spans(plan)


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=300))
@example(b"\xef\xbb\xbf\xef\xbb\xbfplan")
@example(b"\xff\xfe")
def test_any_bytes_give_a_plan_or_a_reason(tmp_path: Path, content: bytes) -> None:
    """Any file gives a plan, or the reason why it is none."""
    path = tmp_path / "any.firing"
    path.write_bytes(content)
    try:
        check_faults(read_plan(load_source(path)))
    except UnreadablePlan as reason:
        if str(path) not in str(reason):
            pytest.fail(f"{reason} does not name the file")


# -- a sound plan, broken -------------------------------------------------------------------------

LETTERS = st.sampled_from(string.ascii_lowercase + "0123456789 ,.:;#\"“”'°½-–/\t\u00a0é\u0301🙂")


@st.composite
def broken_plans(draw: st.DrawFn) -> str:
    """A sound plan with letters and lines left out, put in, and swapped."""
    lines = draw(st.sampled_from(sorted(SOUND.values()))).splitlines()
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(lines) - 1))
        line = lines[at]
        place = draw(st.integers(0, len(line)))
        match draw(st.integers(0, 5)):
            case 0:
                lines[at] = line[:place] + line[place + draw(st.integers(1, 4)) :]
            case 1:
                lines[at] = line[:place] + draw(LETTERS) + line[place:]
            case 2:
                lines[at] = line[:place] + line[place : place + 2][::-1] + line[place + 2 :]
            case 3:
                lines.insert(at, lines.pop(draw(st.integers(0, len(lines) - 1))))
            case 4:
                lines.insert(at, line)
            case _ if len(lines) > 1:
                lines.pop(at)
    return draw(st.sampled_from(["\n", "\r\n", "\r"])).join(lines)


@settings(max_examples=250)
@given(broken_plans())
def test_a_broken_plan_is_still_read(text: str) -> None:
    """Slips of the keyboard give faults at their places, and the rest of the plan is read."""
    plan = read(text)
    check_faults(plan)
    check_spans(plan)


def lines_of(plan: Plan) -> dict[int, set[tuple[str, str]]]:
    """What the model holds from each line: field and value of everything written there."""
    found: dict[int, set[tuple[str, str]]] = {}
    for field, written in written_in(attrs.evolve(plan, faults=())):
        if field != "heading" and written.value is not None:
            found.setdefault(written.span.line, set()).add(
                (field, f"{type(written.value).__name__} {written.value}")
            )
    return found


@settings(max_examples=150)
@given(broken_plans())
def test_a_faulty_line_leaves_the_others_alone(text: str) -> None:
    """With a faulty line taken out, every other line gives the model what it gave before.

    A faulty heading still opens its section, a line that stands in the wrong section may be taken
    for its heading, and the series of a witness set holds for its cones: these are left out here.
    What a misspelt line is taken to mean stands for that line alone, so no faulty line is compared.
    """
    plan = read(text)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for fault in plan.faults:
        if fault.rule in ACROSS_LINES or fault.rule == "fact-misplaced":
            continue
        if fault.line == GRAMMAR.right_lines["witness_series"][0].to_copy:
            continue  # a series that is only misspelt holds for the cones of its set
        section = [*lines]
        section[fault.span.line - 1] = ""
        blanked = read("\n".join(section))
        if [one.heading for one in sections_of(plan)] != [
            one.heading for one in sections_of(blanked)
        ]:
            continue
        before, after = lines_of(plan), lines_of(blanked)
        for faulty in plan.faults:
            before.pop(faulty.span.line, None)
            after.pop(faulty.span.line, None)
        assert before == after, fault
        assert faults_but_of(fault.span.line, plan) == faults_but_of(fault.span.line, blanked)
        return


def faults_but_of(line: int, plan: Plan) -> list[TextFault]:
    """The faults that are about one line, and not this one."""
    return [
        fault for fault in plan.faults if fault.span.line != line and fault.rule not in ACROSS_LINES
    ]


def sections_of(plan: Plan) -> list[object]:
    one = (plan.kiln, plan.load, plan.schedule, plan.safety, *plan.witness_sets, *plan.readings)
    return [plan, *(section for section in one if section)]


# -- columns --------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", SOUND.values(), ids=SOUND.keys())
def test_spans_of_sound_plans(text: str) -> None:
    """Every value of a sound plan is the value of the text its span covers."""
    plan = read(text)
    assert plan.faults == ()
    check_spans(plan)


@pytest.mark.parametrize(
    ("line", "wrong"),
    [
        ("\t\thold  2 huors", "2 huors"),
        ("\u00a0hold -5 min", "-5 min"),
        ('note "cafe\u0301 🙂" extra', "extra"),
        ("  note “Ü” extra # é", "extra"),
        ("hold 2 h 🙂", "🙂"),
        ("climb 60 °C/h to 95", "95"),
        ("climb\t60\t°C/h\tto\t9500\t°C", "9500\t°C"),
    ],
)
def test_columns_count_characters(line: str, wrong: str) -> None:
    """A tab, a degree sign, a combining accent and an emoji are one column each code point."""
    heading = 'plan "p"' if "note" in line else "schedule"
    (fault,) = read(f"{heading}\n{line}").faults
    assert isinstance(fault, TextFault)
    assert fault.span == Span(2, line.index(wrong) + 1, line.index(wrong) + 1 + len(wrong))
