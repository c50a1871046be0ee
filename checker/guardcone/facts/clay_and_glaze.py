"""What a rule may ask of clays and of glazes.

What both have is asked of a `material`, which is a clay or a glaze, and of a clay or glaze itself.
"""

import re
from collections.abc import Iterable
from typing import Any

from guardcone.condition.kinds import (
    CONE,
    FLAG,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TEXT,
    many,
    one,
    words,
)
from guardcone.condition.vocabulary import Fact
from guardcone.facts.case import Of, PlanCase, PlanSubject, difference, part_fact
from guardcone.facts.claims import lead_or_cadmium
from guardcone.facts.ranges import degrees_of, ends_of, mended_range, range_words, turned_range
from guardcone.language.grammar import words_of
from guardcone.plan.load import Clay, Glaze, Load, Ware
from guardcone.span import Span, Written
from guardcone.values import Cone, Temperature

__all__ = [
    "BURNING_IN",
    "CLAY",
    "GLAZE",
    "MATERIAL",
    "METALS_IN",
    "is_lustre",
    "listed",
    "loads",
    "metal_in_name",
    "used_clays",
    "used_glazes",
]


def loads(case: PlanCase) -> Load:
    """The load, an empty one where the plan has none."""
    return case.plan.load or Load(case.plan.heading)


def used_clays(case: PlanCase) -> Iterable[Of[Clay]]:
    """The clays of the load: those of its own lines, and the studio's that some ware is made of.

    A clay that only the pad of a cone pack is made of is not fired for its own sake.
    """
    load = loads(case)
    pads = {pack.pad_clay.value for pack in case.plan.witness_sets if pack.pad_clay}
    ware = {one.clay_name.value for one in load.wares if one.clay_name}
    own = [clay for clay in load.clays if clay.name.value not in pads - ware]
    studio = [ware.clay for ware in load.wares if ware.clay and ware.clay.from_studio]
    return [Of(case, clay) for clay in _once([*own, *studio])]


def used_glazes(case: PlanCase) -> Iterable[Of[Glaze]]:
    """The glazes of the load, likewise."""
    load = loads(case)
    studio = [glaze for ware in load.wares for glaze in ware.glazes if glaze.from_studio]
    return [Of(case, glaze) for glaze in _once([*load.glazes, *studio])]


def _once(things: list[Any]) -> list[Any]:
    return list({id(thing): thing for thing in things}.values())


def _place_of(of: Of[Any]) -> Any:
    """The line of a clay or glaze; one of the studio's is pointed at where a ware names it."""
    if not of.it.from_studio:
        return of.it.span
    for ware in loads(of.case).wares:
        if ware.clay is of.it and ware.clay_name:
            return ware.clay_name.span
        for name, glaze in zip(ware.glaze_names, ware.glazes, strict=False):
            if glaze is of.it:
                return name.span
    return None


def _placed(thing: Clay | Glaze, value: Any, span: Span) -> Any:
    """The value with its place; what the studio's file says has none in the plan."""
    return value if thing.from_studio else Written(value, span)


# -- what both have ----------------------------------------------------------------------------


def _sort(thing: Clay | Glaze) -> str:
    return "clay" if isinstance(thing, Clay) else "glaze"


MATERIAL = PlanSubject(
    "material",
    "A clay or a glaze of the load.",
    lambda case: [*used_clays(case), *used_glazes(case)],
    _place_of,
    title=lambda of: f"the {_sort(of.it)} {of.it.name.value}",
)


@MATERIAL.of_part(words("clay", "glaze"))
def _what(thing: Clay | Glaze) -> str:
    """Which of the two it is."""
    return _sort(thing)


@MATERIAL.of_part(TEXT)
def _name(thing: Clay | Glaze) -> Any:
    """Its name."""
    return thing.name


def _end(position: int, kind: type) -> Any:
    """The cooler or the hotter end where it is given in a cone, or in a temperature."""

    def get(thing: Clay | Glaze) -> Any:
        ends = ends_of(thing.maturity)
        if ends is None or not isinstance(ends[position].value, kind):
            return None
        return _placed(thing, ends[position].value, ends[position].span)

    return get


MATERIAL.add(
    part_fact("coolest", CONE, "The cone at the cool end of its range.", _end(0, Cone)),
    part_fact("hottest", CONE, "The cone at the hot end of its range.", _end(1, Cone)),
    part_fact("lowest", TEMPERATURE, "The temperature its range begins at.", _end(0, Temperature)),
    part_fact("highest", TEMPERATURE, "The temperature its range ends at.", _end(1, Temperature)),
)


