"""What a rule may ask of the pieces in the load."""

from typing import Any

from guardcone.condition.kinds import CONE, FLAG, LENGTH, NUMBER, TEXT, many, one, words
from guardcone.condition.phrase import Phrase
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of, PlanSubject, has_fault
from guardcone.facts.ranges import materials_of, nearest_cone, range_words, wears_glaze
from guardcone.language.grammar import words_of
from guardcone.language.nearest import listed
from guardcone.outlook.planned import dampness_of
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
        return dampness_of(ware) is not None
    if ware.refired is not None:
        return False
    return plan.firing is not None and plan.firing.value in _FIRST_FIRINGS


WARE.written("name", TEXT, "Its name.")
WARE.written("count", NUMBER, "How many pieces.")
WARE.leads("clay", one("clay"), "The clay it is made of.")
WARE.written("clay-name", TEXT, "The name of its clay.")
WARE.leads("glazes", many("glaze"), "The glazes on it.")


@WARE.of_part(TEXT)
def _glaze_name(ware: Ware) -> Written[str] | None:
    """The name of its first glaze."""
    return next(iter(ware.glaze_names), None)


@WARE.of_part(FLAG)
def _is_glazed(ware: Ware) -> Written[bool] | bool:
    """Yes if it wears a glaze; underglaze and slip are none."""
    return wears_glaze(ware) or False


@WARE.fact(FLAG)
def _melts_here(of: Of[Ware]) -> Written[bool] | bool:
    """Yes if it wears a glaze that melts in this firing."""
    return of.case.suiting.melts(of.it) or False


WARE.said("unglazed", "Yes if the plan says that it is unglazed.")
WARE.written("state", words(*words_of("state")), "How it goes into the kiln.")


@WARE.fact(FLAG)
def _is_raw(of: Of[Ware]) -> Any:
    """Yes if it was never fired: the plan says so, or says nothing of a first firing."""
    if "state" in of.it.unreadable:
        return UNREADABLE
    raw = unfired(of.case.plan, of.it)
    return Written(raw, of.it.state.span) if of.it.state else raw


WARE.written("wall", LENGTH, "Its thickest wall.")
WARE.written("shelf", TEXT, "The shelf it stands on.")


def _form(name: str, doc: str, form: str = "") -> None:
    def get(ware: Ware) -> Written[bool] | bool:
        said = (Written(True, one.span) for one in ware.form if one.value == (form or name))
        return next(said, False)

    WARE.add(Fact(name, FLAG, doc, lambda of: get(of.it)))


_form("closed-form", "Yes for a closed form.")
_form("vented", "Yes if it has a vent hole.")
_form("waxed", "Yes if it is waxed.")
_form("nested", "Yes if its pieces stand in or on one another.")
_form("flat", "Yes for tiles and plates.", "flat-form")
WARE.written("foot", words("wiped", "bare", "glazed"), "Its foot.")
WARE.written("foot-clear", LENGTH, "How far the foot is clear.")
WARE.written("support", words("stilts", "catcher"), "What it stands on.")
WARE.said("refired", "Yes if it was glaze-fired before.")
WARE.said("mature", "Yes if its body was matured in an earlier firing.")


# What a line may lack: in words, and as it is to be filled in.
_TO_FILL_IN = {
    "its clay": ' of "fill in the clay"',
    "its glaze, or unglazed": ' with "fill in the glaze, or write unglazed"',
    "how it goes in": ', "fill in how dry"',
    "its wall": ', "fill in wall and how thick"',
    "its foot": ', "fill in foot wiped or glazed, and how far"',
}


def _lacking(of: Of[Ware]) -> list[str]:
    ware, suiting = of.it, of.case.suiting
    if has_fault(of.case, ware.span):
        return []
    foot = ware.foot or ware.foot_clear or ware.support
    lacking = {
        "its clay": not (ware.clay_name or "clay_name" in ware.unreadable),
        "its glaze, or unglazed": suiting.kind == "glaze"
        and not (ware.glaze_names or ware.unglazed),
        "how it goes in": not (ware.state or ware.refired or ware.mature),
        "its wall": not ware.wall and unfired(of.case.plan, ware),
        "its foot": not foot and "foot" not in ware.unreadable and suiting.melts(ware),
    }
    return [words for words, lacks in lacking.items() if lacks]


@WARE.fact(TEXT)
def _unsaid(of: Of[Ware]) -> str | None:
    """What the plan does not say of it: its clay and glaze, how it goes in, its wall, its foot."""
    lacking = _lacking(of)
    return listed(lacking) if lacking else None


@WARE.fact(TEXT)
def _line_to_fill_in(of: Of[Ware]) -> str | None:
    """Its line with what that lacks; nothing where something else stands in the line as well."""
    ware, lacking = of.it, _lacking(of)
    line = of.case.plan.source.line(ware.span.line)
    before, behind = line[: ware.span.start - 1].strip(), line[ware.span.end - 1 :].strip(" \t,;")
    if not lacking or before or behind.partition("#")[0]:
        return None
    words = [_TO_FILL_IN[one] for one in lacking]
    end = max(one.span.end for one in (ware.name, ware.count, ware.clay_name) if one) - 1
    behind_name = [one for one in words if one[0] == " "]
    at_end = [one for one in words if one[0] == ","]
    start, stop = ware.span.start - 1, ware.span.end - 1
    return "".join((line[start:end], *behind_name, line[end:stop], *at_end))


_COOLEST = "The coolest cone that suits its clay and its glazes in this firing."
WARE.of_found(
    lambda of: of.case.suiting.range_of_ware(of.it),
    ("shared-coolest", CONE, "coolest", _COOLEST),
    ("shared-hottest", CONE, "hottest", "The hottest cone that its clay and its glazes all bear."),
)


@WARE.of_part(TEXT)
def _ranges(ware: Ware) -> str:
    """The ranges of its clay and glazes, by name."""
    things = [thing for thing in materials_of(ware) if thing.maturity]
    told = [(", ", thing.name.value, " ", range_words(thing.maturity)) for thing in things]
    return Phrase(*[piece for words in told for piece in words][1:])


@WARE.fact(TEXT)
def _never_reached(of: Of[Ware]) -> str | None:
    """Those of its clay and glazes for whose range this firing is too cool."""
    aim = of.case.suiting.aim
    if aim is None:
        return None
    cone, short = nearest_cone(aim.value), []
    for thing in materials_of(of.it):
        found = of.case.suiting.range_of(thing)
        coolest = found.coolest if found else None
        if coolest and coolest.comparable(cone) and cone < coolest:
            short.append(thing.name.value)
    return listed(short) if short else None
