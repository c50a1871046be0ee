"""What a rule may ask of the safety section."""

from collections.abc import Callable, Iterable
from math import ceil
from operator import attrgetter
from typing import Any

from guardcone.condition.kinds import DURATION, FLAG, LENGTH, NUMBER, TEMPERATURE, TEXT, Type, words
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of, PlanCase, PlanSubject, Read, degrees, hours, read_field
from guardcone.firing.cones import kinetics_for
from guardcone.firing.tables import table
from guardcone.language.claims import (
    is_controller,
    is_defeated,
    is_no_air,
    is_no_code,
    is_no_cut_off,
    is_no_extinguisher,
    is_no_glove,
    is_no_lens,
    is_no_vent,
    is_not_working,
    is_on_throughout,
    is_refused,
    is_unproven_lens,
    is_water,
    lets_in,
    raises_dust,
    reaches_nobody,
    vent_kind,
)
from guardcone.language.grammar import words_of
from guardcone.language.meanings import is_to_fill_in, says_none
from guardcone.plan.safety import CutOff, Eyes, Safety, Vent
from guardcone.span import Written

__all__ = ["SAFETY", "read_line", "scale_shade", "to_fill_in", "vent_leads_fumes_off"]


def to_fill_in(words: Written[str] | None) -> bool:
    """True for a place of a new plan, of which the text fault still-to-fill-in tells."""
    return words is not None and is_to_fill_in(words.value)


def _says_none(words: Written[str] | None) -> bool:
    return words is not None and says_none(words.value)


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


def read_line(of: Of[Safety], line: str, read: Callable[[Any], Any]) -> Any:
    """What a function reads out of a line of several parts; it points at the whole line."""
    part = getattr(of.it, line)
    if part is None:
        return UNREADABLE if line in of.it.unreadable else None
    if to_fill_in(getattr(part, "by" if line in _INSPECTED else "words", None)):
        return UNREADABLE
    if line in _MAY_BE_NONE and _says_none(part.words) and not _says_more(part):
        return Written(None, part.span)
    value = read(part)
    return value if value is None or isinstance(value, Written) else Written(value, part.span)


class SafetySubject(PlanSubject):
    """The safety section, with facts out of lines of several parts and texts that may say none."""

    def of_line(self, line: str, kind: Type, name: str = "") -> Callable[[Read], Read]:
        """Lets rules ask what the function below says of a line of several parts."""

        def keep(read: Read) -> Read:
            self._keep(read, kind, name, lambda of: read_line(of, line, read))
            return read

        return keep

    def part(self, name: str, kind: Type, doc: str, line: str, read: Callable[[Any], Any]) -> None:
        """Lets rules ask one part of such a line."""
        self.add(Fact(name, kind, doc, lambda of: read_line(of, line, read)))

    def told(self, name: str, doc: str, denies: Callable[[str], bool] = lambda _: False) -> None:
        """Lets rules ask a text; one that says `none` or `not checked yet` is missing there.

        So is one whose words deny what they are asked for.
        """

        def get(of: Of[Safety]) -> Any:
            text = read_field(of, name.replace("-", "_"))
            is_none = isinstance(text, Written) and (says_none(text.value) or denies(text.value))
            return Written(None, text.span) if is_none else text

        self.add(Fact(name, TEXT, doc, get))


def _sections(case: PlanCase) -> Iterable[Of[Safety]]:
    """The safety section; a plan without one has it empty, so that each danger is told by name."""
    plan = case.plan
    if plan.safety is not None:
        return (Of(case, plan.safety),)
    return () if plan.is_empty else (Of(case, Safety(plan.heading)),)


SAFETY = SafetySubject(
    "safety",
    "What the plan does for people and the building.",
    _sections,
    lambda of: of.it.heading,
    single=True,
)


@SAFETY.of_line("vent", words("on", "off"), "vent")
def _vent_works(vent: Any) -> str:
    """The vent, on or off.

    Off too where the words beside it say that there is none, or that it does not work.
    """
    words = vent.words.value if vent.words else ""
    if words and (is_not_working(words) or (vent.kind is None and is_no_vent(words))):
        return "off"
    switched = vent.switched.value if vent.switched else "on"
    return "on" if switched == "on" else "off"


@SAFETY.of_line("vent", FLAG)
def _vent_throughout(vent: Any) -> bool:
    """Yes if the vent is on throughout.

    On from the first to the last: said so, or on for both firing and cooling.
    """
    if _vent_works(vent) == "off" or vent.until or vent.starts:
        return False
    if vent.throughout or (vent.words and is_on_throughout(vent.words.value)):
        return True
    return bool(vent.during) and {word.value for word in vent.during} >= {"firing", "cooling"}


SAFETY.part("vent-until", TEMPERATURE, "Where the vent goes off.", "vent", attrgetter("until"))
SAFETY.part("vent-from", TEMPERATURE, "Where the vent goes on.", "vent", attrgetter("starts"))


