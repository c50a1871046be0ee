"""What a rule may ask of the pieces in the load."""

from typing import Any

from guardcone.condition.kinds import CONE, FLAG, LENGTH, NUMBER, TEXT, many, one, words
from guardcone.condition.sentences import Phrase
from guardcone.condition.vocabulary import Fact
from guardcone.facts.case import Of, PlanSubject, part_fact
from guardcone.facts.ranges import nearest_cone, range_words, wears_glaze
from guardcone.language.grammar import words_of
from guardcone.outlook.planned import DAMPNESS
from guardcone.plan.load import Load, Ware
from guardcone.plan.plan import Plan
from guardcone.span import Written

__all__ = ["WARE", "unfired"]

# Firings whose ware was never fired before, where the plan does not say how the ware goes in.
_FIRST_FIRINGS = ("bisque", "once")

WARE = PlanSubject(
    "ware",
    "Pieces of one sort.",
    lambda case: [Of(case, ware) for ware in (case.plan.load or Load(case.plan.heading)).wares],
    lambda of: of.it.span,
    title=lambda of: f"the {of.it.name.value}",
)


def unfired(plan: Plan, ware: Ware) -> bool:
    """True for ware that was never fired: it says so, or it says nothing in a first firing."""
    if ware.state is not None:
        return ware.state.value in DAMPNESS
    if ware.refired is not None:
        return False
    return plan.firing is not None and plan.firing.value in _FIRST_FIRINGS


def _said(field: str, word: str = "") -> Any:
    def get(ware: Ware) -> Any:
        found = getattr(ware, field)
        if field == "form":
            return next((Written(True, form.span) for form in found if form.value == word), False)
        return Written(True, found.span) if found else False

    return get


def _shared(end: str) -> Any:
    def get(of: Of[Ware]) -> Any:
        shared = of.case.suiting.range_of_ware(of.it)
        return getattr(shared, end) if shared else None

    return get


WARE.add(
    part_fact("name", TEXT, "Its name.", lambda ware: ware.name),
    part_fact("count", NUMBER, "How many pieces.", lambda ware: ware.count),
)


@WARE.fact(one("clay"))
def _clay(of: Of[Ware]) -> Any:
    """The clay it is made of."""
    return Of(of.case, of.it.clay) if of.it.clay else None


WARE.add(part_fact("clay-name", TEXT, "The name of its clay.", lambda ware: ware.clay_name))


@WARE.of_part(TEXT)
def _glaze_name(ware: Any) -> Any:
    """The name of its first glaze."""
    return next(iter(ware.glaze_names), None)


@WARE.fact(many("glaze"))
def _glazes(of: Of[Any]) -> Any:
    """The glazes on it."""
    return [Of(of.case, glaze) for glaze in of.it.glazes]


@WARE.of_part(FLAG)
def _is_glazed(ware: Any) -> Any:
    """Yes if it wears a glaze; underglaze and slip are none."""
    return wears_glaze(ware) or False


@WARE.fact(FLAG)
def _melts_here(of: Of[Any]) -> Any:
    """Yes if it wears a glaze that melts in this firing."""
    return of.case.suiting.melts(of.it) or False


WARE.add(
    part_fact("unglazed", FLAG, "Yes if the plan says that it is unglazed.", _said("unglazed"))
)


@WARE.of_part(words(*words_of("state")))
def _state(ware: Any) -> Any:
    """How it goes into the kiln."""
    return ware.state


@WARE.fact(FLAG)
def _is_raw(of: Of[Ware]) -> Any:
    """Yes if it was never fired: the plan says so, or says nothing of a first firing."""
    raw = unfired(of.case.plan, of.it)
    return Written(raw, of.it.state.span) if of.it.state else raw


WARE.add(
    part_fact("wall", LENGTH, "Its thickest wall.", lambda ware: ware.wall),
    part_fact("shelf", TEXT, "The shelf it stands on.", lambda ware: ware.shelf),
    part_fact("closed-form", FLAG, "Yes for a closed form.", _said("form", "closed-form")),
    part_fact("vented", FLAG, "Yes if it has a vent hole.", _said("form", "vented")),
    part_fact("waxed", FLAG, "Yes if it is waxed.", _said("form", "waxed")),
    part_fact("flat", FLAG, "Yes for tiles and plates.", _said("form", "flat-form")),
    part_fact("foot", words("wiped", "bare", "glazed"), "Its foot.", lambda ware: ware.foot),
    part_fact("foot-clear", LENGTH, "How far the foot is clear.", lambda ware: ware.foot_clear),
    part_fact(
        "support", words("stilts", "catcher"), "What it stands on.", lambda ware: ware.support
    ),
    part_fact("refired", FLAG, "Yes if it was glaze-fired before.", _said("refired")),
    Fact(
        "shared-coolest",
        CONE,
        "The coolest cone that suits its clay and its glazes in this firing.",
        _shared("coolest"),
    ),
    Fact(
        "shared-hottest",
        CONE,
        "The hottest cone that its clay and its glazes all bear.",
        _shared("hottest"),
    ),
)


@WARE.of_part(TEXT)
def _ranges(ware: Ware) -> str:
    """The ranges of its clay and glazes, by name."""
    things = [thing for thing in (ware.clay, *ware.glazes) if thing and thing.maturity]
    told = [(", ", thing.name.value, " ", range_words(thing.maturity)) for thing in things]
    return Phrase(*[piece for words in told for piece in words][1:])


@WARE.fact(TEXT)
def _never_reached(of: Of[Ware]) -> str:
    """A sentence on what of it this firing is too cool for; empty if there is none."""
    suiting = of.case.suiting
    aim = suiting.aim
    if aim is None:
        return ""
    cone = nearest_cone(aim.value)
    short = []
    for thing in (of.it.clay, *of.it.glazes):
        found = suiting.range_of(thing) if thing else None
        if thing and found and found.coolest and found.coolest.comparable(cone):
            short += [thing.name.value] if cone < found.coolest else []
    if not short:
        return ""
    return Phrase(" A firing to ", aim.value, f" never reaches the range of {' and '.join(short)}.")
