"""What graph algorithms ask about blocks of lanes (M8)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.graph.owners import owners
from planner.graph.unfold import Exit, Plan
from planner.graph.walks import own_exits, own_ways, reached
from planner.model.condition import All, Any, Condition, LaneIn, LanesDone, leaves
from planner.model.routine import Group


def exits_by_block(plan: Plan) -> Iterator[Exit]:
    """The exits of steps and groups, each once: those of a block on its own step, and those that
    lead out of a lane as if they were the block's."""
    for exit_ in own_exits(plan):
        if exit_.source not in plan.outer:
            yield exit_
        elif plan.of_lane(exit_):
            yield of_block(plan, exit_)


def of_block(plan: Plan, exit_: Exit) -> Exit:
    """An exit of a lane; one that leads out of it as if it were the block's."""
    return replace(exit_, source=plan.block_of(exit_.source)) if plan.leaves_lane(exit_) else exit_


def lanes_of(plan: Plan, block: str) -> tuple[Group, ...]:
    """The lanes of a block, in the order written."""
    return tuple(plan.routine.groups[name] for name in plan.routine.groups[block].lanes)


def lane_exits_of(plan: Plan, block: str) -> Iterator[Exit]:
    """The exits of its lanes by which a block is left."""
    for step in plan.outer:
        if plan.block_of(step) == block:
            yield from (exit_ for exit_ in plan.asked_of(step) if plan.leaves_lane(exit_))


def never_ending(plan: Plan, block: str) -> tuple[Group, ...]:
    """The lanes of a block of which no step that can be reached leads to the end."""
    graph = own_ways(plan)
    return tuple(
        lane
        for lane in lanes_of(plan, block)
        if lane.first and lane.done not in reached(graph, [lane.first])
    )


def is_joined(plan: Plan, block: str) -> bool:
    """Whether a block is left at the latest when all of its lanes are done, and they can be."""
    group = plan.routine.groups[block]
    endless = {lane.name for lane in never_ending(plan, block)}
    return any(_comes_with_all(when.condition, endless) for when in group.whens)


def lanes_asked(plan: Plan, block: str) -> Iterator[LanesDone]:
    """What the exits of a block and of the steps in it ask of the ends of its lanes, in order."""
    inside = {block, *(name for name in plan.outer if plan.block_of(name) == block)}
    for owner in owners(plan.routine):
        if owner.steps and inside.issuperset(owner.steps):
            for when in owner.whens:
                yield from (leaf for leaf in leaves(when.condition) if isinstance(leaf, LanesDone))


def looks_only_at_lanes(condition: Condition) -> bool:
    """Whether all that a condition asks about is lanes."""
    return all(isinstance(leaf, LanesDone | LaneIn) for leaf in leaves(condition))


def _comes_with_all(condition: Condition, endless: set[str]) -> bool:
    """Whether a condition is true once all lanes are done that can be."""
    match condition:
        case LanesDone(lanes, every):
            return endless.isdisjoint(lanes) if every else not endless.issuperset(lanes)
        case All(parts):
            return all(_comes_with_all(part, endless) for part in parts)
        case Any(parts):
            return any(_comes_with_all(part, endless) for part in parts)
        case _:
            return False
