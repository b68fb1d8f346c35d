"""What it finds
    A match-clock exit at or past the routine's limit.

Why it matters on the field
    At the limit everything is switched off, so the exit is never taken. It was written to bring
    the robot home in time, and it will not.

Example
    at 30 s of match, go to Parked
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Parked
      after 3 s, go to GiveUp
    finish Parked
    finish GiveUp

Instead
    at 26 s of match, go to Parked
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Parked
      after 3 s, go to GiveUp
    finish Parked
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.graph.owners import owners
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The match-clock exits that the limit comes before."""
    if case.plan is None or not limit_is_known(case):
        return
    routine = case.plan.routine
    limit = seconds_text(routine.limit_us)
    earlier = seconds_text(_earlier_us(routine.limit_us))
    for exit_ in (exit_ for owner in owners(routine) for exit_ in owner.match_exits):
        if exit_.at_us >= routine.limit_us:
            yield Found(
                exit_.place,
                f"the match-clock exit at {seconds_text(exit_.at_us)} is never taken",
                f"The routine's limit of {limit} switches everything off before it comes.",
                f"Take it early enough to do what `{exit_.target}` and the steps after it need.",
                paste=(f"at {earlier} of match, go to {exit_.target}",),
                steps=(exit_.target,),
            )


def _earlier_us(limit_us: int) -> int:
    """A time that leaves a sixth of the match to get home, in whole seconds where it can be."""
    second_us = 1_000_000
    return limit_us * 5 // 6 // second_us * second_us or limit_us // 2