@MATERIAL.of_part(TEXT)
def _range(thing: Clay | Glaze) -> Any:
    """Its range in words."""
    maturity = thing.maturity
    return _placed(thing, range_words(maturity), maturity.span) if maturity else None


@MATERIAL.of_part(FLAG)
def _range_said(thing: Clay | Glaze) -> bool:
    """Yes if the plan gives its range."""
    return bool(thing.maturity)


@MATERIAL.of_part(FLAG)
def _range_backwards(thing: Clay | Glaze) -> bool:
    """Yes if its range runs from hot to cool."""
    ends, maturity = ends_of(thing.maturity), thing.maturity
    return ends is not None and maturity is not None and ends[0].span > ends[1].span


@MATERIAL.fact(FLAG)
def _range_of_other_maker(of: Of[Any]) -> bool:
    """Yes if its range and the target are cones that different makers numbered.

    Such cones have no order.
    """
    maturity, aim = of.it.maturity, of.case.suiting.aim
    if maturity is None or aim is None or not isinstance(aim.value, Cone):
        return False
    cones = [end.value for end in (maturity.coolest, maturity.hottest) if end]
    return any(not cone.comparable(aim.value) for cone in cones)


@MATERIAL.of_part(TEXT)
def _mended_range(thing: Clay | Glaze) -> Any:
    """What its range was likely meant to be, where one end alone has a leading zero.

    Underglaze is sold for ranges as wide as 06 to 10, so a wide one is no sign of a slip.
    """
    kind = getattr(thing, "kind", None)
    if thing.maturity is None or (kind is not None and kind.value == "underglaze"):
        return None
    found = mended_range(thing.maturity)
    return _placed(thing, found, thing.maturity.span) if found else None


@MATERIAL.fact(TEXT)
def _turned_range(of: Of[Any]) -> Any:
    """Its range with the leading zeros turned, where that would suit the target and what goes with
    it, and the range as written does not.
    """
    aim = of.case.suiting.aim
    found = turned_range(of.it.maturity)
    if found is None or aim is None or not isinstance(aim.value, Cone):
        return None
    if not found.hottest.comparable(aim.value) or not found.holds(aim.value):
        return None
    body = getattr(of.it, "body", None)
    low = found.coolest is not None and found.coolest.number.with_leading_zero
    if body and (body.value in ("earthenware", "raku")) is not low:
        return None
    if not of.case.suiting.must_mature(of.it) or not _partner_suits(of, aim.value):
        return None
    return _placed(of.it, str(found), of.it.maturity.span)


def _partner_suits(of: Of[Any], aim: Cone) -> bool:
    """True if on some ware what goes with this clay or glaze does bear the target."""
    for ware in loads(of.case).wares:
        things = (ware.clay, *ware.glazes)
        if not any(thing is of.it for thing in things):
            continue
        for thing in things:
            if thing is None or thing is of.it:
                continue
            found = of.case.suiting.range_of(thing)
            if found and found.hottest.comparable(aim) and found.holds(aim):
                return True
    return False


@MATERIAL.fact(FLAG)
def _must_mature(of: Of[Any]) -> Any:
    """Yes if this firing is to bring it into its range: no bisque firing, no lustre on top."""
    return of.case.suiting.must_mature(of.it)


@MATERIAL.fact(TEMPERATURE_DIFFERENCE)
def _target_past(of: Of[Any]) -> Any:
    """By how much the target lies above its range, cones at 60 °C/h."""
    return _beyond(of, 1, 1.0)


@MATERIAL.fact(TEMPERATURE_DIFFERENCE)
def _target_short(of: Of[Any]) -> Any:
    """By how much the target lies below its range, cones at 60 °C/h."""
    return _beyond(of, 0, -1.0)


def _beyond(of: Of[Any], position: int, sign: float) -> Any:
    ends, aim = ends_of(of.it.maturity), of.case.suiting.aim_celsius
    end = degrees_of(ends[position].value) if ends else None
    return difference(sign * (aim - end)) if aim is not None and end is not None else None


def _contains(name: str) -> Fact:
    def get(thing: Clay | Glaze) -> Any:
        said = next((one for one in thing.contains if one.value == name), None)
        return _placed(thing, True, said.span) if said else False

    return part_fact(f"contains-{name}", FLAG, f"Yes if the plan says it contains {name}.", get)


MATERIAL.add(*map(_contains, words_of("substance")))


@MATERIAL.fact(many("ware"))
def _wares(of: Of[Any]) -> list[Of[Ware]]:
    """The ware that is made of it or wears it."""
    wares = loads(of.case).wares
    return [Of(of.case, ware) for ware in wares if _is_in(of.it, (ware.clay, *ware.glazes))]


