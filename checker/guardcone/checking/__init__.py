"""A plan is checked: rules times facts give findings; silences, accept lines, examples."""

from guardcone.checking.finding import Finding, LineRepair
from guardcone.checking.run import BrokenRule, Outcome, check

__all__ = ["BrokenRule", "Finding", "LineRepair", "Outcome", "check"]
