"""What facts promise: values of the kind they declare, and one answer to each question."""

import random
import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from the_book import SOUND, all_examples

from guardcone.condition.kinds import QUANTITY_CLASS, Kind, Type
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts import VOCABULARY, PlanCase
from guardcone.language import SourceText, split_lines
from guardcone.outlook.outlook import forecast_of
from guardcone.plan import read_plan
from guardcone.plan.plan import Plan
from guardcone.rulebook.example_plan import splice
from guardcone.span import Written
from guardcone.values import Cone

SAMPLES = Path(__file__).parents[2] / "sample_plans"
PLAIN: dict[Kind, Any] = {
    **QUANTITY_CLASS,
    Kind.CONE: Cone,
    Kind.NUMBER: (int, float),
    Kind.TEXT: str,
    Kind.FLAG: bool,
    Kind.WORD: str,
    Kind.DATE: date,
    Kind.MOMENT: datetime,
}


def plan_of(text: str) -> Plan:
    return read_plan(SourceText("plan", split_lines(text)))


def every_text() -> Iterator[str]:
    """The text of every sample plan, sound plan and example of the book, each once."""
    texts = [path.read_text(encoding="utf-8") for path in sorted(SAMPLES.glob("*.firing"))]
    texts += SOUND.values()
    # No example has such a kiln.
    texts.append(SOUND["stoneware"].replace("front door", "top hat"))
    texts += [splice(SOUND[e.base], e.plan, e.without, e.changes).text for e in all_examples()]
    yield from dict.fromkeys(texts)


def value_of(fact: Any) -> Any:
    return fact.value if isinstance(fact, Written) else fact


def is_of(kind: Type, value: Any) -> bool:
    """True if a value is what a fact of this type may give."""
    if value is None or value is UNREADABLE:
        return True
    if kind.kind is Kind.SUBJECT:
        return isinstance(value, Iterable) is kind.is_many
    if kind.kind is Kind.NUMBER and isinstance(value, bool):
        return False
    if not isinstance(value, PLAIN[kind.kind]):
        return False
    return kind.kind is not Kind.WORD or value in kind.words


def test_every_fact_keeps_its_kind() -> None:
    """Over all the plans there are, no fact gives a value of another kind or a word of no list."""
    wrong: dict[str, str] = {}
    asked = 0
    for text in every_text():
        case = PlanCase(plan_of(text))
        for subject in VOCABULARY.subjects:
            for instance in subject.each(case):
                if instance is UNREADABLE:
                    continue
                for fact in subject.facts:
                    asked += 1
                    value = value_of(fact.get(instance))
                    if not is_of(fact.type, value):
                        wrong[f"{fact.name} of {subject.name}"] = f"{value!r} is no {fact.type}"

    assert wrong == {}
    assert asked > 100_000


# -- one answer to each question ------------------------------------------------------------------


def varied(name: str, seed: int) -> str:
    """A sound plan whose rates, peaks, walls and watches are moved, and some targets left out."""
    chance = random.Random(f"{name} {seed}")

    def moved(found: re.Match[str]) -> str:
        return f"{float(found[1]) * chance.choice((0.8, 0.97, 1.0, 1.03, 1.5)):.0f} {found[2]}"

    lines = []
    for line in SOUND[name].splitlines():
        if re.match(r"\s+target ", line) and chance.random() < 0.4:
            continue
        if re.match(r"\s+(climb|hold|cool)", line):
            line = re.sub(r"([0-9.]+) ([CF](?:/h)?|min|h)\b", moved, line)
        if re.match(r"\s+(watch|ware) ", line) and chance.random() < 0.5:
            line = re.sub(r"wall ([0-9.]+) (mm)", lambda w: f"wall {float(w[1]) * 2:.0f} mm", line)
            line = line.replace("to end", f"to {chance.randrange(24)}:00")
        lines.append(line)
    return "\n".join(lines) + "\n"


def ask(case: PlanCase, subject: str) -> list[dict[str, Any]]:
    """Every fact of each instance of a subject."""
    found = VOCABULARY.subject(subject)
    assert found is not None
    return [
        {fact.name: value_of(fact.get(one)) for fact in found.facts}
        for one in found.each(case)
        if one is not UNREADABLE
    ]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", SOUND)
def test_two_facts_on_one_question_agree(name: str, seed: int) -> None:
    """Facts of the forecast, of ware and sets, and the forecast for people agree."""
    plan = plan_of(varied(name, seed))
    case = PlanCase(plan)
    told = forecast_of(plan)
    assert told.course is not None
    (firing,) = ask(case, "forecast")
    sets, wares = (ask(case, one) for one in ("witness set", "ware"))

    if firing["target-cone"] is not None and sets:
        assert firing["target-cone"] in [one["intended-target"] for one in sets]
    if told.advice and firing["target-cone"] is not None:
        assert firing["target-cone"] in [one.target for one in told.advice]
    assert firing["peak"].celsius == pytest.approx(told.course.peak)
    assert firing["heating-time"].hours == pytest.approx(told.course.power_needed_until.hour)
    for fact, band, way in (
        ("carbon-rate", "carbon", "up"),
        ("quartz-up-rate", "quartz", "up"),
        ("quartz-down-rate", "quartz", "down"),
    ):
        stays = [stay for stay in told.bands if (stay.band, stay.way) == (band, way)]
        rates = [stay.mean_rate for stay in stays if stay.mean_rate is not None]
        if firing[fact] is not None:
            wanted = rates[0] if fact == "carbon-rate" else max(rates)
            assert firing[fact].celsius_per_hour == pytest.approx(wanted, abs=1e-6)
    for ware in wares:
        for drying in told.drying:
            if ware["name"] == drying.ware:
                assert firing["drying"].hours == pytest.approx(drying.given, abs=1e-6)
                assert ware["drying-least"].hours == pytest.approx(drying.needed_least, abs=1e-6)
        for lag in told.lags:
            if ware["name"] == lag.ware:
                fact = ware[f"core-lag-{lag.way}"]
                assert fact.celsius == pytest.approx(lag.heated_from_both_sides, abs=1e-6)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", SOUND)
def test_whoever_watches_throughout_is_there_for_the_guide(name: str, seed: int) -> None:
    """No plan whose whole firing is watched has a guide that nobody is there for."""
    case = PlanCase(plan_of(varied(name, seed)))
    (firing,), (safety,) = ask(case, "forecast"), ask(case, "safety")

    if safety["burning-watched"] and safety["watched-to-end"]:
        assert firing["guide-unwatched"] is not True
