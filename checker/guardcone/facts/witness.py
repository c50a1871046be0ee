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
from guardcone.facts.case import Of, PlanCase, PlanSubject, part_fact
from guardcone.facts.set_cones import WitnessCone, called, called_facts, cones_of
from guardcone.language.grammar import words_of
from guardcone.outlook.planned import DEGREES_PER_CONE, top_to_bottom
from guardcone.plan.load import Clay, Ware
from guardcone.plan.plan import plan_target
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


def _shelf_name(text: str) -> str:
    return text.casefold().removesuffix("shelf").strip()


def _clay_ranges(of: Of[WitnessSet]) -> list[tuple[Cone, Cone]]:
    """The ranges in cones of the clays on the shelf of a set, as far as one maker numbered all."""
    found = []
    for ware in _wares(of):
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


@WITNESS_SET.of_part(TEXT)
def _place(witness: WitnessSet) -> Written[str] | str:
    """Where the set stands."""
    return witness.place or PLACE_UNSAID


WITNESS_SET.add(*called_facts())
WITNESS_SET.written("guide", CONE, "The guide cone, which announces the target.")
WITNESS_SET.written("target", CONE, "The target cone of the set.")
WITNESS_SET.written("guard", CONE, "The guard cone, which should stay standing.")


@WITNESS_SET.fact(CONE)
def _intended_target(of: Of[WitnessSet]) -> Any:
    """Its target; where it says none, the plan's, else what its guide or guard mean."""
    if "target" in of.it.unreadable:
        return UNREADABLE
    return cone_pack.intended_target(of.it, of.case.plan)


WITNESS_SET.add(
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
)


@WITNESS_SET.fact(words("large", "self-supporting", "small"))
def _form(of: Of[WitnessSet]) -> Any:
    """The form of its cones; large where the plan does not say."""
    return UNREADABLE if "series" in of.it.unreadable else of.it.series.form.value


WITNESS_SET.written("series", TEXT, "The cones of the set, as said.", "series_written")


@WITNESS_SET.fact(FLAG)
def _series_said(of: Of[Any]) -> Any:
    """Yes if the plan says which cones the set is made of."""
    return UNREADABLE if "series" in of.it.unreadable else of.it.series_written is not None


