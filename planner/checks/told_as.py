"""By which name a step is told of."""

from __future__ import annotations

from planner.graph import Plan
from planner.model.routine import Group, Step


def told_as(plan: Plan, name: str) -> Step | Group:
    """The step that a name is told as: one whose task begins there stands for its first step."""
    routine = plan.routine
    for group in routine.groups_around(name):
        inside = next(s for s in routine.steps.values() if group in routine.groups_around(s.name))
        if group.ends and inside.name == name:
            return group
    return plan.step(name)
