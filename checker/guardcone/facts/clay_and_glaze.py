"""What a rule may ask of clays and of glazes."""

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
    words,
)
from guardcone.condition.vocabulary import Fact
from guardcone.facts.amounts import difference
from guardcone.facts.case import Of, PlanCase, PlanSubject, part_fact
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


def _end(position: int, kind: type) -> Any:
    """The cooler or the hotter end where it is given in a cone, or in a temperature."""

    def get(thing: Clay | Glaze) -> Any:
        ends = ends_of(thing.maturity)
        if ends is None or not isinstance(ends[position].value, kind):
            return None
        return _placed(thing, ends[position].value, ends[position].span)

    return get


def _placed(thing: Clay | Glaze, value: Any, span: Span) -> Any:
    """The value with its place; what the studio's file says has none in the plan."""
    return value if thing.from_studio else Written(value, span)


def _range(thing: Clay | Glaze) -> Any:
    maturity = thing.maturity
    return _placed(thing, range_words(maturity), maturity.span) if maturity else None


def _backwards(thing: Clay | Glaze) -> bool:
    """True where the range runs from the hotter end to the cooler."""
    ends, maturity = ends_of(thing.maturity), thing.maturity
    if ends is None or maturity is None:
        return False
    return ends[0].span > ends[1].span


def _other_maker(of: Of[Any]) -> bool:
    """True where the range and the target are cones of two numberings, which have no order."""
    maturity, aim = of.it.maturity, of.case.suiting.aim
    if maturity is None or aim is None or not isinstance(aim.value, Cone):
        return False
    cones = [end.value for end in (maturity.coolest, maturity.hottest) if end]
    return any(not cone.comparable(aim.value) for cone in cones)


def _beyond(position: int, sign: float) -> Any:
    """By how many degrees the target lies beyond an end of the range."""

    def get(of: Of[Any]) -> Any:
        ends, aim = ends_of(of.it.maturity), of.case.suiting.aim_celsius
        end = degrees_of(ends[position].value) if ends else None
        return difference(sign * (aim - end)) if aim is not None and end is not None else None

    return get


def _turned(of: Of[Any]) -> Any:
    """The range with its leading zeros turned, where that and not the range as written suits."""
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


def _mended(thing: Clay | Glaze) -> Any:
    # Underglaze is sold for ranges as wide as 06 to 10, so a wide one is no sign of a slip.
    if thing.maturity is None or (isinstance(thing, Glaze) and _is_underglaze(thing)):
        return None
    found = mended_range(thing.maturity)
    return _placed(thing, found, thing.maturity.span) if found else None


def _is_underglaze(glaze: Glaze) -> bool:
    return glaze.kind is not None and glaze.kind.value == "underglaze"


def _substance_facts() -> tuple[Fact, ...]:
    def contains(name: str) -> Any:
        def get(thing: Clay | Glaze) -> Any:
            said = next((one for one in thing.contains if one.value == name), None)
            return _placed(thing, True, said.span) if said else False

        return get

    return tuple(
        part_fact(
            f"contains-{name}", FLAG, f"Yes if the plan says it contains {name}.", contains(name)
        )
        for name in words_of("substance")
    )


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


