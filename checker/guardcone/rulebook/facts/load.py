"""Room: the vocabulary of plans; here what a rule may ask of clays, glazes, ware, and the load."""

from collections.abc import Iterable
from typing import Any

from guardcone.plan.model import Clay, Glaze, Load, Ware
from guardcone.rulebook.facts.case import Of, PlanCase, part_fact, single, written_fact
from guardcone.rulebook.kinds import (
    CONE,
    FLAG,
    LENGTH,
    MASS,
    NUMBER,
    TEMPERATURE,
    TEXT,
    many,
    one,
    words,
)
from guardcone.rulebook.vocabulary import Fact, Subject
from guardcone.span import Written
from guardcone.values import Cone

__all__ = ["CLAY", "GLAZE", "LOAD", "ware_facts"]

SUBSTANCES = (
    "lead",
    "cadmium",
    "barium",
    "manganese",
    "chromium",
    "vanadium",
    "lithium",
    "copper",
    "sulphur",
    "carbon",
    "iron",
    "talc",
    "paper",
)


def _loads(case: PlanCase) -> Load:
    return case.plan.load or Load(case.plan.heading)


def _used_clays(case: PlanCase) -> Iterable[Of[Clay]]:
    """The clays of the load: those of its own lines, and the studio's that some ware is made of."""
    load = _loads(case)
    own = list(load.clays)
    studio = [ware.clay for ware in load.wares if ware.clay and ware.clay.from_studio]
    return [Of(case, clay) for clay in _once([*own, *studio])]


def _used_glazes(case: PlanCase) -> Iterable[Of[Glaze]]:
    load = _loads(case)
    studio = [glaze for ware in load.wares for glaze in ware.glazes if glaze.from_studio]
    return [Of(case, glaze) for glaze in _once([*load.glazes, *studio])]


def _once(things: list[Any]) -> list[Any]:
    found: list[Any] = []
    for thing in things:
        if not any(thing is other for other in found):
            found.append(thing)
    return found


def _end(which: str) -> Any:
    def get(thing: Clay | Glaze) -> Any:
        return getattr(thing.maturity, which) if thing.maturity else None

    return get


def _backwards(thing: Clay | Glaze) -> bool:
    """True where the range runs from the hotter end to the cooler."""
    maturity = thing.maturity
    if maturity is None:
        return False
    cool, hot = maturity.coolest, maturity.hottest
    if cool and hot and cool.value.comparable(hot.value):
        return hot.value < cool.value
    if maturity.lowest and maturity.highest:
        return maturity.highest.value < maturity.lowest.value
    return False


def _zero_slip(thing: Clay | Glaze) -> bool:
    """True where a range would be a likely one if one end had its leading zero, or had it not."""
    maturity = thing.maturity
    if maturity is None or maturity.coolest is None or maturity.hottest is None:
        return False
    cool, hot = maturity.coolest.value.number, maturity.hottest.value.number
    return cool.with_leading_zero != hot.with_leading_zero and abs(cool.steps_to(hot)) > 7


def _substance_facts() -> tuple[Fact, ...]:
    def contains(name: str) -> Any:
        def get(thing: Clay | Glaze) -> Any:
            return next((Written(True, s.span) for s in thing.contains if s.value == name), False)

        return get

    return tuple(
        part_fact(
            f"contains-{name}", FLAG, f"Yes if the plan says it contains {name}.", contains(name)
        )
        for name in SUBSTANCES
    )


_RANGE = (
    part_fact("coolest", CONE, "The cone its range begins at.", _end("coolest")),
    part_fact("hottest", CONE, "The cone its range ends at.", _end("hottest")),
    part_fact("lowest", TEMPERATURE, "The temperature its range begins at.", _end("lowest")),
    part_fact("highest", TEMPERATURE, "The temperature its range ends at.", _end("highest")),
    part_fact("range-said", FLAG, "Yes if the plan gives its range.", lambda t: bool(t.maturity)),
    part_fact("range-backwards", FLAG, "Yes if its range runs from hot to cool.", _backwards),
    part_fact(
        "range-zero-slip",
        FLAG,
        "Yes if one end has a leading zero, the other not, and they are far apart.",
        _zero_slip,
    ),
)


def _wares_with(which: str) -> Any:
    def get(of: Of[Any]) -> list[Of[Ware]]:
        return [
            Of(of.case, ware)
            for ware in _loads(of.case).wares
            if (ware.clay is of.it if which == "clay" else any(g is of.it for g in ware.glazes))
        ]

    return get


