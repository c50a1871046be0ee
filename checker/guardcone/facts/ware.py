"""What a rule may ask of the pieces in the load."""

from typing import Any

from guardcone.condition.kinds import CONE, FLAG, LENGTH, NUMBER, TEXT, many, one, words
from guardcone.condition.phrase import Phrase
from guardcone.condition.vocabulary import Fact
from guardcone.facts.case import Of, part_fact
from guardcone.facts.forecast_ware import unfired
from guardcone.facts.ranges import nearest_cone, range_words, wears_glaze
from guardcone.language.grammar import words_of
from guardcone.plan.load import Ware
from guardcone.span import Written

__all__ = ["ware_facts"]


def _said(field: str, word: str = "") -> Any:
    def get(ware: Ware) -> Any:
        found = getattr(ware, field)
        if field == "form":
            return next((Written(True, form.span) for form in found if form.value == word), False)
        return Written(True, found.span) if found else False

    return get


def _is_raw(of: Of[Ware]) -> Any:
    raw = unfired(of.case.plan, of.it)
    return Written(raw, of.it.state.span) if of.it.state else raw


def _clay_of(of: Of[Ware]) -> Any:
    return Of(of.case, of.it.clay) if of.it.clay else None


def _shared(end: str) -> Any:
    def get(of: Of[Ware]) -> Any:
        shared = of.case.suiting.range_of_ware(of.it)
        return getattr(shared, end) if shared else None

    return get


def _ranges(ware: Ware) -> str:
    things = [thing for thing in (ware.clay, *ware.glazes) if thing and thing.maturity]
    told = [(", ", thing.name.value, " ", range_words(thing.maturity)) for thing in things]
    return Phrase(*[piece for words in told for piece in words][1:])


def _never_reached(of: Of[Ware]) -> str:
    """A sentence on what of a ware the firing is too cool for; empty where there is none."""
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


def ware_facts() -> tuple[Fact, ...]:
    """What the plan itself says of a ware."""
    return (
        part_fact("name", TEXT, "Its name.", lambda ware: ware.name),
        part_fact("count", NUMBER, "How many pieces.", lambda ware: ware.count),
        Fact("clay", one("clay"), "The clay it is made of.", _clay_of),
        part_fact("clay-name", TEXT, "The name of its clay.", lambda ware: ware.clay_name),
        part_fact(
            "glaze-name",
            TEXT,
            "The name of its first glaze.",
            lambda ware: next(iter(ware.glaze_names), None),
        ),
        Fact(
            "glazes",
            many("glaze"),
            "The glazes on it.",
            lambda of: [Of(of.case, glaze) for glaze in of.it.glazes],
        ),
        part_fact(
            "is-glazed",
            FLAG,
            "Yes if it wears a glaze; underglaze and slip are none.",
            lambda ware: wears_glaze(ware) or False,
        ),
        Fact(
            "melts-here",
            FLAG,
            "Yes if it wears a glaze that melts in this firing.",
            lambda of: of.case.suiting.melts(of.it) or False,
        ),
        part_fact("unglazed", FLAG, "Yes if the plan says that it is unglazed.", _said("unglazed")),
        part_fact(
            "state",
            words(*words_of("state")),
            "How it goes into the kiln.",
            lambda ware: ware.state,
        ),
        Fact(
            "is-raw",
            FLAG,
            "Yes if it was never fired: the plan says so, or says nothing of a first firing.",
            _is_raw,
        ),
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
        part_fact("ranges", TEXT, "The ranges of its clay and glazes, by name.", _ranges),
        Fact(
            "never-reached",
            TEXT,
            "A sentence on what of it this firing is too cool for; empty if there is none.",
            _never_reached,
        ),
    )
