"""What a rule may ask of witness sets and of their cones."""

from collections.abc import Callable, Iterable
from typing import Any

from guardcone.condition.kinds import (
    ANGLE,
    CONE,
    FLAG,
    LENGTH,
    NUMBER,
    TEXT,
    Type,
    many,
    one,
    words,
)
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts import set_cones as cone_pack
from guardcone.facts.case import Of, PlanCase, PlanSubject, part_fact, written_fact
from guardcone.facts.set_cones import WitnessCone, called, called_facts, cones_of
from guardcone.language.grammar import words_of
from guardcone.outlook.planned import DEGREES_PER_CONE, top_to_bottom
from guardcone.plan.load import Clay, Ware
from guardcone.plan.targets import plan_target
from guardcone.plan.witness import WitnessSet
from guardcone.span import Written
from guardcone.values import Cone

__all__ = ["PLACE_UNSAID", "WITNESS_CONE", "WITNESS_SET", "WitnessCone", "kiln_spread"]

PLACE_UNSAID = "kiln"
_CONE_LINES = frozenset({"guide", "target", "guard", "series"})


def kiln_spread(case: PlanCase) -> float | None:
    """How many cones the plan says top and bottom of its kiln are apart, None where it does not."""
    degrees = top_to_bottom(case.plan.kiln)
    return degrees / DEGREES_PER_CONE if degrees else None


def _sets(case: PlanCase) -> Iterable[Of[WitnessSet]]:
    return [Of(case, witness) for witness in case.plan.witness_sets]


def _cones(case: PlanCase) -> Iterable[Of[WitnessCone]]:
    return [Of(case, cone) for witness in case.plan.witness_sets for cone in cones_of(witness)]


def _readings_of(of: Of[WitnessSet]) -> Any:
    """Its readings; unreadable if it has none, but one of them may be meant for it."""
    place, known = of.it.place, of.case.readings_by_place
    found = known.get(place.value, []) if place else []
    return [Of(of.case, one) for one in found] or (UNREADABLE if known.get(None) else [])


def _with_place(witness: WitnessSet) -> Written[str] | str:
    return witness.place or PLACE_UNSAID


def _pack_fact(name: str, kind: Type, doc: str, get: Callable[[WitnessSet], Any]) -> Fact:
    """A fact of all cones together; unreadable where one of their lines is."""

    def read(of: Of[WitnessSet]) -> Any:
        return UNREADABLE if of.it.unreadable & _CONE_LINES else get(of.it)

    return Fact(name, kind, doc, read)


def _said(name: str, doc: str, field: str = "") -> Fact:
    """Yes, pointing at the word, where the plan says it; unreadable where its line is faulty."""
    field = field or name

    def get(of: Of[WitnessSet]) -> Any:
        word: Written[str] | None = getattr(of.it, field)
        if word is None:
            return UNREADABLE if field in of.it.unreadable else False
        return Written(True, word.span)

    return Fact(name, FLAG, doc, get)


def _cones_said(witness: WitnessSet) -> str | None:
    cones = [f"{cone.role} {cone.cone.value.number}" for cone in cones_of(witness)]
    return ", ".join(cones) or None


def _form(of: Of[WitnessSet]) -> Any:
    return UNREADABLE if "series" in of.it.unreadable else of.it.series.form.value


def _intended(of: Of[WitnessSet]) -> Any:
    if "target" in of.it.unreadable:
        return UNREADABLE
    return cone_pack.intended_target(of.it, of.case.plan)


def _zero_slip(of: Of[WitnessSet]) -> Any:
    if of.it.unreadable & _CONE_LINES:
        return UNREADABLE
    return cone_pack.zero_slip(of.it, of.case.plan)


def _zero_mended(of: Of[WitnessSet]) -> Any:
    """The slipped cone with its zero put right; where the whole set slipped, the plan's target."""
    slipped = _zero_slip(of)
    if isinstance(slipped, Written):
        twin = slipped.value.number.zero_twin
        return slipped.value.numbered(twin) if twin else None
    return plan_target(of.case.plan)


def _is_zero_twin(of: Of[WitnessSet]) -> Any:
    """Yes, pointing at the set's target, if the plan's is the same number but for the zero."""
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None or not own.value.comparable(wanted):
        return None
    return Written(own.value.number == wanted.number.zero_twin, own.span)


def _steps_off(of: Of[WitnessSet]) -> Any:
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None or not own.value.comparable(wanted):
        return None
    return Written(abs(own.value.number.steps_to(wanted.number)), own.span)


