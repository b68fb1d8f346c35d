"""What it finds
    A second time limit in a step, later than the first.

Why it matters on the field
    It never comes: the earlier limit has ended the step by then. Perhaps the times were mixed up,
    or the later line belongs to another step.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
      after 5 s, go to Lit
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 5 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The limits after a step's first; those at the same time are `twin-exits`."""
    if case.plan is None:
        return
    for step in case.plan.routine.steps.values():
        first = min(step.afters, key=lambda after: after.limit_us, default=None)
        for after in step.afters:
            if first is None or after.limit_us == first.limit_us:
                continue
            early, late = seconds_text(first.limit_us), seconds_text(after.limit_us)
            yield Found(
                after.place,
                f"the limit of {late} in `{step.name}` never comes",
                f"The limit of {early} has ended the step by then.",
                "Keep one of the two limits.",
                steps=(step.name,),
                related=(Related(first.place, "this limit comes first"),),
            )
