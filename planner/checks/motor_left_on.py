"""What it finds
    A `runs` command given with `keep`, or by a side rule of the whole routine, that some way
    through the plan carries into a finish, with nothing else said to its mechanism on that way.

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
    return Found(
        given.place,
        f"`{mechanism}` is still running when `{finish}` is reached",
        f"On the way {_spelt_out(left)} nothing else is said to `{mechanism}`. Only the finish "
        "switches it off.",
        _way_out(left),
        paste=() if left.rule else (spoken_command(given).removeprefix("keep "),),
        steps=(left.step, finish),
        related=(Related(plan.step(finish).place, f"reached while `{mechanism}` runs"),),
    )


def _way_out(left: LeftOn) -> str:
    mechanism = left.given.mechanism.name
    if left.rule:
        return (
            f"Write a second rule that says when it ends, with `{mechanism} stop`, or write "
            f"`{mechanism} stop` in `{left.way[-1]}`."
        )
    where = "in the step where it has done its work"
    if len(left.way) == 2:
        where = f"in `{left.way[-1]}`"
    return (
        "Either replace this line with the one below, or leave it and write "
        f"`{mechanism} stop` {where}."
    )


def _spelt_out(left: LeftOn) -> str:
    names = [f"`{name}`" for name in left.way]
    if left.left_out:
        names.insert(-1, f"{left.left_out} more steps")
    return ", ".join(names[:-1]) + f", then {names[-1]}"