@SAFETY.of_line("vent", words("throughout", "to-end", "part", "unsaid"))
def _vent_time(vent: Any) -> str:
    """How long the vent is on: firing and cooling, to the end of the firing, a part of it."""
    if _vent_throughout(vent):
        return "throughout"
    if vent.until or vent.starts or vent.during:
        return "part"
    return "to-end" if vent.to_end else "unsaid"


def vent_leads_fumes_off(vent: Any) -> bool:
    """True for one that is on, and not said to be off in firing or cooling."""
    return _vent_works(vent) == "on" and _vent_time(vent) in ("throughout", "unsaid")


@SAFETY.fact(FLAG)
def _outdoors(of: Of[Safety]) -> Any:
    """Yes if the plan says that the kiln stands outdoors.

    Only a plan that says so, and so that it can be read, is taken to be fired in the open air.
    """
    kiln = of.case.plan.kiln
    if kiln is None or kiln.setting is None:
        return False
    return Written(kiln.setting.value == "outdoors", kiln.setting.span)


@SAFETY.of_line("vent", words(*words_of("vent_kind")))
def _vent_kind(vent: Any) -> Any:
    """What sort of vent it is.

    As the plan says it, or as the words in quotes do.
    """
    if vent.kind or not vent.words:
        return vent.kind
    kind = vent_kind(vent.words.value)
    return Written(kind, vent.words.span) if kind else None


SAFETY.written("clearance", LENGTH, "How far the kiln stands from all that burns.")


@SAFETY.of_line("eyes", TEXT)
def _eyes(eyes: Any) -> Any:
    """What protects the eyes."""
    return eyes.words or "said"


SAFETY.part("eye-shade", NUMBER, "The darkest welding shade.", "eyes", attrgetter("most"))


def _eyes_named(eyes: Any) -> str:
    return eyes.words.value if eyes.words else "sunglasses" if eyes.sunglasses else ""


@SAFETY.fact(TEXT, "eyes-named")
def _eyes_said(of: Of[Safety]) -> Any:
    """What is named for the eyes, also none."""
    eyes = of.it.eyes
    return Written(_eyes_named(eyes) or None, eyes.span) if eyes else None


@SAFETY.fact(FLAG)
def _lens_unfit(of: Of[Safety]) -> Any:
    """Yes if what is named for the eyes stops no infrared, or is nothing."""
    eyes = of.it.eyes
    if eyes is None or to_fill_in(eyes.words):
        return UNREADABLE if "eyes" in of.it.unreadable or eyes else False
    said_none = eyes.words is not None and says_none(eyes.words.value)
    unfit = is_no_lens(_eyes_named(eyes)) and (not eyes.most or not said_none)
    return Written(bool(_eyes_named(eyes)) and unfit, eyes.span)


def scale_shade(celsius: float) -> float:
    """The shade that the infrared scale of EN 171 gives for a source this hot, in °C.

    Source: rules/tables/eye_shades.csv. Past its last line the last shade, as the least.
    """
    rows = table("eye_shades")
    for row in rows:
        if celsius <= float(row["up_to_c"]):
            return float(row["shade"])
    return float(rows[-1]["shade"])


@SAFETY.fact(NUMBER)
def _scale_shade(of: Of[Safety]) -> Any:
    """The shade that EN 171 gives for the peak, or else for the target."""
    firing, target = of.case.firing, of.case.plan.target
    if firing.fired:
        return scale_shade(firing.peak)
    if target is None:
        return None
    if target.temperature:
        return scale_shade(target.temperature.value.celsius)
    law = kinetics_for(target.cone.value) if target.cone else None
    return scale_shade(law.end_60) if law else None


@SAFETY.of_line("eyes", FLAG)
def _lens_unproven(eyes: Any) -> bool:
    """Yes if nobody can tell from what is named how much infrared it stops."""
    return not eyes.most and is_unproven_lens(_eyes_named(eyes))


SAFETY.told("hands", "What protects the hands.")


@SAFETY.fact(TEXT)
def _hands_named(of: Of[Safety]) -> Any:
    """What is named for the hands, also none."""
    return of.it.hands


@SAFETY.fact(FLAG)
def _gloves_unfit(of: Of[Safety]) -> Any:
    """Yes if what is named for the hands keeps no heat off, or is nothing."""
    hands = of.it.hands
    if hands is None or to_fill_in(hands):
        return UNREADABLE if "hands" in of.it.unreadable or hands else False
    return Written(is_no_glove(hands.value), hands.span)


@SAFETY.of_line("cut_off", words("timer", "temperature", "cone", "controller", "words"), "cut-off")
def _cut_off_kind(cut_off: Any) -> str:
    """What switches the kiln off if nobody does."""
    for kind in ("timer", "temperature", "cone", "controller"):
        if getattr(cut_off, kind):
            return kind
    return "controller" if cut_off.words and is_controller(cut_off.words.value) else "words"


