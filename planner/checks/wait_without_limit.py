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

from planner.checks.advice import limit_lines, ways_home
from planner.checks.case import Case, Found
from planner.graph import ExitKind, Plan
from planner.graph.walks import open_exits
from planner.model.routine import Step
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """Steps with a `when` exit and no `after` exit."""
    if case.plan is None:
        return
    waiting = [
        step
        for step in case.plan.routine.steps.values()
        if step.whens and not step.afters and not step.incomplete
    ]
    if not waiting:
        return
    homes = ways_home(case.plan)
    exits = open_exits(case.plan)
    for step in waiting:
        # The match clock's exits come first of a step's exits.
        clocked = exits[step.name][0].kind is ExitKind.MATCH
        yield _found(case.plan, step, homes, clocked)


def _found(plan: Plan, step: Step, homes: tuple[str, ...], clocked: bool) -> Found:
    waits = spoken_condition(step.whens[0].condition)
    why = "If that never comes, the robot stands here until the match ends."
    if clocked:
        at = seconds_text(plan.routine.match_exits[-1].at_us)
        why = (
            f"If that never comes, the robot stands here until the match clock says {at}, and all "
            "that the time would have been good for is lost."
        )
    return Found(
        step.place,
        f"`{step.name}` waits for `{waits}` and has no time limit",
        why,
        f"Give `{step.name}` a limit, a little longer than the wait takes on a good day, "
        "and a step to go to when it runs out.",
        paste=limit_lines(None, homes, {when.target for when in step.whens}),
        steps=(step.name,),
    )
