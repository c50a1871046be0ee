"""What a rule may ask of the load as a whole."""

from typing import Any

from guardcone.condition.kinds import CONE, FLAG, LENGTH, MASS, TEMPERATURE, TEXT, many, words
from guardcone.condition.phrase import Phrase
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts.case import (
    Of,
    PlanSubject,
    degrees,
    has_fault,
    is_electric,
    left_out,
    lines_to_copy,
    single,
)
from guardcone.facts.clay_and_glaze import (
    is_lustre,
    metal_in_name,
    metals_in,
    used_materials,
)
from guardcone.facts.ranges import nearest_cone, split
from guardcone.facts.safety import read_line, vent_leads_fumes_off
from guardcone.language.grammar import words_of
from guardcone.language.nearest import listed
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


def _left_out(of: Of[Load]) -> list[str]:
    """The statements about how the ware stands that the load lacks, where they matter to it."""
    suiting = of.case.suiting
    if all(has_fault(of.case, ware.span) for ware in of.it.wares):
        return []
    melts = any(suiting.melts(ware) for ware in of.it.wares)
    washed = melts and suiting.kind != "raku"
    near = is_electric(of.case) and suiting.kind not in ("raku", "candling")
    asked = {"spacing": melts, "shelf_wash": washed, "element_gap": near}
    return left_out(of, *(one for one, matters in asked.items() if matters))


@LOAD.fact(TEXT)
def _lines_unsaid(of: Of[Load]) -> str | None:
    """The lines about how the ware stands that the load lacks, to be copied."""
    return lines_to_copy(_left_out(of))


@LOAD.fact(TEXT)
def _unsaid(of: Of[Load]) -> str | None:
    """What the plan does not say of how the ware stands: spacing, kiln wash, elements."""
    told = {"spacing": "spacing", "shelf_wash": "kiln wash", "element_gap": "elements"}
    lacking = [told[one] for one in _left_out(of)]
    return listed(lacking) if lacking else None


@LOAD.fact(words(*words_of("firing_kind")))
def _firing_kind(of: Of[Any]) -> Any:
    """What sort of firing it is: as said, else as ware, glaze and target show it."""
    return of.case.suiting.kind


@LOAD.fact(words(*words_of("firing_kind")))
def _kind_instead(of: Of[Any]) -> Any:
    """What ware and target show where the plan calls the firing what it can't be.

    Points at what it is called.
    """
    said, shown = of.case.plan.firing, of.case.suiting.kind_instead
    return Written(shown, said.span) if said and shown else None


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
def _common_range(of: Of[Load]) -> str | None:
    """The cones that suit all ware."""
    shared = of.case.suiting.of_load
    return str(shared) if shared and shared.is_open else None


@LOAD.fact(TEXT)
def _loads_apart(of: Of[Load]) -> str | None:
    """Where no cone suits all ware: which ware could go together, and to what."""
    shared = of.case.suiting.of_load
    groups = split(of.case.suiting.ranges) if shared and not shared.is_open else ()
    loads = [f"{listed(names)} at {found}" for names, found in groups if found.is_open]
    alone = [name for names, found in groups if not found.is_open for name in names]
    apart = [*loads, f"{listed(alone)} at no cone"] if alone else loads
    return "; ".join(apart) if loads else None


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
    said = of.case.plan.firing
    kinds = {of.case.suiting.kind, said.value if said else None}
    if not found and "overglaze" in kinds:
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
