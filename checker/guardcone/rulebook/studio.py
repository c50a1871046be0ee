"""What applies to the plans of one folder: the book in force, and what plans may lean on.

What a plan names and does not describe is filled in where the name is looked up.
"""

from collections.abc import Callable, Collection
from typing import Any

from attrs import evolve, field, frozen

from guardcone.condition.rule_faults import RuleFault
from guardcone.language import SourceText
from guardcone.plan import Described, Plan, read_plan
from guardcone.plan.safety import Safety
from guardcone.rulebook.book import RuleBook
from guardcone.span import Written

__all__ = ["Studio", "StudioFaults", "Trial"]

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
        """The plan, read with `described`, with what the studio says of every firing.

        The local authority and the emergency line of the studio hold where the plan's safety
        section is silent; a plan without that section stays without it.
        """
        return evolve(
            plan,
            safety=self._safety(plan.safety) if plan.safety else None,
            otherwise=tuple(self.completed(other) for other in plan.otherwise),
        )

    def _safety(self, safety: Safety) -> Safety:
        said = {"local_code": self.local_authority, "emergency": self.emergency}
        silent: dict[str, Any] = {
            name: Written(text, safety.heading)
            for name, text in said.items()
            if text and getattr(safety, name) is None and name not in safety.unreadable
        }
        return evolve(safety, **silent)