CLAY = Subject(
    "clay",
    "A clay body of the load.",
    _used_clays,
    (
        part_fact("name", TEXT, "Its name.", lambda clay: clay.name),
        *_RANGE,
        part_fact(
            "body",
            words("stoneware", "earthenware", "porcelain", "bone-china", "raku"),
            "What sort of body it is.",
            lambda clay: clay.body,
        ),
        *_substance_facts(),
        Fact("wares", many("ware"), "The ware made of it.", _wares_with("clay")),
    ),
    lambda of: _place_of(of),
    title=lambda of: f"the clay {of.it.name.value}",
)

GLAZE = Subject(
    "glaze",
    "A glaze of the load; overglaze, lustre and underglaze among them.",
    _used_glazes,
    (
        part_fact("name", TEXT, "Its name.", lambda glaze: glaze.name),
        *_RANGE,
        part_fact("flow", words("runny", "stiff"), "How it flows.", lambda glaze: glaze.flow),
        part_fact(
            "kind",
            words("overglaze", "underglaze"),
            "What sort of glaze it is, where it is not an ordinary one.",
            lambda glaze: glaze.kind,
        ),
        *_substance_facts(),
        Fact("wares", many("ware"), "The ware that wears it.", _wares_with("glaze")),
    ),
    lambda of: _place_of(of),
    title=lambda of: f"the glaze {of.it.name.value}",
)


def _place_of(of: Of[Any]) -> Any:
    """The line of a clay or glaze; one of the studio's is pointed at where a ware names it."""
    if not of.it.from_studio:
        return of.it.span
    for ware in _loads(of.case).wares:
        if ware.clay is of.it and ware.clay_name:
            return ware.clay_name.span
        for name, glaze in zip(ware.glaze_names, ware.glazes, strict=False):
            if glaze is of.it:
                return name.span
    return None


def _said(field: str, word: str = "") -> Any:
    def get(ware: Ware) -> Any:
        found = getattr(ware, field)
        if field == "form":
            return next((Written(True, form.span) for form in found if form.value == word), False)
        return Written(True, found.span) if found else False

    return get


def _glazed(ware: Ware) -> Any:
    if ware.glaze_names:
        return Written(True, ware.glaze_names[0].span)
    if ware.state and ware.state.value == "glazed":
        return Written(True, ware.state.span)
    return False


def _shared_range(ware: Ware) -> tuple[Cone, Cone] | None:
    """The cones that the clay and every glaze of the ware bear, as (coolest, hottest)."""
    ranges = [
        thing.maturity
        for thing in (ware.clay, *ware.glazes)
        if thing and thing.maturity and thing.maturity.coolest and thing.maturity.hottest
    ]
    ends = [(m.coolest.value, m.hottest.value) for m in ranges if m.coolest and m.hottest]
    if not ends or not all(cool.comparable(ends[0][0]) for cool, _ in ends):
        return None
    return max(cool for cool, _ in ends), min(hot for _, hot in ends)


def _clay_of(of: Of[Ware]) -> Any:
    return Of(of.case, of.it.clay) if of.it.clay else None


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
        part_fact("is-glazed", FLAG, "Yes if it wears a glaze.", _glazed),
        part_fact("unglazed", FLAG, "Yes if the plan says that it is unglazed.", _said("unglazed")),
        part_fact(
            "state",
            words("damp", "leather-hard", "bone-dry", "dry", "greenware", "bisque", "glazed"),
            "How it goes into the kiln.",
            lambda ware: ware.state,
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
        part_fact(
            "shared-coolest",
            CONE,
            "The coolest cone that its clay and glazes all bear.",
            lambda ware: (shared := _shared_range(ware)) and shared[0],
        ),
        part_fact(
            "shared-hottest",
            CONE,
            "The hottest cone that its clay and glazes all bear.",
            lambda ware: (shared := _shared_range(ware)) and shared[1],
        ),
    )


LOAD = Subject(
    "load",
    "All that stands in the kiln.",
    single("load"),
    (
        Fact("wares", many("ware"), "The ware.", lambda of: [Of(of.case, w) for w in of.it.wares]),
        written_fact("spacing", LENGTH, "How far glazed pieces stand apart."),
        written_fact("element-gap", LENGTH, "How far the ware stands from the elements."),
        written_fact("shelf-wash", words("washed", "not-washed"), "Kiln wash on the shelves."),
        written_fact("stilts", words("all-clay", "metal-point"), "What stilts are used."),
        written_fact("mass", MASS, "The mass of ware and furniture."),
    ),
    lambda of: of.it.heading,
    single=True,
)
