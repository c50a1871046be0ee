"""The engine: rules times facts gives findings."""

from guardcone.engine.checking import BrokenRule, Outcome, check
from guardcone.engine.finding import Finding, LineRepair

__all__ = ["BrokenRule", "Finding", "LineRepair", "Outcome", "check"]
