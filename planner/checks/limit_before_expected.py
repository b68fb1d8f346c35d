"""What it finds
    A time limit that ends a wait before a healthy robot is through with it: it is no longer than
    the time that an exit beside it is expected to take. So it is with the limit of a group, of a
    block of lanes or of a step that does a task, where what its steps expect, one after the other,
    can take longer. All runs of a healthy robot are searched for that; where nothing is expected it
    is taken to go on at once, and where sensors lead to several places that nobody expects, nothing
    is said.

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
from planner.checks.healthy_cuts import Cut, cuts_of, expected_in, in_tenths
from planner.findings import Related
from planner.graph.owners import owners_around
from planner.model.routine import AfterExit, Expect, Routine
from planner.model.units import seconds_text
from planner.text import Place


def find(case: Case) -> Iterator[Found]:
    """The limits of steps, and of the groups around them, that come before what is expected."""
    if case.plan is None:
        return
    told: set[Place] = set()
    routine = case.plan.routine
    for step in routine.steps.values():
        expected = [when.expect for when in step.whens if when.expect]
        if not expected or step.incomplete:
            continue
        slowest = max(expected, key=lambda expect: expect.high_us)
        for owner in owners_around(routine, step.name):
            for after in owner.afters:
                if after.limit_us <= slowest.high_us:
                    told.add(after.place)
                    yield _found(step.name, owner.name, after, slowest)
    for cut in cuts_of(case):
        if isinstance(cut.written, AfterExit) and cut.written.place not in told:
            told.add(cut.written.place)
            yield _of_group(routine, cut, cut.written)


def _found(step: str, owner: str, after: AfterExit, expect: Expect) -> Found:
    limit, high = seconds_text(after.limit_us), seconds_text(expect.high_us)
    return Found(
        after.place,
        f"the limit of {limit} in `{owner}` may end a wait that is going well",
        f"`{step}` expects up to {high}, and no good run that takes so long is let through.",
        f"Write a limit well above {high}, or correct what is expected.",
        steps=(step,),
        related=(Related(expect.place, "what is expected"),),
    )


def _of_group(routine: Routine, cut: Cut, after: AfterExit) -> Found:
    limit, takes = seconds_text(after.limit_us), cut.takes
    assert takes, "what a group takes is known where its limit is too short"
    low, high = in_tenths(takes)
    if cut.always:
        headline = f"the limit of {limit} ends `{cut.owner}` even when all goes well"
        why = f"A healthy robot needs at least {low} there, up to {high}: it never gets through."
    else:
        headline = f"the limit of {limit} may end `{cut.owner}` when all goes well but slowly"
        why = f"A healthy robot can need up to {high} there; it is then cut off in `{cut.step}`."
    return Found(
        after.place,
        headline,
        why,
        f"Write a limit well above {high}, make a step faster, or correct what is expected.",
        steps=(cut.step,),
        related=expected_in(routine, cut.step),
    )