def _is_in(thing: Any, things: Iterable[Any]) -> bool:
    return any(thing is other for other in things)


# -- what is in it -----------------------------------------------------------------------------

# What comes off clay and glaze as fumes, smoke or dust, as far as a plan can say it; what of that
# stays in a glaze and can be leached out of it; what in a clay must burn out before it seals.
_METALS = ("lead", "cadmium", "barium", "manganese", "chromium", "vanadium", "lithium")
_BURNING = ("sulphur", "carbon", "paper")


def _listed(names: tuple[str, ...]) -> Any:
    """The substances said to be in it out of a list, in words, placed at the first of them."""

    def get(thing: Clay | Glaze) -> Any:
        found = [substance for substance in thing.contains if substance.value in names]
        told = [substance.value for substance in found]
        return _placed(thing, listed(told), found[0].span) if found else None

    return get


def listed(told: list[str]) -> str:
    """Words in a row: a, b and c; each once."""
    told = list(dict.fromkeys(told))
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


METALS_IN = _listed(_METALS)
# What burns off as fumes besides: a window never leads it off (a kiln vent does).
BURNING_IN = _listed(("sulphur",))
_LUSTRE_WORDS = re.compile(r"\b(lustres?|lusters?|decals?|enamels?)\b", re.IGNORECASE)
_METAL_WORDS = re.compile(r"\b(" + "|".join(_METALS) + r"|chrome)\b", re.IGNORECASE)


def metal_in_name(thing: Clay | Glaze) -> Written[str] | None:
    """The metal that the name itself tells, as in "Manganese gold"."""
    name = thing.name.value
    for found in _METAL_WORDS.finditer(name):
        metal = found[0].casefold()
        if metal not in ("lead", "cadmium") or lead_or_cadmium(name, 1) is not None:
            return Written(metal, thing.name.span)
    return None


def is_lustre(glaze: Clay | Glaze) -> bool:
    """True for lustre, decals and enamels, said or told by the name: they smoke."""
    said = isinstance(glaze, Glaze) and glaze.kind is not None and glaze.kind.value == "overglaze"
    return said or bool(_LUSTRE_WORDS.search(glaze.name.value))


# -- what one of them has ----------------------------------------------------------------------


def _own_subject(name: str, doc: str, each: Any) -> PlanSubject:
    """Clays or glazes, with all that is asked of both."""
    subject = PlanSubject(name, doc, each, _place_of, title=MATERIAL.title)
    subject.add(*MATERIAL.facts)
    subject.add(Fact("material", one("material"), "It itself, as a clay or glaze.", lambda of: of))
    return subject


CLAY = _own_subject("clay", "A clay body of the load.", used_clays)
GLAZE = _own_subject(
    "glaze", "A glaze of the load; overglaze, lustre and underglaze among them.", used_glazes
)
CLAY.add(
    part_fact("body", words(*words_of("body")), "What sort of body it is.", lambda c: c.body),
    part_fact(
        "burns-out", TEXT, "What it contains that must burn out before it seals.", _listed(_BURNING)
    ),
)
GLAZE.add(
    part_fact("flow", words(*words_of("flow")), "How it flows.", lambda g: g.flow),
    part_fact(
        "kind",
        words(*words_of("glaze_kind")),
        "What sort it is, if no ordinary one.",
        lambda g: g.kind,
    ),
    part_fact(
        "leachable", TEXT, "What it contains that food and drink can take out of it.", METALS_IN
    ),
)


@MATERIAL.fact(many("glaze"))
@CLAY.fact(many("glaze"))
def _glazes(of: Of[Any]) -> list[Of[Glaze]]:
    """The glazes on ware of this clay that suit it: what befalls one of these befalls it by the
    clay.
    """
    worn = [glaze for ware in loads(of.case).wares if ware.clay is of.it for glaze in ware.glazes]
    return [Of(of.case, glaze) for glaze in _once(worn) if _meet(of.it, glaze)]


def _meet(clay: Clay, glaze: Glaze) -> bool:
    """False where both ranges are known and have nothing in common."""
    ranges = [ends for thing in (clay, glaze) if (ends := ends_of(thing.maturity))]
    cool = [degrees_of(ends[0].value) for ends in ranges]
    hot = [degrees_of(ends[1].value) for ends in ranges]
    known = [degree for degree in (*cool, *hot) if degree is not None]
    return len(known) < 4 or max(known[:2]) <= min(known[2:])
