"""How the ranges of clay and glaze suit the firing."""

from collections.abc import Iterable, Sequence
from functools import cache, cached_property
from typing import TypeVar

from attrs import define, frozen

from guardcone.condition.phrase import Phrase
from guardcone.firing.cones import kinetics_for
from guardcone.firing.tables import usual
from guardcone.outlook.planned import dampness_of
from guardcone.plan.load import Clay, Glaze, Ware
from guardcone.plan.plan import Plan
from guardcone.plan.section import Maturity
from guardcone.span import Written
from guardcone.values import Cone, ConeNumber, ConeSeries, Temperature

__all__ = [
    "Range",
    "Suiting",
    "body_of",
    "degrees_of",
    "degrees_of_ends",
    "end_in",
    "ends_of",
    "materials_of",
    "mended_range",
    "nearest_cone",
    "range_words",
    "runs_backwards",
    "split",
    "turned_range",
    "wears_glaze",
]

_LARGE = ConeSeries()


@frozen(repr=False)
class Range:
    """From the coolest cone that will do to the hottest that is borne; None where open."""

    coolest: Cone | None
    hottest: Cone

    def __str__(self) -> str:
        if self.coolest is None:
            return f"up to {self.hottest}"
        if self.coolest.number == self.hottest.number:
            return str(self.hottest)
        return f"{self.coolest} to {self.hottest}"

    @property
    def is_open(self) -> bool:
        """True if some cone lies in it."""
        return self.coolest is None or self.coolest <= self.hottest

    def holds(self, cone: Cone) -> bool:
        """True if a firing to this cone suits."""
        return cone <= self.hottest and (self.coolest is None or cone >= self.coolest)


End = Written[Cone] | Written[Temperature]
Degree = TypeVar("Degree", bound=Cone | Temperature)


def ends_of(maturity: Maturity | None) -> tuple[End, End] | None:
    """The cooler and the hotter end as written; None without a range or where none can be told."""
    if maturity is None:
        return None
    first: End | None = maturity.coolest or maturity.lowest
    last: End | None = maturity.hottest or maturity.highest
    if first is None or last is None:
        return None
    one, other = degrees_of(first.value), degrees_of(last.value)
    if isinstance(first.value, Cone) and isinstance(last.value, Cone):
        if not first.value.comparable(last.value):
            return None
        return (last, first) if last.value < first.value else (first, last)
    if one is None or other is None:
        return None
    return (last, first) if other < one else (first, last)


def end_in(maturity: Maturity | None, position: int, kind: type[Degree]) -> Written[Degree] | None:
    """The cooler or the hotter end, where it is given in a cone, or in a temperature."""
    ends = ends_of(maturity)
    value = ends[position].value if ends else None
    return Written(value, ends[position].span) if ends and isinstance(value, kind) else None


def degrees_of(end: Cone | Temperature) -> float | None:
    """°C: of a cone its end at 60 °C/h, None where no law of its series is known."""
    if isinstance(end, Temperature):
        return end.celsius
    law = kinetics_for(end)
    return law.end_60 if law else None


def runs_backwards(maturity: Maturity | None) -> bool:
    """True where the hotter end is written first."""
    ends = ends_of(maturity)
    return ends is not None and ends[0].span > ends[1].span


def degrees_of_ends(maturity: Maturity | None) -> tuple[float, float] | None:
    """°C of the cooler and of the hotter end; None where either is not known."""
    ends = ends_of(maturity)
    cool, hot = (degrees_of(end.value) for end in ends) if ends else (None, None)
    return None if cool is None or hot is None else (cool, hot)


def range_words(maturity: Maturity | None) -> str:
    """The range as a sentence names it: cone 8 to cone 10, 1200 °C to 1250 °C, cone 6."""
    ends = ends_of(maturity)
    if ends is None:
        return "of no given range"
    cool, hot = ends[0].value, ends[1].value
    return Phrase(hot) if cool == hot else Phrase(cool, " to ", hot)


def _is_first_firing(celsius: float) -> bool:
    return usual("first_firing_coolest") <= celsius <= usual("first_firing_hottest")


def turned(cone: Cone) -> Cone | None:
    """The cone with its leading zero added or taken away: 6 for 06."""
    twin = cone.number.zero_twin
    return None if twin is None else cone.numbered(twin)


@cache
def _ladder() -> tuple[tuple[float, Cone], ...]:
    found = []
    number: ConeNumber | None = ConeNumber.read("022")
    while number is not None:
        cone = Cone(number, _LARGE)
        law = kinetics_for(cone)
        if law is not None:
            found.append((law.end_60, cone))
        number = number.hotter()
    return tuple(found)


def nearest_cone(end: Cone | Temperature) -> Cone:
    """A temperature as the whole cone that ends nearest to it at 60 °C/h."""
    if isinstance(end, Cone):
        return end
    celsius = end.celsius
    return min(_ladder(), key=lambda rung: abs(rung[0] - celsius))[1]


