"""The plan as its author means it: who, which kiln, cones, load, schedule, safety, reading."""

from guardcone.plan.build import Described, build_plan, read_plan
from guardcone.plan.plan import Plan

__all__ = ["Described", "Plan", "build_plan", "read_plan"]
