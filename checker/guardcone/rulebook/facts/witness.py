"""Room: the vocabulary of plans; here what a rule may ask of witness sets, cones and readings."""

from collections.abc import Iterable
from typing import Any

from attrs import frozen

from guardcone.plan.model import Position, Reading, WitnessSet
from guardcone.rulebook.facts.case import Of, PlanCase, flag_fact, part_fact, written_fact
from guardcone.rulebook.kinds import ANGLE, CONE, FLAG, LENGTH, NUMBER, TEXT, many, one, words
from guardcone.rulebook.vocabulary import UNREADABLE, Fact, Subject
from guardcone.span import Written
from guardcone.values import Cone

__all__ = ["READING", "WITNESS_CONE", "WITNESS_SET"]

PLACE_UNSAID = "kiln"


@frozen(eq=False)
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


def _sets(case: PlanCase) -> Iterable[Of[WitnessSet]]:
    return [Of(case, witness) for witness in case.plan.witness_sets]


def _cones(case: PlanCase) -> Iterable[Of[WitnessCone]]:
    return [Of(case, cone) for witness in case.plan.witness_sets for cone in cones_of(witness)]


def _mixed_numberings(witness: WitnessSet) -> bool:
    return len({cone.cone.value.series.numbering for cone in cones_of(witness)}) > 1


def _mixed_forms(witness: WitnessSet) -> bool:
    return len({cone.cone.value.series.form for cone in cones_of(witness)}) > 1


def _doubled(witness: WitnessSet) -> Written[Cone] | None:
    seen: list[Cone] = []
    for cone in cones_of(witness):
        if any(cone.cone.value.same_number(other) for other in seen):
            return cone.cone
        seen.append(cone.cone.value)
    return None


def _out_of_order(witness: WitnessSet) -> Written[Cone] | None:
    """The first cone of the `order` line that is cooler than the one before it."""
    for before, after in zip(witness.order, witness.order[1:], strict=False):
        if before.value.comparable(after.value) and after.value < before.value:
            return after
    return None


def _readings_of(of: Of[WitnessSet]) -> list[Of[Reading]]:
    place = of.it.place
    return [
        Of(of.case, reading)
        for reading in of.case.plan.readings
        if place and reading.place and reading.place.value == place.value
    ]


def _with_place(witness: WitnessSet) -> Written[str] | str:
    return witness.place or PLACE_UNSAID


WITNESS_SET = Subject(
    "witness set",
    "One pack of cones: which, how they stand, from where they are seen.",
    _sets,
    (
        part_fact("place", TEXT, "Where the set stands.", _with_place),
        written_fact("guide", CONE, "The guide cone, which announces the target."),
        written_fact("target", CONE, "The target cone of the set."),
        written_fact("guard", CONE, "The guard cone, which should stay standing."),
        part_fact(
            "form",
            words("large", "self-supporting", "small"),
            "The form of its cones; large where the plan does not say.",
            lambda witness: witness.series.form.value,
        ),
        Fact(
            "series-said",
            FLAG,
            "Yes if the plan says which cones the set is made of.",
            lambda of: (
                UNREADABLE if "series" in of.it.unreadable else of.it.series_written is not None
            ),
        ),
        part_fact("iron-free", FLAG, "Yes for iron-free cones.", lambda w: w.series.iron_free),
        part_fact(
            "mixed-makers", FLAG, "Yes if different makers numbered its cones.", _mixed_numberings
        ),
        part_fact("mixed-forms", FLAG, "Yes if its cones are of different forms.", _mixed_forms),
        part_fact("doubled-cone", CONE, "A cone that stands twice in the set.", _doubled),
        part_fact(
            "cone-out-of-order",
            CONE,
            "The first cone of the order line that is cooler than the one before it.",
            _out_of_order,
        ),
        written_fact("lean", ANGLE, "How far the cones lean from upright."),
        flag_fact("upright", FLAG, "Yes if the plan says that the cones stand upright."),
        written_fact("facing", words("one-way", "different-ways"), "Where the cones lean to."),
        written_fact("setting-out", words("staggered", "in-a-row"), "How the cones are set out."),
        written_fact("pricking", words("pricked", "not-pricked"), "Whether the pad has holes."),
        written_fact("pad", words("dry", "bone-dry", "damp", "fired"), "How dry the pad is."),
        flag_fact("no-pad", FLAG, "Yes if the plan says that there is no pad."),
        written_fact("seen", TEXT, "The spy hole it is seen through."),
        flag_fact("unseen", FLAG, "Yes if the plan says that the set is not seen."),
        written_fact("width", LENGTH, "How wide the set is."),
        written_fact("element-gap", LENGTH, "How far it stands from the elements."),
        Fact(
            "cones",
            many("witness cone"),
            "Its cones.",
            lambda of: [Of(of.case, cone) for cone in cones_of(of.it)],
        ),
        Fact("readings", many("reading"), "Its readings after the firing.", _readings_of),
    ),
    lambda of: of.it.heading,
    title=lambda of: f"the witness set on the {getattr(_with_place(of.it), 'value', PLACE_UNSAID)}",
)

WITNESS_CONE = Subject(
    "witness cone",
    "One cone of a witness set.",
    _cones,
    (
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
    ),
    lambda of: of.it.cone.span,
)


_WORDS = words("down", "standing", "touching", "melted", "moved")


def _position_facts(role: str) -> tuple[Fact, Fact]:
    def word(of: Of[Reading]) -> Any:
        position: Position | None = getattr(of.it, role)
        if position is None:
            return UNREADABLE if role in of.it.unreadable else None
        if position.word:
            return Written(position.word, position.span)
        hour = position.hour or 0.0
        return Written("down" if hour >= 6 else "standing" if hour == 0 else "moved", position.span)

    def hour(of: Of[Reading]) -> Any:
        position: Position | None = getattr(of.it, role)
        if position is None or position.hour is None:
            return UNREADABLE if position is None and role in of.it.unreadable else None
        return Written(position.hour, position.span)

    return (
        Fact(role, _WORDS, f"How the {role} cone stands, in a word.", word),
        Fact(f"{role}-hour", NUMBER, f"Where the {role} cone points: 0 up, 3 level, 6 down.", hour),
    )


def _set_of(of: Of[Reading]) -> Any:
    for witness in of.case.plan.witness_sets:
        if witness.place and of.it.place and witness.place.value == of.it.place.value:
            return Of(of.case, witness)
    return None


def _readings(case: PlanCase) -> Iterable[Of[Reading]]:
    return [Of(case, reading) for reading in case.plan.readings]


READING = Subject(
    "reading",
    "How the cones of one witness set stand after the firing.",
    _readings,
    (
        part_fact("place", TEXT, "The witness set it belongs to.", lambda r: r.place),
        *_position_facts("guide"),
        *_position_facts("target"),
        *_position_facts("guard"),
        Fact("set", one("witness set"), "The witness set it belongs to.", _set_of),
    ),
    lambda of: of.it.heading,
)