WITNESS_SET.add(
    part_fact("iron-free", FLAG, "Yes for iron-free cones.", lambda w: w.series.iron_free),
    _pack_fact(
        "mixed-makers", FLAG, "Yes if different makers numbered its cones.", cone_pack.mixed_makers
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
)


@WITNESS_SET.fact(CONE)
def _zero_slip(of: Of[WitnessSet]) -> Any:
    """The cone that fits the rest only with its leading zero added or taken away."""
    if of.it.unreadable & _CONE_LINES:
        return UNREADABLE
    return cone_pack.zero_slip(of.it, of.case.plan)


@WITNESS_SET.fact(FLAG)
def _target_is_zero_twin(of: Of[WitnessSet]) -> Any:
    """Yes if its target is the plan's target but for the leading zero."""
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None or not own.value.comparable(wanted):
        return None
    return Written(own.value.number == wanted.number.zero_twin, own.span)


@WITNESS_SET.fact(CONE)
def _zero_mended(of: Of[WitnessSet]) -> Any:
    """The cone that would fit there.

    The slipped cone with its zero put right; where the whole set slipped, the plan's target.
    """
    slipped = _zero_slip(of)
    if isinstance(slipped, Written):
        twin = slipped.value.number.zero_twin
        return slipped.value.numbered(twin) if twin else None
    return plan_target(of.case.plan)


@WITNESS_SET.of_part(TEXT)
def _cones_said(witness: WitnessSet) -> str | None:
    """Its cones in words."""
    cones = [f"{cone.role} {cone.cone.value.number}" for cone in cones_of(witness)]
    return ", ".join(cones) or None


@WITNESS_SET.fact(NUMBER)
def _steps_off_target(of: Of[WitnessSet]) -> Any:
    """Steps from its target to the plan's."""
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None or not own.value.comparable(wanted):
        return None
    return Written(abs(own.value.number.steps_to(wanted.number)), own.span)


@WITNESS_SET.fact(NUMBER)
def _shelf_allowance(of: Of[Any]) -> Any:
    """Steps that the kiln's spread lets shelves differ; 0 where the plan gives none."""
    return kiln_spread(of.case) or 0.0


@WITNESS_SET.fact(FLAG)
def _other_maker(of: Of[WitnessSet]) -> Any:
    """Yes if its target and the plan's are numbered by two makers."""
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None:
        return None
    return Written(not own.value.comparable(wanted), own.span)


WITNESS_SET.add(
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
)

WITNESS_SET.written("lean", ANGLE, "How far the cones lean from upright.")
WITNESS_SET.add(_said("upright", "Yes if the plan says that the cones stand upright."))
WITNESS_SET.written("facing", words("one-way", "different-ways"), "Where the cones lean to.")
WITNESS_SET.written("setting-out", words(*words_of("setting_out")), "How the cones are set out.")
WITNESS_SET.written("pricking", words(*words_of("pricking")), "Whether the pad has holes.")
WITNESS_SET.written("pad", words(*words_of("pad_state")), "How dry the pad is.")
WITNESS_SET.add(_said("no-pad", "Yes if the plan says that there is no pad.", "no_pad"))


@WITNESS_SET.of_part(FLAG)
def _has_pad(witness: WitnessSet) -> Written[bool] | bool:
    """Yes if the plan says anything of a pad."""
    said = witness.pad or witness.pricking or witness.pad_clay
    return Written(True, said.span) if said else False


WITNESS_SET.written("pad-clay-name", TEXT, "The name of the clay of the pad.", "pad_clay")


@WITNESS_SET.fact(one("clay"))
def _pad_clay(of: Of[WitnessSet]) -> Any:
    """The clay of the pad.

    The clay of the pad, as far as the plan, or the studio's file for some ware, describes it.
    """
    name, load = of.it.pad_clay, of.case.plan.load
    if name is None or load is None:
        return UNREADABLE if name is None and "pad_clay" in of.it.unreadable else None
    known: list[Clay] = [*load.clays, *(ware.clay for ware in load.wares if ware.clay)]
    return next((Of(of.case, clay) for clay in known if clay.name.value == name.value), None)


WITNESS_SET.written("seen", TEXT, "The spy hole it is seen through.")
WITNESS_SET.add(_said("unseen", "Yes if the plan says that the set is not seen."))
WITNESS_SET.written("width", LENGTH, "How wide the set is.")
WITNESS_SET.written("element-gap", LENGTH, "How far it stands from the elements.")


@WITNESS_SET.fact(many("witness cone"), "cones")
def _said_cones(of: Of[Any]) -> Any:
    """Its cones."""
    return [Of(of.case, cone) for cone in cones_of(of.it)]


@WITNESS_SET.fact(many("reading"))
def _readings(of: Of[WitnessSet]) -> Any:
    """Its readings after the firing.

    Its readings; unreadable if it has none, but one of them may be meant for it.
    """
    place, known = of.it.place, of.case.readings_by_place
    found = known.get(place.value, []) if place else []
    return [Of(of.case, one) for one in found] or (UNREADABLE if known.get(None) else [])


@WITNESS_SET.fact(many("ware"))
def _wares(of: Of[WitnessSet]) -> list[Of[Ware]]:
    """The ware on its shelf.

    The ware that the plan puts on the shelf this set stands on.
    """
    load, place = of.case.plan.load, of.it.place
    if load is None or place is None:
        return []
    own = _shelf_name(place.value)
    return [
        Of(of.case, ware)
        for ware in load.wares
        if ware.shelf and _shelf_name(ware.shelf.value) == own
    ]


@WITNESS_SET.fact(CONE)
def _shelf_hottest(of: Of[WitnessSet]) -> Any:
    """The hottest cone that suits all clays on its shelf."""
    ranges = _clay_ranges(of)
    return min((hot for _, hot in ranges), default=None)


@WITNESS_SET.fact(CONE)
def _shelf_coolest(of: Of[WitnessSet]) -> Any:
    """The coolest cone that matures all clays on its shelf."""
    ranges = _clay_ranges(of)
    return max((cool for cool, _ in ranges), default=None)


WITNESS_CONE = PlanSubject(
    "witness cone", "One cone of a witness set.", _cones, lambda of: of.it.cone.span
)
WITNESS_CONE.add(part_fact("cone", CONE, "The cone.", lambda cone: cone.cone))


@WITNESS_CONE.of_part(words("guide", "target", "guard", "extra"))
def _role(cone: Any) -> Any:
    """What the cone is there for."""
    return cone.role


WITNESS_CONE.add(
    part_fact("place", TEXT, "Where its set stands.", lambda cone: _place(cone.witness))
)


@WITNESS_CONE.of_part(words("large", "self-supporting", "small"), "form")
def _said_form(cone: Any) -> Any:
    """Its form."""
    return cone.cone.value.series.form.value


WITNESS_CONE.add(
    part_fact(
        "iron-free", FLAG, "Yes for an iron-free cone.", lambda c: c.cone.value.series.iron_free
    )
)


@WITNESS_CONE.fact(one("witness set"))
def _set(of: Of[Any]) -> Any:
    """The set it stands in."""
    return Of(of.case, of.it.witness)
