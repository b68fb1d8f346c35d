"""What it finds
    Steps that lead only to each other and never to a finish.

Why it matters on the field
    The robot goes round in them until it is cut off. A routine that is cut off outside of a finish
    has failed: what it should do last, such as park or let go, is not done.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Search
      after 2 s, go to BackOff
    step Search
      drive spin 20 %
      when post_mark sees middle, go to BackOff
      after 2 s, go to Search
    finish Lit

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Search
      after 2 s, go to GiveUp
    step Search
      drive spin 20 %
      when post_mark sees middle, go to Approach, at most 2 times, then GiveUp
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import homes_from, limit_line, some, ways_home
from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.graph.walks import Trap, traps


def find(case: Case) -> Iterator[Found]:
    """The groups of steps that runs come to and never finish from."""
    plan = case.plan
    # A missing finish, or a line that may have been an exit of all steps, has its own finding.
    if plan is None or plan.routine.incomplete or not plan.routine.finishes:
        return
    homes = ways_home(plan)
    for trap in traps(plan):
        yield _found(plan, trap, homes)


def _found(plan: Plan, trap: Trap, homes: tuple[str, ...]) -> Found:
    names, first = trap.steps, plan.step(trap.steps[0])
    headline = f"{some(names)} lead to each other and to no finish"
    if len(names) == 1:
        headline = f"`{first.name}` leads back to itself and to no finish"
    why = "Once here, the robot is cut off by the end of the match: the plan is never finished."
    if trap.doomed:
        why += f" No way leads to a finish from {some(trap.doomed)} either."
    last = plan.step(names[-1])
    limit_us = last.afters[0].limit_us if last.afters else None
    return Found(
        first.place,
        headline,
        why,
        f"Let an exit lead to a finish, for instance the time limit of `{last.name}`.",
        paste=(limit_line(limit_us, homes_from(plan, last.name, homes)[0]),),
        steps=(*names, *trap.doomed),
        related=tuple(
            Related(plan.step(name).place, "leads here" if name in trap.doomed else "belongs to it")
            for name in (*names[1:], *trap.doomed)[:6]
        ),
    )
