"""What it finds
    A step whose time limit leads to the same step as what it waits for.

Why it matters on the field
    When the limit runs out, something went wrong: the tin is not there, the wheels slip, a plug is
    loose. The routine goes on as if all were well, and fails later, where nobody looks for the
    cause.

Example
    start TakeTin
    step TakeTin
      roller take
      when tin_gate broken, go to DropTin
      after 3 s, go to DropTin
    step DropTin
      roller drop
      when tin_gate clear for 0.3 s, go to Dropped
      after 1 s, go to GiveUp
    finish Dropped
    finish GiveUp

Instead
    start TakeTin
    step TakeTin
      roller take
      when tin_gate broken, go to DropTin
      after 3 s, go to GiveUp
    step DropTin
      roller drop
      when tin_gate clear for 0.3 s, go to Dropped
      after 1 s, go to GiveUp
    finish Dropped
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import limit_lines, ways_home
from planner.checks.case import Case, Found
from planner.findings import Related
from planner.model.routine import Step, StepExit
from planner.model.spoken import spoken_condition


def find(case: Case) -> Iterator[Found]:
    """Steps that wait for something, have a limit, and lead to one step only."""
    if case.plan is None:
        return
    homes = ways_home(case.plan)
    for step in case.plan.routine.steps.values():
        if step.incomplete or not step.whens or not step.afters:
            continue
        if len(_targets(step.exits)) == 1:
            yield _found(step, homes)


def _found(step: Step, homes: tuple[str, ...]) -> Found:
    limit = min(step.afters, key=lambda after: after.limit_us)
    waits = " or ".join(f"`{spoken_condition(when.condition)}`" for when in step.whens[:2])
    return Found(
        limit.place,
        f"`{step.name}` goes on to `{limit.target}` even if {waits} never comes",
        "When the limit runs out something went wrong, and the rest of the plan does not know.",
        "Let the limit lead to another step: one that tries again, leaves out what cannot work "
        "now, or gives up in a finish of its own.",
        paste=limit_lines(limit.limit_us, homes, {limit.target}),
        steps=(step.name,),
        related=tuple(Related(when.place, "leads to the same step") for when in step.whens[:6]),
    )


def _targets(exits: tuple[StepExit, ...]) -> set[str]:
    direct = {exit_.target for exit_ in exits}
    return direct | {exit_.count.then for exit_ in exits if exit_.count}
