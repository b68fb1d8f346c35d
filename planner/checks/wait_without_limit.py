"""What it finds
    A step that waits for a sensor or a mechanism and has no time limit.

Why it matters on the field
    Sensors come unplugged, tins roll away, wheels slip. Without a limit the robot waits for the
    rest of the match.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
    finish Lit

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.model.spoken import spoken_condition


def find(case: Case) -> Iterator[Found]:
    """Steps with a `when` exit and no `after` exit."""
    if case.plan is None:
        return
    for step in case.plan.routine.steps.values():
        if not step.whens or step.afters or step.incomplete:
            continue
        waits = spoken_condition(step.whens[0].condition)
        yield Found(
            step.place,
            f"`{step.name}` waits for `{waits}` and has no time limit",
            "If that never comes, the robot stands here until the match ends.",
            f"Give `{step.name}` a limit, a little longer than the wait takes on a good day, "
            "and a step to go to when it runs out.",
            paste=("after 3 s, go to GiveUp",),
            steps=(step.name,),
        )