def _other_maker(of: Of[WitnessSet]) -> Any:
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None:
        return None
    return Written(not own.value.comparable(wanted), own.span)


def _pad_clay(of: Of[WitnessSet]) -> Any:
    """The clay of the pad, as far as the plan, or the studio's file for some ware, describes it."""
    name, load = of.it.pad_clay, of.case.plan.load
    if name is None or load is None:
        return UNREADABLE if name is None and "pad_clay" in of.it.unreadable else None
    known: list[Clay] = [*load.clays, *(ware.clay for ware in load.wares if ware.clay)]
    return next((Of(of.case, clay) for clay in known if clay.name.value == name.value), None)


def _pad_line(witness: WitnessSet) -> Written[bool] | bool:
    """Yes, pointing at what is said of it, if the plan says anything of a pad."""
    said = witness.pad or witness.pricking or witness.pad_clay
    return Written(True, said.span) if said else False


def _shelf_name(text: str) -> str:
    return text.casefold().removesuffix("shelf").strip()


def _wares_on_shelf(of: Of[WitnessSet]) -> list[Of[Ware]]:
    """The ware that the plan puts on the shelf this set stands on."""
    load, place = of.case.plan.load, of.it.place
    if load is None or place is None:
        return []
    own = _shelf_name(place.value)
    return [
        Of(of.case, ware)
        for ware in load.wares
        if ware.shelf and _shelf_name(ware.shelf.value) == own
    ]


def _bears_to(of: Of[WitnessSet]) -> Any:
    ranges = _clay_ranges(of)
    return min((hot for _, hot in ranges), default=None)


def _needs_from(of: Of[WitnessSet]) -> Any:
    ranges = _clay_ranges(of)
    return max((cool for cool, _ in ranges), default=None)


def _clay_ranges(of: Of[WitnessSet]) -> list[tuple[Cone, Cone]]:
    """The ranges in cones of the clays on the shelf of a set, as far as one maker numbered all."""
    found = []
    for ware in _wares_on_shelf(of):
        maturity = ware.it.clay.maturity if ware.it.clay else None
        if maturity and maturity.coolest and maturity.hottest:
            ends = maturity.coolest.value, maturity.hottest.value
            if ends[0].comparable(ends[1]):
                found.append((min(ends), max(ends)))
    alike = all(cool.comparable(found[0][0]) for cool, _ in found)
    return found if alike else []