@SAFETY.fact(TEXT)
def _cut_off_unfit(of: Of[Safety]) -> Any:
    """What is named to stop the kiln and stops none: luck, a fuse, at an electric kiln a hand."""
    cut_off, kiln = of.it.cut_off, of.case.plan.kiln
    if cut_off is None or cut_off.words is None or _says_more(cut_off):
        return None
    burns = kiln is not None and kiln.fuel is not None and kiln.fuel.value != "electric"
    said = cut_off.words.value
    stops = is_to_fill_in(said) or not is_no_cut_off(said, by_hand=burns)
    return None if stops else cut_off.words


@SAFETY.fact(TEXT)
def _cut_off_defeated(of: Of[Safety]) -> Any:
    """What the plan says of its cut-off, where by that it does not work: bypassed, stuck."""
    words = of.it.cut_off.words if of.it.cut_off else None
    if words is None or says_none(words.value) or is_to_fill_in(words.value):
        return None
    return words if is_defeated(words.value) else None


SAFETY.part("cut-off-timer", DURATION, "After how long.", "cut_off", attrgetter("timer"))
SAFETY.part(
    "cut-off-temperature", TEMPERATURE, "At what temperature.", "cut_off", attrgetter("temperature")
)


@SAFETY.fact(TEMPERATURE)
def _cut_off_heat(of: Of[Safety]) -> Any:
    """The temperature at which it is cut off; of a cone, where that ends at 60 °C/h."""
    cut_off = of.it.cut_off
    if cut_off is None or cut_off.temperature:
        return cut_off.temperature if cut_off else None
    law = kinetics_for(cut_off.cone.value) if cut_off.cone else None
    return Written(degrees(law.end_60), cut_off.cone.span) if law and cut_off.cone else None


@SAFETY.fact(DURATION)
def _timer_to_set(of: Of[Safety]) -> Any:
    """What a back-up timer would be set to in this firing: about an hour past its end.

    Only of an electric kiln: a timer shuts no gas.
    """
    firing, kiln = of.case.firing, of.case.plan.kiln
    electric = kiln is not None and kiln.fuel is not None and kiln.fuel.value == "electric"
    return hours(ceil((firing.powered_hours + 1) * 2) / 2) if firing.fired and electric else None


def _words_say(name: str, doc: str, line: str, say: Callable[[str], bool]) -> None:
    """Whether the words of a line say so; a place to fill in says nothing."""

    def get(of: Of[Safety]) -> Any:
        told = getattr(of.it, line)
        return Written(say(told.value), told.span) if told and not to_fill_in(told) else False

    SAFETY.add(Fact(name, FLAG, doc, get))


SAFETY.told("local-code", "Against what local rule the plan was checked.", is_no_code)
_words_say("code-refused", "Yes if by these words it was refused.", "local_code", is_refused)
SAFETY.told("extinguisher", "The fire extinguisher.")


def _fitted(name: str, doc: str) -> None:
    """A device that is fitted, none, or unsaid; none too where words say that it does not work."""

    def get(of: Of[Safety]) -> Any:
        said = read_field(of, name.replace("-", "_"))
        if not isinstance(said, Written) or said.value in ("fitted", "no", "unsaid"):
            return said
        if is_to_fill_in(said.value):
            return UNREADABLE
        return Written("no" if is_not_working(said.value) else "fitted", said.span)

    SAFETY.add(Fact(name, words("fitted", "no", "unsaid"), doc, get))


_fitted("co-alarm", "A carbon monoxide alarm.")


_NO_USE = "Yes if there is none, or one that puts out no fire at a kiln or has nothing left in it."
_words_say("extinguisher-unfit", _NO_USE, "extinguisher", is_no_extinguisher)


@SAFETY.fact(FLAG)
def _water_at_hand(of: Of[Safety]) -> Any:
    """Yes if water stands there against fire."""
    told = of.it.extinguisher
    if told is None or to_fill_in(told):
        return UNREADABLE if told or "extinguisher" in of.it.unreadable else False
    return Written(is_water(told.value), told.span)


SAFETY.told("emergency", "Whom to call.", reaches_nobody)
SAFETY.told("bystanders", "How children and animals are kept away.")


_NEAR = "Yes if the words about bystanders let them come to the kiln."
_words_say("bystanders-let-in", _NEAR, "bystanders", lets_in)


SAFETY.written("power-off", TEXT, "That the power is off before unloading.")
SAFETY.written("gas-off", TEXT, "That gas or oil is off before unloading.")
SAFETY.told("dust", "What protects from dust.", raises_dust)
SAFETY.told("combustion-air", "Where the air for the flame comes from.")


_SHUT = "Yes if by these words no air comes to the flame: shut, blocked, also now and then."
_words_say("air-shut", _SHUT, "combustion_air", is_no_air)


_fitted("flame-safety", "The flame failure device.")
