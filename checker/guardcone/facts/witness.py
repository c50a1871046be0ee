"""What a rule may ask of witness sets and of their cones."""

from collections.abc import Iterable
from typing import Any

from attrs import frozen

from guardcone.condition.kinds import (
    ANGLE,
    CONE,
    FLAG,
    LENGTH,
    NUMBER,
    TEXT,
    many,
    one,
    words,
)
from guardcone.condition.vocabulary import UNREADABLE
from guardcone.facts.case import Of, PlanCase, PlanSubject, is_electric, left_out, lines_to_copy
from guardcone.language.grammar import words_of
from guardcone.language.nearest import listed
from guardcone.outlook.written import DEGREES_PER_CONE, top_to_bottom
from guardcone.plan.load import Clay, Ware
from guardcone.plan.plan import plan_target
from guardcone.plan.witness import Reading, WitnessSet
from guardcone.span import Written
from guardcone.values import Cone, ConeForm

__all__ = [
    "PLACE_UNSAID",
    "WITNESS_CONE",
    "WITNESS_SET",
    "WitnessCone",
    "cones_of",
    "kiln_spread",
    "shelf_name",
    "the_set",
    "this_set",
]

PLACE_UNSAID = "kiln"
_FORMS = words("large", "self-supporting", "small")


@frozen(eq=False, repr=False)
class WitnessCone:
    """One cone of a set, with the part it plays."""

    role: str
    cone: Written[Cone]
    witness: WitnessSet


def cones_of(witness: WitnessSet) -> list[WitnessCone]:
    """The cones of a set in the order of their parts: guide, target, guard, extras."""
    named = [("guide", witness.guide), ("target", witness.target), ("guard", witness.guard)]
    cones = [WitnessCone(role, cone, witness) for role, cone in named if cone is not None]
    return cones + [WitnessCone("extra", cone, witness) for cone in witness.extras]


def kiln_spread(case: PlanCase) -> float | None:
    """How many cones the plan says top and bottom of its kiln are apart, None where it does not."""
    degrees = top_to_bottom(case.plan.kiln)
    return degrees / DEGREES_PER_CONE if degrees else None


def the_set(part: WitnessSet | Reading) -> str:
    """In a sentence: the witness set "x"."""
    return f'the witness set "{part.place.value}"' if part.place else "one witness set"


def this_set(part: WitnessSet | Reading) -> str:
    """The same at the head of a sentence."""
    return the_set(part)[0].upper() + the_set(part)[1:]


def _sets(case: PlanCase) -> Iterable[Of[WitnessSet]]:
    return [Of(case, witness) for witness in case.plan.witness_sets]


def _cones_of_all(case: PlanCase) -> Iterable[Of[WitnessCone]]:
    return [Of(case, cone) for witness in case.plan.witness_sets for cone in cones_of(witness)]


WITNESS_SET = PlanSubject(
    "witness set",
    "One pack of cones: which, how they stand, from where they are seen.",
    _sets,
    lambda of: of.it.heading,
    title=lambda of: the_set(of.it),
)
WITNESS_CONE = PlanSubject(
    "witness cone", "One cone of a witness set.", _cones_of_all, lambda of: of.it.cone.span
)


@WITNESS_SET.of_part(TEXT)
def _place(witness: WitnessSet) -> Written[str] | str:
    """Where the set stands."""
    return witness.place or PLACE_UNSAID


WITNESS_SET.of_part(TEXT)(the_set)
WITNESS_SET.of_part(TEXT)(this_set)
WITNESS_SET.written("guide", CONE, "The guide cone, which announces the target.")
WITNESS_SET.written("target", CONE, "The target cone of the set.")
WITNESS_SET.written("guard", CONE, "The guard cone, which should stay standing.")


@WITNESS_SET.fact(_FORMS)
def _form(of: Of[WitnessSet]) -> Any:
    """The form of its cones; large where the plan does not say."""
    return UNREADABLE if "series" in of.it.unreadable else of.it.series.form.value


WITNESS_SET.written("series", TEXT, "The cones of the set, as said.", "series_written")


@WITNESS_SET.fact(FLAG)
def _series_said(of: Of[WitnessSet]) -> Any:
    """Yes if the plan says which cones the set is made of."""
    return UNREADABLE if "series" in of.it.unreadable else of.it.series_written is not None


@WITNESS_SET.of_part(FLAG)
def _iron_free(witness: WitnessSet) -> bool:
    """Yes for iron-free cones."""
    return witness.series.iron_free


@WITNESS_SET.fact(FLAG)
def _target_is_zero_twin(of: Of[WitnessSet]) -> Any:
    """Yes if its target is the plan's target but for the leading zero."""
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None or not own.value.comparable(wanted):
        return None
    return Written(own.value.number == wanted.number.zero_twin, own.span)


@WITNESS_SET.fact(NUMBER)
def _steps_off_target(of: Of[WitnessSet]) -> Any:
    """Steps from its target to the plan's."""
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None or not own.value.comparable(wanted):
        return None
    return Written(abs(own.value.number.steps_to(wanted.number)), own.span)


