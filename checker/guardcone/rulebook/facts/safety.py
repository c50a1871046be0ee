"""Room: the vocabulary of plans; here what a rule may ask of the safety section."""

from collections.abc import Callable
from datetime import date
from typing import Any

from guardcone.language.tokens import CalendarMonth
from guardcone.plan.model import Safety, Watch
from guardcone.rulebook.facts.case import Of, part_fact, single, written_fact
from guardcone.rulebook.kinds import (
    DATE,
    DURATION,
    FLAG,
    LENGTH,
    NUMBER,
    TEMPERATURE,
    TEXT,
    Type,
    words,
)
from guardcone.rulebook.vocabulary import UNREADABLE, Fact, Subject
from guardcone.span import Written

__all__ = ["SAFETY"]


def _of_line(name: str, kind: Type, doc: str, line: str, get: Callable[[Any], Any]) -> Fact:
    """A fact out of a line of several parts; it points at the whole line."""

    def read(of: Of[Safety]) -> Any:
        part = getattr(of.it, line)
        if part is None:
            return UNREADABLE if line in of.it.unreadable else None
        value = get(part)
        return Written(value, part.span) if value is not None and not _written(value) else value

    return Fact(name, kind, doc, read)


def _written(value: Any) -> bool:
    return isinstance(value, Written)


def _vent_works(vent: Any) -> str:
    switched = vent.switched.value if vent.switched else "on"
    return "on" if switched == "on" else "off"


def _vent_throughout(vent: Any) -> bool:
    """On from the first to the last: said so, or on for both firing and cooling."""
    if _vent_works(vent) == "off" or vent.until or vent.starts:
        return False
    if vent.throughout:
        return True
    return bool(vent.during) and {word.value for word in vent.during} >= {"firing", "cooling"}


def _watched_to_end(safety: Safety) -> Any:
    """Yes, pointing at the line, if somebody is there to the end of the firing."""
    if "watches" in safety.unreadable:
        return UNREADABLE
    for watch in safety.watches:
        if watch.throughout or watch.to_end:
            return Written(True, watch.span)
    return Written(False, safety.watches[-1].span) if safety.watches else None


def _nobody(safety: Safety) -> Any:
    return next((Written(True, watch.span) for watch in safety.watches if watch.nobody), False)


def _watcher_named(safety: Safety) -> Any:
    found: Watch | None = next((watch for watch in safety.watches if watch.who), None)
    return found.who if found else None


def _inspected(inspection: Any) -> Any:
    when = inspection.when
    if when is None:
        return None
    if isinstance(when.value, CalendarMonth):
        return Written(date(when.value.year, when.value.month, 1), when.span)
    return when


def _cut_off_kind(cut_off: Any) -> str:
    for kind in ("timer", "temperature", "cone", "controller"):
        if getattr(cut_off, kind):
            return kind
    return "words"


def _no_or_fitted(name: str) -> Callable[[Safety], Any]:
    def get(safety: Safety) -> Any:
        found = getattr(safety, name)
        if found is None:
            return UNREADABLE if name in safety.unreadable else None
        return found

    return get


SAFETY = Subject(
    "safety",
    "What the plan does for people and the building.",
    single("safety"),
    (
        _of_line("vent", words("on", "off"), "The vent, on or off.", "vent", _vent_works),
        _of_line(
            "vent-throughout", FLAG, "Yes if the vent is on throughout.", "vent", _vent_throughout
        ),
        _of_line("vent-until", TEMPERATURE, "Where the vent goes off.", "vent", lambda v: v.until),
        _of_line(
            "vent-kind",
            words("downdraft", "hood", "window"),
            "What sort of vent it is.",
            "vent",
            lambda vent: vent.kind,
        ),
        written_fact("clearance", LENGTH, "How far the kiln stands from all that burns."),
        _of_line("eyes", TEXT, "What protects the eyes.", "eyes", lambda e: e.words or "said"),
        _of_line("eye-shade", NUMBER, "The darkest welding shade.", "eyes", lambda e: e.most),
        _of_line("sunglasses", FLAG, "Yes for sunglasses.", "eyes", lambda e: bool(e.sunglasses)),
        written_fact("hands", TEXT, "What protects the hands."),
        part_fact("watched-to-end", FLAG, "Yes if somebody is there to the end.", _watched_to_end),
        part_fact("nobody-watches", FLAG, "Yes if the plan says that nobody watches.", _nobody),
        part_fact("watcher", TEXT, "Who watches first.", _watcher_named),
        _of_line(
            "cut-off",
            words("timer", "temperature", "cone", "controller", "words"),
            "What switches the kiln off if nobody does.",
            "cut_off",
            _cut_off_kind,
        ),
        _of_line(
            "cut-off-is-backup",
            FLAG,
            "Yes if the plan calls the cut-off a backup.",
            "cut_off",
            lambda cut_off: bool(cut_off.backup),
        ),
        _of_line("cut-off-timer", DURATION, "After how long.", "cut_off", lambda c: c.timer),
        _of_line(
            "cut-off-temperature",
            TEMPERATURE,
            "At what temperature.",
            "cut_off",
            lambda cut_off: cut_off.temperature,
        ),
        _of_line("inspected", DATE, "When the electrics were inspected.", "electrics", _inspected),
        _of_line(
            "electrics", TEXT, "What is said of the electrics.", "electrics", lambda _: "said"
        ),
        _of_line(
            "inspected-by-electrician",
            FLAG,
            "Yes if a licensed electrician inspected them.",
            "electrics",
            lambda inspection: bool(inspection.by_electrician),
        ),
        written_fact("local-code", TEXT, "Against what local rule the plan was checked."),
        part_fact(
            "co-alarm", words("fitted", "no"), "A carbon monoxide alarm.", _no_or_fitted("co_alarm")
        ),
        written_fact("extinguisher", TEXT, "The fire extinguisher."),
        written_fact("emergency", TEXT, "Whom to call."),
        written_fact("bystanders", TEXT, "How children and animals are kept away."),
        written_fact("power-off", TEXT, "That the power is off before unloading."),
        written_fact("dust", TEXT, "What protects from dust."),
        part_fact(
            "flame-safety",
            words("fitted", "no"),
            "The flame failure device.",
            _no_or_fitted("flame_safety"),
        ),
        written_fact("combustion-air", TEXT, "Where the air for the flame comes from."),
    ),
    lambda of: of.it.heading,
    single=True,
)
