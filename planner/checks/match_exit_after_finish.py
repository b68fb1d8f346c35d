"""What it finds
    A match-clock exit at a time when every run of the plan has come to a finish, and which alone
    leads to its step. An exit that is there to be safe, to a step that other exits lead to as well,
    earns no finding.

Why it matters on the field
    A finish is the end: nothing leads on from it, the match clock neither. What the exit was
    written for, such as driving home with the time that is left, never happens.

Example
    at 20 s of match, go to Home
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 4 s, go to GiveUp
    step Home
      drive forward -40 %
      when floor_eye sees blue, go to Parked
      after 4 s, go to GiveUp
    finish Lit
    finish Parked
    finish GiveUp

Instead
    at 20 s of match, go to Home
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Wait
      after 4 s, go to GiveUp
    step Wait "stand at the post until it is time"
      when range_front > 30 cm, go to GiveUp
      after 20 s, go to Home
    step Home
      drive forward -40 %
      when floor_eye sees blue, go to Parked
      after 4 s, go to GiveUp
    finish Parked
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.graph.longest import ending
from planner.graph.walks import own_ways, reached
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The match-clock exits after the longest way, to steps that nothing else leads to."""
    plan = case.plan
    if plan is None or plan.routine.incomplete or not plan.routine.match_exits:
        return
    if not plan.routine.start or plan.step(plan.routine.start).is_finish:
        return
    end = ending(plan)
    if end.lasting or not end.longest.exact:
        return
    over = seconds_text(end.longest.total_us)
    taken = [e.target for e in plan.routine.match_exits if e not in end.too_late]
    reachable = reached(own_ways(plan), [plan.routine.start, *taken])
    for exit_ in end.too_late:
        if exit_.at_us >= plan.routine.limit_us or exit_.target in reachable:
            continue
        yield Found(
            exit_.place,
            f"the match-clock exit at {seconds_text(exit_.at_us)} comes when the plan is over",
            f"Even if every limit runs out, a finish is reached by {over}, and nothing leads on "
            "from a finish.",
            f"Let a step before the finish lead to `{exit_.target}`, or wait there for the time; "
            "or delete this line.",
            steps=(exit_.target,),
        )
