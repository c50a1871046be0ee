"""What a rule may ask of the load as a whole."""

from typing import Any

from guardcone.condition.kinds import CONE, FLAG, LENGTH, MASS, TEMPERATURE, TEXT, many, words
from guardcone.condition.sentences import Phrase
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts.case import Of, PlanSubject, degrees, single
from guardcone.facts.clay_and_glaze import (
    is_lustre,
    listed,
    metal_in_name,
    metals_in,
    used_materials,
)
from guardcone.facts.ranges import nearest_cone, split
from guardcone.facts.safety import read_line, vent_leads_fumes_off
from guardcone.language.fillers import says_none
from guardcone.language.grammar import words_of
from guardcone.plan.load import Load
from guardcone.span import Span, Written

__all__ = ["LOAD"]


LOAD = PlanSubject(
    "load", "All that stands in the kiln.", single("load"), lambda of: of.it.heading, single=True
)


@LOAD.fact(many("ware"))
def _wares(of: Of[Load]) -> Any:
    """The ware."""
    if not of.it.wares and "wares" in of.it.unreadable:
        return UNREADABLE
    return [Of(of.case, ware) for ware in of.it.wares]


LOAD.written("spacing", LENGTH, "How far glazed pieces stand apart.")
LOAD.written("element-gap", LENGTH, "How far the ware stands from the elements.")
LOAD.written("shelf-wash", words("washed", "not-washed"), "Kiln wash on the shelves.")
LOAD.written("stilts", words("all-clay", "metal-point"), "What stilts are used.")
LOAD.written("mass", MASS, "The mass of ware and furniture.")


@LOAD.fact(words(*words_of("firing_kind")))
def _firing_kind(of: Of[Any]) -> Any:
    """What sort of firing it is: as said, else as ware, glaze and target show it."""
    return of.case.suiting.kind


@LOAD.fact(TEXT)
def _aim(of: Of[Load]) -> Any:
    """The target in words, cone or temperature."""
    aim = of.case.suiting.aim
    return Written(Phrase(aim.value), aim.span) if aim else None


@LOAD.fact(CONE)
def _aim_cone(of: Of[Load]) -> Any:
    """The target; a temperature as the cone that ends nearest to it at 60 °C/h."""
    aim = of.case.suiting.aim
    return Written(nearest_cone(aim.value), aim.span) if aim else None


@LOAD.fact(TEMPERATURE)
def _heat(of: Of[Load]) -> Any:
    """The hottest temperature of the schedule; without one, that of the target."""
    firing = of.case.firing
    return degrees(firing.peak if firing.fired else of.case.suiting.aim_celsius)


@LOAD.fact(CONE)
def _slipped_target(of: Of[Any]) -> Any:
    """The target with its leading zero turned, where that suits all ware and the target none."""
    return of.case.suiting.slipped_target


LOAD.of_found(
    lambda of: of.case.suiting.of_load,
    ("common-coolest", CONE, "coolest", "The coolest cone that suits all ware."),
    ("common-hottest", CONE, "hottest", "The hottest cone that suits all ware."),
)


@LOAD.fact(TEXT)
def _sharing(of: Of[Load]) -> str:
    """What all ware could be fired to, or which ware could go together.

    Which cone suits the load, or which ware could go together; empty where nothing is known.
    """
    suiting = of.case.suiting
    shared = suiting.of_load
    if shared is None:
        return ""
    if shared.coolest is None:
        return f"All ware of this load may go to {shared.hottest} at most."
    if shared.coolest <= shared.hottest:
        return f"All ware of this load suits {shared}."
    groups = split(suiting.ranges)
    loads = [f"{listed(names)} at {found}" for names, found in groups if found.is_open]
    alone = [name for names, found in groups if not found.is_open for name in names]
    told = ""
    if alone:
        told = f"No cone suits {listed(alone)}, for their own clay and glaze share none. "
    if len(loads) > 1:
        which = "The rest" if alone else "It"
        told += f"{which} can be split into {len(loads)} loads: {'; '.join(loads)}."
    elif alone and loads:
        told += f"The rest can be fired together: {loads[0]}."
    return told.strip()


@LOAD.fact(TEXT)
def _fumes(of: Of[Load]) -> Any:
    """What gives off metal fumes, sulphur or lustre smoke.

    What gives off fumes that a window does not lead off: metals, sulphur, lustre.
    """
    metals = _fuming(of)
    told = metals.value if isinstance(metals, Written) else metals
    found = [told] if told else []
    for thing in used_materials(of.case):
        # A window never leads sulphur off; a kiln vent does.
        if any(substance.value == "sulphur" for substance in thing.it.contains):
            found.append(f"sulphur in {thing.it.name.value}")
        elif is_lustre(thing.it):
            found.append(f"oil or medium in {thing.it.name.value}")
    if not found and of.case.suiting.kind == "overglaze":
        found.append("oil or medium of an overglaze firing")
    return listed(found) if found else None


@LOAD.fact(TEXT)
def _fuming(of: Of[Load]) -> Any:
    """What in the load gives off fumes or smoke.

    The metals in clays and glazes that go off as fumes or dust, placed at the first of them.
    """
    told: list[str] = []
    places: list[Span] = []
    for thing in used_materials(of.case):
        inside = metals_in(thing.it) or metal_in_name(thing.it)
        if isinstance(inside, Written):
            places.append(inside.span)
            inside = inside.value
        if inside:
            told.append(f"{inside} in {thing.it.name.value}")
    if not told:
        return None
    return Written(listed(told), min(places)) if places else listed(told)


@LOAD.fact(TEXT)
def _vent_said(of: Of[Load]) -> str:
    """What the plan says of a vent that does not lead all fumes off."""
    safety = of.case.plan.safety
    vent = safety.vent if safety else None
    if vent is None:
        return "the plan names no vent"
    if vent.words and says_none(vent.words.value) and not (vent.switched or vent.kind):
        return "the plan names no vent"
    if vent.switched and vent.switched.value != "on":
        return "the vent is off" if vent.switched.value == "off" else "there is no vent"
    return "the vent is not said to be on through firing and cooling"


@LOAD.fact(FLAG)
def _fumes_led_off(of: Of[Load]) -> Any:
    """Yes if a vent is on, firing and cooling, or the kiln stands outdoors."""
    plan = of.case.plan
    if plan.kiln and plan.kiln.setting and plan.kiln.setting.value == "outdoors":
        return Written(True, plan.kiln.setting.span)
    if plan.safety is None:
        return False
    led = read_line(Of(of.case, plan.safety), "vent", vent_leads_fumes_off)
    return led if led is UNREADABLE else bool(led and led.value)
