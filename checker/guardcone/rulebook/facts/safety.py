"""Room: the vocabulary of plans; here what a rule may ask of the safety section."""

from calendar import monthrange
from collections.abc import Callable
from datetime import date
from typing import Any

from guardcone.firing.of_plan import kinetics_for
from guardcone.firing.tables import table
from guardcone.language.tokens import CalendarMonth
from guardcone.plan.build import FILL_IN
from guardcone.plan.model import CutOff, Eyes, Safety, Vent
from guardcone.rulebook.facts.case import Of, part_fact, single, written_fact
from guardcone.rulebook.facts.watching import WATCH_FACTS
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
from guardcone.rulebook.reasons import says_none
from guardcone.rulebook.vocabulary import UNREADABLE, Fact, Subject
from guardcone.span import Written
from guardcone.values import Duration

__all__ = ["SAFETY", "scale_shade"]


def _of_line(name: str, kind: Type, doc: str, line: str, get: Callable[[Any], Any]) -> Fact:
    """A fact out of a line of several parts; it points at the whole line."""

    def read(of: Of[Safety]) -> Any:
        part = getattr(of.it, line)
        if part is None:
            return UNREADABLE if line in of.it.unreadable else None
        if _to_fill_in(getattr(part, "by" if line == "electrics" else "words", None)):
            return UNREADABLE
        if line in _MAY_BE_NONE and _says_none(part.words) and not _says_more(part):
            return Written(None, part.span)
        value = get(part)
        return Written(value, part.span) if value is not None and not _written(value) else value

    return Fact(name, kind, doc, read)


def _told(name: str, doc: str) -> Fact:
    """A text of the section; one that says `none` or `not checked yet` is missing at its place."""
    field = name.replace("-", "_")

    def get(of: Of[Safety]) -> Any:
        text: Written[str] | None = getattr(of.it, field)
        if text is None:
            return UNREADABLE if field in of.it.unreadable else None
        return Written(None, text.span) if says_none(text.value) else text

    return Fact(name, TEXT, doc, get)


def _to_fill_in(words: Written[str] | None) -> bool:
    """True for a place of a new plan, of which the text fault still-to-fill-in tells."""
    return words is not None and words.value.casefold().startswith(FILL_IN)


def _says_none(words: Written[str] | None) -> bool:
    return words is not None and says_none(words.value)


def _written(value: Any) -> bool:
    return isinstance(value, Written)


# Lines that may say in quotes that there is none.
_MAY_BE_NONE = ("eyes", "cut_off", "vent")


def _says_more(part: Eyes | CutOff | Vent) -> bool:
    """True where the line names a thing besides its words."""
    if isinstance(part, Eyes):
        return bool(part.most or part.sunglasses)
    if isinstance(part, Vent):
        return bool(part.switched or part.kind)
    return any((part.timer, part.temperature, part.cone, part.controller))


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


def _vent_time(vent: Any) -> str:
    """`throughout`, `to-end` of the firing, `part` of it, or `unsaid`."""
    if _vent_throughout(vent):
        return "throughout"
    if vent.until or vent.starts or vent.during:
        return "part"
    return "to-end" if vent.to_end else "unsaid"


def _outdoors(of: Of[Safety]) -> Any:
    """Only a plan that says so is taken to be fired in the open air."""
    kiln = of.case.plan.kiln
    if kiln is None:
        return False
    if kiln.setting is None:
        return UNREADABLE if "setting" in kiln.unreadable else False
    return Written(kiln.setting.value == "outdoors", kiln.setting.span)


def scale_shade(celsius: float) -> float:
    """The shade that the infrared scale of EN 171 gives for a source this hot, in °C.

    Source: rules/tables/eye_shades.csv. Past its last line the last shade, as the least.
    """
    rows = table("eye_shades")
    for row in rows:
        if celsius <= float(row["up_to_c"]):
            return float(row["shade"])
    return float(rows[-1]["shade"])


