"""When the match clock takes runs out of groups."""

from __future__ import annotations

from planner.graph.unfold import Plan
from planner.graph.walks import own_ways, reached

FOREVER_US = 10**15


def ended_by_clock_us(plan: Plan, name: str) -> int:
    """When the match clock takes a run out of a group for good; `FOREVER_US` if it does not."""
    routine = plan.routine
    group = routine.groups[name]
    if not group.match_exits or group.incomplete:
        return FOREVER_US
    graph = own_ways(plan)
    steps = {step for step in plan.steps if group in routine.groups_around(step)}
    return min(
        (
            exit_.at_us
            for exit_ in group.match_exits
            if exit_.at_us < routine.limit_us and reached(graph, [exit_.target]).isdisjoint(steps)
        ),
        default=FOREVER_US,
    )
