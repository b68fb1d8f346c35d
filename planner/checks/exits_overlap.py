"""What it finds
    Two exits of one step that lead to different places and ask one sensor for ranges, or words,
    that overlap: each is true without the other at times, and at times both are.

Why it matters on the field
    Where both are true, the first one is taken: by the order of two lines, not by anything the team
    has decided. On the day, the robot goes where nobody expected it to.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 20 cm, go to Near
      when range_front > 10 cm, go to Far
      after 3 s, go to GiveUp
    step Near
      drive forward 20 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    step Far
      drive forward 60 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 10 cm, go to Near
      when range_front > 10 cm, go to Far
      after 3 s, go to GiveUp
    step Near
      drive forward 20 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    step Far
      drive forward 60 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.checks.said import said_of
from planner.checks.truth import is_settled
from planner.findings import Related
from planner.graph.atoms import Asking, Assumed, looks_at
from planner.graph.crossing import crossing
from planner.graph.owners import Owner, asked_around, owners
from planner.graph.possible import LATEST_US, Outcome, together
from planner.model.routine import Routine, WhenExit
from planner.model.spoken import spoken_condition

MOST_COMPARED = 40
"""Of more exits in one place nothing is concluded: each is compared with each."""


def find(case: Case) -> Iterator[Found]:
    """The pairs of exits that overlap in what they ask of one sensor."""
    if case.plan is None:
        return
    routine = case.plan.routine
    limit_us = routine.limit_us if limit_is_known(case) else None
    assumed = Assumed(limit_us or LATEST_US)
    for owner in owners(routine):
        around = tuple(group.name for group in asked_around(routine, owner))
        asked = [(when, owner.name) for when in owner.whens[:MOST_COMPARED]]
        outer = [(when, name) for name in around for when in routine.groups[name].whens]
        exits = [
            (when, Asking(when.condition, name))
            for when, name in [*outer[:MOST_COMPARED], *asked]
            if not is_settled(when.condition, name, limit_us)
        ]
        yield from _overlaps(routine, owner, exits, (*around, owner.name), assumed)


def _overlaps(
    routine: Routine,
    owner: Owner,
    exits: list[tuple[WhenExit, Asking]],
    around: tuple[str, ...],
    assumed: Assumed,
) -> Iterator[Found]:
    """The pairs among the exits of one place, those of groups around it first."""
    about = [looks_at(asking) for _, asking in exits]
    for number, (then, other) in enumerate(exits):
        near = [index for index in range(number) if about[index] & about[number]]
        if not near or other.owner != owner.name:
            continue
        # What is never taken has a finding of its own.
        if together([other], [exits[index][1] for index in near], around, assumed).never:
            continue
        for first, one in (exits[index] for index in near):
            outcome = crossing(one, other, around, assumed) if _differ(first, then) else None
            if outcome:
                yield _found(routine, owner, first, then, outcome, one.owner)


def _differ(first: WhenExit, then: WhenExit) -> bool:
    """Whether it makes a difference which of two exits is taken."""
    return first.target != then.target or first.count != then.count


def _found(
    routine: Routine, owner: Owner, first: WhenExit, then: WhenExit, outcome: Outcome, where: str
) -> Found:
    one, other = spoken_condition(first.condition), spoken_condition(then.condition)
    outer = "" if where == owner.name else f" of `{where}`"
    return Found(
        then.place,
        f"two exits of `{owner.name}` can be true at once",
        f"With {said_of(routine.robot, outcome)} both `{one}`{outer} and `{other}` are true, and "
        f"the robot goes to `{first.target}`: that exit is asked first.",
        "Change what one of them asks for, so that they do not overlap, or let both lead to the "
        "same step.",
        steps=owner.steps,
        related=(Related(first.place, "this one is taken"),),
    )