def materials_of(ware: Ware) -> list[Clay | Glaze]:
    """What a ware is made of and wears, as far as it is described."""
    return [*([ware.clay] if ware.clay else []), *ware.glazes]


def wears_glaze(ware: Ware) -> Written[bool] | None:
    """Where the plan says that a ware wears a glaze; underglaze and slip are none."""
    known = {glaze.name.value: glaze for glaze in ware.glazes}
    for name in ware.glaze_names:
        glaze = known.get(name.value)
        if glaze is None or glaze.kind is None or glaze.kind.value != "underglaze":
            return Written(True, name.span)
    if ware.state and ware.state.value == "glazed":
        return Written(True, ware.state.span)
    return None


def _over(glaze: Glaze) -> bool:
    return glaze.kind is not None and glaze.kind.value == "overglaze"


def body_of(clay: Clay | None) -> str:
    """The word for the body of a clay, empty where none is said."""
    return clay.body.value if clay and clay.body else ""


# Neither slotted nor compared: it keeps what it has found out of one plan.
@define(slots=False, eq=False, repr=False)
class Suiting:
    """What the load of one plan asks of its firing."""

    plan: Plan

    @property
    def wares(self) -> Sequence[Ware]:
        """The ware of the load."""
        return self.plan.load.wares if self.plan.load else ()

    @cached_property
    def aim(self) -> Written[Cone] | Written[Temperature] | None:
        """What the firing is to reach."""
        target = self.plan.target
        return (target.cone or target.temperature) if target else None

    @cached_property
    def aim_celsius(self) -> float | None:
        """The same in °C."""
        return degrees_of(self.aim.value) if self.aim else None

    @cached_property
    def kind(self) -> str | None:
        """What sort of firing it is: as said, else as load and target show it.

        A load that wears nothing but overglaze has its overglaze firing, also where `firing glaze`
        is said. None where nothing tells.
        """
        said = self.plan.firing.value if self.plan.firing else None
        if said in (None, "glaze") and self._worn and all(map(_over, self._worn)):
            return "overglaze"
        return self.kind_instead or said or (self._shown_kind() if self.wares else None)

    @cached_property
    def kind_instead(self) -> str | None:
        """What load and target show where the plan calls the firing something it can't be.

        Glazed ware that was fired before has no bisque before it, and no overglaze bears the heat
        at which a body matures. None where what is said can be.
        """
        said, celsius = self.plan.firing.value if self.plan.firing else None, self.aim_celsius
        glazed = [ware for ware in self.wares if wears_glaze(ware)]
        if said == "bisque" and any(ware.state for ware in glazed):
            return None if any(map(dampness_of, self.wares)) else self._shown_kind()
        hot = celsius is not None and celsius >= usual("first_firing_coolest")
        if said == "overglaze" and hot and glazed and not any(map(_over, self._worn)):
            return self._shown_kind()
        return None

    @cached_property
    def _matured(self) -> set[int]:
        """The clays, by identity, of which each ware is mature and dry."""
        unripe = {id(one.clay) for one in self.wares if not one.mature or dampness_of(one)}
        return {id(one.clay) for one in self.wares} - unripe

    @property
    def _worn(self) -> list[Glaze]:
        return [glaze for ware in self.wares for glaze in ware.glazes]

    def _shown_kind(self) -> str | None:
        celsius = self.aim_celsius
        low = celsius is not None and celsius < usual("first_firing_coolest")
        if low and any(map(_over, self._worn)):
            return "overglaze"
        glazed = [ware for ware in self.wares if wears_glaze(ware)]
        if glazed:
            if all(body_of(ware.clay) == "raku" for ware in glazed):
                return "raku"
            return "once" if all(map(dampness_of, glazed)) else "glaze"
        if celsius is None:
            return None
        # Unglazed ware fired to where its clay matures has no other firing before it.
        ripe = [self.ripens(ware.clay) for ware in self.wares if ware.clay]
        if ripe and all(ripe):
            return "once"
        return "bisque" if _is_first_firing(celsius) else "once"

    def ripens(self, thing: Clay | Glaze) -> bool:
        """True if the target lies in the range of a clay or glaze."""
        ends, celsius = degrees_of_ends(thing.maturity), self.aim_celsius
        return ends is not None and celsius is not None and ends[0] <= celsius <= ends[1]

    def must_mature(self, thing: Clay | Glaze) -> bool | None:
        """True if this firing is to bring clay or glaze into its range; None where nothing tells.

        A bisque firing, a candling and a raku firing leave the clay short of its range, an
        overglaze firing all but the overglaze; bone china, and ware that is said to be mature, was
        matured before its glaze.
        """
        if self.kind is None:
            return None
        if self.kind in ("bisque", "candling"):
            return False
        if isinstance(thing, Clay):
            if self.kind in ("overglaze", "raku") or body_of(thing) == "bone-china":
                return False
            return id(thing) not in self._matured
        return self.kind != "overglaze" or _over(thing)

    def melts(self, ware: Ware) -> Written[bool] | None:
        """Where the plan says that a ware wears a glaze which melts in this firing."""
        return wears_glaze(ware) if self.kind in ("glaze", "once", "raku", "test") else None

    def range_of(self, thing: Clay | Glaze) -> Range | None:
        """What this firing must keep to for clay or glaze; ends in degrees as the nearest cone."""
        ends, needed = ends_of(thing.maturity), self.must_mature(thing)
        if ends is None or needed is None:
            return None
        cool, hot = nearest_cone(ends[0].value), nearest_cone(ends[1].value)
        return Range(cool if needed else None, hot)

    def range_of_ware(self, ware: Ware) -> Range | None:
        """What suits the clay and all glazes of a ware; None if unknown.

        Its coolest is hotter than its hottest where nothing does.
        """
        return common([found for one in materials_of(ware) if (found := self.range_of(one))])

    @cached_property
    def ranges(self) -> tuple[tuple[str, Range], ...]:
        """Each ware's name and what suits it, where that is known."""
        return tuple(
            (ware.name.value, found)
            for ware in self.wares
            if (found := self.range_of_ware(ware)) is not None
        )

    @cached_property
    def of_load(self) -> Range | None:
        """What suits the whole load."""
        return common([found for _, found in self.ranges])

    @cached_property
    def slipped_target(self) -> Cone | None:
        """The target with its zero turned, where that suits all ware and the target none.

        A target in the range of a clay is no slip, whatever else it does not suit.
        """
        aim = self.aim.value if self.aim else None
        if not isinstance(aim, Cone) or not self.ranges:
            return None
        if any(self.ripens(ware.clay) for ware in self.wares if ware.clay):
            return None
        twin = turned(aim)
        found = [one for _, one in self.ranges]
        if twin is None or not all(one.hottest.comparable(aim) for one in found):
            return None
        if any(self._suits(one, aim) for one in found):
            return None
        return twin if all(self._suits(one, twin) for one in found) else None

    def _suits(self, ware: Range, cone: Cone) -> bool:
        celsius = degrees_of(cone) if self.kind == "bisque" else None
        return ware.holds(cone) and (celsius is None or _is_first_firing(celsius))


