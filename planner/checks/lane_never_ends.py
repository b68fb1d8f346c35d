"""What it finds
    A lane whose end something waits for, though none of its steps leads to `done`.

Why it matters on the field
    The other lanes come to their end and stand there until the block runs into its limit.

Example
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
          when arm done, go to Hold
          after 3 s, go to Hold
        step Hold
          when tin_gate clear, go to Lift, at most 2 times, then GiveUp
          after 2 s, go to GiveUp
    finish Lit
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
from planner.findings import Related
from planner.graph import Plan
from planner.graph.lanes import lanes_asked, lanes_of, never_ending
from planner.graph.owners import is_incomplete
from planner.model.condition import LanesDone
from planner.model.routine import Group


def find(case: Case) -> Iterator[Found]:
    """The lanes without an end that a condition of their block waits for."""
    if case.plan is None or case.plan.routine.perhaps:
        return
    for block in case.plan.begins:
        waits = list(lanes_asked(case.plan, block))
        for lane in never_ending(case.plan, block):
            waiting = [wait for wait in waits if _hangs_on(case.plan, block, wait, lane)]
            if waiting and not _partly_read(case.plan, lane):
                yield _found(case.plan, block, lane, waiting[0])


def _hangs_on(plan: Plan, block: str, wait: LanesDone, lane: Group) -> bool:
    """Whether a wait for lanes never comes because a lane does not end."""
    if lane.name not in wait.lanes or wait.every:
        return lane.name in wait.lanes
    return len(never_ending(plan, block)) == len(lanes_of(plan, block))


def _partly_read(plan: Plan, lane: Group) -> bool:
    return any(
        is_incomplete(plan.routine, name) for name in plan.outer if lane.name in plan.outer[name]
    )


def _found(plan: Plan, block: str, lane: Group, wait: LanesDone) -> Found:
    steps = tuple(name for name in plan.outer if lane.name in plan.outer[name])
    return Found(
        lane.place,
        f"the lane `{lane.lane}` never ends, and `{wait.spoken}` waits for it",
        "No step of it that can be reached goes to `done`, so that never comes.",
        f"Let the last step of `{lane.lane}` go to `done`, or let `{block}` wait for something "
        "else.",
        paste=("after 2 s, go to done",),
        steps=steps,
        related=(Related(wait.place, "waits for its end"),),
    )
