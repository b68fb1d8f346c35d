"""What the readings of a rehearsed run have to do with lanes."""

from __future__ import annotations

from collections.abc import Mapping

from planner.graph import Plan
from planner.graph.owners import Owner, owners
from planner.model.condition import Compare, Steady, Unreadable, Within, leaves
from planner.model.robot import Reading


def lane_of(plan: Plan, step: str) -> str:
    """The lane that a step stands in; empty for a step outside of lanes."""
    lane = plan.routine.lane_around(step)
    return lane.name if lane else ""


def readings_of_other_lanes(plan: Plan) -> Mapping[str, frozenset[str]]:
    """By step of a lane, the readings from the step's start that its lane does not ask about.

    A scenario gives such a reading as a step of another lane sees it, so entering this one does
    not set it back to 0.
    """
    if not plan.outer:
        return {}
    counted = {
        reading.spoken
        for mechanism in plan.routine.robot.mechanisms.values()
        for reading in mechanism.readings.values()
        if reading.from_step_start
    }
    asked: dict[str, set[str]] = {}
    for owner in owners(plan.routine):
        if owner.steps and set(owner.steps) <= set(plan.outer):
            asked.setdefault(lane_of(plan, owner.steps[0]), set()).update(_counted_in(owner))
    return {step: frozenset(counted - asked.get(lane_of(plan, step), set())) for step in plan.outer}


def _counted_in(owner: Owner) -> set[str]:
    return {
        leaf.source.spoken
        for condition, _ in owner.conditions
        for leaf in leaves(condition)
        if isinstance(leaf, Compare | Within | Steady | Unreadable)
        and isinstance(leaf.source, Reading)
        and leaf.source.from_step_start
    }