def common(ranges: Sequence[Range]) -> Range | None:
    """What lies in all ranges; its coolest is hotter than its hottest where nothing does.

    Cones that different makers numbered have no order, so nothing is known of those.
    """
    if not ranges or not all(one.hottest.comparable(ranges[0].hottest) for one in ranges):
        return None
    cool = [one.coolest for one in ranges if one.coolest is not None]
    return Range(max(cool) if cool else None, min(one.hottest for one in ranges))


def split(ranges: Iterable[tuple[str, Range]]) -> list[tuple[list[str], Range]]:
    """The fewest groups of ware that share a cone each, hottest first.

    Taken by the hot end: the coolest hot end decides a group, and all that begin below it join
    (the usual greedy cover of intervals by points, which is the smallest).
    """
    left = sorted(ranges, key=lambda one: one[1].hottest.number)
    groups: list[tuple[list[str], Range]] = []
    while left:
        point = left[0][1].hottest
        joined = [one for one in left if one[1].holds(point)] or [left[0]]  # else it stands alone
        shared = common([found for _, found in joined])
        assert shared is not None
        groups.append(([name for name, _ in joined], shared))
        left = [one for one in left if one not in joined]
    return groups[::-1]


def mended_range(maturity: Maturity | None) -> str | None:
    """What the range was likely meant to be where one end alone has a leading zero; None else.

    Both ways to mend it are told: 06 to 8 may be 6 to 8 or 08 to 06. Ranges that are short neither
    way, or that come down to one cone (06 to 6), are no slip.
    """
    cones = _cone_ends(maturity)
    if [cone.number.with_leading_zero for cone in cones] != [True, False]:
        return None
    cool, hot = cones
    ways = []
    for one, other in ((turned(cool), hot), (cool, turned(hot))):
        if one and other and 0 < abs(one.number.steps_to(other.number)) <= usual("range_width"):
            ways.append(str(Range(min(one, other), max(one, other))))
    return ", or ".join(ways) or None


def turned_range(maturity: Maturity | None) -> Range | None:
    """The range with both leading zeros taken away, or added where it runs backwards without.

    06 to 04 gives 4 to 6; 6 to 3 gives 06 to 03. None for any other, such as 3 to 6.
    """
    cones = _cone_ends(maturity)
    zeros = {cone.number.with_leading_zero for cone in cones}
    if len(zeros) != 1 or (zeros == {False} and not runs_backwards(maturity)):
        return None
    twins = [twin for cone in cones if (twin := turned(cone))]
    return Range(min(twins), max(twins)) if len(twins) == len(cones) else None


def _cone_ends(maturity: Maturity | None) -> list[Cone]:
    """The cooler and the hotter end where both are cones, else none."""
    cones = [end.value for end in ends_of(maturity) or () if isinstance(end.value, Cone)]
    return cones if len(cones) == 2 else []
