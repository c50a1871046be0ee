"""A new plan is written from what is known of a firing, its peak and hold computed.

The text is rules/new_plan.txt, which says how it is to be read.
"""

import re
from collections.abc import Mapping
from math import floor
from shlex import quote
from typing import Literal

from attrs import define

from guardcone.documents import document_text
from guardcone.firing.cones import kinetics_for, law_of
from guardcone.firing.kiln import Kiln as KilnHeat
from guardcone.firing.tables import usual
from guardcone.firing.ware import boiling_point
from guardcone.language import SourceText, split_lines
from guardcone.language.nearest import listed
from guardcone.outlook.advice import setting_for
from guardcone.outlook.planned import PlannedFiring, fire
from guardcone.plan.kiln import Kiln
from guardcone.plan.load import Clay, Glaze
from guardcone.plan.measures import usual_scale
from guardcone.plan.room import FITTED
from guardcone.plan.section import Maturity
from guardcone.reports.page import one_line
from guardcone.rulebook.book import Studio
from guardcone.starting.asked import Asked, Goal, NotUnderstood
from guardcone.tidy import tidy_text
from guardcone.values import Cone, ConeForm, ConeSeries, Duration, Rate, Temperature, read_quantity
from guardcone.values.amounts import scale_of

__all__ = ["new_plan", "unit_of"]

Unit = Literal["C", "F"]

# What the guard does then, and what tells that it is too hot.
_OUTCOMES = {
    "guard stands": ("stays standing", "if it moves, it is too hot"),
    "guard leans": ("leans, but less than half-way", "may lean; half-way is too hot"),
    "target down": ("may go with it", "it may go with the target: they lie close together"),
}
_UPRIGHT = frozenset({"guard stands", "guard leans"})
# The last climb begins so far below the target's own end, °C: a little more than the stretch whose
# rate the cone tables are published for.
_LAST_CLIMB = usual("last_stretch") + 10.0
# So far past where it just goes down a target is put that takes the guard with it, °C.
_JUST_DOWN = 1.0
# What a person sets where it is no matter of a degree.
_STEPS: Mapping[Unit, float] = {"C": 5.0, "F": 10.0}

# For a weak kiln no climb is made slower than this, °C/h: the last must suit the cone tables.
_SLOWEST_CLIMB = 50.0

_CLIMB = re.compile(r" *climb (?P<rate>\d+ \S+) to (?P<to>\d+ [CF])(?!\S)")
_MARK = re.compile(r"( *)\[(not )?([a-z, -]+)\] *")
_VALUE = re.compile(r"\{([^{}|]+?)(?: or ([^{}|]*)| \| ([^{}|]*))?\}")


def new_plan(said: Asked, studio: Studio, kiln_name: str, unit: Unit) -> str:
    """The text of a plan for what is said, in the layout of `tidy`.

    Raises NotUnderstood where the kiln can't bring the target down.
    """
    kiln = studio.described.kilns.get(kiln_name)
    if kiln:
        _refuse_beyond_rating(said.goal, kiln, kiln_name)
    page = _Page(
        studio, unit, _marks(said, studio, kiln_name), _values(said, studio, kiln_name, unit)
    )
    if kiln and kiln.fuel and kiln.fuel.value == "electric":
        page.heat = page.fired().kiln
    if isinstance(said.goal, Cone):
        page.compute(said.goal)
    return tidy_text(page.text())


def _refuse_beyond_rating(goal: Goal | None, kiln: Kiln, name: str) -> None:
    """Refuse a goal that the kiln is not made for."""
    rating = kiln.rated_cone or kiln.rated_temperature
    beyond = (
        goal.number > kiln.rated_cone.value.number
        if isinstance(goal, Cone) and kiln.rated_cone
        else kiln.rated_temperature and _celsius(goal) > kiln.rated_temperature.value.celsius
    )
    if rating and beyond:
        raise NotUnderstood(f"{name} is rated to {rating.value}, and {goal} lies beyond that")


