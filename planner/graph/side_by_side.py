"""Which steps of two lanes of a block can be active at once (M8).

Both lanes are followed together, each by its own exits. What an exit asks about the two lanes is
answered by where they stand; all else that it asks may come out in any way. So that two steps are
never active at once is certain, and that they can be is not.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from itertools import product
from typing import TypeAlias

from planner.graph.atoms import Asking
from planner.graph.owners import is_incomplete
from planner.graph.possible import together
from planner.graph.unfold import Exit, Plan
from planner.model.condition import (
    Condition,
    Fixed,
    LaneIn,
    LanesDone,
    Leaf,
    each,
    leaves,
)
from planner.model.routine import Group, WhenExit, end_of_lane

MOST_PAIRS = 10_000
"""Of lanes with more pairs of steps nothing is told."""

Pair: TypeAlias = tuple[str, str]


def active_at_once(plan: Plan, one: Group, other: Group) -> set[Pair] | None:
    """The pairs of a step of each of two lanes of a block, ends included, that may be active at
    once; None where that cannot be known."""
    lanes = {one.name, other.name}
    inside = [
        name for name in plan.outer if (at := plan.routine.lane_around(name)) and at.name in lanes
    ]
    unclear = any(is_incomplete(plan.routine, name) for name in inside)
    if unclear or not one.first or not other.first or len(inside) ** 2 > 4 * MOST_PAIRS:
        return None
    first = (one.first, other.first)
    found, waiting = {first}, deque([first])
    while waiting:
        pair = waiting.popleft()
        stands = dict(zip((one.name, other.name), pair, strict=True))
        for after in product(_onward(plan, pair[0], stands), _onward(plan, pair[1], stands)):
            if after not in found:
                found.add(after)
                waiting.append(after)
    return found


def placed(condition: Condition, stands: Mapping[str, str]) -> Condition:
    """The condition with what it asks about lanes answered, where it is known in which step they
    stand."""

    def answered(leaf: Leaf) -> Condition:
        match leaf:
            case LaneIn(lane) if lane in stands:
                return Fixed(leaf, leaf.is_true_in(stands[lane]))
            case LanesDone(lanes, every):
                known = [stands[lane] == end_of_lane(lane) for lane in lanes if lane in stands]
                # One lane settles it by itself; all of them do so when all are known.
                if (not every) in known:
                    return Fixed(leaf, not every)
                return Fixed(leaf, every) if len(known) == len(lanes) else leaf
            case _:
                return leaf

    return each(condition, answered)


def carried_on(plan: Plan, lane: Group, speaking: Mapping[str, bool]) -> Iterator[str]:
    """The steps of a lane in which a command of it may be in force, its end left out.

    `speaking` are the steps that give one, each with whether it goes on when the step is left.
    """
    waiting = deque(speaking)
    seen = set(waiting)
    while waiting:
        step = waiting.popleft()
        yield step
        if not speaking.get(step, True):
            continue
        for exit_ in plan.asked_of(step):
            target = exit_.target
            if not plan.leaves_lane(exit_) and target not in seen and target != lane.done:
                seen.add(target)
                waiting.append(target)


def _onward(plan: Plan, step: str, stands: Mapping[str, str]) -> list[str]:
    """Where a lane may be after the next pass, staying where it is included."""
    onward = [step]
    for exit_ in plan.asked_of(step):
        if not plan.leaves_lane(exit_) and _may_be_taken(exit_, stands):
            onward.append(exit_.target)
    return onward


def _may_be_taken(exit_: Exit, stands: Mapping[str, str]) -> bool:
    written = exit_.written
    if not isinstance(written, WhenExit):
        return True
    if not any(isinstance(leaf, LanesDone | LaneIn) for leaf in leaves(written.condition)):
        return True
    asked = placed(written.condition, stands)
    return not together([Asking(asked, exit_.group or exit_.source)]).never
