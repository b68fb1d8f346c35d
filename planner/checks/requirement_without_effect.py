"""What it finds
    A requirement that no run of the plan can break: it speaks of a command that no step gives or of
    a step that no run comes to, of two things that cannot be at once, or of a thing and itself.

Why it matters on the field
    It looks like a guard and guards nothing. Mostly another command or other numbers were meant.

Example
    require never arm to 1500 ticks while drive forward
    start Approach
    step Approach
      arm to 1200 ticks
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    require never arm to 1200 ticks while drive spin
    start Approach
    step Approach
      arm to 1200 ticks
      drive forward 40 %
      when bumper pressed, go to Turn
      after 3 s, go to GiveUp
    step Turn
      arm to 0 ticks
      drive spin 40 %
      when gyro > 90 deg, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.required import can_come, reachable, whole_plan
from planner.graph import Plan
from planner.model.requirement import (
    Happening,
    Inside,
    LeadsTo,
    NeverWhile,
    OnlyAfter,
    Requirement,
    Told,
    happenings,
)


def find(case: Case) -> Iterator[Found]:
    """The requirements that hold whatever happens."""
    plan = whole_plan(case)
    if plan is None:
        return
    steps = reachable(plan)
    for requirement in plan.routine.requirements:
        why = _because(plan, requirement, steps)
        if why:
            yield Found(
                requirement.place,
                "no run of this plan can break this requirement",
                f"{why} So it guards nothing.",
                "Name what the plan does: the same command, with the same numbers or with none, or "
                "a step that runs come to. If nothing is to be guarded, delete the line.",
            )


def _because(plan: Plan, requirement: Requirement, steps: set[str]) -> str:
    """Why it always holds, in a sentence; empty where it may be broken."""
    match requirement:
        case NeverWhile(one, other):
            asked = happenings(requirement)
            if one != other and _apart(plan, one, other):
                return f"`{one.spoken}` and `{other.spoken}` are never on at once."
        case OnlyAfter(later):
            asked = (later,)
        case LeadsTo(cause, effect):
            asked = (cause,)
            if cause == effect:
                return f"`{cause.spoken}` is its own effect."
        case _:
            asked = ()
    never = next((one for one in asked if not can_come(plan, one, steps)), None)
    return _never(never) if never else ""


def _never(happening: Happening) -> str:
    if isinstance(happening, Told):
        return f"No step that runs come to gives `{happening.spoken}`."
    return f"No run comes to `{happening.name}`."


def _apart(plan: Plan, one: Happening, other: Happening) -> bool:
    """Whether they cannot be on at once: a mechanism follows one command at a time, and while a
    step outside of all groups is active no other is."""
    if isinstance(one, Told) and isinstance(other, Told):
        return one.mechanism == other.mechanism and not _overlap(one, other)
    if isinstance(one, Inside) and isinstance(other, Inside):
        sides = (one.steps, other.steps)
        alone = any(all(not plan.step(name).group for name in side) for side in sides)
        return alone and one.steps.isdisjoint(other.steps)
    return False


def _overlap(one: Told, other: Told) -> bool:
    if one.arguments is None or other.arguments is None:
        return one.command == other.command
    return one.fits(other.command, other.arguments)