def _celsius(goal: Goal | None) -> float:
    """Where a goal ends; a cone by its own law."""
    if isinstance(goal, Temperature):
        return goal.celsius
    law = kinetics_for(goal) if isinstance(goal, Cone) else None
    return law.end_60 if law else 0.0


def unit_of(said: Asked, studio: Studio, kiln_name: str) -> Unit:
    """The unit that a person thinks in: of the temperature said, else of the studio's kiln."""
    if isinstance(said.goal, Temperature):
        return scale_of(said.goal) or "C"
    kiln = studio.described.kilns.get(kiln_name)
    return usual_scale(kiln) if kiln else "C"


def _marks(said: Asked, studio: Studio, kiln_name: str) -> set[str]:
    """The marks of the document that hold."""
    kiln = studio.described.kilns.get(kiln_name)
    holds = {
        said.kind.name if said.kind else "open": True,
        kiln.fuel.value if kiln and kiln.fuel else "any heat": True,
        "described": kiln is not None,
        "cone": isinstance(said.goal, Cone),
    }
    here = [room for room in studio.rooms if room.kiln.casefold() in ("", kiln_name.casefold())]
    seen = {name for name in FITTED if any(getattr(room.safety, name) for room in here)}
    return {mark for mark, held in holds.items() if held} | {
        f"{name.replace('_', ' ')} seen" for name in seen
    }


def _values(said: Asked, studio: Studio, kiln_name: str, unit: Unit) -> dict[str, str]:
    """What is known before anything is fired."""
    kiln, goal = studio.described.kilns.get(kiln_name), said.goal
    matures = said.kind is not None and said.kind.name in ("glaze", "once")
    altitude = kiln.altitude.value.metres if kiln and kiln.altitude else 0.0
    return {
        "file": one_line(quote(said.file)) if said.file else "",
        "kind": said.word,
        "kiln": kiln_name,
        "goal": goal.plain() if isinstance(goal, Temperature) else str(goal or ""),
        "drying": _step(boiling_point(altitude) - usual("hold_below_boiling"), unit),
        # A first firing stays below the range of its clay, an overglaze firing far below.
        "clays": _named(studio.described.clays, goal if matures else None),
        "glazes": _named(studio.described.glazes, goal),
    }


def _named(described: Mapping[str, Clay] | Mapping[str, Glaze], goal: Goal | None) -> str:
    """The names of what the studio describes; with a cone only of what matures there."""
    fits = [
        f'"{name}"'
        for name, one in described.items()
        if not isinstance(goal, Cone) or _takes_in(one.maturity, goal)
    ]
    return listed(fits) if fits else ""


def _takes_in(maturity: Maturity | None, goal: Cone) -> bool:
    ends = (maturity.coolest, maturity.hottest) if maturity else ()
    numbers = [end.value.number for end in ends if end and end.value.comparable(goal)]
    return len(numbers) == 2 and numbers[0] <= goal.number <= numbers[1]