WITNESS_SET = PlanSubject(
    "witness set",
    "One pack of cones: which, how they stand, from where they are seen.",
    _sets,
    lambda of: of.it.heading,
    title=lambda of: called(of.it.place),
)
WITNESS_SET.add(
    part_fact("place", TEXT, "Where the set stands.", _with_place),
    *called_facts(),
    written_fact("guide", CONE, "The guide cone, which announces the target."),
    written_fact("target", CONE, "The target cone of the set."),
    written_fact("guard", CONE, "The guard cone, which should stay standing."),
    Fact(
        "intended-target",
        CONE,
        "Its target; where it says none, the plan's, else what its guide or guard mean.",
        _intended,
    ),
    _pack_fact(
        "steps-to-guide",
        NUMBER,
        "Steps from the guide up to the target, cones that are not made left out.",
        lambda w: cone_pack.made_steps(w.guide, w.target),
    ),
    _pack_fact(
        "steps-to-guard",
        NUMBER,
        "Steps from the target up to the guard, cones that are not made left out.",
        lambda w: cone_pack.made_steps(w.target, w.guard),
    ),
    Fact(
        "form",
        words("large", "self-supporting", "small"),
        "The form of its cones; large where the plan does not say.",
        _form,
    ),
    written_fact("series", TEXT, "The cones of the set, as said.", "series_written"),
    Fact(
        "series-said",
        FLAG,
        "Yes if the plan says which cones the set is made of.",
        lambda of: UNREADABLE if "series" in of.it.unreadable else of.it.series_written is not None,
    ),
    part_fact("iron-free", FLAG, "Yes for iron-free cones.", lambda w: w.series.iron_free),
    _pack_fact(
        "mixed-makers",
        FLAG,
        "Yes if different makers numbered its cones.",
        cone_pack.mixed_makers,
    ),
    _pack_fact(
        "mixed-forms", FLAG, "Yes if its cones are of different forms.", cone_pack.mixed_forms
    ),
    _pack_fact("has-small-cones", FLAG, "Yes if some cone is small.", cone_pack.small_cones),
    part_fact("doubled-cone", CONE, "A cone that stands twice in the set.", cone_pack.doubled_cone),
    part_fact(
        "cone-out-of-order",
        CONE,
        "The first cone of the order line that is cooler than the one before it.",
        cone_pack.cone_out_of_order,
    ),
    Fact(
        "zero-slip",
        CONE,
        "The cone that fits the rest only with its leading zero added or taken away.",
        _zero_slip,
    ),
    Fact(
        "target-is-zero-twin",
        FLAG,
        "Yes if its target is the plan's target but for the leading zero.",
        _is_zero_twin,
    ),
    Fact("zero-mended", CONE, "The cone that would fit there.", _zero_mended),
    part_fact("cones-said", TEXT, "Its cones in words.", _cones_said),
    Fact("steps-off-target", NUMBER, "Steps from its target to the plan's.", _steps_off),
    Fact(
        "shelf-allowance",
        NUMBER,
        "Steps that the kiln's spread lets shelves differ; 0 where the plan gives none.",
        lambda of: kiln_spread(of.case) or 0.0,
    ),
    Fact(
        "other-maker",
        FLAG,
        "Yes if its target and the plan's are numbered by two makers.",
        _other_maker,
    ),
    _pack_fact(
        "unknown-cone",
        CONE,
        "The first cone of a number that no table of its maker has.",
        cone_pack.unknown_cone,
    ),
    _pack_fact(
        "unmade-cone",
        CONE,
        "The first cone that the current chart lists in another form only.",
        cone_pack.unmade_cone,
    ),
    _pack_fact(
        "cone-with-iron",
        CONE,
        "The first of guide, target and guard that has iron in it and is made without too.",
        cone_pack.cone_with_iron,
    ),
    written_fact("lean", ANGLE, "How far the cones lean from upright."),
    _said("upright", "Yes if the plan says that the cones stand upright."),
    written_fact("facing", words("one-way", "different-ways"), "Where the cones lean to."),
    written_fact("setting-out", words(*words_of("setting_out")), "How the cones are set out."),
    written_fact("pricking", words(*words_of("pricking")), "Whether the pad has holes."),
    written_fact("pad", words(*words_of("pad_state")), "How dry the pad is."),
    _said("no-pad", "Yes if the plan says that there is no pad.", "no_pad"),
    part_fact("has-pad", FLAG, "Yes if the plan says anything of a pad.", _pad_line),
    written_fact("pad-clay-name", TEXT, "The name of the clay of the pad.", "pad_clay"),
    Fact("pad-clay", one("clay"), "The clay of the pad.", _pad_clay),
    written_fact("seen", TEXT, "The spy hole it is seen through."),
    _said("unseen", "Yes if the plan says that the set is not seen."),
    written_fact("width", LENGTH, "How wide the set is."),
    written_fact("element-gap", LENGTH, "How far it stands from the elements."),
    Fact(
        "cones",
        many("witness cone"),
        "Its cones.",
        lambda of: [Of(of.case, cone) for cone in cones_of(of.it)],
    ),
    Fact("readings", many("reading"), "Its readings after the firing.", _readings_of),
    Fact("wares", many("ware"), "The ware on its shelf.", _wares_on_shelf),
    Fact("shelf-bears-to", CONE, "The hottest cone all clays on its shelf bear.", _bears_to),
    Fact(
        "shelf-needs",
        CONE,
        "The coolest cone that matures all clays on its shelf.",
        _needs_from,
    ),
)

WITNESS_CONE = PlanSubject(
    "witness cone",
    "One cone of a witness set.",
    _cones,
    lambda of: of.it.cone.span,
)
WITNESS_CONE.add(
    part_fact("cone", CONE, "The cone.", lambda cone: cone.cone),
    part_fact(
        "role",
        words("guide", "target", "guard", "extra"),
        "What the cone is there for.",
        lambda cone: cone.role,
    ),
    part_fact("place", TEXT, "Where its set stands.", lambda cone: _with_place(cone.witness)),
    part_fact(
        "form",
        words("large", "self-supporting", "small"),
        "Its form.",
        lambda cone: cone.cone.value.series.form.value,
    ),
    part_fact(
        "iron-free", FLAG, "Yes for an iron-free cone.", lambda c: c.cone.value.series.iron_free
    ),
    Fact(
        "set",
        one("witness set"),
        "The set it stands in.",
        lambda of: Of(of.case, of.it.witness),
    ),
)