@WITNESS_SET.fact(FLAG)
def _other_maker(of: Of[WitnessSet]) -> Any:
    """Yes if its target and the plan's are numbered by two makers."""
    own, wanted = of.it.target, plan_target(of.case.plan)
    if own is None or wanted is None:
        return None
    return Written(not own.value.comparable(wanted), own.span)


@WITNESS_SET.fact(NUMBER)
def _shelf_allowance(of: Of[WitnessSet]) -> float:
    """Steps that the kiln's spread lets shelves differ; 0 where the plan gives none."""
    return kiln_spread(of.case) or 0.0


WITNESS_SET.written("lean", ANGLE, "How far the cones lean from upright.")
WITNESS_SET.said("upright", "Yes if the plan says that the cones stand upright.")
WITNESS_SET.written("facing", words("one-way", "different-ways"), "Where the cones lean to.")
WITNESS_SET.written("setting-out", words(*words_of("setting_out")), "How the cones are set out.")
WITNESS_SET.written("pricking", words(*words_of("pricking")), "Whether the pad has holes.")
WITNESS_SET.written("pad", words(*words_of("pad_state")), "How dry the pad is.")
WITNESS_SET.said("no-pad", "Yes if the plan says that there is no pad.")


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
WITNESS_SET.said("unseen", "Yes if the plan says that the set is not seen.")
WITNESS_SET.written("width", LENGTH, "How wide the set is.")
WITNESS_SET.written("element-gap", LENGTH, "How far it stands from the elements.")


def _left_out(of: Of[WitnessSet]) -> list[str]:
    """The statements about how the set stands that it lacks; its own base is pad and lean."""
    own_base = of.it.series.form is ConeForm.SELF_SUPPORTING
    held = {"stance": "lean upright", "pad": "pad pricking pad_clay no_pad"}
    lacking = left_out(of, **({} if own_base else held), seen="seen unseen")
    return lacking + (left_out(of, "element_gap") if is_electric(of.case) else [])


@WITNESS_SET.fact(TEXT)
def _lines_unsaid(of: Of[WitnessSet]) -> str | None:
    """The lines about how it stands that it lacks, to be copied."""
    return lines_to_copy(_left_out(of))


@WITNESS_SET.fact(TEXT)
def _unsaid(of: Of[WitnessSet]) -> str | None:
    """What the plan does not say of how it stands: lean, pad, spy hole, elements."""
    lacking = _left_out(of)
    told = [_STANDING[one] for one in lacking]
    if of.it.series.form is not ConeForm.SELF_SUPPORTING:
        dry_or_damp = left_out(of, pad="pad no_pad") and "pad" not in lacking
        told += ["pad, dry or damp"] if dry_or_damp else []
    return listed(told) if told else None


_STANDING = {"stance": "lean", "pad": "pad", "seen": "spy hole", "element_gap": "elements"}


@WITNESS_SET.fact(many("witness cone"))
def _cones(of: Of[WitnessSet]) -> list[Of[WitnessCone]]:
    """Its cones."""
    return [Of(of.case, cone) for cone in cones_of(of.it)]


@WITNESS_SET.of_part(TEXT)
def _cones_said(witness: WitnessSet) -> str | None:
    """Its cones in words."""
    cones = [f"{cone.role} {cone.cone.value.number}" for cone in cones_of(witness)]
    return ", ".join(cones) or None


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
    own = shelf_name(place.value)
    return [
        Of(of.case, ware)
        for ware in load.wares
        if ware.shelf and shelf_name(ware.shelf.value) == own
    ]


def shelf_name(text: str) -> str:
    return text.casefold().removesuffix("shelf").strip()


@WITNESS_SET.fact(CONE)
def _shelf_hottest(of: Of[WitnessSet]) -> Cone | None:
    """The hottest cone that suits all clays on its shelf."""
    return min((hot for _, hot in _clay_ranges(of)), default=None)


@WITNESS_SET.fact(CONE)
def _shelf_coolest(of: Of[WitnessSet]) -> Cone | None:
    """The coolest cone that matures all clays on its shelf."""
    return max((cool for cool, _ in _clay_ranges(of)), default=None)


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


WITNESS_CONE.written("cone", CONE, "The cone.")
WITNESS_CONE.written(
    "role", words("guide", "target", "guard", "extra"), "What the cone is there for."
)
WITNESS_CONE.leads("set", one("witness set"), "The set it stands in.", "witness")


@WITNESS_CONE.of_part(TEXT, "place")
def _place_of_set(cone: WitnessCone) -> Written[str] | str:
    """Where its set stands."""
    return _place(cone.witness)


@WITNESS_CONE.of_part(_FORMS, "form")
def _form_of_cone(cone: WitnessCone) -> str:
    """Its form."""
    return cone.cone.value.series.form.value


@WITNESS_CONE.of_part(FLAG, "iron-free")
def _cone_is_iron_free(cone: WitnessCone) -> bool:
    """Yes for an iron-free cone."""
    return cone.cone.value.series.iron_free
