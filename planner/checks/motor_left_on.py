"""What it finds
    A `runs` command given with `keep` that some way through the plan carries into a finish, with
    nothing else said to its mechanism on that way.

Why it matters on the field
    `keep` is a promise that a later step ends it. Here one way forgets to: the rollers go on
    turning, or the wheels driving, through every step up to the finish, which switches them off.

Example
    start TakeTin
    step TakeTin
      keep roller take
      when tin_gate broken, go to DropTin
      after 3 s, go to GiveUp
    step DropTin
      roller drop
      when tin_gate clear for 0.3 s, go to Dropped
      after 1 s, go to GiveUp
    finish Dropped
    finish GiveUp

Instead
    start TakeTin
    step TakeTin
      keep roller take
      when tin_gate broken, go to DropTin
      after 3 s, go to GiveUp
    step DropTin
      roller drop
      when tin_gate clear for 0.3 s, go to Dropped
      after 1 s, go to GiveUp
    finish Dropped
    finish GiveUp
      roller stop
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.graph.lasting import LeftOn, left_on
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The commands that are kept into a finish, each with a shortest way there."""
    if case.plan is None:
        return
    for left in left_on(case.plan):
        yield _found(case.plan, left)


def _found(plan: Plan, left: LeftOn) -> Found:
    given, finish = left.given, left.way[-1]
    mechanism = given.mechanism.name
    without_keep = spoken_command(given).removeprefix("keep ")
    return Found(
        given.place,
        f"`{mechanism}` is still running when `{finish}` is reached",
        f"On the way {_spelt_out(left)} nothing else is said to `{mechanism}`. Only the finish "
        "switches it off.",
        f"Leave out `keep`, or stop `{mechanism}` in the step where it has done its work.",
        paste=(without_keep, f"{mechanism} stop"),
        steps=(left.step, finish),
        related=(Related(plan.step(finish).place, f"reached while `{mechanism}` runs"),),
    )


def _spelt_out(left: LeftOn) -> str:
    names = [f"`{name}`" for name in left.way]
    if left.left_out:
        names.insert(-1, f"{left.left_out} more steps")
    return ", ".join(names[:-1]) + f", then {names[-1]}"
