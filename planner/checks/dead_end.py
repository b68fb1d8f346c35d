"""What it finds
    A step that is no finish and has no exit, neither of its own nor of a group around it.

Why it matters on the field
    The robot comes there and stands until the match ends. Nothing is finished, and nothing that
    comes later in the plan is done. A match-clock exit is no way out to rely on: it is taken only
    once in a match.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 3 s, go to GiveUp
    step Raise
      arm to 1200 ticks
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 3 s, go to GiveUp
    step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import homes_from, limit_line, sensor_line, ways_home
from planner.checks.case import Case, Found
from planner.graph import Plan
from planner.graph.lanes import lane_exits_of
from planner.graph.lasting import last_given
from planner.graph.owners import owners_around
from planner.graph.walks import open_exits
from planner.model.routine import MatchExit, Step
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """Steps without exits; one that could not be read whole may have had some."""
    if case.plan is None:
        return
    routine, homes = case.plan.routine, ways_home(case.plan)
    for step in routine.steps.values():
        around = owners_around(routine, step.name)
        if (
            step.is_finish
            or step.ends_lane
            or any(o.incomplete or o.whens or o.afters for o in around)
        ):
            continue
        if step.is_block and any(lane_exits_of(case.plan, step.name)):
            continue
        in_task = any(group.ends for group in routine.groups_around(step.name))
        yield Found(
            step.place,
            f"`{step.name}` has no exit and is no finish",
            _why(case.plan, step),
            _way_out(step, in_task),
            paste=_paste(step, homes_from(case.plan, step.name, homes)[0]),
            steps=(step.name,),
        )


def _why(plan: Plan, step: Step) -> str:
    exits = [exit_.written for exit_ in open_exits(plan)[step.name]]
    clock = [exit_ for exit_ in exits if isinstance(exit_, MatchExit)]
    if not clock:
        return "Once there, the robot stands until the match ends and the plan is never finished."
    at = seconds_text(max(exit_.at_us for exit_ in clock))
    return (
        f"Once there, the robot stands until the match clock sends it on, at {at} at the latest. "
        "If that has happened before, it stands until the match ends."
    )


def _way_out(step: Step, in_task: bool) -> str:
    if in_task:
        return f"Write what ends `{step.name}`, and a time limit that leads to an outcome."
    return (
        f"If the routine ends here, write `finish {step.name}` for `step {step.name}`: a finish "
        f"has no exits. If not, write what ends `{step.name}`, and a time limit:"
    )


def _paste(step: Step, home: str) -> tuple[str, ...]:
    waits = [sensor_line(given, home) for given in last_given(step).values()]
    return (*filter(None, waits), limit_line(None, home))
