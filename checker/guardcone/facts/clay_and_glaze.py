"""What a rule may ask of clays and of glazes.

What both have is asked of a `material`, which is a clay or a glaze, and of a clay or glaze itself.
"""

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
from guardcone.facts.case import Of, PlanCase, PlanSubject, difference
from guardcone.facts.ranges import (
    degrees_of,
    degrees_of_ends,
    end_in,
    ends_of,
    materials_of,
    mended_range,
    range_words,
    runs_backwards,
    turned_range,
)
from guardcone.language.claims import lead_or_cadmium
from guardcone.language.grammar import words_of
from guardcone.language.meanings import pattern_for
from guardcone.language.nearest import listed
from guardcone.plan.load import Clay, Glaze, Load, Ware
from guardcone.span import Span, Written
from guardcone.values import Cone, Temperature

__all__ = [
    "CLAY",
    "GLAZE",
    "MATERIAL",
    "is_lustre",
    "loads",
    "metal_in_name",
    "metals_in",
    "used_materials",
]


def loads(case: PlanCase) -> Load:
    """The load, an empty one where the plan has none."""
    return case.plan.load or Load(case.plan.heading)


def _used_clays(case: PlanCase) -> Iterable[Of[Clay]]:
    """The clays of the load: those of its own lines, and the studio's that some ware is made of.

    A clay that only the pad of a cone pack is made of is not fired for its own sake.
    """
    load = loads(case)
    pads = {pack.pad_clay.value for pack in case.plan.witness_sets if pack.pad_clay}
    ware = {one.clay_name.value for one in load.wares if one.clay_name}
    own = [clay for clay in load.clays if clay.name.value not in pads - ware]
    studio = [ware.clay for ware in load.wares if ware.clay and ware.clay.from_studio]
    return [Of(case, clay) for clay in _once([*own, *studio])]


def _used_glazes(case: PlanCase) -> Iterable[Of[Glaze]]:
    """The glazes of the load, likewise."""
    load = loads(case)
    studio = [glaze for ware in load.wares for glaze in ware.glazes if glaze.from_studio]
    return [Of(case, glaze) for glaze in _once([*load.glazes, *studio])]


def used_materials(case: PlanCase) -> list[Of[Any]]:
    """The clays and the glazes of the load."""
    return [*_used_clays(case), *_used_glazes(case)]


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
    used_materials,
    _place_of,
    title=lambda of: f"the {_sort(of.it)} {of.it.name.value}",
)


@MATERIAL.of_part(words("clay", "glaze"))
def _what(thing: Clay | Glaze) -> str:
    """Which of the two it is."""
    return _sort(thing)


MATERIAL.written("name", TEXT, "Its name.")


@MATERIAL.of_part(CONE)
def _coolest(thing: Clay | Glaze) -> Any:
    """The cone at the cool end of its range."""
    return _end(thing, 0, Cone)


@MATERIAL.of_part(CONE)
def _hottest(thing: Clay | Glaze) -> Any:
    """The cone at the hot end of its range."""
    return _end(thing, 1, Cone)


@MATERIAL.of_part(TEMPERATURE)
def _lowest(thing: Clay | Glaze) -> Any:
    """The temperature its range begins at."""
    return _end(thing, 0, Temperature)


@MATERIAL.of_part(TEMPERATURE)
def _highest(thing: Clay | Glaze) -> Any:
    """The temperature its range ends at."""
    return _end(thing, 1, Temperature)


def _end(thing: Clay | Glaze, position: int, kind: type[Cone | Temperature]) -> Any:
    """The cooler or the hotter end where it is given in a cone, or in a temperature."""
    end = end_in(thing.maturity, position, kind)
    return _placed(thing, end.value, end.span) if end else None


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
    return runs_backwards(thing.maturity)


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
    partners = [
        thing for ware in _wares(of) for thing in materials_of(ware.it) if thing is not of.it
    ]
    found = [of.case.suiting.range_of(thing) for thing in partners]
    return any(one and one.hottest.comparable(aim) and one.holds(aim) for one in found)