@define(repr=False)
class _Page:
    """The document with its marks and values; `values` grow as the firing is computed.

    `heat` is there for a kiln of which it is known how fast it climbs at most.
    """

    studio: Studio
    unit: Unit
    marks: set[str]
    values: dict[str, str]
    heat: KilnHeat | None = None

    def text(self) -> str:
        """The lines of the document that are written, their values filled in."""
        lines = (self._line(line) for line in document_text("rules", "new_plan.txt").splitlines())
        return "\n".join(line for line in lines if line is not None) + "\n"

    def _line(self, line: str) -> str | None:
        """A line as it is written; None where it is left out."""
        while mark := _MARK.match(line):
            if self.marks.isdisjoint(mark[3].split(", ")) == (mark[2] is None):
                return None
            line = mark[1] + line[mark.end() :]
        found = [self._value(value) for value in _VALUE.finditer(line)]
        if line.startswith("//") or "" in found:
            return None
        filled = iter(found)
        return self._within_power(_VALUE.sub(lambda _: next(filled), line))

    def _within_power(self, line: str) -> str:
        """A climb that the kiln can't follow is made as fast as it can, in steps of ten."""
        climb = _CLIMB.match(line)
        if climb is None or self.heat is None:
            return line
        possible = self.heat.fastest_climb_at(read_quantity(Temperature, climb["to"]).celsius)
        rate = read_quantity(Rate, climb["rate"])
        if possible is None or rate.celsius_per_hour <= max(possible, _SLOWEST_CLIMB):
            return line
        fastest = Rate.of(max(possible, _SLOWEST_CLIMB), "C/h").like(rate)
        slower = Rate.of(floor(fastest.amount() / 10.0) * 10.0, rate.unit.plain)
        return line.replace(climb["rate"], slower.plain(), 1)

    def _value(self, value: re.Match[str]) -> str:
        name, otherwise, fahrenheit = value.groups("")
        if fahrenheit:
            return fahrenheit if self.unit == "F" else name
        return self.values.get(name) or otherwise

    def fired(self) -> PlannedFiring:
        """The firing of the plan as it stands."""
        source = SourceText("the new plan", split_lines(self.text()))
        return fire(self.studio.read_plan(source))

    def compute(self, goal: Cone) -> None:
        """Add the cones, the last climb and the hold, so that target goes down and guard stands."""
        for form in ConeForm.LARGE, ConeForm.SELF_SUPPORTING:
            cones = _pack(Cone(goal.number, ConeSeries(form)))
            if form is ConeForm.SELF_SUPPORTING:
                self.marks |= {"self-supporting"}
            elif any(law is None or law.borrowed for law in map(law_of, cones)):
                continue  # the chart has some of them in the other form only
            outcome = self._set(*cones)
            if outcome in _UPRIGHT:
                break
        self.values["guard does"], self.values["too hot"] = _OUTCOMES[outcome]
        firing = self.fired()
        bends = firing.forecast(cones[0])
        if bends and bends.start_hour is not None:
            self.values["bend"] = _about(bends.start_hour)
        self.values["powered"] = _about(firing.powered_hours)

    def _set(self, guide: Cone, target: Cone, guard: Cone) -> str:
        """Set these cones and the peak for them; gives what comes of it."""
        law = kinetics_for(target)
        assert law is not None
        self.values |= {
            "guide": str(guide.number),
            "target": str(target.number),
            "guard": str(guard.number),
            "approach": _step(law.end_60 - _LAST_CLIMB, self.unit),
            "peak": _whole(law.end_60, self.unit),
        }
        firing = self.fired()
        answer = setting_for(firing, "peak", target, guard, self.unit)
        assert answer is not None
        peak = answer.value
        if peak is None:
            # The guard goes down whatever is set; just enough for the target is best.
            answer = setting_for(firing, "peak", target, None, self.unit)
            assert answer is not None
            peak = answer.least and answer.least + _JUST_DOWN
        if peak is None:
            kiln = self.values["kiln"] or "this kiln"
            raise NotUnderstood(f"{kiln} can't be fired to {target}: {answer.reason}")
        self.values["peak"] = _whole(peak, self.unit)
        return answer.outcome


def _pack(target: Cone) -> tuple[Cone, Cone, Cone]:
    """Guide, target and guard."""
    guide, guard = target.number.cooler(), target.number.hotter()
    assert guide is not None  # no kind of firing goes to the ends of the scale
    assert guard is not None
    return target.numbered(guide), target, target.numbered(guard)


def _whole(celsius: float, unit: Unit) -> str:
    """A temperature to the degree, as a plan spells it."""
    return f"{Temperature.of(celsius, 'C').amount(unit):.0f} {unit}"


def _step(celsius: float, unit: Unit) -> str:
    """The same, rounded to what a person would set."""
    step = _STEPS[unit]
    return f"{round(Temperature.of(celsius, 'C').amount(unit) / step) * step:.0f} {unit}"


def _about(hours: float) -> str:
    """Hours to ten minutes."""
    return str(Duration.of(round(hours * 6) * 10, "min"))
