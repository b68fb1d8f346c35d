"""What the readings of a rehearsed run have to do with lanes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.graph import Plan
from planner.graph.owners import Owner, owners
from planner.model.condition import Compare, Reckoned, Steady, Unreadable, Within, leaves
from planner.model.robot import Reading


@dataclass(frozen=True, slots=True)
class LaneView:
    """Which lane sees what of a plan's readings from the step's start."""

    lane_of: Mapping[str, str] = field(default_factory=dict)
    """The lane of each step that stands in one."""
    asks: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """By block and reading, the first lane whose steps ask for it."""

    def of(self, step: str) -> str:
        """The lane of a step; empty for a step outside of lanes."""
        return self.lane_of.get(step, "")


def lane_view(plan: Plan) -> LaneView:
    """The view of a plan's lanes."""
    lanes = {step: lane for step in plan.outer if (lane := plan.routine.lane_around(step))}
    asks: dict[str, dict[str, str]] = {block: {} for block in plan.begins}
    for owner in owners(plan.routine) if lanes else ():
        # A group that stands in a lane is asked in steps of that lane alone.
        lane = lanes.get(owner.steps[0]) if owner.steps and lanes.keys() >= {*owner.steps} else None
        if lane and len({lanes[step].name for step in owner.steps}) == 1:
            for reading in _counted_in(owner):
                asks[lane.inside].setdefault(reading, lane.name)
    return LaneView({step: lane.name for step, lane in lanes.items()}, asks)


def _counted_in(owner: Owner) -> set[str]:
    sources = {
        leaf.source
        for condition, _ in owner.conditions
        for leaf in leaves(condition)
        if isinstance(leaf, Compare | Within | Steady | Unreadable | Reckoned)
    }
    sources |= {source for remember in owner.remembers for source in remember.readings}
    return {
        source.spoken
        for source in sources
        if isinstance(source, Reading) and source.from_step_start
    }