@MATERIAL.fact(FLAG)
def _must_mature(of: Of[Any]) -> Any:
    """Yes if this firing is to bring it into its range: no bisque firing, no lustre on top."""
    return of.case.suiting.must_mature(of.it)


@MATERIAL.fact(FLAG)
def _ripens(of: Of[Any]) -> bool:
    """Yes if the target lies in its range."""
    return of.case.suiting.ripens(of.it)


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
    def get(of: Of[Any]) -> Any:
        said = next((one for one in of.it.contains if one.value == name), None)
        return _placed(of.it, True, said.span) if said else False

    return Fact(f"contains-{name}", FLAG, f"Yes if the plan says it contains {name}.", get)


MATERIAL.add(*map(_contains, words_of("substance")))


@MATERIAL.fact(many("ware"))
def _wares(of: Of[Any]) -> list[Of[Ware]]:
    """The ware that is made of it or wears it."""
    wares = loads(of.case).wares
    return [Of(of.case, ware) for ware in wares if any(of.it is one for one in materials_of(ware))]


# -- what is in it -----------------------------------------------------------------------------

# What comes off clay and glaze as fumes, smoke or dust, as far as a plan can say it; what of that
# stays in a glaze and can be leached out of it; what in a clay must burn out before it seals.
_METALS = ("lead", "cadmium", "barium", "manganese", "chromium", "vanadium", "lithium")
_BURNING = ("sulphur", "carbon", "paper")


def _listed(thing: Clay | Glaze, names: tuple[str, ...]) -> Any:
    """The substances said to be in it out of a list, in words, placed at the first of them."""
    found = [substance for substance in thing.contains if substance.value in names]
    told = [substance.value for substance in found]
    return _placed(thing, listed(told), found[0].span) if found else None


def metals_in(thing: Clay | Glaze) -> Any:
    """The metals said to be in it that go off as fumes or dust, in words."""
    return _listed(thing, _METALS)


def metal_in_name(thing: Clay | Glaze) -> Written[str] | None:
    """The metal that the name itself tells, as in "Manganese gold"."""
    name = thing.name.value
    for found in pattern_for("metal in a name").finditer(name.casefold()):
        metal = found[0]
        if metal not in ("lead", "cadmium") or lead_or_cadmium(name, 1) is not None:
            return Written(metal, thing.name.span)
    return None


def is_lustre(glaze: Clay | Glaze) -> bool:
    """True for lustre, decals and enamels, said or told by the name: they smoke."""
    said = isinstance(glaze, Glaze) and glaze.kind is not None and glaze.kind.value == "overglaze"
    return said or bool(pattern_for("lustre").search(glaze.name.value.casefold()))


# -- what one of them has ----------------------------------------------------------------------


def _own_subject(name: str, doc: str, each: Any) -> PlanSubject:
    """Clays or glazes, with all that is asked of both."""
    subject = PlanSubject(name, doc, each, _place_of, title=MATERIAL.title)
    subject.add(*MATERIAL.facts)
    subject.add(Fact("material", one("material"), "It itself, as a clay or glaze.", lambda of: of))
    return subject


CLAY = _own_subject("clay", "A clay body of the load.", _used_clays)
GLAZE = _own_subject(
    "glaze", "A glaze of the load; overglaze, lustre and underglaze among them.", _used_glazes
)
CLAY.written("body", words(*words_of("body")), "What sort of body it is.")
GLAZE.written("flow", words(*words_of("flow")), "How it flows.")
GLAZE.written("kind", words(*words_of("glaze_kind")), "What sort it is, if no ordinary one.")


@CLAY.of_part(TEXT)
def _burns_out(clay: Clay) -> Any:
    """What it contains that must burn out before it seals."""
    return _listed(clay, _BURNING)


@GLAZE.of_part(TEXT)
def _leachable(glaze: Glaze) -> Any:
    """What it contains, as said or by its name, that food and drink can take out of it."""
    return metals_in(glaze) or metal_in_name(glaze)


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
    one, other = degrees_of_ends(clay.maturity), degrees_of_ends(glaze.maturity)
    return one is None or other is None or max(one[0], other[0]) <= min(one[1], other[1])
