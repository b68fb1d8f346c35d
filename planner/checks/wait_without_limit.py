"""What it finds
    A step that waits for a sensor or a mechanism and has no time limit.

Why it matters on the field
    Sensors come unplugged, tins roll away, wheels slip. Without a limit the robot waits for the
    rest of the match. A limit of the group around the step is as good as one of its own.

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

from planner.checks.advice import homes_from, limit_lines, ways_home
from planner.checks.case import Case, Found
from planner.graph import ExitKind, Plan
from planner.graph.lanes import lane_exits_of
from planner.graph.owners import first_limit, is_incomplete, owners_around
from planner.graph.remembered import one_is_true
from planner.graph.walks import open_exits
from planner.model.condition import All, Any, ChoiceIs, Condition, MatchClock
from planner.model.routine import AfterExit, MatchExit, Step, WhenExit
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """Steps with a `when` exit and no `after` exit, groups around them counted in."""
    if case.plan is None:
        return
    routine = case.plan.routine
    waiting = [
        (step, whens)
        for step in routine.steps.values()
        if not step.is_finish and not step.ends_lane and (whens := _waits(case.plan, step))
    ]
    if not waiting:
        return
    homes = ways_home(case.plan)
    exits = open_exits(case.plan)
    for step, whens in waiting:
        clock = [e.written for e in exits[step.name] if e.kind is ExitKind.MATCH]
        yield _found(step, whens, homes_from(case.plan, step.name, homes), clock)


def _waits(plan: Plan, step: Step) -> list[WhenExit]:
    """What a step waits for where no time limit ends it; its own exits first.

    A block of lanes waits for what leads out of it, also out of its lanes.
    """
    routine = plan.routine
    if is_incomplete(routine, step.name) or first_limit(routine, step.name):
        return []
    # What stands around a lane is told at the block.
    outer = plan.outer.get(step.name, frozenset())
    around = [o for o in reversed(owners_around(routine, step.name)) if o.name not in outer]
    if step.is_block:
        around += [plan.step(exit_.source) for exit_ in lane_exits_of(plan, step.name)]
    whens = [when for owner in around for when in owner.whens]
    ended = any(_comes_by_itself(when.condition, routine.limit_us) for when in whens)
    return [] if ended or one_is_true([when.condition for when in whens]) else whens


def _comes_by_itself(condition: Condition, limit_us: int) -> bool:
    """Whether a condition comes true in time whatever the sensors say."""
    match condition:
        case MatchClock(operator, at_us):
            return operator in (">", ">=") and at_us < limit_us
        case ChoiceIs():
            return condition.holds is True
        case All(parts):
            return all(_comes_by_itself(part, limit_us) for part in parts)
        case Any(parts):
            return any(_comes_by_itself(part, limit_us) for part in parts)
        case _:
            return False


def _found(
    step: Step,
    whens: list[WhenExit],
    homes: tuple[str, ...],
    clock: list[WhenExit | AfterExit | MatchExit],
) -> Found:
    waits = spoken_condition(whens[0].condition)
    why = "If that never comes, the robot stands here until the match ends."
    if clock:
        at = seconds_text(max(e.at_us for e in clock if isinstance(e, MatchExit)))
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
        paste=limit_lines(None, homes, {when.target for when in whens}),
        steps=(step.name,),
    )
