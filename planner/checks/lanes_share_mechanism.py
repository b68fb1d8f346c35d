"""What it finds
    A mechanism that two lanes of one block give commands to.

Why it matters on the field
    The lanes run side by side, so the last command counts, and which is the last depends on
    what the sensors say. The arm turns round half way, or the wheels stop.

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
          drive spin 10 %
          when arm done, go to done
          after 3 s, go to done
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
from planner.checks.words import listed
from planner.findings import Related
from planner.graph import Plan
from planner.graph.owners import given_in
from planner.model.routine import Given


def find(case: Case) -> Iterator[Found]:
    """The mechanisms of each block that several of its lanes command."""
    if case.plan is None:
        return
    plan = case.plan
    for block in plan.begins:
        for mechanism, first in _by_mechanism(plan, block).items():
            if len(first) > 1:
                yield _found(block, mechanism, first)


def _by_mechanism(plan: Plan, block: str) -> dict[str, dict[str, Given]]:
    """By mechanism and lane, the first command that a step or side rule of the lane gives it."""
    found: dict[str, dict[str, Given]] = {}
    inside = {name for name in plan.outer if plan.block_of(name) == block}
    for given, steps in given_in(plan.routine):
        if steps and inside.issuperset(steps):
            lanes = {lane.lane for name in steps if (lane := plan.routine.lane_around(name))}
            if len(lanes) == 1:
                found.setdefault(given.mechanism.name, {}).setdefault(lanes.pop(), given)
    return found


def _found(block: str, mechanism: str, first: dict[str, Given]) -> Found:
    lanes, given = list(first), list(first.values())
    return Found(
        given[1].place,
        f"the lanes {listed(lanes, 'and')} of `{block}` both tell `{mechanism}` what to do"
        if len(lanes) == 2
        else f"the lanes {listed(lanes, 'and')} of `{block}` all tell `{mechanism}` what to do",
        "They run side by side, so whichever speaks last has its way.",
        f"Let one lane alone command `{mechanism}`, and the others look at it with `lane "
        f"{lanes[0]} done` or `lane {lanes[0]} in STEP`.",
        steps=(block,),
        related=tuple(
            Related(other.place, f"the lane `{lane}` commands it here")
            for lane, other in first.items()
            if other is not given[1]
        ),
    )
