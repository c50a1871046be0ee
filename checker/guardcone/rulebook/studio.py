"""What a studio's own file changes and describes, once it is read.

A plan may lean on the studio: what it names and does not describe is filled in from here. Each
value that is filled in points at the words of the plan that lean on it, so that a finding always
stands in the plan.
"""

from collections.abc import Callable, Collection
from typing import Any, TypeVar

from attrs import evolve, field, fields, frozen, has

from guardcone.condition.rule_faults import RuleFault
from guardcone.language import SourceText
from guardcone.plan import Described, Plan, read_plan
from guardcone.plan.kiln import Kiln
from guardcone.plan.load import Clay, Glaze, Load
from guardcone.plan.safety import Safety
from guardcone.rulebook.book import RuleBook
from guardcone.span import Span, Written

__all__ = ["Studio", "StudioFaults", "Trial", "book_of"]

T = TypeVar("T")
Named = TypeVar("Named", Clay, Glaze)

# Runs the examples of the rules with these names in a book, and tells what came out wrong.
Trial = Callable[[RuleBook, Collection[str]], "tuple[RuleFault, ...]"]


@frozen
class StudioFaults:
    """Everything that is wrong with a studio's file and the files it names."""

    faults: tuple[RuleFault, ...]


@frozen
class Studio:
    """What applies to the plans of one folder: the book in force, and what plans may lean on.

    `file` is what messages call the studio's file, empty where no such file applies.
    """

    book: RuleBook
    file: str = ""
    described: Described = field(factory=Described)
    local_authority: str = ""
    emergency: str = ""

    def read_plan(self, source: SourceText) -> Plan:
        """The plan in `source` with what it leans on filled in; nothing is raised."""
        return self.completed(read_plan(source, self.described))

    def completed(self, plan: Plan) -> Plan:
        """The plan, read with `described`, with every value of the studio's at a place of the plan.

        The local authority and the emergency line of the studio hold where the plan's safety
        section is silent; a plan without that section stays without it.
        """
        if not self.file:
            return plan
        return evolve(
            plan,
            kiln=self._kiln(plan.kiln) if plan.kiln else None,
            load=_load(plan.load) if plan.load else None,
            safety=self._safety(plan.safety) if plan.safety else None,
            otherwise=tuple(self.completed(other) for other in plan.otherwise),
        )

    def _kiln(self, kiln: Kiln) -> Kiln:
        known = self.described.kilns.get(kiln.name.value) if kiln.name else None
        if known is None or kiln.name is None:
            return kiln
        # What the plan took over from the studio is the very object of the studio's record.
        taken: dict[str, Any] = {
            one.name: _placed(value, kiln.name.span)
            for one in fields(Kiln)
            if isinstance(value := getattr(kiln, one.name), Written)
            and value is getattr(known, one.name)
        }
        return evolve(kiln, **taken)

    def _safety(self, safety: Safety) -> Safety:
        said = {"local_code": self.local_authority, "emergency": self.emergency}
        silent: dict[str, Any] = {
            name: Written(text, safety.heading)
            for name, text in said.items()
            if text and getattr(safety, name) is None and name not in safety.unreadable
        }
        return evolve(safety, **silent)


def book_of(studio: Studio) -> RuleBook:
    """The rules and limits in force for the plans of this studio."""
    return studio.book


def _load(load: Load) -> Load:
    """The load with each clay and glaze of the studio placed where a ware first names it."""
    placed: dict[int, Any] = {}

    def place(thing: Named, name: Span) -> Named:
        if not thing.from_studio:
            return thing
        if id(thing) not in placed:
            placed[id(thing)] = _placed(thing, name)
        found: Named = placed[id(thing)]
        return found

    wares = []
    for ware in load.wares:
        clay = place(ware.clay, ware.clay_name.span) if ware.clay and ware.clay_name else ware.clay
        spans = {name.value: name.span for name in ware.glaze_names}
        glazes = tuple(
            place(glaze, spans.get(glaze.name.value, ware.span)) for glaze in ware.glazes
        )
        wares.append(evolve(ware, clay=clay, glazes=glazes))
    return evolve(load, wares=tuple(wares))


def _placed(record: T, span: Span) -> T:
    """The record with every place in it moved to `span`."""
    moved: Any = record
    if isinstance(record, Span):
        moved = span
    elif isinstance(record, Written):
        moved = Written(record.value, span)
    elif isinstance(record, tuple):
        moved = tuple(_placed(item, span) for item in record)
    elif has(type(record)):
        kind: Any = type(record)
        parts = {one.name: getattr(record, one.name) for one in fields(kind)}
        moved = evolve(moved, **{name: _placed(part, span) for name, part in parts.items()})
    found: T = moved
    return found
