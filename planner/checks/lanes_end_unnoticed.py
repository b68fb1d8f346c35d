"""What it finds
    A block whose lanes can all come to their end, and no exit of it that asks for that.

Why it matters on the field
    When the last lane has done its work the robot stands until the time limit of the block.

Example
    start Carry
    together Carry
      after 6 s, go to GiveUp
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to done
    finish GiveUp

Instead
    start Carry
    together Carry
      when all lanes done, go to Lit
      after 6 s, go to GiveUp
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to done
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.graph import Plan
from planner.graph.lanes import lane_exits_of, never_ending
from planner.graph.owners import is_incomplete
from planner.model.routine import Group


def find(case: Case) -> Iterator[Found]:
    """The blocks that wait for their limit when their lanes are done."""
    if case.plan is None:
        return
    plan = case.plan
    for block in plan.begins:
        group = plan.routine.groups[block]
        if not _noticed(plan, group) and not never_ending(plan, block) and plan.begins[block]:
            yield Found(
                group.place,
                f"when the lanes of `{block}` are done, nothing leads on",
                "Only its time limit ends it, and until then the robot stands.",
                "Say where to go when the lanes are done:",
                paste=("when all lanes done, go to NextStep",),
                steps=(block,),
            )


def _noticed(plan: Plan, group: Group) -> bool:
    """Whether some exit may leave the block when its lanes are done, or that is not known."""
    steps = [name for name in plan.outer if plan.block_of(name) == group.name]
    if any(is_incomplete(plan.routine, name) for name in (group.name, *steps)):
        return True
    # A block may wait for a sensor with its lanes done; one that leads out of a lane says so too.
    leaving = any(lane_exits_of(plan, group.name))
    around = plan.routine.groups_around(group.name)
    return leaving or not group.afters or any(owner.whens for owner in around)
