"""Room: the vocabulary of plans; here what a rule may ask of the safety section."""

import re
from calendar import monthrange
from collections.abc import Callable, Iterable
from datetime import date
from math import ceil
from typing import Any

from guardcone.firing.of_plan import kinetics_for
from guardcone.firing.tables import table
from guardcone.language.tokens import CalendarMonth
from guardcone.plan.build import FILL_IN
from guardcone.plan.model import CutOff, Eyes, Safety, Vent
from guardcone.rulebook.facts.amounts import degrees, hours
from guardcone.rulebook.facts.case import Of, PlanCase, part_fact, written_fact
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
from guardcone.rulebook.protection import (
    is_no_glove,
    is_no_lens,
    is_not_working,
    is_water,
    vent_kind,
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
        if _to_fill_in(getattr(part, "by" if line in _INSPECTED else "words", None)):
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


# Lines about an inspection, and by whom.
_INSPECTED = ("electrics", "gas_line")
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
    """Off too where the words beside it say that there is none, or that it does not work."""
    if vent.words and is_not_working(vent.words.value):
        return "off"
    switched = vent.switched.value if vent.switched else "on"
    return "on" if switched == "on" else "off"


def _vent_kind(vent: Any) -> Any:
    """As the plan says it, or as the words in quotes do."""
    if vent.kind or not vent.words:
        return vent.kind
    kind = vent_kind(vent.words.value)
    return Written(kind, vent.words.span) if kind else None


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


def _eyes_named(eyes: Any) -> str:
    return eyes.words.value if eyes.words else "sunglasses" if eyes.sunglasses else ""


def _eyes_said(of: Of[Safety]) -> Any:
    eyes = of.it.eyes
    return Written(_eyes_named(eyes) or None, eyes.span) if eyes else None


def _lens_unfit(of: Of[Safety]) -> Any:
    """Yes, at the line, where it names nothing that stops infrared."""
    eyes = of.it.eyes
    if eyes is None or _to_fill_in(eyes.words):
        return UNREADABLE if "eyes" in of.it.unreadable or eyes else False
    said_none = eyes.words is not None and says_none(eyes.words.value)
    unfit = is_no_lens(_eyes_named(eyes)) and (not eyes.most or not said_none)
    return Written(bool(_eyes_named(eyes)) and unfit, eyes.span)


def _gloves_unfit(of: Of[Safety]) -> Any:
    """Yes, at the words, where they name nothing that keeps the heat off."""
    hands = of.it.hands
    if hands is None or _to_fill_in(hands):
        return UNREADABLE if "hands" in of.it.unreadable or hands else False
    return Written(is_no_glove(hands.value), hands.span)


def _hands_named(of: Of[Safety]) -> Any:
    return of.it.hands


def _heat(of: Of[Safety], burns: Callable[[str], bool]) -> Any:
    """Whether the kiln may be heated so: a plan that does not say its fuel may mean any."""
    plan = of.case.plan
    if plan.kiln is None or plan.kiln.fuel is None:
        unsaid = plan.kiln is None or "fuel" not in plan.kiln.unreadable
        return True if unsaid else UNREADABLE
    return Written(burns(plan.kiln.fuel.value), plan.kiln.fuel.span)


_GASES = ("gas", "natural-gas", "propane")


def _fuel_fact(name: str, doc: str, burns: Callable[[str], bool]) -> Fact:
    return Fact(name, FLAG, doc, lambda of: _heat(of, burns))


def _inspected(inspection: Any) -> Any:
    when = inspection.when
    if when is None:
        return None
    if isinstance(when.value, CalendarMonth):
        return Written(date(when.value.year, when.value.month, 1), when.span)
    return when


_ELECTRICIAN = re.compile(r"\belectrician\b")
_GAS_FITTER = re.compile(
    r"\bgas[ -](fitter|engineer|technician|installer)\b"
    r"|\b(licen[sc]ed|registered|certified) (gas )?(fitter|plumber|engineer|technician|installer)\b"
)
_NO_LICENCE = re.compile(
    r"\b(not?|never|un-?licen[sc]ed|unregistered|without|former|retired|ex|apprentice|trainee"
    r"|student|hobby|would-be|future)\b"
)


def _by_trade(keyword: str, trade: re.Pattern[str]) -> Callable[[Any], bool]:
    def by(inspection: Any) -> bool:
        told = inspection.by.value.casefold() if inspection.by else ""
        in_words = bool(trade.search(told)) and not _NO_LICENCE.search(told)
        return bool(getattr(inspection, keyword)) or in_words

    return by


def _inspection_age(line: str) -> Callable[[Of[Safety]], Any]:
    def age(of: Of[Safety]) -> Any:
        """From the inspection, of a month its last day, to the day of the firing; never negative.

        So a month is never counted as longer ago than it can be.
        """
        inspection, plan = getattr(of.it, line), of.case.plan
        if inspection is None or inspection.when is None or plan.starts_on is None:
            return UNREADABLE if line in of.it.unreadable else None
        when = inspection.when.value
        if isinstance(when, CalendarMonth):
            when = date(when.year, when.month, monthrange(when.year, when.month)[1])
        days = (plan.starts_on.value - when).days
        return Written(Duration.of(max(0, days), "days"), inspection.when.span)

    return age


def _cut_off_kind(cut_off: Any) -> str:
    for kind in ("timer", "temperature", "cone", "controller"):
        if getattr(cut_off, kind):
            return kind
    return "words"


def _cut_off_heat(of: Of[Safety]) -> Any:
    """The heat at which the cut-off acts; of a cone, where it ends at 60 °C/h."""
    cut_off = of.it.cut_off
    if cut_off is None or cut_off.temperature:
        return cut_off.temperature if cut_off else None
    law = kinetics_for(cut_off.cone.value) if cut_off.cone else None
    return Written(degrees(law.end_60), cut_off.cone.span) if law and cut_off.cone else None


def _timer_to_set(of: Of[Safety]) -> Any:
    """An hour past the end of this firing, to the next half hour; None where it is not known."""
    firing = of.case.firing
    return hours(ceil((firing.powered_hours + 1) * 2) / 2) if firing.fired else None


def _water(of: Of[Safety]) -> Any:
    """Yes, at the words, where the extinguisher is water, or water stands beside another."""
    told = of.it.extinguisher
    if told is None:
        return UNREADABLE if "extinguisher" in of.it.unreadable else False
    return Written(is_water(told.value), told.span)


def _no_or_fitted(name: str) -> Callable[[Safety], Any]:
    def get(safety: Safety) -> Any:
        found = getattr(safety, name)
        if found is None:
            return UNREADABLE if name in safety.unreadable else None
        return found

    return get


def _sections(case: PlanCase) -> Iterable[Of[Safety]]:
    """The safety section; a plan without one has it empty, so that each danger is told by name."""
    plan = case.plan
    if plan.safety is not None:
        return (Of(case, plan.safety),)
    is_empty = all(line.blank for line in plan.source.lines)
    return () if is_empty else (Of(case, Safety(plan.heading)),)


SAFETY = Subject(
    "safety",
    "What the plan does for people and the building.",
    _sections,
    (
        _fuel_fact(
            "may-burn-fuel",
            "Yes if the kiln burns gas, oil or wood, or the plan does not say what heats it.",
            lambda fuel: fuel != "electric",
        ),
        _fuel_fact(
            "may-burn-gas",
            "Yes if the kiln burns gas, or the plan does not say what heats it.",
            lambda fuel: fuel in _GASES,
        ),
        _fuel_fact(
            "may-burn-gas-or-oil",
            "Yes if the kiln burns gas or oil, or the plan does not say what heats it.",
            lambda fuel: fuel in (*_GASES, "oil"),
        ),
        _fuel_fact(
            "may-be-electric",
            "Yes if the kiln is electric, or the plan does not say what heats it.",
            lambda fuel: fuel == "electric",
        ),
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
            _vent_kind,
        ),
        written_fact("clearance", LENGTH, "How far the kiln stands from all that burns."),
        _of_line("eyes", TEXT, "What protects the eyes.", "eyes", lambda e: e.words or "said"),
        _of_line("eye-shade", NUMBER, "The darkest welding shade.", "eyes", lambda e: e.most),
        Fact("eyes-named", TEXT, "What is named for the eyes, also none.", _eyes_said),
        Fact(
            "lens-unfit",
            FLAG,
            "Yes if what is named for the eyes stops no infrared, or is nothing.",
            _lens_unfit,
        ),
        Fact(
            "scale-shade",
            NUMBER,
            "The shade that EN 171 gives for the peak, or else for the target.",
            _scale_shade,
        ),
        _told("hands", "What protects the hands."),
        Fact("hands-named", TEXT, "What is named for the hands, also none.", _hands_named),
        Fact(
            "gloves-unfit",
            FLAG,
            "Yes if what is named for the hands keeps no heat off, or is nothing.",
            _gloves_unfit,
        ),
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
            _by_trade("by_electrician", _ELECTRICIAN),
        ),
        Fact(
            "inspection-age",
            DURATION,
            "How long before the firing the electrics were inspected.",
            _inspection_age("electrics"),
        ),
        _of_line(
            "gas-line-inspected",
            DATE,
            "When the gas line was inspected.",
            "gas_line",
            _inspected,
        ),
        _of_line("gas-line", TEXT, "What is said of the gas line.", "gas_line", lambda _: "said"),
        _of_line(
            "inspected-by-gas-fitter",
            FLAG,
            "Yes if a licensed gas fitter inspected it.",
            "gas_line",
            _by_trade("by_gas_fitter", _GAS_FITTER),
        ),
        Fact(
            "gas-line-age",
            DURATION,
            "How long before the firing the gas line was inspected.",
            _inspection_age("gas_line"),
        ),
        Fact(
            "cut-off-heat",
            TEMPERATURE,
            "The temperature at which it is cut off; of a cone, where that ends at 60 °C/h.",
            _cut_off_heat,
        ),
        Fact(
            "timer-to-set",
            DURATION,
            "What a back-up timer would be set to in this firing: about an hour past its end.",
            _timer_to_set,
        ),
        _told("local-code", "Against what local rule the plan was checked."),
        part_fact(
            "co-alarm", words("fitted", "no"), "A carbon monoxide alarm.", _no_or_fitted("co_alarm")
        ),
        _told("extinguisher", "The fire extinguisher."),
        Fact("water-at-hand", FLAG, "Yes if water stands there against fire.", _water),
        _told("emergency", "Whom to call."),
        _told("bystanders", "How children and animals are kept away."),
        written_fact("power-off", TEXT, "That the power is off before unloading."),
        written_fact("gas-off", TEXT, "That gas or oil is off before unloading."),
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
