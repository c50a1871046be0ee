"""A plan is checked: rules times facts give findings; silences, accept lines, examples."""

from guardcone.checking.run import BrokenRule, Finding, LineRepair, Outcome, check

__all__ = ["BrokenRule", "Finding", "LineRepair", "Outcome", "check"]
