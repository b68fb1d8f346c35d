"""What it finds
    A time limit that ends a wait before a healthy robot is through with it: it is no longer than
    the time that an exit beside it is expected to take.

Why it matters on the field
    The limit is the way out for a sensor that says nothing. Where it comes too soon it takes the
    robot away from work that was about to succeed. A limit a good deal longer than the slowest good
    run costs nothing, since a good run never waits for it.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 0.8 s to 1.4 s, go to Lit
      after 1 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 0.8 s to 1.4 s, go to Lit
      after 2.5 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph.owners import owners_around
from planner.model.routine import AfterExit, Expect
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The limits of steps, and of the groups around them, that come before what is expected."""
    if case.plan is None:
        return
    routine = case.plan.routine
    for step in routine.steps.values():
        expected = [when.expect for when in step.whens if when.expect]
        if not expected or step.incomplete:
            continue
        slowest = max(expected, key=lambda expect: expect.high_us)
        for owner in owners_around(routine, step.name):
            for after in owner.afters:
                if after.limit_us <= slowest.high_us:
                    yield _found(step.name, after, slowest)


def _found(step: str, after: AfterExit, expect: Expect) -> Found:
    limit, high = seconds_text(after.limit_us), seconds_text(expect.high_us)
    return Found(
        after.place,
        f"the limit of {limit} in `{step}` may end a wait that is going well",
        f"The step expects up to {high}, and no good run that takes so long is let through.",
        f"Write a limit well above {high}, or correct what is expected.",
        steps=(step,),
        related=(Related(expect.place, "what is expected"),),
    )
