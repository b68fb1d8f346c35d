"""What it finds
    A routine that starts in a finish although it has steps.

Why it matters on the field
    The routine is over in its first moment, and the robot stands for the whole match.

Example
    start Lit
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

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


def find(case: Case) -> Iterator[Found]:
    """The start, where it is a finish and there are steps that are none."""
    if case.plan is None:
        return
    routine = case.plan.routine
    first = next((step for step in routine.steps.values() if not step.is_finish), None)
    if not routine.start or first is None or not routine.steps[routine.start].is_finish:
        return
    yield Found(
        routine.steps[routine.start].place,
        f"the routine starts in its finish `{routine.start}`",
        "It is over in its first moment, and no step of it is ever done.",
        "Start in the step that comes first.",
        paste=(f"start {first.name}",),
        steps=(routine.start,),
    )