def _scale_shade(of: Of[Safety]) -> Any:
    """Of the peak; where the schedule tells none, of the target."""
    firing, target = of.case.firing, of.case.plan.target
    if firing.fired:
        return scale_shade(firing.peak)
    if target is None:
        return None
    if target.temperature:
        return scale_shade(target.temperature.value.celsius)
    law = kinetics_for(target.cone.value) if target.cone else None
    return scale_shade(law.end_60) if law else None


def _sunglasses(eyes: Any) -> bool:
    told = eyes.words.value.casefold() if eyes.words else ""
    return bool(eyes.sunglasses) or "sunglasses" in told or "sun glasses" in told


def _inspected(inspection: Any) -> Any:
    when = inspection.when
    if when is None:
        return None
    if isinstance(when.value, CalendarMonth):
        return Written(date(when.value.year, when.value.month, 1), when.span)
    return when


def _by_electrician(inspection: Any) -> bool:
    told = inspection.by.value.casefold() if inspection.by else ""
    return bool(inspection.by_electrician) or "electrician" in told


def _inspection_age(of: Of[Safety]) -> Any:
    """From the inspection, of a month its last day, to the day the firing starts; never negative.

    So a month is never counted as longer ago than it can be.
    """
    inspection, plan = of.it.electrics, of.case.plan
    if inspection is None or inspection.when is None or plan.starts_on is None:
        return UNREADABLE if "electrics" in of.it.unreadable else None
    when = inspection.when.value
    if isinstance(when, CalendarMonth):
        when = date(when.year, when.month, monthrange(when.year, when.month)[1])
    days = (plan.starts_on.value - when).days
    return Written(Duration.of(max(0, days), "days"), inspection.when.span)


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
        _of_line("vent-from", TEMPERATURE, "Where the vent goes on.", "vent", lambda v: v.starts),
        _of_line(
            "vent-time",
            words("throughout", "to-end", "part", "unsaid"),
            "How long the vent is on: firing and cooling, to the end of the firing, a part of it.",
            "vent",
            _vent_time,
        ),
        Fact("outdoors", FLAG, "Yes if the plan says that the kiln stands outdoors.", _outdoors),
        _of_line(
            "vent-kind",
            words("downdraft", "hood", "flue", "window"),
            "What sort of vent it is.",
            "vent",
            lambda vent: vent.kind,
        ),
        written_fact("clearance", LENGTH, "How far the kiln stands from all that burns."),
        _of_line("eyes", TEXT, "What protects the eyes.", "eyes", lambda e: e.words or "said"),
        _of_line("eye-shade", NUMBER, "The darkest welding shade.", "eyes", lambda e: e.most),
        _of_line("sunglasses", FLAG, "Yes for sunglasses.", "eyes", _sunglasses),
        Fact(
            "scale-shade",
            NUMBER,
            "The shade that EN 171 gives for the peak, or else for the target.",
            _scale_shade,
        ),
        _told("hands", "What protects the hands."),
        *WATCH_FACTS,
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
            _by_electrician,
        ),
        Fact(
            "inspection-age",
            DURATION,
            "How long before the firing the electrics were inspected.",
            _inspection_age,
        ),
        _told("local-code", "Against what local rule the plan was checked."),
        part_fact(
            "co-alarm", words("fitted", "no"), "A carbon monoxide alarm.", _no_or_fitted("co_alarm")
        ),
        _told("extinguisher", "The fire extinguisher."),
        _told("emergency", "Whom to call."),
        _told("bystanders", "How children and animals are kept away."),
        written_fact("power-off", TEXT, "That the power is off before unloading."),
        _told("dust", "What protects from dust."),
        part_fact(
            "flame-safety",
            words("fitted", "no"),
            "The flame failure device.",
            _no_or_fitted("flame_safety"),
        ),
        _told("combustion-air", "Where the air for the flame comes from."),
    ),
    lambda of: of.it.heading,
    single=True,
)