_RANGE = (
    part_fact("coolest", CONE, "The cone at the cool end of its range.", _end(0, Cone)),
    part_fact("hottest", CONE, "The cone at the hot end of its range.", _end(1, Cone)),
    part_fact("lowest", TEMPERATURE, "The temperature its range begins at.", _end(0, Temperature)),
    part_fact("highest", TEMPERATURE, "The temperature its range ends at.", _end(1, Temperature)),
    part_fact("range", TEXT, "Its range in words.", _range),
    part_fact("range-said", FLAG, "Yes if the plan gives its range.", lambda t: bool(t.maturity)),
    part_fact("range-backwards", FLAG, "Yes if its range runs from hot to cool.", _backwards),
    Fact(
        "range-of-other-maker",
        FLAG,
        "Yes if its range and the target are cones that different makers numbered.",
        _other_maker,
    ),
    part_fact(
        "mended-range",
        TEXT,
        "What its range was likely meant to be, where one end alone has a leading zero.",
        _mended,
    ),
    Fact(
        "turned-range",
        TEXT,
        "Its range with the leading zeros turned, where that would suit the target and what goes "
        "with it, and the range as written does not.",
        _turned,
    ),
    Fact(
        "must-mature",
        FLAG,
        "Yes if this firing is to bring it into its range: no bisque firing, no lustre on top.",
        lambda of: of.case.suiting.must_mature(of.it),
    ),
    Fact(
        "target-past",
        TEMPERATURE_DIFFERENCE,
        "By how much the target lies above its range, cones at 60 °C/h.",
        _beyond(1, 1.0),
    ),
    Fact(
        "target-short",
        TEMPERATURE_DIFFERENCE,
        "By how much the target lies below its range, cones at 60 °C/h.",
        _beyond(0, -1.0),
    ),
)


def _wares_with(which: str) -> Any:
    def get(of: Of[Any]) -> list[Of[Ware]]:
        return [
            Of(of.case, ware)
            for ware in loads(of.case).wares
            if (ware.clay is of.it if which == "clay" else any(g is of.it for g in ware.glazes))
        ]

    return get


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


def _meet(clay: Clay, glaze: Glaze) -> bool:
    """False where both ranges are known and have nothing in common."""
    one, other = ends_of(clay.maturity), ends_of(glaze.maturity)
    if one is None or other is None:
        return True
    cool = [degrees_of(ends[0].value) for ends in (one, other)]
    hot = [degrees_of(ends[1].value) for ends in (one, other)]
    known = [degree for degree in (*cool, *hot) if degree is not None]
    return len(known) < 4 or max(known[:2]) <= min(known[2:])


CLAY = PlanSubject(
    "clay",
    "A clay body of the load.",
    used_clays,
    lambda of: _place_of(of),
    title=lambda of: f"the clay {of.it.name.value}",
)
CLAY.add(part_fact("name", TEXT, "Its name.", lambda clay: clay.name), *_RANGE)


@CLAY.of_part(words(*words_of("body")))
def _body(clay: Any) -> Any:
    """What sort of body it is."""
    return clay.body


CLAY.add(
    *_substance_facts(),
    part_fact(
        "burns-out", TEXT, "What it contains that must burn out before it seals.", _listed(_BURNING)
    ),
    Fact("wares", many("ware"), "The ware made of it.", _wares_with("clay")),
)


@CLAY.fact(many("glaze"))
def _glazes(of: Of[Clay]) -> list[Of[Glaze]]:
    """The glazes on that ware whose range meets its own.

    The glazes on its ware that suit it: what befalls one of these befalls it by the clay.
    """
    worn = [glaze for ware in loads(of.case).wares if ware.clay is of.it for glaze in ware.glazes]
    return [Of(of.case, glaze) for glaze in _once(worn) if _meet(of.it, glaze)]


GLAZE = PlanSubject(
    "glaze",
    "A glaze of the load; overglaze, lustre and underglaze among them.",
    used_glazes,
    lambda of: _place_of(of),
    title=lambda of: f"the glaze {of.it.name.value}",
)
GLAZE.add(
    part_fact("name", TEXT, "Its name.", lambda glaze: glaze.name),
    *_RANGE,
    part_fact("flow", words(*words_of("flow")), "How it flows.", lambda glaze: glaze.flow),
)


@GLAZE.of_part(words(*words_of("glaze_kind")))
def _kind(glaze: Any) -> Any:
    """What sort of glaze it is, where it is not an ordinary one."""
    return glaze.kind


GLAZE.add(
    *_substance_facts(),
    part_fact(
        "leachable", TEXT, "What it contains that food and drink can take out of it.", METALS_IN
    ),
    Fact("wares", many("ware"), "The ware that wears it.", _wares_with("glaze")),
)


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
